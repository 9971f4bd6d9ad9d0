package rules

import "buzzout/verify"

var openBrace = verify.Rule{
	Name:   "open-brace",
	Title:  "a brace that is never closed",
	Judges: verify.Notebook,
	Text: `
A list or a block was opened with a brace, and the next fact begins, or the
file ends, before it is closed. Everything up to there was read as part of
the list.

    part R1, R2 resistor 100k
    net grid-1 {
        R1.1
        R2.1
    net grid-2 R1.2 R2.2

Put } after the last line of the list.
`,
}
