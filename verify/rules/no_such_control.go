package rules

import "buzzout/verify"

var noSuchControl = verify.Rule{
	Name:   "no-such-control",
	Title:  "a setting of something that a part does not have",
	Judges: verify.Notebook,
	Text: `
A set line or a reading gives a position to a part that has nothing to turn,
push or plug, to a control that it does not have, or to a part with several
controls without saying which.

    part R1 resistor 100k
    set R1 up

about and the reference tell what a part has.
`,
}
