package rules

import "buzzout/verify"

var unclearEnd = verify.Rule{
	Name:   "unclear-end",
	Title:  "a fit line that does not say which leg sits where",
	Judges: verify.Notebook,
	Text: `
Places in a row are enough for a part whose ends are alike. For a diode, an
electrolytic or anything else the order would hide a part put in the wrong way
round, so each end is named before its place.

    part C1 electrolytic 22u 25V
    part TB1 tagboard 4
    fit C1 TB1.1 TB1.2

Write it so: fit C1 + TB1.1 - TB1.2. Look at the part before you write: the
band of a diode is its cathode, the stripe of an electrolytic its minus.
`,
}
