package rules

import "buzzout/verify"

var badCharacter = verify.Rule{
	Name:   "bad-character",
	Title:  "a character that no word may hold",
	Judges: verify.Notebook,
	Text: `
A line holds a control character, an invisible one, or a byte that is no
letter in UTF-8. It came in by copying from a web page or a terminal, and it
would make two names differ that look alike.

    part R1` + "\u200b" + ` resistor 100k

Type the word again. A no-break blank is read as a blank and is no mistake.
`,
}
