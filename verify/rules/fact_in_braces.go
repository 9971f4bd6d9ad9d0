package rules

import "buzzout/verify"

var factInBraces = verify.Rule{
	Name:   "fact-in-braces",
	Title:  "a fact inside the braces of another",
	Judges: verify.Notebook,
	Text: `
A fact begins in the middle of a block. It was read as if it stood after the
block, so nothing is lost; the line should still move, since the next reader
takes it as part of the block.

    kind choke-10h {
        terminals 1 2
        part GND post
        coil 1 2
    }

Move the fact below the closing brace.
`,
}
