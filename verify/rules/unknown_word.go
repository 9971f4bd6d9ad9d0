package rules

import "buzzout/verify"

var unknownWord = verify.Rule{
	Name:   "unknown-word",
	Title:  "a line that begins with no word of the language",
	Judges: verify.Notebook,
	Text: `
Every line begins with the word that says what it is about: part, net, lead,
solder, fit, reading and so on. This one begins with another word, so the line
is left out, and the rest is read.

    wire green R1.1 R2.1

A wire on the bench is a lead, a conductor of the plan is a net. help alone
lists the words, help and a word explains one.
`,
}
