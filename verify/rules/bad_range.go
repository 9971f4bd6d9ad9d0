package rules

import "buzzout/verify"

var badRange = verify.Rule{
	Name:   "bad-range",
	Title:  "a range of names that cannot be written out",
	Judges: verify.Notebook,
	Text: `
R1..R24 stands for R1, R2 and so on to R24. The names on both sides have the
same letters, the numbers rise, and there are at most 500 of them.

    part R1..R9 resistor 100k
    spare R9.1..2
    spare R1..R9999.1

Write the two ends alike, the lower number first, or write out the list.
`,
}
