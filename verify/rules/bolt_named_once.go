package rules

import "buzzout/verify"

var boltNamedOnce = verify.Rule{
	Name:   "bolt-named-once",
	Title:  "a point of the chassis that one bench line alone names",
	Judges: verify.Notebook,
	Text: `
A chassis has as many bolts as you name. A bolt that the plan does not know
and one line alone names may be a slip of the pen: it makes a new bolt, and
since all bolts are one conductor nothing else would show it.

    part CH chassis
    part R1 resistor 1M
    net ground CH.star R1.1
    spare R1.2
    solder CH.stra R1.1

It is a remark. If the bolt is there, nothing needs doing.
`,
}
