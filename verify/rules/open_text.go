package rules

import "buzzout/verify"

var openText = verify.Rule{
	Name:   "open-text",
	Title:  "a text in quotes that is not closed",
	Judges: verify.Notebook,
	Text: `
A text in quotes ends in the line in which it begins. The closing quotation
mark is missing, so it is not known where the remark ends and whether more of
the fact follows. The line is left out, and the rest is read.

    part GND post
    note "the 100k in the bag read 131k

Put the mark after the last word of the text. Longer remarks take several
note lines.
`,
}
