package rules

import (
	"fmt"
	"slices"

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
The capacitor keeps its charge after the power is off, for hours or for days.

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
	meant := planned.steady(c.Planned())
	first := firstJoints(c.Bench)
	keep := func(plus, minus netlist.TerminalID) bool {
		return first[plus] >= 0 && first[minus] >= 0 && meant.of(plus) == meant.of(minus) &&
			complete(c.Bench, nets[plus]) && complete(c.Bench, nets[minus])
	}
	steady := wired(c.Built()).steady(c.Built())
	perhaps := steady.clone().through(c.Built(), parts.Fuse, parts.Lamp, parts.Heater).throughContacts(c.Built(), nil)
	uncertain := func(plus, minus netlist.TerminalID) bool { return perhaps.of(plus) == perhaps.of(minus) }
	var t *trails
	tellCharged(book, nets, steady, keep, uncertain, func(f verify.Finding) {
		plus, minus := f.Terminals[0], f.Terminals[1]
		if t == nil {
			t = newTrails(c.Planned(), passedParts(book))
		}
		way := t.way(plus, minus)
		_, through := alongTrail(c.Planned(), way)
		j := &c.Bench.Joints[first[plus]]
		f.Message = "on the bench " + f.Message
		f.Evidence = append([]diag.Note{verify.Quote(j.Fact, j.Place)}, f.Evidence...)
		f.Action = fmt.Sprintf("mend the joint that is missing on the way of the plan%s", through)
		if missing := notWired(way, first); len(missing) > 0 {
			f.Action = fitThese(missing, through)
			for _, p := range missing {
				f.Terminals = append(f.Terminals, p.Terminals...)
			}
		}
		report(f)
	})
}

// fitThese says what to fit, and with what else it makes the way of the plan.
func fitThese(missing []*netlist.Part, through string) string {
	names := verify.And(refs(missing))
	if through != " through "+names {
		return fmt.Sprintf("fit %s: the plan has the way%s", names, through)
	}
	if len(missing) == 1 {
		return fmt.Sprintf("fit %s: in the plan it is the way", names)
	}
	return fmt.Sprintf("fit %s: in the plan they are the way", names)
}

// notWired are the parts of a trail that are carried by their own legs and
// have one without a joint.
func notWired(way []hop, first []int32) []*netlist.Part {
	var list []*netlist.Part
	for _, hop := range way {
		if hop.part == nil || !hasLegs(hop.part.Kind) || slices.Contains(list, hop.part) {
			continue
		}
		if slices.ContainsFunc(hop.part.Terminals, func(t netlist.TerminalID) bool { return first[t] < 0 }) {
			list = append(list, hop.part)
		}
	}
	return list
}
