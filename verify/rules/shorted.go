package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var shorted = verify.Rule{
	Name:   "shorted",
	Title:  "a part of the plan with both ends on one conductor",
	Judges: verify.Plan,
	Look:   lookShorted,
	Text: `
Both ends of a resistor, capacitor, diode, choke, lamp, fuse or heater are on
one conductor of the plan, so the part does nothing. Usually one of the two
ends was written under the wrong net's name. A winding with two of its ends on
one conductor is worse: it is a short circuit on the transformer.

    part R1  resistor 100k
    part R2  resistor 1k5
    part GND post
    net anode  R1.1 R1.2 R2.1
    net ground R2.2 GND

Look the part up in the drawing and mend the net. Once it is wired, its two
ends read the part's value with one end lifted, and 0 ohm as drawn.
`,
}

func lookShorted(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	direct := wired(c.Planned())
	nets := planNets(direct, book)
	for _, p := range book.Parts {
		tell := func(a, b int, what string, s diag.Severity, cause string) {
			from, to := p.Terminals[a], p.Terminals[b]
			if a == b || nets[from] == netlist.NoNet || direct.of(from) != direct.of(to) || joinedInside(p.Kind, a, b) {
				return
			}
			report(verify.Finding{
				Severity:  s,
				Message:   fmt.Sprintf("%s and %s are both on the net %s%s", book.Name(from), book.Name(to), book.Nets[nets[from]].Name, what),
				Terminals: []netlist.TerminalID{from, to}, Nets: netNames(book, nets[from]),
				Evidence: []diag.Note{quotePlan(book, from), quotePlan(book, to), verify.QuotePart(p)},
				Cause:    cause,
				Action:   "look the part up in the drawing and move one of its ends to the net where it belongs",
			})
		}
		for i := range p.Kind.Elements {
			switch e := &p.Kind.Elements[i]; e.Type {
			case parts.Resistance, parts.Capacitance, parts.Diode, parts.Coil, parts.Lamp, parts.Fuse, parts.Heater:
				tell(e.Ends[0], e.Ends[1], ": nothing is left for it to do", diag.Caution, "")
			}
		}
		for _, w := range p.Kind.Windings {
			for i := 1; i < len(w.Ends); i++ {
				tell(w.Ends[i-1], w.Ends[i], "", diag.Fault, "They are ends of one winding: that is a short circuit on the transformer.")
			}
		}
	}
}

// joinedInside says that two terminals are one conductor inside the part.
func joinedInside(k *parts.Kind, a, b int) bool {
	for _, group := range k.Joined {
		hasA, hasB := false, false
		for _, t := range group {
			hasA, hasB = hasA || t == a, hasB || t == b
		}
		if hasA && hasB {
			return true
		}
	}
	return false
}
