package states

import (
	"slices"

	"buzzout/netlist"
	"buzzout/verify"
)

var bleederLost = verify.Rule{
	Name:   "bleeder-lost",
	Title:  "on the bench a switch cuts a reservoir off from its bleeder",
	Judges: verify.Built,
	Look:   lookBleederLost,
	Text: `
In the plan something discharges the capacitor wherever the switches stand,
and on the bench only while a switch stands so: the bleeder on one side of it
is not fitted, or sits on the other side.

    part D1  diode
    part C1  electrolytic 47u 450V
    part S2  toggle-1x1 { control lever standby play }
    part R1  resistor 220k 2W
    part AC, GND post
    net ac     AC D1.a
    net ht-raw D1.k C1.+ S2.1 R1.1
    net ground C1.- R1.2 GND
    spare S2.2
    fit D1 a AC k C1.+
    lead red C1.+ S2.1
    fit R1 S2.2 GND
    lead black C1.- GND
    wiring complete

R1 sits at the far side of S2 here; at standby nothing discharges C1. It keeps
a charge that can kill, and nothing shows it. It is told once the wiring of
those nets was said to be complete. What counts is in the text of
bleeder-lost-drawn.

To check, power off, with the switch as it is told: measure with your own
meter before you touch anything, then read across the capacitor. It should
come down to the bleeder's value.

The figures are in the text of bleeder-lost-drawn, each with its source.
`,
}

func lookBleederLost(c *verify.Case, report func(verify.Finding)) {
	if len(c.Bench.Joints) == 0 {
		return
	}
	s := ofBench(c)
	found := s.lostBleeders()
	if len(found) == 0 {
		return
	}
	meant := ofPlan(c).lostBleeders()
	book := c.Book()
	for _, l := range found {
		if !s.complete(l.plus, l.minus) {
			continue
		}
		same := func(m lostBleeder) bool {
			return sameNet(book, m.plus, l.plus) && sameNet(book, m.minus, l.minus)
		}
		if slices.ContainsFunc(meant, same) {
			continue
		}
		f := l.tell(s)
		f.Message = "on the bench " + f.Message
		f.Action = "fit the bleeder or mend the joint that the plan has there; compare tells which"
		report(f)
	}
}

func sameNet(b *netlist.Book, x, y netlist.TerminalID) bool {
	return x == y || b.Net(x) == b.Net(y) && b.Net(x) != netlist.NoNet
}
