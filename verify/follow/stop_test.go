package follow

import (
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

// chassis is an amplifier in the metal: two jacks as in the usual two-jack
// input, a volume, two stages, a single-ended output. Its plan and its wiring
// are the same until a test spoils the wiring.
const chassis = `
part J1, J2 jack-break
part J3 jack-break "Extension"
part S1 toggle-1x1 "Mute"
part P1 pot 1M log "Volume"
part V1 ecc83
part V2 el84
part R1, R2 resistor 68k
part R3 resistor 1M
part R4, R5 resistor 1k5
part R6, R7 resistor 100k
part R8 resistor 470k
part R9 resistor 150
part R10 resistor 68k
part C1, C2 electrolytic 25u
part C3, C4 capacitor 22n
part C5 electrolytic 25u
part C6 electrolytic 47u
part T1 output-se { winding primary anode ht; load anode ht 5k }
part LS1 loudspeaker 8
part CH chassis
part TB1 tagboard 20

net input-1 J1.tip R1.1 R3.1 J2.break
net input-2 J2.tip R2.1
net grid-1  R1.2 R2.2 V1.2
net k-1     V1.3 R4.1 C1.+
net a-1     V1.1 R6.1 C3.1
net top     C3.2 P1.cw
net wiper   P1.wiper R10.1 S1.1
net grid-2  R10.2 V1.7
net k-2     V1.8 R5.1 C2.+
net a-2     V1.6 R7.1 C4.1
net grid-3  C4.2 R8.1 V2.2
net k-3     V2.3 R9.1 C5.+
net a-3     V2.7 T1.anode
net ht      T1.ht V2.9 R6.2 R7.2 C6.+
net speaker T1.8ohm J3.tip
net inside  J3.break LS1.+
net ground {
    CH.star J1.sleeve J1.break J2.sleeve R3.2 R4.2 C1.- P1.ccw R5.2 C2.- R8.2 R9.2 C5.- C6.-
    T1.common LS1.- J3.sleeve S1.2
}
spare V1.4..5 V1.9 V2.4..5 T1.4ohm T1.16ohm TB1.15..20

solder J1.tip R1.1 R3.1 J2.break
solder J2.tip R2.1
solder TB1.1 R1.2 R2.2
lead green TB1.1 V1.2 "grid lead"
solder V1.3 R4.1 C1.+
lead blue V1.1 TB1.2
solder TB1.2 R6.1 C3.1
solder TB1.3 C3.2
lead green TB1.3 P1.cw
solder P1.wiper R10.1 S1.1
solder V1.7 R10.2
solder V1.8 R5.1 C2.+
lead blue V1.6 TB1.4
solder TB1.4 R7.1 C4.1
solder TB1.5 C4.2 R8.1
lead green TB1.5 V2.2
solder V2.3 R9.1 C5.+
solder V2.7 T1.anode
solder TB1.6 T1.ht V2.9 R6.2 R7.2 C6.+
solder J3.tip T1.8ohm
solder J3.break LS1.+
lead black CH.star J1.sleeve J1.break J2.sleeve R3.2 R4.2 C1.- P1.ccw
lead black CH.star R5.2 C2.- R8.2 R9.2 C5.- C6.-
lead black CH.star T1.common LS1.- J3.sleeve S1.2
`

func TestSoundChassis(t *testing.T) {
	b := read(t, chassis)
	w := askBuilt(t, b, "J1.tip", nil)
	if !w.Arrives || len(w.Stops) > 0 {
		t.Fatalf("%s", w.Text(80))
	}
	expectSteps(t, b, "as built", w.Stem, `>J1.tip+ R1.1>R1.2+ V1.2>V1.1- C3.1>C3.2- P1.cw>P1.wiper- R10.1>R10.2- V1.7>V1.6+
		C4.1>C4.2+ V2.2>V2.7- T1.anode>T1.8ohm+ LS1.++`)
	// The path along the copper has the facts: from the tag to the grid.
	grid := w.Stem[2]
	if n := len(grid.Copper); n != 3 || !strings.Contains(grid.Copper[n-1].By.Fact.Text(), "grid lead") {
		t.Errorf("copper to the grid: %+v", grid.Copper)
	}
	plan := ask(t, b, "J1.tip")
	if !slices.Equal(told(b, plan.Stem), told(b, w.Stem)) {
		t.Errorf("drawn: %v", told(b, plan.Stem))
	}
	if control := w.Stem[4]; control.Kind != Control || control.Set || control.Turn != 0.5 || control.Passes < 0.12 || control.Passes > 0.13 {
		t.Errorf("a log track at half: %+v", control)
	}
}

func TestStops(t *testing.T) {
	spoil := func(old, new string) func(string) string {
		return func(text string) string {
			if !strings.Contains(text, old) {
				t.Fatalf("no line %q", old)
			}
			return strings.Replace(text, old, new, 1)
		}
	}
	for _, c := range []struct {
		name       string
		spoil      func(string) string
		from       string
		why        Reason
		part       string // Stop.Part
		last, next string
		text       string // in what is told
	}{
		{"an open joint", spoil("lead green TB1.1 V1.2 \"grid lead\"\n", ""), "J1.tip", NotJoined, "V1", "R1.2", "V1.2", "R1.2 and V1.2 should be one conductor and are not joined"},
		{"a coupling capacitor left out", spoil("solder TB1.3 C3.2\n", ""), "J1.tip", NotJoined, "P1", "C3.2", "P1.cw", "C3.2 and P1.cw"},
		{"a part not fitted", func(text string) string {
			return strings.NewReplacer("solder TB1.4 R7.1 C4.1", "solder TB1.4 R7.1", "solder TB1.5 C4.2 R8.1", "solder TB1.5 R8.1").Replace(text)
		}, "J1.tip", NotFitted, "C4", "V1.6", "C4.1", "C4 is not fitted"},
		{"a grid on earth", spoil("lead green TB1.1 V1.2", "lead black TB1.1 CH.star\nlead green TB1.1 V1.2"), "J1.tip", Earthed, "R1", "J1.tip", "R1.2", "is on earth"},
		{"the input on earth", spoil("solder J1.tip R1.1 R3.1 J2.break", "solder J1.tip R1.1 R3.1 J2.break J1.sleeve"), "J1.tip", Earthed, "J1", "", "J1.tip", "J1.tip is on earth"},
		{"no way back", spoil("lead black CH.star J1.sleeve J1.break J2.sleeve R3.2", "lead black J1.sleeve J1.break J2.sleeve\nlead black CH.star R3.2"), "J2.tip", NoReturn, "J2", "J2.tip", "J2.sleeve", "no way to earth"},
		{"the volume at nought", spoil("part CH", "set P1 0%\npart CH"), "J1.tip", TurnedDown, "P1", "C3.2", "P1.wiper", "P1 stands at 0%"},
		{"muted", spoil("part CH", "set S1 on\npart CH"), "J1.tip", Earthed, "P1", "C3.2", "P1.wiper", "S1.1"},
		{"the output valve out", spoil("part CH", "set V1 in\npart CH"), "J1.tip", ValveOut, "V2", "C4.2", "V2.2", "V2 is not in its holder"},
		{"a plug in the extension", spoil("part CH", "set J3 in\npart CH"), "J1.tip", ContactOpen, "J3", "T1.8ohm", "LS1.+", "J3.tip to J3.break is open"},
		{"the loudspeaker's other lead off", spoil("lead black CH.star T1.common LS1.- J3.sleeve", "lead black CH.star T1.common J3.sleeve"), "J1.tip", NotJoined, "LS1", "", "LS1.-", "LS1.-"},
		{"grid and cathode joined", spoil("solder V1.8 R5.1 C2.+", "solder V1.7 V1.8 R5.1"), "J1.tip", Dead, "V1", "R10.2", "V1.6", "V1 gives nothing on"},
		{"grid and bypassed cathode joined", spoil("solder V1.8 R5.1 C2.+", "solder V1.7 V1.8 R5.1 C2.+"), "J1.tip", Swallowed, "R10", "P1.wiper", "R10.2", "goes through C2 to earth"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := read(t, c.spoil(chassis))
			w := askBuilt(t, b, c.from, nil)
			if w.Arrives || len(w.Stops) != 1 {
				t.Fatalf("arrives %v, %d stops:\n%s", w.Arrives, len(w.Stops), w.Text(80))
			}
			s := w.Stops[0]
			if s.Why != c.why || s.Part == nil || s.Part.Ref != c.part || b.Name(s.Next) != c.next || c.last != "" && b.Name(s.Last) != c.last {
				last := "-"
				if s.Last != netlist.NoTerminal {
					last = b.Name(s.Last)
				}
				t.Errorf("why %d at %s, from %s to %s\n%s", s.Why, s.Part.Ref, last, b.Name(s.Next), w.Text(80))
			}
			if text := w.StopText(&s); !strings.Contains(text, c.text) {
				t.Errorf("told: %s", text)
			}
			if c.why == Earthed && len(s.Path) < 2 {
				t.Errorf("no way to earth is told: %+v", s.Path)
			}
		})
	}
}

// TestPlugAndValves: the question puts the plug in, and the valves where all
// are out; where it says itself how they are, they stay.
func TestPlugAndValves(t *testing.T) {
	b := read(t, chassis)
	kinds := func(w *Way) (list []AssumptionKind) {
		for _, a := range w.Assumed {
			list = append(list, a.Kind)
		}
		return list
	}
	w := askBuilt(t, b, "J1.tip", nil)
	if !slices.Equal(kinds(w), []AssumptionKind{PluggedIn, ValvesIn, Powered, HalfTurned, WindingsStart}) {
		t.Errorf("assumed %v", kinds(w))
	}
	j1, v1 := b.Part("J1"), b.Part("V1")
	out := askBuilt(t, b, "J1.tip", netlist.Setting{{Part: j1}: {}})
	if out.Arrives || out.Stops[0].Why != Earthed {
		t.Errorf("an empty J1 lies on ground by its break contact:\n%s", out.Text(80))
	}
	if text := out.StopText(&out.Stops[0]); !strings.Contains(text, "J1.break") {
		t.Errorf("told: %s", text)
	}
	w = askBuilt(t, b, "J1.tip", netlist.Setting{{Part: v1, Control: v1.Kind.Seat}: {Index: 0, Known: true}})
	if w.Arrives || w.Stops[0].Why != ValveOut || w.Stops[0].Part != v1 {
		t.Errorf("V1 is out:\n%s", w.Text(80))
	}
}

// TestHalfOfPushPull takes one output valve out of the demo: the other goes on.
func TestHalfOfPushPull(t *testing.T) {
	b := open(t, "../../examples/lantern-built.buzzout", nil)
	v4 := b.Part("V4")
	w := askBuilt(t, b, "J1.tip", netlist.Setting{{Part: v4, Control: v4.Kind.Seat}: {Index: 0, Known: true}})
	if !w.Arrives || len(w.Lanes) != 0 || len(w.Stops) != 1 || !w.Stops[0].Half || w.Stops[0].Why != ValveOut || w.Stops[0].Part != v4 {
		t.Errorf("%s", w.Text(80))
	}
}

// TestTwoJacks halves the low input, as in the reference table of the two-jack
// input (half, -6.02 dB, with the high one empty).
func TestTwoJacks(t *testing.T) {
	b := read(t, chassis)
	w := askBuilt(t, b, "J2.tip", nil)
	s := w.Stem[1]
	if s.Kind != Attenuator || s.Part.Ref != "R2" || s.Passes < 0.49 || s.Passes > 0.51 || len(s.Down) != 1 || s.Down[0].Ref != "R1" {
		t.Errorf("%+v", s)
	}
}

// TestToATerminal follows to a terminal that is asked for, and says when none
// of it gets there.
func TestToATerminal(t *testing.T) {
	b := read(t, chassis)
	m := b.Meanings()[0]
	q := Question{Book: b, Draw: drawn(b, m), From: terminal(t, b, "J1.tip"), To: terminal(t, b, "P1.wiper")}
	w := Signal(q)
	expectSteps(t, b, "to the wiper", w.Stem, ">J1.tip+ R1.1>R1.2+ V1.2>V1.1- C3.1>C3.2- P1.cw>P1.wiper- P1.wiper-")
	q.From, q.To = q.To, q.From
	if w := Signal(q); w.Arrives || len(w.Stops) != 1 {
		t.Errorf("backwards:\n%s", w.Text(80))
	}
}

// TestEitherWayRound uses what is alike the other way round on the bench: the
// legs of R1 and C3, and the halves of V1 for one another. Nothing is wrong
// with that, and what is wrong behind it is still found.
func TestEitherWayRound(t *testing.T) {
	turned := strings.NewReplacer(
		"solder J1.tip R1.1 R3.1", "solder J1.tip R1.2 R3.1", "solder TB1.1 R1.2 R2.2", "solder TB1.1 R1.1 R2.2",
		"solder TB1.2 R6.1 C3.1", "solder TB1.2 R6.1 C3.2", "solder TB1.3 C3.2", "solder TB1.3 C3.1",
		"TB1.1 V1.2 \"grid lead\"", "TB1.1 V1.7 \"grid lead\"", "solder V1.3 R4.1", "solder V1.8 R4.1", "lead blue V1.1", "lead blue V1.6",
		"solder V1.7 R10.2", "solder V1.2 R10.2", "solder V1.8 R5.1", "solder V1.3 R5.1", "lead blue V1.6", "lead blue V1.1",
	).Replace(chassis)
	b := read(t, turned)
	w := askBuilt(t, b, "J1.tip", nil)
	if !w.Arrives || len(w.Stops) > 0 {
		t.Fatalf("%s", w.Text(80))
	}
	expectSteps(t, b, "as built", w.Stem, `>J1.tip+ R1.2>R1.1+ V1.7>V1.6- C3.2>C3.1- P1.cw>P1.wiper- R10.1>R10.2- V1.2>V1.1+
		C4.1>C4.2+ V2.2>V2.7- T1.anode>T1.8ohm+ LS1.++`)
	b = read(t, strings.Replace(turned, "solder TB1.5 C4.2 R8.1", "solder TB1.5 R8.1", 1))
	w = askBuilt(t, b, "J1.tip", nil)
	if len(w.Stops) != 1 || w.Stops[0].Why != NotJoined || b.Name(w.Stops[0].Last) != "C4.2" || b.Name(w.Stops[0].Next) != "V2.2" {
		t.Errorf("%s", w.Text(80))
	}
	expectSteps(t, b, "as far as it goes", w.Stem, ">J1.tip+ R1.2>R1.1+ V1.7>V1.6- C3.2>C3.1- P1.cw>P1.wiper- R10.1>R10.2- V1.2>V1.1+ C4.1>C4.2+")
}
