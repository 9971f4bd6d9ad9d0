package rules

import "buzzout/verify"

var cannotWrite = verify.Rule{
	Name:   "cannot-write",
	Title:  "the notebook cannot be written",
	Judges: verify.Notebook,
	Text: `
The fact was understood and could not be put on disk: the disk is full, the
file or its folder may not be written, or there is no file. It is not in the
notebook; what was there before is untouched.

Make room or get leave to write, then give the fact again: the up key brings
it back.
`,
}
