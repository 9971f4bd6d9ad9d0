package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var noBleeder = verify.Rule{
	Name:   "no-bleeder",
	Title:  "on the bench nothing discharges a capacitor",
	Judges: verify.Built,
	Look:   lookNoBleeder,
	Text: `
The plan has a way that discharges a high-voltage capacitor, and on the bench
that way is broken: the bleeder is not fitted, or a joint on the way is
missing. Comparison tells the missing joint; here it is told for what it does.
The capacitor keeps its charge after the mains is off, for hours or for days.

    part D1  diode
    part C1  electrolytic 47u 450V
    part R1  resistor 220k 2W
    part AC, GND post
    net ac     AC D1.a
    net ht     D1.k C1.+ R1.1
    net ground C1.- R1.2 GND
    fit D1 a AC k C1.+
    lead black C1.- GND
    wiring complete

It is told once the wiring of those nets was said to be complete. What counts
as a way, and which capacitors are looked at, is in the text of
no-bleeder-drawn.

To check, power off: measure with your own meter before you touch anything,
then read across the capacitor. It should come down to the bleeder's value.
`,
}

func lookNoBleeder(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	planned := wired(c.Planned())
	nets := planNets(planned, book)
	meant := planned.steady(book)
	first := firstJoints(c.Bench)
	keep := func(plus, minus netlist.TerminalID) bool {
		return first[plus] >= 0 && first[minus] >= 0 && meant.of(plus) == meant.of(minus) &&
			complete(c.Bench, nets[plus]) && complete(c.Bench, nets[minus])
	}
	steady := wired(c.Built()).steady(book)
	perhaps := steady.clone().through(book, parts.Fuse, parts.Lamp, parts.Heater).throughContacts(book, nil)
	uncertain := func(plus, minus netlist.TerminalID) bool { return perhaps.of(plus) == perhaps.of(minus) }
	var t *trails
	tellCharged(book, nets, steady, keep, uncertain, func(f verify.Finding) {
		plus, minus := f.Terminals[0], f.Terminals[1]
		if t == nil {
			t = newTrails(c.Planned(), passedParts(book))
		}
		_, through := alongTrail(c.Planned(), t.way(plus, minus))
		j := &c.Bench.Joints[first[plus]]
		f.Message = "on the bench " + f.Message
		f.Evidence = append([]diag.Note{quote(j.Fact, j.Place)}, f.Evidence...)
		f.Action = fmt.Sprintf("fit the part or mend the joint that is missing on the way of the plan%s", through)
		report(f)
	})
}
