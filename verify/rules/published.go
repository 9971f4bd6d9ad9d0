package rules

import (
	"strings"

	"buzzout/netlist/parts"
)

// practice is a rule of the trade.
func practice(id string) parts.Practice {
	for _, p := range parts.Practices() {
		if p.ID == id {
			return p
		}
	}
	panic("no practice is called " + id)
}

// practiceSays gives a rule of the trade as a sentence with its origin.
func practiceSays(id string) string {
	p := practice(id)
	says := p.Says
	if p.Figure != "" {
		says += ": " + p.Figure
	}
	return strings.ToUpper(says[:1]) + says[1:] + " " + p.Cited() + "."
}
