package rules

import "buzzout/verify"

var tooManyMistakes = verify.Rule{
	Name:   "too-many-mistakes",
	Title:  "so many mistakes that the rest was not read",
	Judges: verify.Notebook,
	Text: `
So many lines could not be read that going on would tell you nothing. Most
likely the file is not a notebook, or one brace or quotation mark far above
swallowed what follows. Mend the first few mistakes and read it again.
`,
}
