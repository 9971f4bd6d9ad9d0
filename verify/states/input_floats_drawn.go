package states

import "buzzout/verify"

var inputFloatsDrawn = verify.Rule{
	Name:   "input-floats-drawn",
	Title:  "in the plan the grid of an input floats in some positions",
	Judges: verify.Plan,
	Look:   lookInputFloatsDrawn,
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

func lookInputFloatsDrawn(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	for _, f := range s.floatings() {
		report(f.tell(s))
	}
}
