package rules

import "buzzout/verify"

var cannotUse = verify.Rule{
	Name:   "cannot-use",
	Title:  "a book that cannot be read where it is used",
	Judges: verify.Notebook,
	Text: `
A use line names another notebook that is not there, may not be read, lies
outside the folder of the first notebook, or is being read already because the
books use each other in a ring. What is in it is missing from everything.

    use "parts-of-another-folder.buzzout"

The name is relative to the notebook with the use line. A book is read once,
however many use it.
`,
}
