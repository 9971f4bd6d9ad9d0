package states

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var inputFloats = verify.Rule{
	Name:   "input-floats",
	Title:  "an input whose grid floats in some positions",
	Judges: verify.Plan,
	Look:   lookInputFloats,
	Text: `
A grid needs a way for direct current, its leak. Where the only leak of an
input's grid leads through the contact of a jack or of a switch, the grid
floats whenever that contact is open: it hums, it rattles or goes quiet after
a while, and each plug and each turn of the switch is heard as a bang.

    part J1  jack-break
    part R1  resistor 68k
    part V1  triode
    part GND post
    net input  J1.tip R1.1
    net grid   R1.2 V1.g
    net ground J1.sleeve J1.break GND
    spare V1.a V1.k

Here the break contact is the leak, and a plug takes it away. A guitar's
pickup may serve as the leak in its place; a pedal with a capacitor in its
output does not (common practice, no source).

A floating grid is told in the settings in which it floats; all positions of
the plugs and switches that can matter are gone through. A grid that never has
a leak is told by grid-floats.

To check, valve out and power off, with plugs and switches as they are told:
read from the grid's pin to ground. It should be the leak and not open.

What charges a floating grid is its own small current; that a grid wants a
leak whatever stands where is common practice, no source.
`,
}

func lookInputFloats(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	book := c.Book()
	groups := Inputs(s.draw, c.Setting, netlist.NoTerminal)
	if len(groups) == 0 {
		return
	}
	marks := references(s.harness())
	if len(marks) == 0 {
		return
	}
	web := newWeb(s.harness(), c.Setting, slices.Concat(steady(s.harness()), bondAll(marks)))
	at := web.at(c.Setting)
	reference := web.conductor[marks[0]]
	for _, group := range groups {
		grid := web.conductor[group[0].Grid]
		t := web.tableWhere(web.Between(grid, reference), at, func(walk *Walk) bool { return !walk.Joined(grid, reference) })
		if t.Never() || t.Always() {
			continue
		}
		name := book.Name(group[0].Grid)
		f := verify.Finding{
			Severity:  diag.Caution,
			Message:   fmt.Sprintf("the grid %s, which %s lead to, floats %s", name, and(jacks(group)), t.when()),
			Terminals: []netlist.TerminalID{group[0].Grid}, Nets: s.netNames(group[0].Grid), Settings: t.settings(),
			Evidence: append([]diag.Note{s.quote(group[0].Grid)}, quoteControls(&t)...),
			Cause:    join("No resistance leads from it to anything then, and nothing sets the valve's current.", t.looked()),
			Action:   fmt.Sprintf("add a grid leak at %s that no plug and no switch takes off: 220k to 1M to ground", name),
			Check:    fmt.Sprintf("valve out, power off, %s: read %s to ground; it should not be open", t.when(), name),
		}
		if len(group) == 1 {
			f.Message = fmt.Sprintf("the grid %s, which %s leads to, floats %s", name, group[0].Jack.Ref, t.when())
		}
		report(f)
	}
}

func jacks(inputs []Input) []string {
	list := make([]string, len(inputs))
	for i, in := range inputs {
		list[i] = in.Jack.Ref
	}
	return list
}
