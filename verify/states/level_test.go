package states

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"buzzout/netlist"
)

func ohms(a, b int32, value float64) passive {
	return passive{a: a, b: b, admittance: complex(1/value, 0)}
}

// Two sources at one point, each through a resistance of its own: reference
// G3-29 (28 V through 4 ohm and 7 V through 1 ohm into 2 ohm: 8 V) and G3-30b
// (10 V through 2 ohm, -4 V through 1 ohm, 4 ohm and 5 ohm to ground, 2.5 ohm
// between: -65/42 V at the second), both from T. R. Kuphaldt, Lessons in
// Electric Circuits, Vol. I, and G3-44 (20 V, 2k, 500 ohm and 3k in a ring:
// 20/11 V across the 500 ohm), from the same.
func TestVoltagesOfSeveralSources(t *testing.T) {
	for _, c := range []struct {
		name    string
		list    []passive
		points  int
		feeders []feeder
		want    float64
	}{
		{"G3-29", []passive{ohms(2, 1, 4), ohms(1, 0, 2), ohms(3, 1, 1)}, 4, []feeder{{2, 28}, {3, 7}}, 8},
		{"G3-30b", []passive{ohms(3, 2, 2), ohms(4, 1, 1), ohms(2, 0, 4), ohms(1, 0, 5), ohms(2, 1, 2.5)}, 5, []feeder{{3, 10}, {4, -4}}, -65.0 / 42},
		{"G3-44", []passive{ohms(2, 1, 2000), ohms(1, 3, 500), ohms(3, 0, 3000)}, 4, []feeder{{2, 20}}, 20 * 3500.0 / 5500},
	} {
		got := voltageAt(c.list, newSets(c.points), c.feeders, []int32{0}, 1)
		if cmplx.Abs(got-complex(c.want, 0)) > 1e-9 {
			t.Errorf("%s: %v, want %g", c.name, got, c.want)
		}
	}
	// The 500 ohm by itself: the difference of its two ends.
	ring := []passive{ohms(2, 1, 2000), ohms(1, 3, 500), ohms(3, 0, 3000)}
	across := voltageAt(ring, newSets(4), []feeder{{2, 20}}, []int32{0}, 1) - voltageAt(ring, newSets(4), []feeder{{2, 20}}, []int32{0}, 3)
	if math.Abs(real(across)-20.0/11) > 1e-9 {
		t.Errorf("G3-44: %v across the 500 ohm, want 20/11", across)
	}
}

// At its corner a coupling capacitor and what it feeds give 1/sqrt 2 of the
// voltage: reference G3-61 (0.5 uF with 6.9k: 46.13 Hz; Boylestad and
// Nashelsky, Example 9.12), G3-63 (0.1 uF with 5k: 1000/pi Hz; the same,
// Example 9.10), G3-66a (22 nF with 1M: 7.234 Hz; derived there).
func TestCornerOfCoupling(t *testing.T) {
	for _, c := range []struct {
		id                     string
		farads, ohm, frequency float64
	}{
		{"G3-61", 0.5e-6, 6.9e3, 46.13186756},
		{"G3-63", 0.1e-6, 5e3, 1000 / math.Pi},
		{"G3-66a", 22e-9, 1e6, 7.234315595},
	} {
		coupling := passive{a: 2, b: 1, admittance: complex(0, 2*math.Pi*c.frequency*c.farads)}
		v := voltageAt([]passive{coupling, ohms(1, 0, c.ohm)}, newSets(3), []feeder{{2, 1}}, []int32{0}, 1)
		if math.Abs(cmplx.Abs(v)-math.Sqrt(0.5)) > 1e-6 || math.Abs(cmplx.Phase(v)-math.Pi/4) > 1e-6 {
			t.Errorf("%s: %v, want 1/sqrt 2 turned by 45 degrees", c.id, v)
		}
	}
}

// Worked by hand, each in its comment.
func TestVoltagesByHand(t *testing.T) {
	short := func(a, b int32) passive { return passive{a: a, b: b, short: true} }
	for _, c := range []struct {
		name    string
		list    []passive
		feeders []feeder
		earth   []int32
		want    float64
	}{
		{"nothing holds it", nil, []feeder{{2, 1}}, []int32{0}, 0},
		{"it floats beside something that floats", []passive{ohms(1, 3, 10)}, []feeder{{2, 1}}, []int32{0}, 0},
		{"it is the source itself", nil, []feeder{{1, 1}}, []int32{0}, 1},
		{"it is on earth", []passive{ohms(2, 1, 10)}, []feeder{{2, 1}}, []int32{0, 1}, 0},
		{"through a resistance, with nothing behind it", []passive{ohms(2, 1, 68e3)}, []feeder{{2, 1}}, []int32{0}, 1},
		{"a fuse straight to the source", []passive{short(2, 1), ohms(1, 0, 8)}, []feeder{{2, 1}}, []int32{0}, 1},
		{"a wiper at its earthed stop", []passive{ohms(2, 1, 1e6), short(1, 0)}, []feeder{{2, 1}}, []int32{0}, 0},
		// A source on ground gives nothing.
		{"the source is shorted", []passive{ohms(2, 1, 68e3)}, []feeder{{2, 1}}, []int32{0, 2}, 0},
		// 68k from 1 V and 68k from 0 V: half.
		{"two sources through resistors", []passive{ohms(2, 1, 68e3), ohms(3, 1, 68e3)}, []feeder{{2, 1}, {3, 0}}, []int32{0}, 0.5},
		// Three of 220k, one from 1 V: 110k / 330k.
		{"three sources", []passive{ohms(2, 1, 220e3), ohms(3, 1, 220e3), ohms(4, 1, 220e3)}, []feeder{{2, 1}, {3, 0}, {4, 0}}, []int32{0}, 1.0 / 3},
		// Joined straight: their mean, also where a wiper at its stop joins them.
		{"two sources on one conductor", nil, []feeder{{1, 1}, {1, 0}}, []int32{0}, 0.5},
		{"two sources over a wiper at its stop", []passive{short(2, 3), short(3, 1)}, []feeder{{2, 1}, {3, 0}}, []int32{0}, 0.5},
		{"three sources over wires", []passive{short(2, 3), short(3, 4), ohms(4, 1, 10)}, []feeder{{2, 1}, {3, 0}, {4, 0}}, []int32{0}, 1.0 / 3},
		// A ladder of three sections of 1 and 1: 1/13 of the voltage at its end
		// is what the Fibonacci numbers of G1-303 give (F(7) = 13).
		{"the end of a ladder", []passive{ohms(2, 3, 1), ohms(3, 0, 1), ohms(3, 4, 1), ohms(4, 0, 1), ohms(4, 1, 1), ohms(1, 0, 1)}, []feeder{{2, 1}}, []int32{0}, 1.0 / 13},
	} {
		joined := newSets(5)
		got := voltageAt(c.list, joined, c.feeders, c.earth, 1)
		if cmplx.Abs(got-complex(c.want, 0)) > 1e-12 {
			t.Errorf("%s: %v, want %g", c.name, got, c.want)
		}
		if len(joined.trail) != 0 {
			t.Errorf("%s: joins are left behind", c.name)
		}
	}
}

// The laws of tracks: reference 7d, the half-travel figures of a linear, a log
// and an antilog track (for the last two the middle of the band).
func TestTrackLaws(t *testing.T) {
	for _, c := range []struct {
		word, turn string
		want       float64
	}{
		{"lin", "50%", 0.5}, {"linear", "25%", 0.25}, {"log", "50%", 0.125}, {"audio", "50%", 0.125},
		{"antilog", "50%", 0.875}, {"reverse-log", "50%", 0.875},
		{"log", "ccw", 0}, {"log", "cw", 1}, {"antilog", "ccw", 0}, {"antilog", "cw", 1},
	} {
		b := read(t, fmt.Sprintf(`
part J1 jack
part P1 pot 1M %s
part V1 triode
net tip    J1.tip P1.cw
net grid   P1.wiper V1.g
net ground J1.sleeve P1.ccw
spare V1.a V1.k
set P1 %s
`, c.word, c.turn))
		m := Mutes(planned(b), b.Bench().Setting, netlist.NoTerminal)
		if c.want == 0 {
			// The wiper is on ground: it is no contact, and so cut off.
			if f := m[0].Rows[1].At[0]; f.Reach != CutOff || f.Level != 0 {
				t.Errorf("%s at %s: %+v, want nothing", c.word, c.turn, f)
			}
			continue
		}
		if f := m[0].Rows[1].At[0]; math.Abs(f.Level-c.want) > 1e-9 || len(m[0].Unset) != 0 {
			t.Errorf("%s at %s: level %g, unset %d; want %g", c.word, c.turn, f.Level, len(m[0].Unset), c.want)
		}
	}
}

// What nobody set, and what has no figure, is told; a track is taken at half.
func TestWhatIsNotKnownIsTold(t *testing.T) {
	b := read(t, `
part J1 jack
part P1, P2 pot 1M lin
part R1, R2 resistor
part V1 triode
net tip    J1.tip P1.cw R1.1
net grid   P1.wiper V1.g
net ground J1.sleeve P1.ccw R1.2
net aside  P2.cw R2.1
spare V1.a V1.k
`)
	m := Mutes(planned(b), nil, netlist.NoTerminal)[0]
	for _, c := range []struct {
		what, want string
		list       []*netlist.Part
	}{{"not set", "P1", m.Unset}, {"without a figure", "R1", m.Bare}} {
		var names []string
		for _, p := range c.list {
			names = append(names, p.Ref)
		}
		if got := strings.Join(names, " "); got != c.want {
			t.Errorf("%s: %s, want %s, which alone is near the grid", c.what, got, c.want)
		}
	}
	if f := m.Rows[1].At[0]; math.Abs(f.Level-0.5) > 1e-9 {
		t.Errorf("level %g, want half", f.Level)
	}
}

// Over random inputs, levels agree with a solution of the whole book by
// relaxation (see wholeLevel), and every reach follows from its level.
func TestLevelsOfRandomInputs(t *testing.T) {
	compared := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 13))
		jacks, nets := 1+r.IntN(3), 4+r.IntN(3)
		members := make([][]string, nets) // 0 is ground, 1 the grid, 2 and on the tips and more
		put := func(n int, what string) { members[n] = append(members[n], what) }
		var text strings.Builder
		text.WriteString("part V1 triode\npart GND post\nspare V1.a V1.k\n")
		put(0, "GND")
		put(1, "V1.g")
		for i := range jacks {
			fmt.Fprintf(&text, "part J%d jack-break\n", i)
			put(0, fmt.Sprintf("J%d.sleeve", i))
			put(2+r.IntN(nets-2), fmt.Sprintf("J%d.tip", i))
			put(r.IntN(nets), fmt.Sprintf("J%d.break", i))
		}
		for i := range 3 + r.IntN(5) {
			fmt.Fprintf(&text, "part R%d resistor %dk\n", i, 1+r.IntN(500))
			put(r.IntN(nets), fmt.Sprintf("R%d.1", i))
			put(r.IntN(nets), fmt.Sprintf("R%d.2", i))
		}
		for i := range r.IntN(3) {
			fmt.Fprintf(&text, "part S%d toggle-1x1\n", i)
			put(r.IntN(nets), fmt.Sprintf("S%d.1", i))
			put(r.IntN(nets), fmt.Sprintf("S%d.2", i))
		}
		for n, list := range members {
			if len(list) > 0 {
				fmt.Fprintf(&text, "net n%d %s\n", n, strings.Join(list, " "))
			}
		}
		b := read(t, text.String())
		s := netlist.Setting{}
		for _, p := range b.Parts {
			if strings.HasPrefix(p.Ref, "S") {
				s[netlist.ControlRef{Part: p}] = netlist.Position{Index: r.IntN(2), Known: true}
			}
		}
		for _, m := range Mutes(planned(b), s, netlist.NoTerminal) {
			for plugs, row := range m.Rows {
				with := netlist.Setting{}
				for i, in := range m.Inputs {
					with[in.Plug] = netlist.Position{Index: plugs >> i & 1}
				}
				for i := range m.Inputs {
					f := row.At[i]
					if !row.Plugged[i] {
						if f.Reach != Unplugged {
							t.Errorf("seed %d: an input that is not plugged in has reach %d", seed, f.Reach)
						}
						continue
					}
					want := wholeLevel(b, s.With(with), m.Inputs, i, m.Grid)
					if math.Abs(f.Level-want) > 1e-4 {
						t.Errorf("seed %d, plugs %b: %s has level %.6f, the whole network gives %.6f\n%s", seed, plugs, m.Inputs[i].Jack.Ref, f.Level, want, text.String())
					}
					compared++
				}
			}
		}
	}
	if compared < 100 {
		t.Errorf("only %d levels were compared", compared)
	}
}

// TestNoFigureIsNoGap: a resistor of which nobody says how much it has is
// there all the same, and is taken for 100k: with J2's 68k, 0.4 and 0.6.
func TestNoFigureIsNoGap(t *testing.T) {
	b := read(t, strings.Replace(twoJacks, "part R1, R2 resistor 68k", "part R1 resistor\npart R2 resistor 68k", 1)+usual)
	m := mixingOf(t, b)
	for i, want := range []float64{68.0 / 168, 100.0 / 168} {
		if f := m.Rows[3].At[i]; f.Reach != Reduced || math.Abs(f.Level-want) > 0.001 {
			t.Errorf("input %d: %+v, want %.3f", i+1, f, want)
		}
	}
	if len(m.Bare) != 1 || m.Bare[0].Ref != "R1" || len(m.Unset) != 0 {
		t.Errorf("without a figure %d, not set %d", len(m.Bare), len(m.Unset))
	}
}
