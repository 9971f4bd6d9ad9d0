package rules

import "buzzout/verify"

var wrongForm = verify.Rule{
	Name:   "wrong-form",
	Title:  "a fact whose words are not in the order that it wants",
	Judges: verify.Notebook,
	Text: `
The line begins well, and then a word is missing, or something stands where
another sort of word is wanted. The line is left out, and the rest is read;
the message says what is wanted at the place that is marked.

    part R1 resistor 100k
    fit

help and the first word of the line shows its form and an example that can be
typed as it stands.
`,
}
