package rules

import "buzzout/verify"

var badQuestion = verify.Rule{
	Name:   "bad-question",
	Title:  "a question that is not asked right",
	Judges: verify.Notebook,
	Text: `
A question needs other words than it was given, or is not for this place: a
fact on a command line that takes questions only, a question that only makes
sense at the prompt. Nothing was answered and nothing changed.

help and the question's name shows how it is asked, with an example that can
be typed as it stands.
`,
}
