package rules

import "buzzout/verify"

var bridged = verify.Rule{
	Name:   "bridged",
	Title:  "two conductors of the plan joined on the bench",
	Judges: verify.Built,
	Text: `
A joint on the bench joins two conductors that the plan keeps apart. The facts
along the way are listed, and the joint named is the one without which the two
are apart again.

    part TB1 tagboard 4
    part R1, R2 resistor 100k
    net a R1.1 R2.1
    net b R1.2 R2.2
    solder TB1.1 R1.1 R2.1
    solder TB1.2 R1.2 R2.2
    lead bare TB1.1 TB1.2
    wiring complete

Look for it in the notebook and on the bench: a blob of solder between two
tags is not in the notebook, and only a reading finds it. To check, power off
and discharged: read between the two conductors.
`,
}
