package states

import (
	"slices"

	"buzzout/verify"
)

var inputFloats = verify.Rule{
	Name:   "input-floats",
	Title:  "on the bench the grid of an input floats in some positions",
	Judges: verify.Built,
	Look:   lookInputFloats,
	Text: `
In the plan the grid of an input has its leak wherever plugs and switches
stand, and on the bench only in some positions: the leak sits behind the
contact of a jack, or is not there and another way served for it.

    part J1   jack-break
    part R1   resistor 68k
    part R2   resistor 1M
    part V1   triode
    part GND  post
    net input  J1.tip R1.1 R2.1
    net grid   R1.2 V1.g
    net ground J1.sleeve J1.break R2.2 GND
    spare V1.a V1.k
    fit R1 J1.tip V1.g
    fit R2 J1.break GND
    lead black J1.sleeve J1.break GND
    wiring complete

R2 sits at the break contact here and not at the tip; the contact leads the
tip to ground while no plug is in, and with one in nothing does. It is told
once the wiring of the grid's net was said to be complete. Comparison tells
the joint that is wrong; here it is told for what it does. What counts is in
the text of input-floats-drawn.

To check, valve out and power off, with plugs and switches as they are told:
read from the grid's pin to ground. It should be the leak and not open.

What charges a floating grid is in the text of input-floats-drawn, with its
source.
`,
}

func lookInputFloats(c *verify.Case, report func(verify.Finding)) {
	if len(c.Bench.Joints) == 0 {
		return
	}
	s := ofBench(c)
	found := s.floatings()
	if len(found) == 0 {
		return
	}
	drawn := ofPlan(c).floatings()
	for i := range found {
		f := &found[i]
		if !s.complete(f.inputs[0].Grid) ||
			slices.ContainsFunc(drawn, func(d floating) bool { return d.same(c.Book(), f) }) {
			continue
		}
		told := f.tell(s)
		told.Message = "on the bench " + told.Message
		told.Action = "fit the leak or mend the joint that the plan has there; compare tells which"
		report(told)
	}
}
