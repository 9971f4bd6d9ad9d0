package rules

import "buzzout/verify"

var questionInFile = verify.Rule{
	Name:   "question-in-file",
	Title:  "a question in a notebook",
	Judges: verify.Notebook,
	Text: `
A notebook holds what is known. What you want to know is asked at the prompt
or on the command line, and is not written down.

    part R1 resistor 100k
    todo

Take the line out and type it at the prompt.
`,
}
