package rules

import "buzzout/verify"

var nothingToStrike = verify.Rule{
	Name:   "nothing-to-strike",
	Title:  "a strike line that finds nothing",
	Judges: verify.Notebook,
	Text: `
Strike takes out one earlier fact that has the same words; capitals, commas
and texts in quotes do not count. No fact before this line says so, so nothing
was struck. The nearest is shown.

    part R1, R2 resistor 100k
    lead red R1.1 R2.1
    strike lead green R1.1 R2.1

Copy the words of the line that is wrong. To undo work on the bench use
unsolder: strike says that the line was never true.
`,
}
