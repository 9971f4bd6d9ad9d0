package rules

import "buzzout/verify"

var noSuchPosition = verify.Rule{
	Name:   "no-such-position",
	Title:  "a position that a control does not have",
	Judges: verify.Notebook,
	Text: `
A set line or a reading puts a control into a position that it does not have.
A jack is out, in, or holds a plug that you name; a pot is anything from 0% to
100%, ccw or cw; a switch has the positions of its kind or of its own block.

    part S1 toggle-1x1
    set S1 halfway

The message lists the positions that there are.
`,
}
