package states

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"buzzout/netlist"
)

func mixingOf(t *testing.T, b *netlist.Book) Mixing {
	t.Helper()
	list := Mutes(planned(b), b.Bench().Setting, netlist.NoTerminal)
	if len(list) != 1 {
		t.Fatalf("%d groups of inputs, want one", len(list))
	}
	return list[0]
}

func only(b *netlist.Book, s netlist.Setting) string {
	if s == nil {
		return "none"
	}
	var list []string
	for _, p := range b.Parts {
		for i := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			if at, told := s[ref]; told {
				list = append(list, ref.Name()+" "+ref.PositionName(at))
			}
		}
	}
	return strings.Join(list, ", ")
}

// Two inputs on a change-over switch are selected by it, wherever it stands.
func TestPairIsSelectedByASwitch(t *testing.T) {
	for _, stands := range []string{"first", "second"} {
		b := read(t, `
part J1, J2 jack
part S1     toggle-1x2 { control lever first second }
part R2     resistor 1M
part V1     triode
net tip-1  J1.tip S1.a1
net tip-2  J2.tip S1.a2
net grid   S1.a R2.1 V1.g
net ground J1.sleeve J2.sleeve R2.2
spare V1.a V1.k
set S1 `+stands+"\n")
		m := mixingOf(t, b)
		p := m.Pairs[0]
		if only(b, p.OnlyA) != "S1 first" || only(b, p.OnlyB) != "S1 second" || p.Looked != 2 || p.Both || p.LegA != netlist.NoTerminal {
			t.Errorf("S1 %s: %+v", stands, p)
		}
	}
}

// Where the ways come together, a switch is tried; on a shared way it stands
// in front of what the two share.
func TestPairIsRewired(t *testing.T) {
	for _, c := range []struct{ name, notebook, legs, meet string }{
		{"at the grid", twoJacks + usual, "R1.2 R2.2", "V1.2"},
		{"before the grid", `
part J1, J2 jack
part R1, R2 resistor 68k
part R3     resistor 10k
part R4     resistor 1M
part V1     triode
net tip-1  J1.tip R1.1
net tip-2  J2.tip R2.1
net mixed  R1.2 R2.2 R3.1 R4.1
net grid   R3.2 V1.g
net ground J1.sleeve J2.sleeve R4.2
spare V1.a V1.k
`, "R1.2 R2.2", "R3.1"},
		{"at the tips", `
part J1, J2 jack
part R4     resistor 1M
part V1     triode
net grid   J1.tip J2.tip V1.g R4.1
net ground J1.sleeve J2.sleeve R4.2
spare V1.a V1.k
`, "J1.tip J2.tip", "V1.g"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := read(t, c.notebook)
			p := mixingOf(t, b).Pairs[0]
			if !p.Both || p.OnlyA != nil || p.OnlyB != nil {
				t.Errorf("%+v, want both heard and no selection", p)
			}
			if got := b.Name(p.LegA) + " " + b.Name(p.LegB); got != c.legs || b.Name(p.Meet) != c.meet || !p.Verified {
				t.Errorf("legs %s, meeting at %s, verified %v; want %s and %s", got, b.Name(p.Meet), p.Verified, c.legs, c.meet)
			}
		})
	}
}

// What pulling the other plug would do is the truth of the jack's contacts:
// with the second contact wrongly on ground it does nothing.
func TestPullingTheOtherPlug(t *testing.T) {
	wrong := `
net tip-1 J1.tip R1.1 R3.1
net tip-2 J2.tip R2.1
net ground J1.break J2.break
`
	for _, c := range []struct {
		nets   string
		better float64
	}{{usual, 1}, {wrong, 0.5}} {
		b := read(t, twoJacks+c.nets)
		f := mixingOf(t, b).Rows[3].At[0]
		if f.Other == nil || f.Other.Jack.Ref != "J2" || math.Abs(f.Better-c.better) > 0.001 {
			t.Errorf("with both in, %+v; want J2 as the cause and %g with its plug pulled", f, c.better)
		}
	}
}

// An input cut off by another's plug is an input all the same.
func TestInputBehindAnotherJack(t *testing.T) {
	b := read(t, `
part J1 jack
part J2 jack-break
part R1 resistor 1M
part V1 triode
net tip-1  J1.tip J2.break
net grid   J2.tip R1.1 V1.g
net ground J1.sleeve J2.sleeve R1.2
spare V1.a V1.k
`)
	m := mixingOf(t, b)
	if len(m.Inputs) != 2 {
		t.Fatalf("%d inputs, want two", len(m.Inputs))
	}
	if f := m.Rows[1].At[0]; f.Reach != Full {
		t.Errorf("J1 alone: %+v, want all of it", f)
	}
	if f := m.Rows[3].At[0]; f.Reach != CutOff || f.Cause == nil || f.Cause.Part.Ref != "J2" || f.Opens {
		t.Errorf("J1 with J2 in: %+v, want it cut off by J2's contact", f)
	}
}

// Beyond the most, inputs are named and not dropped silently; so are switches.
func TestBeyondTheMostIsSaid(t *testing.T) {
	var text strings.Builder
	text.WriteString("part V1 triode\nspare V1.a V1.k\npart R99 resistor 1M\nnet grid V1.g R99.1\nnet ground R99.2\n")
	for i := 1; i <= maxInputs+1; i++ {
		fmt.Fprintf(&text, "part J%d jack\npart R%d resistor 220k\nnet tip-%d J%d.tip R%d.1\nnet grid R%d.2\nnet ground J%d.sleeve\n", i, i, i, i, i, i, i)
	}
	b := read(t, text.String())
	m := mixingOf(t, b)
	if len(m.Inputs) != maxInputs || len(m.Left) != 1 || m.Left[0].Jack.Ref != fmt.Sprintf("J%d", maxInputs+1) {
		t.Errorf("%d inputs and %d left", len(m.Inputs), len(m.Left))
	}

	text.Reset()
	text.WriteString(twoJacks + usual)
	for i := 1; i <= 14; i++ {
		fmt.Fprintf(&text, "part S%d toggle-1x1\nnet grid S%d.1\nnet aside-%d S%d.2\n", i, i, i, i)
	}
	b = read(t, text.String())
	// One pair has all trials for itself; of many each has its share.
	many := mixers(planned(b)(b.Bench().Setting), planned(b), b.Bench().Setting, netlist.NoTerminal)[0]
	if p := many.pair(0, 1, 1); p.Looked != 1<<14 || len(p.Left) != 0 {
		t.Errorf("%d settings looked at, %d switches left", p.Looked, len(p.Left))
	}
	if p := many.pair(0, 1, maxTrials/maxSelections); p.Looked != maxSelections || len(p.Left) != 2 || p.Left[0].Name() != "S13" {
		t.Errorf("%d settings looked at, %d switches left", p.Looked, len(p.Left))
	}
}

// What an anode or a winding feeds is a way out, though a contact may lead on
// from it to a grid: a send, and a loudspeaker with the feedback behind its
// selector.
func TestWaysOutAreNoInputs(t *testing.T) {
	b := read(t, `
part V1, V2 triode
part R1     resistor 100k
part R2, R3 resistor 1M
part C1     capacitor 22n 400V
part J1     jack       "Send"
part J2     jack-break "Return"
part HT     post
net ht     HT R1.2
net anode  V1.a R1.1 C1.1
net send   C1.2 R2.1 J1.tip J2.break
net grid   J2.tip R3.1 V2.g
net ground J1.sleeve J2.sleeve R2.2 R3.2
spare V1.g V1.k V2.a V2.k

part T2 output-se
part S3 rotary-1x2
part J3 jack
part R4, R5 resistor 10k
part V3 triode
net tap-4   T2.4ohm S3.a1
net tap-8   T2.8ohm S3.a2
net speaker S3.a J3.tip R4.1
net grid-3  R4.2 R5.1 V3.g
net ground  T2.common J3.sleeve R5.2
spare T2.16ohm T2.anode T2.ht V3.a V3.k
`)
	var names []string
	for _, m := range Mutes(planned(b), nil, netlist.NoTerminal) {
		for _, in := range m.Inputs {
			names = append(names, in.Jack.Ref)
		}
	}
	if got := strings.Join(names, " "); got != "J2" {
		t.Errorf("inputs %s, want J2 alone", got)
	}
}
