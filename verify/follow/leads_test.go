package follow

import (
	"fmt"
	"strings"
	"testing"
)

// TestEveryWayRound exchanges the leads of an output transformer in each way
// there is, for both usual inverters and every usual place at which the
// feedback comes in. The signs were put together by hand, one turning over
// after the other:
//
//   - Grid of V1 up, its anode down. A long-tailed pair or a split load behind
//     it gives its first anode up, and so V3's anode goes down.
//   - V3 on anode-a, the first end of the primary: it goes down against HT, and
//     8ohm, which comes after common, goes up. Up is the loudspeaker then; V3 on
//     anode-b, or the secondary's leads exchanged, makes it down; both, up.
//   - Up at the first cathode is as good as less grid: negative. Up at the
//     first grid: positive. At the foot of the long tail it gets to the second
//     grid, and there up works as down on the first grid does, which is what
//     V1's anode has: positive.
func TestEveryWayRound(t *testing.T) {
	inverters := map[string]string{
		"pair": `
part R5, R6 resistor 1M
part R7 resistor 470
part R8 resistor 10k
part R9 resistor 4k7
part C2 capacitor 100n
net g3 C1.2 R5.1 V2.2
net k3 V2.3 V2.8 R7.1
net tail R7.2 R8.1 R5.2 R6.2
net g4 V2.7 R6.1 C2.1
net foot R8.2 C2.2 R9.1
net a3 V2.1 R10.1 C3.1
net a4 V2.6 R11.1 C4.1
net ht R10.2 R11.2
net GND R9.2
`,
		"split": `
part R5 resistor 1M
net g3 C1.2 R5.1 V2.2
net a3 V2.1 R10.1 C3.1
net k3 V2.3 R11.1 C4.1
net ht R10.2
net GND R11.2 R5.2
spare V2.6..8
`,
	}
	entries := map[string]struct {
		net       string
		electrode Electrode
		up        bool // feedback that goes up is positive
	}{
		"foot": {"foot", Grid, true}, "cathode": {"k1", Cathode, false}, "grid": {"g1", Grid, true},
	}
	for inverter, entry := range map[string][]string{"pair": {"foot", "cathode", "grid"}, "split": {"cathode", "grid"}} {
		for _, in := range entry {
			for _, primary := range []bool{false, true} {
				for _, secondary := range []bool{false, true} {
					to := entries[in]
					name := fmt.Sprintf("%s, to the %s, primary exchanged %t, secondary exchanged %t", inverter, in, primary, secondary)
					text := supply + pushPull + inverters[inverter] + `
part V1, V2 ecc83
part R1 resistor 1M
part R2 resistor 100k
part R3 resistor 1k5
part R12 resistor 68k
part R10, R11 resistor 100k
part R13 resistor 47k
part C1, C3, C4 capacitor 47n
net in R12.1
net g1 R12.2 R1.1 V1.2
net k1 V1.3 R3.1
net a1 V1.1 R2.1 C1.1
net ht R2.2
net A C3.2
net B C4.2
net GND R1.2 R3.2
net speaker R13.1
net ` + to.net + ` R13.2
`
					if primary {
						text = strings.NewReplacer("T1.anode-a", "T1.anode-b", "T1.anode-b", "T1.anode-a").Replace(text)
					}
					if secondary {
						text = strings.NewReplacer("T1.8ohm", "T1.common", "T1.common", "T1.8ohm").Replace(text)
					}
					b := read(t, text)
					w := ask(t, b, "IN")
					if len(w.Lanes) != 2 || w.Meeting != Adding || w.Over != (primary != secondary) {
						t.Errorf("%s: upside down %t, meeting %v\n%s", name, w.Over, w.Meeting, w.Text(80))
						continue
					}
					positive := (primary == secondary) == to.up
					l := oneLoop(t, w)
					if l.Negative() == positive || l.Supply || l.Local || l.In[0].Electrode != to.electrode {
						t.Errorf("%s: negative %t round %g most %g", name, l.Negative(), l.Round, l.Most)
					}
				}
			}
		}
	}
}
