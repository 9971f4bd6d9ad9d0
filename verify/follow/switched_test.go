package follow

import (
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

// channels are two first stages of which a switch lets one through to a
// second, with no loudspeaker in the notebook.
const channels = `
part J1, J2 jack
part V1, V2 ecc83
part R1, R2 resistor 1M
part R3, R4, R5 resistor 1k5
part R6, R7, R8 resistor 100k
part R9 resistor 470k
part C1, C2 capacitor 22n
part S1 toggle-1x2 { control lever clean dirty }
part HT point
part CH chassis
net in-1 J1.tip R1.1 V1.2
net in-2 J2.tip R2.1 V1.7
net k-1 V1.3 R3.1
net k-2 V1.8 R4.1
net a-1 V1.1 R6.1 C1.1
net a-2 V1.6 R7.1 C2.1
net clean C1.2 S1.a1
net dirty C2.2 S1.a2
net grid S1.a R9.1 V2.2
net k-3 V2.3 R5.1
net a-3 V2.1 R8.1
net HT R6.2 R7.2 R8.2
net ground CH.star J1.sleeve J2.sleeve R1.2 R2.2 R3.2 R4.2 R5.2 R9.2
spare V1.4..5 V1.9 V2.4..9
`

func askDrawn(t *testing.T, text, from string, asked netlist.Setting) (*netlist.Book, *Way) {
	t.Helper()
	b := read(t, text)
	return b, Signal(Question{Book: b, Draw: drawn(b, b.Meanings()[0]), From: terminal(t, b, from), To: netlist.NoTerminal, Asked: asked})
}

// TestBehindASwitch: a way that a switch cuts off ends there, and is not shown
// as arriving at the valve in front of it.
func TestBehindASwitch(t *testing.T) {
	if _, w := askDrawn(t, channels, "J1.tip", nil); !w.Arrives || len(w.Stops) > 0 {
		t.Errorf("J1 goes through:\n%s", w.Text(80))
	}
	b, w := askDrawn(t, channels, "J2.tip", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != ContactOpen || w.Stops[0].Part != b.Part("S1") || b.Name(w.Stops[0].Last) != "C2.2" {
		t.Fatalf("S1 stands at clean:\n%s", w.Text(80))
	}
	if text := w.StopText(&w.Stops[0]); !strings.HasSuffix(text, "As drawn it goes on with S1 dirty.") {
		t.Errorf("%s", text)
	}
	s1 := b.Part("S1")
	_, w = askDrawn(t, channels, "J2.tip", netlist.Setting{{Part: s1}: {Index: 1, Known: true}})
	if len(w.Stops) > 0 && w.Arrives {
		t.Errorf("%s", w.Text(80))
	}
}

// standby is the single-ended amplifier with a switch in its high tension and
// a loudspeaker that a plug takes off.
var standby = strings.NewReplacer(
	"net ht R1.2 T1.ht V2.screen", "part S1 toggle-1x1 { control lever standby play }\npart C4 electrolytic 32u\npart R6 resistor 1k\nnet ht S1.1 C4.+ R1.2\nnet high S1.2 T1.ht R6.1\nnet screen R6.2 V2.screen",
	"net speaker T1.8ohm LS1.+", "part J3 jack-break\nnet speaker T1.8ohm J3.tip\nnet inside J3.break LS1.+",
	"C3.- T1.common", "C3.- C4.- J3.sleeve T1.common",
).Replace(supply + singleEnded)

// TestOpenStandby: with the supply's end of the primary in the air nothing
// comes out of the secondary, and it is the switch that is told, not the
// loudspeaker. Two controls in the way are both told.
func TestOpenStandby(t *testing.T) {
	b, w := askDrawn(t, standby, "IN", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != NoCurrent || b.Name(w.Stops[0].Next) != "V2.3" {
		t.Fatalf("no current for V2 at standby:\n%s", w.Text(80))
	}
	// With the first anode's resistor behind the switch as well a little finds
	// its way through it, and it is the winding that gives next to nothing.
	leaky := strings.NewReplacer("C4.+ R1.2", "C4.+", "T1.ht R6.1", "T1.ht R6.1 R1.2", "{ winding primary anode ht; load anode ht 5k }", "", "R4 resistor 270", "R4 resistor 2k2").Replace(standby)
	b, w = askDrawn(t, leaky, "IN", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != ContactOpen || w.Stops[0].Part != b.Part("S1") || b.Name(w.Stops[0].Last) != "V2.3" {
		t.Fatalf("S1 stands at standby:\n%s", w.Text(80))
	}
	b = read(t, standby)
	w = Signal(Question{Book: b, Draw: drawn(b, b.Meanings()[0]), From: terminal(t, b, "IN"), To: netlist.NoTerminal,
		Asked: netlist.Setting{{Part: b.Part("J3")}: {Index: 1, Known: true}}})
	if len(w.Stops) != 1 || len(w.Stops[0].With) != 2 || !strings.HasSuffix(w.StopText(&w.Stops[0]), "As drawn it goes on with S1 play, J3 out.") {
		t.Errorf("both are in the way:\n%s", w.Text(80))
	}
}

// TestHangingValve: a valve that is soldered at its grid alone passes no
// current, and a loose leg on the ground's net is not taken for earth.
func TestHangingValve(t *testing.T) {
	plan := `
part J1 jack
part V1 triode
part R1 resistor 68k
part R2 resistor 1M
part R3 resistor 100k
part R4 resistor 1k5
part HT dc-supply 250V
part GND point
net in J1.tip R1.1 R2.1
net grid R1.2 V1.g
net anode V1.a R3.1
net ht R3.2 HT.+
net cathode V1.k R4.1
net GND J1.sleeve R2.2 R4.2 HT.-
solder J1.tip R1.1
solder R1.2 V1.g
lead black J1.sleeve GND
`
	b := read(t, plan)
	w := askBuilt(t, b, "J1.tip", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != NoCurrent || b.Name(w.Stops[0].Next) != "V1.k" {
		t.Fatalf("%s", w.Text(80))
	}
	if text := w.StopText(&w.Stops[0]); !strings.Contains(text, "V1.k and R4.1 should be one conductor and are not joined") {
		t.Errorf("%s", text)
	}
	b = read(t, plan+"solder V1.k R4.1\nsolder GND R4.2\nsolder V1.a R3.1\n")
	w = askBuilt(t, b, "J1.tip", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != NoCurrent || b.Name(w.Stops[0].Next) != "V1.a" {
		t.Errorf("the supply is not joined yet:\n%s", w.Text(80))
	}
	b = read(t, plan+"solder V1.k R4.1\nsolder GND R4.2 HT.-\nsolder V1.a R3.1\nsolder R3.2 HT.+\n")
	if w = askBuilt(t, b, "J1.tip", nil); !w.Arrives || len(w.Stops) > 0 {
		t.Errorf("all is joined that counts:\n%s", w.Text(80))
	}
}

// TestWeakHalf: a half of a push-pull stage that is driven far too little is
// still shown, and how little.
func TestWeakHalf(t *testing.T) {
	for _, c := range []struct {
		load string
		told bool
	}{{"56k", false}, {"4k7", true}} {
		text := strings.Replace(supply+pushPull+splitter, "part R1, R2 resistor 56k", "part R1 resistor 56k\npart R2 resistor "+c.load, 1)
		w := ask(t, read(t, text), "IN")
		if len(w.Lanes) != 2 {
			t.Fatalf("%s: both halves are wanted:\n%s", c.load, w.Text(80))
		}
		if got := strings.Contains(strings.Join(strings.Fields(strings.ReplaceAll(w.Text(80), "│", "")), " "), "% of what the strongest does"); got != c.told {
			t.Errorf("%s: told as uneven: %t\n%s", c.load, got, w.Text(80))
		}
	}
}

// TestFeedbackFromALooseTap: a tap with nothing on it but the feedback resistor
// to a grid is no bias supply.
func TestFeedbackFromALooseTap(t *testing.T) {
	text := strings.Replace(fedBack, "net k1 V1.3 R2.1 R9.2", "net k1 V1.3 R2.1", 1)
	text = strings.Replace(text, "net in V1.2 R5.1", "part R10 resistor 100k\nnet in R10.1\nnet g1 R10.2 V1.2 R5.1 R9.2", 1)
	text = strings.Replace(text, "net speaker R9.1", "net tap T1.16ohm R9.1", 1)
	w := ask(t, read(t, text), "IN")
	if l := oneLoop(t, w); l.Supply || !l.Negative() {
		t.Errorf("%s", w.LoopText(&l))
	}
}

// TestSingleEndedLibrary: by the published colour code the HT end of a plain
// primary is its start, so that the usual feedback to the first cathode is
// negative in an amplifier of two stages.
func TestSingleEndedLibrary(t *testing.T) {
	for _, kind := range []string{"output-se", "output-se-taps"} {
		text := strings.Replace(fedBack, "output-se { winding primary anode ht; load", kind+" { load", 1)
		if kind == "output-se-taps" {
			text += "\nspare T1.screen\n"
		}
		b := read(t, text)
		w := ask(t, b, "IN")
		if l := oneLoop(t, w); !l.Negative() {
			t.Errorf("%s", w.Text(80))
		}
		if !slices.ContainsFunc(w.Assumed, func(a Assumption) bool {
			return a.Kind == WindingsStart && b.Name(a.At[0]) == "T1.ht" && b.Name(a.At[1]) == "T1.common"
		}) {
			t.Errorf("where the windings start is taken to be so, and has to be told:\n%s", w.Text(80))
		}
	}
}

// TestToAGrid: what a grid gets back from the valves that it drives is no way
// to it, and no loop of a way that ends there.
func TestToAGrid(t *testing.T) {
	b := read(t, fedBack)
	w := Signal(Question{Book: b, Draw: drawn(b, b.Meanings()[0]), From: terminal(t, b, "IN"), To: terminal(t, b, "V2.grid")})
	expectSteps(t, b, "to V2", w.Stem, ">IN+ V1.2>V1.1- C1.1>C1.2- V2.5-")
	if len(w.Lanes) > 0 || len(w.Loops) > 0 {
		t.Errorf("%s", w.Text(80))
	}
}

// TestToEarth: asked for a point that is on earth, it says so.
func TestToEarth(t *testing.T) {
	b := read(t, fedBack)
	w := Signal(Question{Book: b, Draw: drawn(b, b.Meanings()[0]), From: terminal(t, b, "IN"), To: terminal(t, b, "R4.2")})
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != Earthed || b.Name(w.Stops[0].Next) != "R4.2" {
		t.Errorf("%s", w.Text(80))
	}
}

// TestFollowerOnTheSupply: a follower has its anode where the first stage has
// its resistor, with as much meeting at both ends; the end without a grid is
// the supply.
func TestFollowerOnTheSupply(t *testing.T) {
	text := `
part J1 jack
part V1 ecc83
part R1, R5 resistor 1M
part R2, R4 resistor 100k
part R3 resistor 1k5
part C1 capacitor 22n
part HT, OUT point
part CH chassis
net in J1.tip R1.1 V1.2
net k-1 V1.3 R3.1
net a-1 V1.1 R2.1 V1.7
net k-2 V1.8 R4.1 C1.1
net HT R2.2 V1.6
net OUT C1.2 R5.1
net ground CH.star J1.sleeve R1.2 R3.2 R4.2 R5.2
spare V1.4..5 V1.9
`
	connector := strings.NewReplacer("part HT, OUT point", "part OUT point\npart X1 connector 2", "net HT", "net ht X1.1", "CH.star", "CH.star X1.2").Replace(text)
	for _, text := range []string{text, connector} {
		b, w := askDrawn(t, text, "J1.tip", nil)
		expectSteps(t, b, "through the follower", w.Stem, ">J1.tip+ V1.2>V1.1- V1.7>V1.8- C1.1>C1.2- OUT-")
		if len(w.Lanes) > 0 || len(w.Loops) > 0 {
			t.Errorf("%s", w.Text(80))
		}
	}
}

// TestDiodeInTheCathode: a light-emitting or voltage diode in the place of the
// cathode's resistor carries the current, and the stage turns over as ever. A
// cathode with nothing on it passes none, and that is told without a drawing
// to compare with.
func TestDiodeInTheCathode(t *testing.T) {
	text := `
part J1 jack
part V1 triode
part R1 resistor 1M
part R2 resistor 100k
part R3 resistor 470k
part D1 led
part C1 capacitor 22n
part HT, OUT point
part CH chassis
net in J1.tip R1.1 V1.g
net cathode V1.k D1.a
net anode V1.a R2.1 C1.1
net HT R2.2
net OUT C1.2 R3.1
net ground CH.star J1.sleeve R1.2 D1.k R3.2
`
	b, w := askDrawn(t, text, "J1.tip", nil)
	expectSteps(t, b, "over a diode", w.Stem, ">J1.tip+ V1.g>V1.a- C1.1>C1.2- OUT-")
	b, w = askDrawn(t, strings.Replace(text, "net cathode V1.k D1.a", "spare V1.k D1.a", 1), "J1.tip", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != NoCurrent || b.Name(w.Stops[0].Next) != "V1.k" {
		t.Errorf("the cathode hangs in the air:\n%s", w.Text(80))
	}
}

// TestManyOpenSwitches: with more switches in the way than are tried, the first
// open one is told, and the way is not led out by the other input.
func TestManyOpenSwitches(t *testing.T) {
	b, w := askDrawn(t, `
part J1, J2 jack
part V1 triode
part S1, S2, S3 toggle-1x1
part R1, R2 resistor 68k
part R3 resistor 1M
part R4 resistor 1k5
part R5 resistor 100k
part HT point
part CH chassis
net in-1 J1.tip R1.1
net in-2 J2.tip R2.1
net mixed R1.2 R2.2 S1.1
net one S1.2 S2.1
net two S2.2 S3.1
net grid S3.2 V1.g R3.1
net cathode V1.k R4.1
net anode V1.a R5.1
net HT R5.2
net ground CH.star J1.sleeve J2.sleeve R3.2 R4.2
`, "J1.tip", nil)
	if w.Arrives || len(w.Stops) != 1 || w.Stops[0].Why != ContactOpen || w.Stops[0].Part != b.Part("S1") {
		t.Fatalf("%s", w.Text(80))
	}
	expectSteps(t, b, "as far as it goes", w.Stem, ">J1.tip+ R1.1>R1.2+")
}
