package rules

import "buzzout/verify"

var notText = verify.Rule{
	Name:   "not-text",
	Title:  "the file is not a notebook's text",
	Judges: verify.Notebook,
	Text: `
The file is made of bytes that are no letters, or is kept in another encoding
than UTF-8: a picture, an archive, or a text saved as UTF-16 by an editor.
Nothing of it was read.

Open it in an editor and look. If it is a notebook, save it again as UTF-8. If
the disk is failing, copy what can be read before anything else.
`,
}
