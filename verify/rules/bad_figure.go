package rules

import "buzzout/verify"

var badFigure = verify.Rule{
	Name:   "bad-figure",
	Title:  "a value or rating that cannot be read or has no place",
	Judges: verify.Notebook,
	Text: `
A figure cannot be read, is in a unit that the part has no use for, or there
are more of them than the part has elements. Nothing is guessed: a value read
wrongly would spoil every reading that is predicted from it.

    part C1 electrolytic 22q 25V

Values are written as the trade writes them: 100k, 4k7, 2R2, 22n, 0.022u,
6.3V, 5%, 2W. Capitals count in figures: m is milli and M is mega. The figures
of a part with several elements are dealt out in order: can-3 32u 32u 16u.
`,
}
