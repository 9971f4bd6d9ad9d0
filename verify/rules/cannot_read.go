package rules

import "buzzout/verify"

var cannotRead = verify.Rule{
	Name:   "cannot-read",
	Title:  "the notebook cannot be read",
	Judges: verify.Notebook,
	Text: `
The file is not there, may not be read, or is a folder. What was read before
stays as it is.

Look at the name, and at whose file it is.
`,
}
