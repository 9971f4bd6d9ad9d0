package rules

import "buzzout/verify"

var tooLong = verify.Rule{
	Name:   "too-long",
	Title:  "a word, a fact or a file is longer than any notebook needs",
	Judges: verify.Notebook,
	Text: `
A notebook has bounds, far above what an amplifier needs, so that a wrong file
given by mistake does not occupy the machine for minutes: so many bytes in a
file, so many words in a fact, so many letters in a word. What is longer is
not read, and the rest is.

Part a long list into several facts: a net said again under the same name adds
to it. Part a long notebook into several, and read them with use.
`,
}
