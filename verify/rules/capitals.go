package rules

import "buzzout/verify"

var capitals = verify.Rule{
	Name:   "capitals",
	Title:  "one name in capitals and in small letters",
	Judges: verify.Notebook,
	Text: `
Two names differ in capitals only. They are one name, since capitals do not
count, and it is told in case you meant two.

    part R1, R2 resistor 100k
    net Grid-1 R1.1
    net grid-1 R2.1
    spare R1.2 R2.2

If two were meant, give one of them another name.
`,
}
