package rules

import "buzzout/verify"

var unfitted = verify.Rule{
	Name:   "unfitted",
	Title:  "a part that has none of its joints yet",
	Judges: verify.Built,
	Text: `
A part of the plan is not on the bench: none of its terminals is in a joint.
It is told once for the part and not once for each leg. While the wiring is
not complete it is a thing to do; fit C3 none, with the reason, says that it
stays out for now.

    part TB1 tagboard 4
    part R1, R2, R3 resistor 100k
    net a R1.1 R2.1 R3.1
    net b R1.2 R2.2 R3.2
    fit R1 TB1.1 TB1.2
    fit R2 TB1.1 TB1.2
    wiring complete

To check, look for it in the bag.
`,
}
