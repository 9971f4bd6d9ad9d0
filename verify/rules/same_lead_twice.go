package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var sameLeadTwice = verify.Rule{
	Name:   "same-lead-twice",
	Title:  "the same lead is told twice",
	Judges: verify.Built,
	Look:   lookSameLeadTwice,
	Text: `
Two lines of the notebook tell of a lead of the same colour between the same
two points. There may be two leads, as in a heater run that was doubled. More
often the same lead was written down twice, and when it is taken off again one
of the two stays in the notebook.

    part R1, R2 resistor 100k
    net a R1.1 R2.1
    spare R1.2 R2.2
    lead red R1.1 R2.1
    lead red R2.1 R1.1

To check, count the leads between the two points. If there is one, strike one
of the lines. If there are two, give each a label in quotes, and nothing more
is said.
`,
}

func lookSameLeadTwice(c *verify.Case, report func(verify.Finding)) {
	type run struct {
		a, b   netlist.TerminalID
		colour string
		label  string
	}
	book := c.Book()
	seen := map[run]*netlist.Joint{}
	for i := range c.Bench.Joints {
		j := &c.Bench.Joints[i]
		if j.Kind != netlist.Wire {
			continue
		}
		key := run{min(j.A, j.B), max(j.A, j.B), j.Colour.String(), j.Label}
		other := seen[key]
		if other == nil {
			seen[key] = j
			continue
		}
		report(verify.Finding{
			Severity:  diag.Remark,
			Message:   fmt.Sprintf("%s from %s to %s is told twice", leadName(&c.Bench.Leads[j.Lead]), book.Name(key.a), book.Name(key.b)),
			Terminals: []netlist.TerminalID{key.a, key.b},
			Evidence:  []diag.Note{verify.Quote(j.Fact, j.Place), verify.Quote(other.Fact, other.Place)},
			Action:    "strike one of the lines if there is one lead; if there are two, give each a label",
			Check:     "count the leads between the two points",
		})
	}
}
