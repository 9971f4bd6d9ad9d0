package rules

import "buzzout/verify"

var unknownName = verify.Rule{
	Name:   "unknown-name",
	Title:  "a name that nothing has",
	Judges: verify.Notebook,
	Text: `
A part, a terminal, a net, a kind, a colour or a source is named that the
notebook does not know. The fact is read without that name, and nothing that
would follow from it is told a second time: one wrong name is one message,
however often it is used.

    part V1 ecc83
    net grid-1 V1.2-grid R47.1

Look whether it is a slip of the pen; the nearest name is shown where one is
near. A terminal is REF.NAME: V1.2, V1.2-grid, T2.orange. To learn what a part
has, ask about and its reference.
`,
}
