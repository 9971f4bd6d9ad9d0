package follow

import (
	"fmt"
	"math"
	"testing"

	"buzzout/netlist"
)

// TestTurns checks ratios against the worked examples on transformers: G4-01
// (FCC question G5C07: 600 ohm to 4 ohm, 12.2), G4-02 (R. Fitzpatrick, 2 k to 5
// ohm, 20), G4-03 (7.2 k to 8 ohm, 30), G4-05 (J. O. Bird, Example 20.21: 112
// to 7 ohm, 4), G4-17 (10 k to 16 ohm, 25).
func TestTurns(t *testing.T) {
	for _, c := range []struct {
		id                 string
		primary, secondary string
		ratio              float64
	}{
		{"G4-01", "600", "4", 12.24744871}, {"G4-02", "2k", "5", 20}, {"G4-03", "7.2k", "8", 30}, {"G4-05", "112", "7", 4}, {"G4-17", "10k", "16", 25},
	} {
		f := flowOf(t, read(t, fmt.Sprintf(`
part IN, OUT, GND point
part T1 transformer { winding p p1 p2; winding s s1 s2; load p1 p2 %s; load s1 s2 %s }
net in IN T1.p2
net out OUT T1.s2
net GND T1.p1 T1.s1
`, c.primary, c.secondary)), "IN")
		near(t, c.id, 1/f.exact(t, "OUT"), complex(c.ratio, 0), 1e-3)
	}
}

// TestTaps checks the tapped secondary against G4-30: relative turns 1, the
// root of 2 and 2 at 4, 8 and 16 ohm; and the voltage ratio test of G4-33:
// 1 V on the secondary gives the root of the ohms' ratio on the primary.
func TestTaps(t *testing.T) {
	tapped := func(from string) *flow {
		return flowOf(t, read(t, `
part IN, GND point
part T1 output-se { winding primary anode ht; load anode ht 8k }
net in IN T1.`+from+`
net GND T1.common T1.ht
`), "IN")
	}
	f := tapped("4ohm")
	near(t, "G4-30b", f.exact(t, "T1.8ohm"), complex(math.Sqrt2, 0), 1e-3)
	near(t, "G4-30c", f.exact(t, "T1.16ohm"), 2, 1e-3)
	// anode is the first end and ht, on earth, comes after it: turned over.
	near(t, "G4-33b", tapped("8ohm").exact(t, "T1.anode"), complex(-math.Sqrt(1000), 0), 1e-3)
}

// TestAidingAndOpposing joins windings in series: G4-40 (120 V with a 30 V
// winding added, 150 V), G4-40b (the same reversed, 90 V), G4-42 and G4-42b
// (120 V and 240 V aiding, 360 V, and opposing, 120 V).
func TestAidingAndOpposing(t *testing.T) {
	for _, c := range []struct {
		id, volts   string
		bottom, top string
		want        float64
	}{
		{"G4-40", "30V", "s1", "s2", 150}, {"G4-40b", "30V", "s2", "s1", 90}, {"G4-42", "240V", "s1", "s2", 360}, {"G4-42b", "240V", "s2", "s1", -120},
	} {
		f := flowOf(t, read(t, fmt.Sprintf(`
part IN, OUT, GND point
part T1 transformer { winding p p1 p2; winding s s1 s2; volts p1 p2 120V; volts s1 s2 %s }
net in IN T1.p2 T1.%s
net out OUT T1.%s
net GND T1.p1
`, c.volts, c.bottom, c.top)), "IN")
		near(t, c.id, 120*f.exact(t, "OUT"), complex(c.want, 0), 1e-3)
	}
}

// TestReflected checks the load that a valve sees against G4-06 (100 ohm
// through 4:1 is 1600), G4-14 (8 ohm through 4:1 is 128), G4-21 (16 ohm through
// 20:1 is 6400) and G4-32a, c, d (a loudspeaker on the wrong tap). What the
// core takes for itself makes it up to 5 % less.
func TestReflected(t *testing.T) {
	for _, c := range []struct {
		id                 string
		primary, secondary string
		resistor           string
		want               float64
	}{
		{"G4-06", "1600", "100", "100", 1600}, {"G4-14", "128", "8", "8", 128}, {"G4-21", "6400", "16", "16", 6400},
		{"G4-32a", "6600", "4", "8", 13200}, {"G4-32c", "6600", "8", "16", 13200}, {"G4-32d", "6600", "16", "8", 3300},
	} {
		f := flowOf(t, read(t, fmt.Sprintf(`
part IN, GND point
part R1 resistor %s
part R2 resistor %s
part T1 transformer { winding p p1 p2; winding s s1 s2; load p1 p2 %s; load s1 s2 %s }
net in IN R1.1
net p R1.2 T1.p2
net s T1.s2 R2.1
net GND T1.p1 T1.s1 R2.2
`, c.primary, c.resistor, c.primary, c.secondary)), "IN")
		v := real(f.exact(t, "T1.p2")) // over R1 in front of what is looked for
		var r1 float64
		fmt.Sscan(c.primary, &r1)
		near(t, c.id, complex(r1*v/(1-v), 0), complex(c.want, 0), 0.08)
	}
}

// TestCopper checks what the wire takes against G4-47a and b: n² RL over Rp +
// n² Rs + n² RL, 90.06 and 96.39 %; the core's own 4 % of a load counts here.
func TestCopper(t *testing.T) {
	for _, c := range []struct {
		id, primary, load, rp, rs string
		ratio, want               float64
	}{
		{"G4-47a", "6272", "8", "300", "0.5", 28, 0.9006318}, {"G4-47b", "6400", "16", "120", "0.3", 20, 0.9638554},
	} {
		f := flowOf(t, read(t, fmt.Sprintf(`
part IN, OUT, GND point
part R2 resistor %s
part T1 transformer { winding p p1 p2; winding s s1 s2; load p1 p2 %s; load s1 s2 %s; dcr p1 p2 %s; dcr s1 s2 %s }
net in IN T1.p2
net s T1.s2 R2.1 OUT
net GND T1.p1 T1.s1 R2.2
`, c.load, c.primary, c.load, c.rp, c.rs)), "IN")
		near(t, c.id, complex(c.ratio, 0)*f.exact(t, "OUT"), complex(c.want, 0), 0.01)
	}
}

// TestPlaces takes what may stand in a block, and what contradicts itself.
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		block string
		want  []float64 // turns of the sections, in order
	}{
		{"winding p a b c; load a c 10k", []float64{50, 50}},
		{"winding p a b c; volts a b 115V; volts a c 230V", []float64{115, 115}},
		{"winding p a b c d; volts b c 10V", []float64{10, 10, 10}},
		{"winding p a b c; volts a b 10V; volts c b 5V", []float64{10, 5}},
		{"winding p a b c; volts a b 100V; volts a c 50V", []float64{50, 50}}, // contradicts the order: even
		{"winding p a b; winding s c d; load a b 10k", []float64{100, 10}},
		{"winding p a b; winding s c d", []float64{100, 100}},
	} {
		b := read(t, "part T1 transformer { "+c.block+" }")
		k := coreOf(b.Part("T1"), b.Part("T1").Kind, func(a, b netlist.TerminalID) float64 { return 0 })
		for i, s := range k.sections {
			if i >= len(c.want) || math.Abs(s.turns-c.want[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.block, k.sections, c.want)
				break
			}
		}
	}
}
