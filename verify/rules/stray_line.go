package rules

import "buzzout/verify"

var strayLine = verify.Rule{
	Name:   "stray-line",
	Title:  "a line of a kind or a closing brace outside of braces",
	Judges: verify.Notebook,
	Text: `
A line that belongs into the braces of a kind or a part stands by itself, or a
brace is closed that was not opened. Usually a brace above was closed too
early.

    kind choke-10h { terminals 1 2 }
    coil 1 2

Move the line into the braces.
`,
}
