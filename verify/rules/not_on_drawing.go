package rules

import "buzzout/verify"

var notOnDrawing = verify.Rule{
	Name:   "not-on-drawing",
	Title:  "a joint at a terminal that no net of the plan knows",
	Judges: verify.Built,
	Text: `
Something is soldered at a terminal that the plan does not use. Either the
plan is missing a net, or the joint is at the wrong terminal.

    part V1 ecc83
    part TB1 tagboard 4
    part R1 resistor 1M
    net grid V1.2-grid R1.1
    spare R1.2
    lead green V1.2 TB1.1
    lead green TB1.1 V1.7
    fit R1 TB1.1 TB1.2
    wiring complete

Tags and bolts of the chassis are means and are not told. A terminal that the
plan says is spare has a rule of its own, spare-used.

Compare the drawing with the bench, then move the joint or add the net.
`,
}
