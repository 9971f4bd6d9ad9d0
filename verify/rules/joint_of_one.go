package rules

import "buzzout/verify"

var jointOfOne = verify.Rule{
	Name:   "joint-of-one",
	Title:  "a joint or a lead with one end",
	Judges: verify.Notebook,
	Text: `
Solder, bolt and lead join two or more terminals, and the line names one. What
it should be joined to is not known, so nothing is.

    part R1 resistor 100k
    solder R1.1

Name what meets there. A lead whose other end hangs loose is written down when
it is soldered.
`,
}
