package follow

import (
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

// What is expected here is derived by hand from three facts of the trade, that
// every textbook on valves has (M. Robinson, Fun with Tubes; D. A. Steck,
// Analog and Digital Electronics, ch. 6): an anode moves against its grid, a
// cathode moves with it, and an anode moves with its cathode where the grid is
// held still. Windings count from the first end that they list: two ends that
// both come later than the ends held still move together.

func expectSteps(t *testing.T, b *netlist.Book, what string, steps []Step, want string) {
	t.Helper()
	if got := told(b, steps); !slices.Equal(got, strings.Fields(want)) {
		t.Errorf("%s:\n%s\nwant\n%s", what, strings.Join(got, " "), strings.Join(strings.Fields(want), " "))
	}
}

const supply = `
part IN, GND point
part PS1 dc-supply
net in IN
net GND PS1.-
net ht PS1.+
`

func TestCommonCathode(t *testing.T) {
	b := read(t, supply+`
part V1 ecc83
part R1 resistor 100k
part R2 resistor 1k5
part R3 resistor 1M
part R4 resistor 68k
part C1 capacitor 22n
part C2 electrolytic 25u
part OUT point
net in R4.1 R3.1
net grid R4.2 V1.2
net anode V1.1 R1.1 C1.1
net k V1.3 R2.1 C2.+
net out C1.2 OUT
net ht R1.2
net GND R2.2 R3.2 C2.-
`)
	w := ask(t, b, "IN")
	expectSteps(t, b, "stem", w.Stem, ">IN+ R4.1>R4.2+ V1.2>V1.1- C1.1>C1.2- OUT-")
	if !w.Arrives || !w.Over || len(w.Lanes) > 0 || len(w.Loops) > 0 || len(w.Stops) > 0 {
		t.Errorf("%+v", w)
	}
	if s := w.Stem[2]; s.Kind != Stage || s.Driven != Grid || s.Taken != Anode || !s.Turns || !s.Figures.Stated {
		t.Errorf("stage %+v", s)
	}
	if kinds := []StepKind{w.Stem[0].Kind, w.Stem[1].Kind, w.Stem[3].Kind, w.Stem[4].Kind}; !slices.Equal(kinds, []StepKind{Start, Series, Coupling, End}) {
		t.Errorf("kinds %v", kinds)
	}
}

// A follower does not turn the signal over.
func TestFollower(t *testing.T) {
	b := read(t, supply+`
part V1 ecc82
part R1 resistor 47k
part R2 resistor 1M
part C1, C2 capacitor 100n
part OUT point
net in C1.1
net grid C1.2 V1.2 R2.1
net k V1.3 R1.1 C2.1
net out C2.2 OUT
net ht V1.1
net GND R1.2 R2.2
`)
	w := ask(t, b, "IN")
	expectSteps(t, b, "stem", w.Stem, ">IN+ C1.1>C1.2+ V1.2>V1.3+ C2.1>C2.2+ OUT+")
	if w.Over || w.Stem[2].Taken != Cathode || w.Stem[2].Turns {
		t.Errorf("follower %+v", w.Stem[2])
	}
}

// A stage driven at its cathode, with its grid held still by a capacitor, does
// not turn the signal over.
func TestGroundedGrid(t *testing.T) {
	b := read(t, supply+`
part V1 ecc81
part R1 resistor 100k
part R2 resistor 470
part R3 resistor 1M
part C1, C2, C3 capacitor 1u
part OUT point
net in C1.1
net k C1.2 V1.3 R2.1
net grid V1.2 R3.1 C3.1
net anode V1.1 R1.1 C2.1
net out C2.2 OUT
net ht R1.2
net GND R2.2 R3.2 C3.2
`)
	w := ask(t, b, "IN")
	expectSteps(t, b, "stem", w.Stem, ">IN+ C1.1>C1.2+ V1.3>V1.1+ C2.1>C2.2+ OUT+")
	if s := w.Stem[2]; s.Driven != Cathode || s.Taken != Anode || s.Turns {
		t.Errorf("stage %+v", s)
	}
}

// pushPull is an output stage of two EL84 with an ideal output transformer,
// its grids on A and B.
const pushPull = `
part V3, V4 el84
part T1 output-pp { load anode-a anode-b 8k }
part LS1 loudspeaker 8
part R20, R21 resistor 470k
net A V3.2 R20.1
net B V4.2 R21.1
net ao-1 V3.7 T1.anode-a
net ao-2 V4.7 T1.anode-b
net ht T1.ht V3.9 V4.9
net speaker T1.8ohm LS1.+
net GND R20.2 R21.2 V3.3 V4.3 T1.common LS1.-
`

func TestLongTailedPair(t *testing.T) {
	b := read(t, supply+pushPull+`
part V2 ecc83
part R1 resistor 82k
part R2 resistor 100k
part R3 resistor 10k
part R4, R5 resistor 1M
part R6 resistor 470
part C1, C2, C3, C4 capacitor 22n
net in C1.1
net g1 C1.2 V2.2 R4.1
net g2 C2.1 V2.7 R5.1
net k V2.3 V2.8 R6.1
net tail R6.2 R3.1 R4.2 R5.2
net a1 V2.1 R1.1 C3.1
net a2 V2.6 R2.1 C4.1
net A C3.2
net B C4.2
net ht R1.2 R2.2
net GND R3.2 C2.2
`)
	w := ask(t, b, "IN")
	expectSteps(t, b, "stem", w.Stem, ">IN+ C1.1>C1.2+")
	if len(w.Lanes) != 2 {
		t.Fatalf("%d lanes", len(w.Lanes))
	}
	// anode-a is the first end of the primary and ht comes after it; 8ohm comes
	// after common: turned over. anode-b comes after ht: the same way up.
	expectSteps(t, b, "lane a", w.Lanes[0], "V2.2>V2.1- C3.1>C3.2- V3.2>V3.7+ T1.anode-a>T1.8ohm-")
	expectSteps(t, b, "lane b", w.Lanes[1], "V2.2>V2.3+ V2.8>V2.6+ C4.1>C4.2+ V4.2>V4.7- T1.anode-b>T1.8ohm-")
	expectSteps(t, b, "tail", w.Tail, "LS1.+-")
	if w.Meeting != Adding || !w.Over {
		t.Errorf("meeting %v, over %v", w.Meeting, w.Over)
	}
	last := w.Lanes[0][3]
	if b.Name(last.StillIn) != "T1.ht" || b.Name(last.StillOut) != "T1.common" {
		t.Errorf("still ends %s and %s", b.Name(last.StillIn), b.Name(last.StillOut))
	}
}

// A split load gives one half from the anode and one from the cathode.
func TestSplitLoad(t *testing.T) {
	text := supply + pushPull + splitter
	b := read(t, text)
	w := ask(t, b, "IN")
	if len(w.Lanes) != 2 {
		t.Fatalf("%d lanes:\n%s", len(w.Lanes), w.Text(80))
	}
	expectSteps(t, b, "lane a", w.Lanes[0], "V2.2>V2.1- C3.1>C3.2- V3.2>V3.7+ T1.anode-a>T1.8ohm-")
	expectSteps(t, b, "lane b", w.Lanes[1], "V2.2>V2.3+ C4.1>C4.2+ V4.2>V4.7- T1.anode-b>T1.8ohm-")
	if w.Meeting != Adding {
		t.Errorf("they should help one another:\n%s", w.Text(80))
	}
	// Both grids fed from the anode: the halves pull the same way and cancel.
	b = read(t, strings.Replace(text, "net k1 V2.3 R2.1 C4.1", "net k1 V2.3 R2.1\nnet a1 C4.1", 1))
	w = ask(t, b, "IN")
	if len(w.Lanes) != 2 || w.Meeting != Against {
		t.Errorf("both grids from one anode should cancel:\n%s", w.Text(80))
	}
}

// The second valve of a paraphase inverter takes its drive from a divider at
// the first one's output.
func TestParaphase(t *testing.T) {
	b := read(t, supply+pushPull+`
part V2 ecc83
part R1, R2 resistor 100k
part R3, R4 resistor 1k5
part R5 resistor 470k
part R6 resistor 10k
part R7 resistor 1M
part C1, C3, C4 capacitor 22n
part C5, C6 electrolytic 25u
net in C1.1
net g1 C1.2 V2.2 R7.1
net a1 V2.1 R1.1 C3.1
net k1 V2.3 R3.1 C5.+
net A C3.2 R5.1
net g2 R5.2 R6.1 V2.7
net a2 V2.6 R2.1 C4.1
net k2 V2.8 R4.1 C6.+
net B C4.2
net ht R1.2 R2.2
net GND R7.2 R3.2 R4.2 R6.2 C5.- C6.-
`)
	w := ask(t, b, "IN")
	if len(w.Lanes) != 2 || w.Meeting != Adding {
		t.Fatalf("%s", w.Text(80))
	}
	expectSteps(t, b, "stem", w.Stem, ">IN+ C1.1>C1.2+ V2.2>V2.1- C3.1>C3.2-")
	expectSteps(t, b, "lane a", w.Lanes[0], "V3.2>V3.7+ T1.anode-a>T1.8ohm-")
	expectSteps(t, b, "lane b", w.Lanes[1], "R5.1>R5.2- V2.7>V2.6+ C4.1>C4.2+ V4.2>V4.7- T1.anode-b>T1.8ohm-")
	// R6 to earth behind R5 makes it a divider: 10k of 480k.
	if s := w.Lanes[1][0]; s.Kind != Attenuator || s.Passes < 0.019 || s.Passes > 0.022 || len(s.Down) != 1 || s.Down[0].Ref != "R6" {
		t.Errorf("divider %+v", s)
	}
}

// A transformer between the stages parts the signal as well.
func TestInterstage(t *testing.T) {
	b := read(t, supply+pushPull+`
part V2 ecc82
part T2 interstage
part R3 resistor 1k5
part C5 electrolytic 25u
part R7 resistor 1M
net in V2.2 R7.1
net a1 V2.1 T2.anode
net k1 V2.3 R3.1 C5.+
net A T2.grid-a
net B T2.grid-b
net ht T2.ht
net GND R7.2 R3.2 C5.- T2.grid-ct
spare V2.6..8
`)
	w := ask(t, b, "IN")
	if len(w.Lanes) != 2 || w.Meeting != Adding {
		t.Fatalf("%s", w.Text(80))
	}
	// anode is the first end of its winding, ht after it: anode up, grid-a up.
	expectSteps(t, b, "stem", w.Stem, ">IN+ V2.2>V2.1-")
	expectSteps(t, b, "lane a", w.Lanes[0], "T2.anode>T2.grid-a- V3.2>V3.7+ T1.anode-a>T1.8ohm-")
	expectSteps(t, b, "lane b", w.Lanes[1], "T2.anode>T2.grid-b+ V4.2>V4.7- T1.anode-b>T1.8ohm-")
}

const singleEnded = `
part V1 ecc83
part V2 6v6gt
part R1 resistor 100k
part R2 resistor 1k5
part R3 resistor 470k
part R4 resistor 270
part R5 resistor 1M
part C1 capacitor 22n
part C2, C3 electrolytic 25u
part T1 output-se { winding primary anode ht; load anode ht 5k }
part LS1 loudspeaker 8
net in V1.2 R5.1
net a1 V1.1 R1.1 C1.1
net k1 V1.3 R2.1 C2.+
net g2 C1.2 R3.1 V2.grid
net k2 V2.cathode R4.1 C3.+
net a2 V2.anode T1.anode
net ht R1.2 T1.ht V2.screen
net speaker T1.8ohm LS1.+
net GND R5.2 R2.2 C2.- R3.2 R4.2 C3.- T1.common LS1.-
spare V1.6..8
`

func TestSingleEnded(t *testing.T) {
	b := read(t, supply+singleEnded)
	w := ask(t, b, "IN")
	// anode comes before ht, 8ohm after common.
	expectSteps(t, b, "stem", w.Stem, ">IN+ V1.2>V1.1- C1.1>C1.2- V2.5>V2.3+ T1.anode>T1.8ohm- LS1.+-")
	if len(w.Loops) != 0 || len(w.Stops) != 0 {
		t.Errorf("%s", w.Text(80))
	}
}

// Two output valves side by side are one lane.
func TestSideBySide(t *testing.T) {
	b := read(t, supply+strings.Replace(singleEnded, "part V2 6v6gt", "part V2, V3 6v6gt", 1)+`
net g2 V3.grid
net k2 V3.cathode
net a2 V3.anode
net ht V3.screen
`)
	w := ask(t, b, "IN")
	for _, l := range append(w.Lanes, w.Stem) {
		for _, s := range l {
			if s.Kind == Stage && s.Part.Ref == "V2" && (len(s.Beside) != 1 || s.Beside[0].Ref != "V3") {
				t.Errorf("V3 should be beside V2: %+v", s.Beside)
			}
		}
	}
	if len(w.Lanes) != 0 {
		t.Errorf("one lane is wanted:\n%s", w.Text(80))
	}
}
