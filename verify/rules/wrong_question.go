package rules

import "buzzout/verify"

var wrongQuestion = verify.Rule{
	Name:   "wrong-question",
	Title:  "a question with something in it that cannot be asked",
	Judges: verify.Notebook,
	Text: `
A question is its name and words: parts, terminals, texts in quotes. Something
else stands in it, as a brace or a text that is not closed. Nothing was asked.

help and the question's name shows how it is asked.
`,
}
