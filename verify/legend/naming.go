package legend

import (
	"slices"

	"buzzout/netlist"
)

// A naming is what one source says: by lead of the part, a terminal of the
// kind; none where it does not say. known is false for a lead that the source
// does not name at all.
type naming struct {
	origin string
	ends   []int
	known  []bool
}

// namingOf reads a colour key.
func namingOf(b *netlist.Book, leads []netlist.TerminalID, k *netlist.ColourKey) naming {
	n := naming{origin: k.Origin, ends: make([]int, len(leads)), known: make([]bool, len(leads))}
	for i := range n.ends {
		n.ends[i] = none
	}
	for _, pair := range k.Pairs {
		i := slices.Index(leads, pair.Lead)
		n.known[i] = true
		if pair.End != netlist.NoTerminal {
			n.ends[i] = b.Terminals[pair.End].Index
		}
	}
	return n
}

// aligned gives a naming with the leads of one colour numbered as another has
// them, where that can be done: the numbers are the builder's tape and say
// nothing of the end.
func (n naming) aligned(to naming, groups [][]int) naming {
	ends := slices.Clone(n.ends)
	for _, group := range groups {
		var free []int // ends that the group has by n
		for _, lead := range group {
			if n.ends[lead] != none {
				free = append(free, n.ends[lead])
			}
			ends[lead] = none
		}
		for _, lead := range group {
			if i := slices.Index(free, to.ends[lead]); i >= 0 {
				ends[lead] = to.ends[lead]
				free = slices.Delete(free, i, i+1)
			}
		}
		for _, lead := range group {
			if ends[lead] == none && n.known[lead] && len(free) > 0 {
				ends[lead] = free[0]
				free = free[1:]
			}
		}
	}
	return naming{n.origin, ends, n.known}
}

// looseOf are the leads of one colour, as indices into leads.
func looseOf(b *netlist.Book, p *netlist.Part, leads []netlist.TerminalID) [][]int {
	var list [][]int
	for _, g := range b.Meanings()[0].Loose {
		if g.Part != p {
			continue
		}
		var group []int
		for _, t := range g.Leads {
			group = append(group, slices.Index(leads, t))
		}
		list = append(list, group)
	}
	return list
}
