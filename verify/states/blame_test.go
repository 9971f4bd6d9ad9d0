package states

import (
	"math"
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify"
)

// inputsOf is a grid behind two resistors with what a test puts in front.
const inputsOf = `
part J1, J2 jack-break
part R1, R2 resistor 68k
part R3     resistor 1M
part V1     triode
net grid   R1.2 R2.2 R3.1 V1.g
net ground J1.sleeve J2.sleeve R3.2
spare V1.a V1.k
`

// TestTwoContactsInTheWay: two switches in series, both open. Neither alone
// brings the input back; both do, in full (1M against 68k: 0.94), or, with the
// other plugged in, by half of that divider: 1M beside 68k is 63.7k, and
// 63.7/(68+63.7) is 0.484.
func TestTwoContactsInTheWay(t *testing.T) {
	b := read(t, inputsOf+`
part S1, S2 toggle-1x1
net one   J1.tip S1.1
net two   S1.2 S2.1
net three S2.2 R1.1
net tip-2 J2.tip R2.1
spare J1.break J2.break
`)
	m := mixingOf(t, b)
	for plugs, better := range map[int]float64{1: 1e6 / 1068e3, 3: 0.484} {
		f := m.Rows[plugs].At[0]
		if f.Reach != CutOff || f.Cause == nil || f.With == nil || f.Opens || f.WithOpens || math.Abs(f.Better-better) > 0.001 {
			t.Errorf("plugs %d: %+v, want both switches as the cause, and %.3f without", plugs, f, better)
			continue
		}
		if f.Cause.Part.Ref+f.With.Part.Ref != "S1S2" || only(b, f.Turned) != "S1 on, S2 on" {
			t.Errorf("plugs %d: %s and %s, turned %s", plugs, f.Cause.Part.Ref, f.With.Part.Ref, only(b, f.Turned))
		}
	}
	p := m.Pairs[0]
	if only(b, p.OnlyA) != "none" || only(b, p.OnlyB) != "S1 off, S2 off" || !p.EverA || !p.EverB || !p.Verified || only(b, p.Tried) != "S1 on, S2 on" {
		t.Errorf("J2 can be heard alone and J1 not, and a switch would do it: %+v", p)
	}
}

// TestTwoContactsOnGround: two empty jacks ground the tip, each by itself.
func TestTwoContactsOnGround(t *testing.T) {
	b := read(t, inputsOf+`
part J3 jack-break
net tip-1 J1.tip R1.1 J2.tip J3.tip R2.1
net ground J2.break J3.break J3.sleeve
spare J1.break
`)
	f := mixingOf(t, b).Rows[1].At[0]
	if f.Reach != Shorted || f.Cause == nil || f.With == nil || !f.Opens || !f.WithOpens {
		t.Errorf("%+v, want both break contacts as the cause", f)
	}
}

// TestASwitchIsTurned: a change-over switch in the wrong position is turned as
// a whole. Its one contact closed by itself, with the other still closed, would
// put the tip on the grounded tip of the empty jack.
func TestASwitchIsTurned(t *testing.T) {
	b := read(t, `
part J1, J2 jack-break
part S1 toggle-1x2 { control lever one two }
part R1 resistor 68k
part R3 resistor 1M
part V1 triode
net tip-1 J1.tip S1.a1
net tip-2 J2.tip S1.a2
net both  S1.a R1.1 R3.1
net grid  R1.2 V1.g
net ground J1.sleeve J1.break J2.sleeve J2.break R3.2
spare V1.a V1.k
`)
	f := mixingOf(t, b).Rows[2].At[1]
	if f.Reach != CutOff || f.Cause == nil || b.Name(f.Cause.B) != "S1.a2" || f.Opens || only(b, f.Turned) != "S1 two" || f.Better < 0.99 {
		t.Errorf("%+v, turned %s; want S1 two to bring it back in full", f, only(b, f.Turned))
	}
}

// TestPlugTakesTheOther: the way of J1 leads through the break contact of J2.
// With both in J2 is heard alone, and J1 never; no switch can mend that.
func TestPlugTakesTheOther(t *testing.T) {
	b := read(t, `
part J1, J2 jack-break
part R1 resistor 68k
part R3 resistor 1M
part V1 triode
net tip-1 J1.tip J2.break
net tip-2 J2.tip R1.1 R3.1
net grid  R1.2 V1.g
net ground J1.sleeve J2.sleeve R3.2
spare V1.a V1.k J1.break
`)
	p := mixingOf(t, b).Pairs[0]
	if p.Both || p.EverA || !p.EverB || p.OnlyA != nil || p.OnlyB == nil || p.Verified {
		t.Errorf("%+v", p)
	}
}

// TestTrialWhereBothAreHeard: a mute switch that happens to be closed does not
// hide that a change-over switch would select.
func TestTrialWhereBothAreHeard(t *testing.T) {
	b := read(t, inputsOf+`
part S1 toggle-1x1
net tip-1 J1.tip R1.1
net tip-2 J2.tip R2.1
net grid S1.1
net ground S1.2
spare J1.break J2.break
set S1 on
`)
	if p := mixingOf(t, b).Pairs[0]; p.Both || !p.Verified || only(b, p.Tried) != "S1 off" {
		t.Errorf("%+v, tried %s", p, only(b, p.Tried))
	}
}

// TestStrays: an input of the plan that is not wired yet, and a jack whose tip
// is on its sleeve, are told as what they are.
func TestStrays(t *testing.T) {
	b := read(t, inputsOf+`
part J3 jack
part J4 jack
net tip-1 J1.tip R1.1
net tip-2 J2.tip R2.1
net ground J3.tip J3.sleeve
net other J4.tip
spare J1.break J2.break J4.sleeve
solder J1.tip R1.1
solder V1.g R1.2 R2.2 R3.1
lead black J1.sleeve R3.2 J3.tip J3.sleeve
`)
	bench := b.Bench()
	built := func(s netlist.Setting) *netlist.Harness { return bench.Built(b.Meanings()[0], s) }
	list := Strays(built, planned(b), bench.Setting, netlist.NoTerminal)
	if len(list) != 2 || list[0].Jack.Ref != "J2" || list[0].Shorted || list[1].Jack.Ref != "J3" || !list[1].Shorted {
		t.Errorf("%+v", list)
	}
}

// TestTipOnGround: a jack wired the wrong way round is not told to lose its
// break contact, which carries the signal.
func TestTipOnGround(t *testing.T) {
	b := read(t, inputsOf+`
net in-1 J1.break R1.1 J2.break
net in-2 J2.tip R2.1
net ground J1.tip
`)
	found := verify.Run([]verify.Rule{inputMutesDrawn}, &verify.Case{Bench: b.Bench(), Meaning: b.Meanings()[0]})
	if len(found) != 1 || !strings.HasPrefix(found[0].Action, "take J1.tip off ground") {
		t.Errorf("%+v", found)
	}
}
