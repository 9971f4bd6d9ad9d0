package rules

import "buzzout/verify"

var drawingsDiffer = verify.Rule{
	Name:   "drawings-differ",
	Title:  "two drawings make different parts of one reference",
	Judges: verify.Notebook,
	Text: `
The same part is in two drawings, with another kind or another figure. What
the first says is used. Very often one drawing is a later revision, and the
part on the bench is the older one.

    drawing circuit
    part R5 resistor 100k
    drawing parts-list
    part R5 resistor 120k

Look at the part, and strike the line that is wrong. To check, read it with
one leg lifted.
`,
}
