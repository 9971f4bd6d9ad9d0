package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var emptyPinDrawn = verify.Rule{
	Name:   "empty-pin-drawn",
	Title:  "the plan uses a terminal where nothing may be soldered",
	Judges: verify.Plan,
	Look:   lookEmptyPinDrawn,
	Text: `
Some pins of a valve are joined to something inside the bottle, and the maker
forbids using their tags. The plan puts one of them on a conductor. Wired so,
two conductors can be joined inside the valve where nobody sees it, and the
fault comes and goes with the maker of the valve.

    part V1  el84
    part R1  resistor 1k
    part GND post
    net grid V1.1 R1.1
    net ground R1.2 GND
    spare V1.2..5 V1.7 V1.9

Look the pin up in the maker's sheet and choose another point: a tag of a
strip beside the socket.
`,
}

func lookEmptyPinDrawn(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	for _, net := range book.Nets {
		for _, m := range net.Members {
			if why := emptyPinWhy(book, m.Terminal); why != "" {
				report(verify.Finding{
					Severity:  diag.Fault,
					Message:   fmt.Sprintf("%s is on the net %s, and nothing may be soldered there", book.Name(m.Terminal), net.Name),
					Terminals: []netlist.TerminalID{m.Terminal}, Nets: []string{net.Name},
					Evidence: []diag.Note{verify.Quote(m.Fact, m.Place), verify.QuotePart(book.Terminals[m.Terminal].Part)},
					Cause:    emptyCause(why),
					Action:   "choose another point for it in the plan",
				})
			}
		}
	}
}

// emptyPinWhy says why nothing may be soldered at a terminal, "" where it may.
func emptyPinWhy(b *netlist.Book, t netlist.TerminalID) string {
	term := &b.Terminals[t]
	if term.Part == nil || term.Index < 0 {
		return ""
	}
	return term.Part.Kind.Terminals[term.Index].Empty
}
