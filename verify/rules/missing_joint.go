package rules

import "buzzout/verify"

var missingJoint = verify.Rule{
	Name:   "missing-joint",
	Title:  "a joint that the plan has and the bench does not",
	Judges: verify.Built,
	Text: `
A conductor of the plan is in pieces on the bench. The two nearest terminals
of the pieces are named: a lead or a joint between them mends it. While the
wiring is not said to be complete it is a thing to do and no fault.

    part TB1 tagboard 4
    part R1, R2 resistor 100k
    net anode R1.1 R2.1
    spare R1.2 R2.2
    solder TB1.1 R1.1
    solder TB1.2 R2.1
    wiring complete

To check, power off and discharged: read between the two. A joint that is
there and reads open is a dry joint; look at it under a lens.
`,
}
