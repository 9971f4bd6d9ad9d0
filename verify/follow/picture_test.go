package follow

import (
	"strings"
	"testing"
)

// The texts are what a teacher pastes; they change only on purpose.
func TestPicture(t *testing.T) {
	w := ask(t, read(t, supply+singleEnded), "IN")
	want := `
The signal from IN, followed at 1 kHz.
+ right way up   - upside down

●   + IN                  in
│   - V1.2 → V1.1         a1       grid to anode: turned over
│   - C1.1 → C1.2         g2       22n, couples
│   + V2.5 → V2.3         a2       grid to anode: turned over
│   - T1.anode → T1.8ohm  speaker  from anode against ht to 8ohm against common:
│                                  turned over
│   - LS1.+               speaker
▼

·  Out of their holders, and in them for this question: V1 and V2.
·  The valves are taken to have their voltages, wherever mains and standby
   switches stand.
·  The windings of T1 are taken to start at T1.anode and T1.common, the ends
   that are named first. If one of them starts at its other end, each sign
   behind it is the other way about, and so is feedback over it.
·  GND is taken for earth.
`
	if got := w.Text(80); got != strings.TrimPrefix(want, "\n") {
		t.Errorf("%s", got)
	}
	w = ask(t, read(t, supply+pushPull+splitter), "IN")
	want = `
The signal from IN, followed at 1 kHz.
+ right way up   - upside down

●   + IN                    in
│   + C1.1 → C1.2           g1       22n, couples
│
├─┬─ a
│ │ - V2.2 → V2.1           a1       grid to anode: turned over
│ │ - C3.1 → C3.2           A        22n, couples
│ │ + V3.2 → V3.7           ao-1     grid to anode: turned over
│ │ - T1.anode-a → T1.8ohm  speaker  from anode-a against ht to 8ohm against
│ │                                  common: turned over
│
├─┬─ b
│ │ + V2.2 → V2.3           k1       grid to cathode: the cathode follows the
│ │                                  grid
│ │ + C4.1 → C4.2           B        22n, couples
│ │ - V4.2 → V4.7           ao-2     grid to anode: turned over
│ │ - T1.anode-b → T1.8ohm  speaker  from anode-b against ht to 8ohm against
│ │                                  common: the same way up
│ ╵
├─ a and b come together at T1.8ohm and help one another
│   - LS1.+                 speaker
▼

·  Out of their holders, and in them for this question: V3, V4 and V2.
·  The valves are taken to have their voltages, wherever mains and standby
   switches stand.
·  The windings of T1 are taken to start at T1.anode-a and T1.common, the ends
   that are named first. If one of them starts at its other end, each sign
   behind it is the other way about, and so is feedback over it.
·  GND is taken for earth.
`
	if got := w.Text(78); got != strings.TrimPrefix(want, "\n") {
		t.Errorf("%s", got)
	}
}

// On a narrow page what is to say stands below the terminals.
func TestNarrowPicture(t *testing.T) {
	b := open(t, "../../examples/lantern-plan.buzzout", nil)
	for _, line := range strings.Split(ask(t, b, "J1.tip").Text(60), "\n") {
		if len([]rune(line)) > 60 {
			t.Errorf("%d wide: %s", len([]rune(line)), line)
		}
	}
}

// A label cannot move the cursor.
func TestPictureIsVisible(t *testing.T) {
	b := openAny(t, "../../examples/practice.buzzout", func(text string) string {
		return strings.ReplaceAll(text, "Volume\"", "\x1b[31mVolume\"")
	})
	text := ask(t, b, "J1.tip").Text(80)
	if strings.Contains(text, "\x1b") || !strings.Contains(text, "␛") {
		t.Errorf("%q", text)
	}
}
