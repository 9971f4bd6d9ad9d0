package rules

import "buzzout/verify"

var drawnTwice = verify.Rule{
	Name:   "drawn-twice",
	Title:  "one terminal on two conductors of the plan",
	Judges: verify.Notebook,
	Text: `
The plan puts a terminal on two nets, or says that it is spare as well. Either
the two nets are one conductor that was given two names, or one of the lines
names the wrong pin. Until it is settled the terminal is taken as where it was
named first.

    part R1, R2, R3 resistor 100k
    net anode-1 R1.1 R2.1
    net grid-2  R2.1 R3.1
    spare R1.2 R2.2 R3.2

Look at the drawing. If they are one conductor, say it under one name. If not,
strike the member that is wrong: strike net grid-2 R2.1.
`,
}
