package rules

import "buzzout/verify"

var badKind = verify.Rule{
	Name:   "bad-kind",
	Title:  "a kind of part that contradicts itself",
	Judges: verify.Notebook,
	Text: `
The lines of a kind do not fit together: an element ends on a terminal at
which nothing may be soldered, a contact names a position that its control
does not have, a kind is like itself, or has no terminals. The line is left
out of the kind.

    kind odd-choke {
        terminals 1 2
        empty 2
        coil 1 2
    }

help kind shows every line that a kind can have.
`,
}
