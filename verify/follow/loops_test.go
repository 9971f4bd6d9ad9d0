package follow

import (
	"math"
	"strings"
	"testing"

	"buzzout/netlist"
)

// fedBack is the single-ended amplifier with its loudspeaker's voltage brought
// back to the cathode of the first valve. Put together by hand: grid up, first
// anode down, second anode up; anode is the first end of the primary and 8ohm
// the last of the secondary, so the loudspeaker goes down and takes the first
// cathode down with it, which is as good as more grid: positive. With the two
// primary leads exchanged it is negative.
var fedBack = supply + strings.Replace(strings.Replace(singleEnded, "net k1 V1.3 R2.1 C2.+", "net k1 V1.3 R2.1 R9.2\nspare C2.+", 1), "C2.- ", "", 1) + `
part R9 resistor 10k
net speaker R9.1
spare C2.-
`

func exchanged(text string) string {
	return strings.Replace(strings.Replace(text, "V2.anode T1.anode", "V2.anode T1.ht", 1), "R1.2 T1.ht V2.screen", "R1.2 T1.anode V2.screen", 1)
}

func oneLoop(t *testing.T, w *Way) Loop {
	t.Helper()
	if len(w.Loops) != 1 {
		t.Fatalf("%d loops, want one:\n%s", len(w.Loops), w.Text(80))
	}
	return w.Loops[0]
}

// TestLoopSigns checks the sign of one loop for both ways round of the primary,
// for cathode and grid, and its size against the textbook's A/(1 - T): T is one
// less what the gain was without the resistor over what it is with it.
func TestLoopSigns(t *testing.T) {
	toGrid := strings.Replace(strings.Replace(fedBack, "V1.3 R2.1 R9.2", "V1.3 R2.1", 1), "net in V1.2 R5.1", "net in R10.1\npart R10 resistor 100k\nnet g1 R10.2 V1.2 R5.1 R9.2", 1)
	toGrid = strings.Replace(toGrid, "R9 resistor 10k", "R9 resistor 1M", 1)
	for _, c := range []struct {
		name, text string
		sign       float64
		entry      string
		electrode  Electrode
	}{
		{"to the cathode", fedBack, 1, "V1.3", Cathode},
		{"to the cathode, primary exchanged", exchanged(fedBack), -1, "V1.3", Cathode},
		{"to the grid", toGrid, -1, "V1.2", Grid},
		{"to the grid, primary exchanged", exchanged(toGrid), 1, "V1.2", Grid},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := read(t, c.text)
			w := ask(t, b, "IN")
			l := oneLoop(t, w)
			if l.Round*c.sign <= 0 || l.Negative() != (c.sign < 0) {
				t.Errorf("round %g, want the sign of %g", l.Round, c.sign)
			}
			if b.Name(l.From) != "T1.8ohm" || len(l.Steps) != 1 || l.Steps[0].Part.Ref != "R9" || len(l.In) != 1 || b.Name(l.In[0].At) != c.entry || l.In[0].Electrode != c.electrode {
				t.Errorf("loop %+v", l)
			}
			closed := flowOf(t, b, "IN").exact(t, "T1.8ohm")
			// Cut: the resistor hangs on earth, so that it loads the early end
			// as before; what little it loads the loudspeaker is lost.
			cut := strings.Replace(c.text, "net speaker R9.1", "net GND R9.1", 1)
			opened := flowOf(t, read(t, cut), "IN").exact(t, "T1.8ohm")
			want := real(1 - opened/closed)
			if math.Abs(l.Round-want) > 0.1*math.Abs(want) {
				t.Errorf("round %g, and the gain with and without says %g", l.Round, want)
			}
		})
	}
}

// TestHowls gives the positive loop enough to howl by itself, and a volume in
// it that keeps it quiet.
func TestHowls(t *testing.T) {
	strong := strings.Replace(fedBack, "R9 resistor 10k", "R9 resistor 470", 1)
	if l := oneLoop(t, ask(t, read(t, strong), "IN")); !l.Howls() || !l.CanHowl() || l.Negative() {
		t.Errorf("round %g: it should howl", l.Round)
	}
	volume := func(at string) string {
		text := strings.Replace(strong, "net g2 C1.2 R3.1 V2.grid", "net v C1.2 P1.cw\nnet g2 P1.wiper R3.1 V2.grid\nnet GND P1.ccw\npart P1 pot 1M log", 1)
		return text + at
	}
	b := read(t, volume("set P1 5%\n"))
	w := ask(t, b, "IN")
	l := oneLoop(t, w)
	if l.Howls() || !l.CanHowl() || len(l.Up) != 1 || l.Up[0].Ref != "P1" {
		t.Errorf("round %g, at most %g: it should howl with P1 up only\n%s", l.Round, l.Most, w.Text(80))
	}
	if text := w.LoopText(&l); !strings.Contains(text, "with P1 turned up") {
		t.Error(text)
	}
	// The volume in front of the first valve is not in the loop.
	b = read(t, strings.Replace(strings.Replace(strong, "R9 resistor 470", "R9 resistor 10k", 1), "net in V1.2 R5.1", "part P1 pot 1M log\nnet in P1.cw\nnet GND P1.ccw\nnet g1 P1.wiper V1.2 R5.1", 1)+"set P1 5%\n")
	if l := oneLoop(t, ask(t, b, "IN")); len(l.Up) != 0 || math.Abs(l.Round-l.Most) > 0.01*math.Abs(l.Most) {
		t.Errorf("a volume outside changes the loop: %g and %g, %v", l.Round, l.Most, l.Up)
	}
}

// TestLocalLoops: an anode follower's resistor, screens on the primary, a
// winding in the cathodes. All are negative as makers draw them; the winding
// in the cathodes the other way round is positive.
func TestLocalLoops(t *testing.T) {
	b := read(t, supply+`
part V1 ecc83
part R1 resistor 100k
part R2 resistor 1k5
part R3, R4 resistor 1M
part C1, C3 capacitor 22n
part C2 electrolytic 25u
part OUT point
net in R3.1
net g R3.2 V1.2 C3.1
net back C3.2 R4.1
net a V1.1 R1.1 C1.1 R4.2
net k V1.3 R2.1 C2.+
net out C1.2 OUT
net ht R1.2
net GND R2.2 C2.-
`)
	l := oneLoop(t, ask(t, b, "IN"))
	if !l.Local || !l.Negative() || b.Name(l.From) != "R4.2" && b.Name(l.From) != "V1.1" || len(l.Steps) != 2 {
		t.Errorf("anode follower: %+v", l)
	}
	ultra := supply + strings.NewReplacer(
		"output-pp {", "output-pp-taps {", "net ht T1.ht V3.9 V4.9", "net ht T1.ht\nnet s1 V3.9 T1.screen-a\nnet s2 V4.9 T1.screen-b").Replace(pushPull) + splitter
	w := ask(t, read(t, ultra), "IN")
	if l := oneLoop(t, w); !l.Local || !l.Negative() || len(l.In) != 2 || l.In[0].Electrode != ScreenGrid {
		t.Errorf("ultra-linear: %+v", l)
	}
	winding := func(a, b string) string {
		return supply + strings.NewReplacer(
			"output-pp {", "output-pp-cathode {", "V3.3 V4.3 ", "T1.cathode-ct\nnet k3 V3.3 T1."+a+"\nnet k4 V4.3 T1."+b+"\nnet GND ").Replace(pushPull) + splitter
	}
	// Anode-a up and cathode-a up go together in one direction of the flux.
	// V3's current pulls anode-a down, and with it cathode-a: that is as good as
	// more grid. So its cathode belongs on cathode-b.
	if l := oneLoop(t, ask(t, read(t, winding("cathode-b", "cathode-a")), "IN")); !l.Local || !l.Negative() || l.In[0].Electrode != Cathode {
		t.Errorf("winding in the cathodes: %+v", l)
	}
	if l := oneLoop(t, ask(t, read(t, winding("cathode-a", "cathode-b")), "IN")); !l.Local || l.Negative() {
		t.Errorf("winding in the cathodes, the wrong way round: %+v", l)
	}
}

// splitter drives pushPull from a split load.
const splitter = `
part V2 ecc83
part R1, R2 resistor 56k
part R4 resistor 1M
part C1, C3, C4 capacitor 22n
net in C1.1
net g1 C1.2 V2.2 R4.1
net a1 V2.1 R1.1 C3.1
net k1 V2.3 R2.1 C4.1
net A C3.2
net B C4.2
net ht R1.2
net GND R2.2 R4.2
spare V2.6..8
`

// TestSharedCathode: two stages on one cathode resistor are a loop of their
// own. Grid up, first anode down, second grid down, second current down, common
// cathode down: as good as more grid on the first. Positive.
func TestSharedCathode(t *testing.T) {
	b := read(t, supply+`
part V1 12au7
part R1, R2 resistor 220k
part R3 resistor 1k8
part R4, R5 resistor 1M
part C1, C2 capacitor 22n
part OUT point
net in V1.2 R4.1
net a1 V1.1 R1.1 C1.1
net g2 C1.2 V1.7 R5.1
net a2 V1.6 R2.1 C2.1
net k V1.3 V1.8 R3.1
net out C2.2 OUT
net ht R1.2 R2.2
net GND R3.2 R4.2 R5.2
`)
	w := ask(t, b, "IN")
	expectSteps(t, b, "stem", w.Stem, ">IN+ V1.2>V1.1- C1.1>C1.2- V1.7>V1.6+ C2.1>C2.2+ OUT+")
	l := oneLoop(t, w)
	if l.Negative() || l.Local || l.In[0].Electrode != Cathode || b.Name(l.In[0].At) != "V1.3" {
		t.Errorf("%+v\n%s", l, w.Text(80))
	}
}

// TestDemoLoop exchanges the two primary leads of the demo's output transformer
// as built: the loop turns positive, and with the master up it howls.
func TestDemoLoop(t *testing.T) {
	const path = "../../examples/lantern-built.buzzout"
	soldered := "solder V3.7 T2.blue\nsolder V4.7 T2.brown"
	swap := func(text string) string {
		if !strings.Contains(text, soldered) {
			t.Fatal("the demo solders blue and brown otherwise now")
		}
		return strings.Replace(text, soldered, "solder V3.7 T2.brown\nsolder V4.7 T2.blue", 1)
	}
	b := open(t, path, nil)
	w := askBuilt(t, b, "J1.tip", nil)
	l := oneLoop(t, w)
	if !l.Negative() || l.Local || b.Name(l.From) != "T2.8ohm" || l.Steps[0].Part.Ref != "R17" || len(l.Through) != 1 || l.Through[0].Ref != "T2" {
		t.Errorf("right way round: %+v", l)
	}
	if w.Over || w.Meeting != Adding {
		t.Errorf("right way round: over %v", w.Over)
	}
	b = open(t, path, swap)
	wrong := askBuilt(t, b, "J1.tip", nil)
	l = oneLoop(t, wrong)
	if l.Negative() || !l.CanHowl() || !wrong.Over || wrong.Meeting != Adding {
		t.Errorf("exchanged: %+v\n%s", l, wrong.Text(80))
	}
	master := b.Part("P4")
	loud := askBuilt(t, b, "J1.tip", netlist.Setting{{Part: master}: {Turn: 1, Known: true}})
	if l = oneLoop(t, loud); !l.Howls() {
		t.Errorf("exchanged, master up: round %g", l.Round)
	}
	if text := loud.Text(200); !strings.Contains(text, "howls by itself") {
		t.Error(text)
	}
}

// TestDemoRound weighs the demo's loop against the textbook's A/(1 - T): T is
// one less what the gain from grid to loudspeaker was without R17 over what it
// is with it, all valves and the whole network at work. R17 hangs on ground
// instead, so that it loads the early end as before.
func TestDemoRound(t *testing.T) {
	const path = "../../examples/lantern-plan.buzzout"
	at := "\nset J1 in, P1 cw, P4 cw, S3 8ohm, S2 play\n"
	whole := open(t, path, func(text string) string { return text + at })
	cut := open(t, path, func(text string) string {
		return strings.Replace(text, "T2.8ohm S3.a2 R17.1", "T2.8ohm S3.a2", 1) + "net ground R17.1" + at
	})
	l := oneLoop(t, ask(t, whole, "J1.tip"))
	want := real(1 - flowOf(t, cut, "J1.tip").exact(t, "T2.8ohm")/flowOf(t, whole, "J1.tip").exact(t, "T2.8ohm"))
	if math.Abs(l.Round-want) > 0.1*math.Abs(want) || want > -0.1 {
		t.Errorf("round %g, and the gain with and without says %g", l.Round, want)
	}
}

// A cathode that a capacitor holds still takes no feedback; it is told, so that
// nobody looks for it in vain. At 1 kHz the capacitor has a few ohms and R9 ten
// thousand: less than a thousandth of what is at the loudspeaker gets through.
func TestFaintLoop(t *testing.T) {
	bypassed := supply + strings.Replace(singleEnded, "net k1 V1.3 R2.1 C2.+", "net k1 V1.3 R2.1 C2.+ R9.2", 1) + `
part R9 resistor 10k
net speaker R9.1
`
	w := ask(t, read(t, bypassed), "IN")
	if len(w.Loops) != 0 || len(w.Faint) != 1 {
		t.Fatalf("%d loops and %d faint ones:\n%s", len(w.Loops), len(w.Faint), w.Text(80))
	}
	if l := &w.Faint[0]; len(l.Steps) != 1 || l.Steps[0].Part.Ref != "R9" || math.Abs(l.Most) >= looksBack {
		t.Errorf("%+v", l)
	}
	if text := w.FaintText(&w.Faint[0]); !strings.HasPrefix(text, "Hardly any feedback: R9 10k leads from T1.8ohm back to the cathode V1.3") {
		t.Error(text)
	}
	if w := ask(t, read(t, fedBack), "IN"); len(w.Faint) != 0 {
		t.Errorf("%d faint loops beside one that counts", len(w.Faint))
	}
}
