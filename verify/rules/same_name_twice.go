package rules

import "buzzout/verify"

var sameNameTwice = verify.Rule{
	Name:   "same-name-twice",
	Title:  "one name given to two things",
	Judges: verify.Notebook,
	Text: `
One name stands for two things: a reference in two part lines of one drawing,
a terminal declared twice in a kind, a colour that one source gives two ends.
Whatever follows would be true of the one and false of the other.

    part R5 resistor 100k
    part R5 resistor 82k

In different drawings the same reference is the same part, seen twice. Within
one, give one of the two another name, or strike the line that is wrong.
`,
}
