package rules

import (
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// controlGrids are the control grids of all valves, in the order of the parts.
func controlGrids(b *netlist.Book) []netlist.TerminalID {
	var list []netlist.TerminalID
	eachElectrode(b, func(e electrode) {
		if e.role == "grid" {
			list = append(list, e.at)
		}
	})
	return list
}

// An electrode is one end of a triode or pentode.
type electrode struct {
	part *netlist.Part
	at   netlist.TerminalID
	role string // anode, screen, grid, cathode, suppressor
}

func eachElectrode(b *netlist.Book, yield func(electrode)) {
	for _, p := range b.Parts {
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			if e.Type != parts.Triode && e.Type != parts.Pentode {
				continue
			}
			roles := e.Type.Roles()
			for n, end := range e.Ends {
				yield(electrode{p, p.Terminals[end], roles[n]})
			}
		}
	}
}

// spoken is the name of an electrode as it is printed.
func spoken(role string) string {
	switch role {
	case "screen":
		return "screen grid"
	case "suppressor":
		return "suppressor grid"
	}
	return role
}

// isOutside says that a part is a way to what the notebook does not describe:
// a post, a connector, a loudspeaker. It has terminals and nothing between
// them, and nothing to turn or plug.
func isOutside(p *netlist.Part) bool {
	k := p.Kind
	if k.Any || len(k.Elements) > 0 || len(k.Windings) > 0 || len(k.Controls) > 0 || len(k.Joined) > 0 {
		return false
	}
	for i := range k.Terminals {
		if !k.Terminals[i].Tie {
			return true
		}
	}
	return false
}
