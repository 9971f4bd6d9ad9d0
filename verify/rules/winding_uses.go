package rules

import (
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// windingUses says what each winding's ends do, in the words of the code's
// table; ends of which that cannot be told for certain are absent.
func windingUses(h *netlist.Harness) map[netlist.TerminalID]string {
	b := h.Book
	direct := wired(h)
	mainsSide := direct.clone().through(h, parts.Fuse).throughContacts(h, nil)
	var entries []netlist.TerminalID
	for _, in := range b.Inlets() {
		entries = append(entries, in.Live, in.Neutral)
	}
	mains := mainsSide.marked(entries)
	at := endsAt(direct, b)

	uses := map[netlist.TerminalID]string{}
	for _, p := range b.Parts {
		primaries := 0
		for _, w := range p.Kind.Windings {
			if mains[mainsSide.of(p.Terminals[w.Ends[0]])] {
				primaries++
			}
		}
		for _, w := range p.Kind.Windings {
			n := len(w.Ends)
			end := func(i int) netlist.TerminalID { return p.Terminals[w.Ends[i]] }
			first, last := end(0), end(n-1)
			either := at[direct.of(first)] | at[direct.of(last)]
			both := func(use string) { uses[first], uses[last] = use, use }
			centre := func(use string) {
				if n == 3 {
					uses[end(1)] = use
				}
			}
			switch {
			case mains[mainsSide.of(first)] || mains[mainsSide.of(last)]:
				if primaries == 1 && n == 2 {
					both("mains")
				} else if primaries == 1 {
					for i := range n {
						uses[end(i)] = "mains-tapped"
					}
				}
			case either&atRectifierHeater != 0 && either&atHeater == 0:
				both("rectifier-heater")
				centre("rectifier-heater-centre")
			case either&atHeater != 0:
				both("heater")
				centre("heater-centre")
			case at[direct.of(first)]&at[direct.of(last)]&atAnode != 0:
				both("anode-pair")
				if n%2 == 1 {
					uses[end(n/2)] = "ht-feed"
				}
			case either&atAnode != 0:
				if n == 2 {
					both("ht-feed")
				}
				for _, t := range [2]netlist.TerminalID{first, last} {
					if at[direct.of(t)]&atAnode != 0 {
						uses[t] = "anode"
					}
				}
			case either&atGrid != 0 && n == 2:
				both("grid-return")
				for _, t := range [2]netlist.TerminalID{first, last} {
					if at[direct.of(t)]&atGrid != 0 {
						uses[t] = "grid"
					}
				}
			case either&atGrid != 0:
				both("grid-pair")
				centre("grid-return")
			case at[direct.of(first)]&at[direct.of(last)]&atDiodeAnode != 0 && !lowVoltage(p, w):
				both("hv")
				centre("hv-centre")
			}
		}
	}
	return uses
}

// What ends on a conductor.
const (
	atAnode = 1 << iota
	atGrid
	atHeater
	atRectifierHeater
	atDiodeAnode
)

// lowVoltage says that the part gives a winding a voltage that is no high
// tension: a bias winding.
func lowVoltage(p *netlist.Part, w parts.Winding) bool {
	volts := 0.0
	for i := range p.Kind.Between {
		between := &p.Kind.Between[i]
		if between.Verb != "volts" || !slices.Contains(w.Ends, between.From) {
			continue
		}
		for _, f := range between.Figures {
			if f.Quantity == lang.Volts {
				volts = max(volts, f.Value)
			}
		}
	}
	return volts > 0 && volts <= touchableVolts
}

func endsAt(c conductors, b *netlist.Book) map[netlist.TerminalID]uint8 {
	at := map[netlist.TerminalID]uint8{}
	for _, p := range b.Parts {
		rectifier := false
		for i := range p.Kind.Elements {
			rectifier = rectifier || p.Kind.Elements[i].Type == parts.Diode
		}
		mark := func(end int, what uint8) { at[c.of(p.Terminals[end])] |= what }
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			switch e.Type {
			case parts.Triode, parts.Pentode:
				for n, role := range e.Type.Roles()[:len(e.Ends)] {
					switch role {
					case "anode":
						mark(e.Ends[n], atAnode)
					case "grid":
						mark(e.Ends[n], atGrid)
					}
				}
			case parts.Heater:
				what := uint8(atHeater)
				if rectifier {
					what = atRectifierHeater
				}
				mark(e.Ends[0], what)
				mark(e.Ends[1], what)
			case parts.Diode:
				mark(e.Ends[0], atDiodeAnode)
			}
		}
	}
	return at
}
