package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var loneTerminal = verify.Rule{
	Name:   "lone-terminal",
	Title:  "a net of the plan with one terminal",
	Judges: verify.Plan,
	Look:   lookLoneTerminal,
	Text: `
A net with one terminal is a plan: a test point, or a jack's tip that meets
nothing but its own break contact. More often the other end was forgotten, or
was written under a name that differs in one letter and so became a net of its
own.

    part R1, R2 resistor 1M
    part GND    post
    net grid-1  R1.1 R2.1
    net gird-1  R1.2
    net ground  R2.2 GND

Look along the conductor in the drawing. If it is meant, nothing needs doing:
this is a remark and never counts as a fault.
`,
}

func lookLoneTerminal(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	for _, net := range book.Nets {
		if len(net.Members) != 1 {
			continue
		}
		m := net.Members[0]
		report(verify.Finding{
			Severity:  diag.Remark,
			Message:   fmt.Sprintf("the net %s has one terminal, %s", net.Name, book.Name(m.Terminal)),
			Terminals: []netlist.TerminalID{m.Terminal}, Nets: []string{net.Name},
			Evidence: []diag.Note{verify.Quote(m.Fact, m.Place)},
			Action:   "if something else belongs on it, add it: net " + net.Name + " …",
		})
	}
}
