package rules

import "buzzout/verify"

var givenUp = verify.Rule{
	Name:   "given-up",
	Title:  "a question that was stopped before it was answered",
	Judges: verify.Notebook,
	Text: `
The question was given up with Ctrl-C, so there is no answer, not even a
part of one. Nothing in the notebook changed. Ask it again, or ask about less:
one part or one net instead of all of them.
`,
}
