package rules

import "buzzout/verify"

var reservedName = verify.Rule{
	Name:   "reserved-name",
	Title:  "a part called by a word that means something else",
	Judges: verify.Notebook,
	Text: `
A part may not be called by the first word of a fact, nor screen, with,
probes, none, turned or unknown: a line that names it could be read in two
ways.

    part screen resistor 100R

Give it another name. References of the usual form, R1 or V3, never collide.
`,
}
