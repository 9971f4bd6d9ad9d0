package rules

import "buzzout/verify"

var mainsOnChassis = verify.Rule{
	Name:   "mains-on-chassis",
	Title:  "on the bench live or neutral is joined to earth or to the chassis",
	Judges: verify.Built,
	Look:   lookMainsOnChassis,
	Text: `
As the wiring stands there is a way for direct current from the inlet's live
or neutral contact to the earth or to the chassis: by wire, or through fuses,
resistors, coils or windings. Neutral counts as well: it carries voltage, and
with a plug that can be reversed it is the live. Do not plug it in. Comparison
tells the same joint as one that the plan does not have; here it is told for
what it does.

    part X1 inlet
    part CH chassis
    part S1 toggle-1x1
    net live  X1.live S1.1
    net earth X1.earth CH.earth
    spare X1.neutral S1.2
    lead brown       X1.live S1.1
    lead green/yellow X1.earth CH.earth
    solder S1.1 CH.earth

The facts along the way are listed in order, from the inlet to the metal.

To check, mains plug out, switch on, fuse in: live to chassis and neutral to
chassis must both read open, over 20M.
`,
}

func lookMainsOnChassis(c *verify.Case, report func(verify.Finding)) {
	mainsOnMetal(c.Built(), "on the bench", report)
}
