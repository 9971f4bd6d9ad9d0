package states

import "buzzout/verify"

var inputMutesDrawn = verify.Rule{
	Name:   "input-mutes-drawn",
	Title:  "in the plan one input jack mutes another",
	Judges: verify.Plan,
	Look:   lookInputMutesDrawn,
	Text: `
Input jacks hand signals to one another through their break contacts. Where a
contact stands at the wrong place, an empty jack shorts the tip of the used
one to ground, or a plug in one jack takes the only way that the other had.

    part J1, J2 jack-break
    part R1     resistor 1M
    part V1     triode
    net grid   J1.tip J2.tip R1.1 V1.g
    net ground J1.sleeve J1.break J2.sleeve J2.break R1.2
    spare V1.a V1.k

Both break contacts ground the same conductor here: whichever jack is empty
mutes the other, and with both plugged in two sources pull on one another.
Two resistors, one from each tip to the grid, part the tips; the break contact
of the second jack then goes to the tip of the first.

It is a fault where an input is heard in no position of the switches while it
alone is plugged in, a caution where an empty jack mutes another in some
positions, and a remark where a plug in one jack silences another, since that
may be meant. Where no input of a grid gets its full level by itself, and an
empty jack takes the half, that is told too. All plugs and switches around the
inputs are gone through; levels are worked out from the resistances, with
sources of low resistance.

To check: power off, plug an open plug into the one jack, and read from its
tip to its sleeve. Near 0 ohm is a short; the grid leak is what should be
read. The query mutes shows every way of plugging in.

The worked figures for two jacks with 68k resistors are derived from an
article on input jacks; that a break contact to ground keeps an unused input
quiet was read in the same.
`,
}

func lookInputMutesDrawn(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	for _, f := range s.mutings() {
		report(f.tell(s))
	}
}
