package rules

import "buzzout/verify"

var noSuchJoint = verify.Rule{
	Name:   "no-such-joint",
	Title:  "something unsoldered that was not joined",
	Judges: verify.Notebook,
	Text: `
An unsolder line names two terminals that no joint joins, or one at which
nothing is. Either it was taken off before, or it sits elsewhere than the
notebook has it, which then differs from the bench.

    part R1, R2 resistor 100k
    part TB1 tagboard 4
    solder TB1.1 R1.1 R2.1
    unsolder R1.1 R2.1

Where both are joined to a third point, as here to TB1.1, say which comes off:
unsolder TB1.1 R1.1. Ask at and the terminal what the notebook has there.
`,
}
