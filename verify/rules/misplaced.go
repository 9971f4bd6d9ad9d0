package rules

import "buzzout/verify"

var misplaced = verify.Rule{
	Name:   "misplaced",
	Title:  "a lead or leg that sits on one conductor and belongs on another",
	Judges: verify.Built,
	Text: `
One lead or leg is all that is wrong: moved from where it sits to where it
belongs, plan and bench agree. So it is told as one action, and not as a joint
too many here and a joint missing there.

    part TB1 tagboard 4
    part R1, R2, R3, R4 resistor 100k
    net a R1.1 R2.1 R3.1
    net b R1.2 R4.1 R2.2
    spare R3.2 R4.2
    solder TB1.1 R1.1 R2.1
    solder TB1.2 R1.2 R4.1 R2.2 R3.1
    wiring complete

To check, buzz from the lead's end to both conductors before you move it.
`,
}
