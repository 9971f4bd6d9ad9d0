package rules

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// conductors says which terminals are one conductor, as far as what was let
// in joins them. By terminal: a step towards the first terminal of its
// conductor, which stands for all of it.
type conductors []int32

// wired are the conductors of a harness without its contacts and plugs: what
// is joined whatever stands where.
func wired(h *netlist.Harness) conductors {
	c := make(conductors, len(h.Book.Terminals))
	for i := range c {
		c[i] = int32(i)
	}
	for i := range h.Joins {
		if j := &h.Joins[i]; j.Kind != netlist.ByContact && j.Kind != netlist.ByPlug {
			c.join(j.A, j.B)
		}
	}
	return c
}

// of is the terminal that stands for a terminal's conductor.
func (c conductors) of(t netlist.TerminalID) netlist.TerminalID {
	for c[t] != int32(t) {
		c[t] = c[c[t]]
		t = netlist.TerminalID(c[t])
	}
	return t
}

func (c conductors) join(a, b netlist.TerminalID) {
	a, b = c.of(a), c.of(b)
	c[max(a, b)] = int32(min(a, b))
}

func (c conductors) clone() conductors { return slices.Clone(c) }

// through lets in the elements of some types, from end to end.
func (c conductors) through(h *netlist.Harness, types ...parts.ElementType) conductors {
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			if !slices.Contains(types, e.Type) {
				continue
			}
			for _, end := range e.Ends[1:] {
				c.join(p.Terminals[e.Ends[0]], p.Terminals[end])
			}
		}
	}
	return c
}

// throughWindings lets in the windings of transformers, each from end to end.
func (c conductors) throughWindings(h *netlist.Harness) conductors {
	for p, as := range h.There() {
		for _, w := range as.Kind.Windings {
			for _, end := range w.Ends[1:] {
				c.join(p.Terminals[w.Ends[0]], p.Terminals[end])
			}
		}
	}
	return c
}

// throughContacts lets in the contacts that keep passes, in whatever position
// they close; nil passes all.
func (c conductors) throughContacts(h *netlist.Harness, keep func(*parts.Kind, *parts.Contact) bool) conductors {
	for p, as := range h.There() {
		for i := range as.Kind.Contacts {
			if k := &as.Kind.Contacts[i]; keep == nil || keep(as.Kind, k) {
				c.join(p.Terminals[k.A], p.Terminals[k.B])
			}
		}
	}
	return c
}

// steady lets in what a direct current passes as long as the part is there:
// resistances, tracks, coils and windings. Fuses, lamps, heaters and contacts
// are left out, since each can be open.
func (c conductors) steady(h *netlist.Harness) conductors {
	return c.through(h, parts.Resistance, parts.Track, parts.Coil).throughWindings(h)
}

// onOff says that a contact belongs to a switch that can be off: in some
// position of its control, nothing is joined to either of its ends.
func onOff(k *parts.Kind, contact *parts.Contact) bool {
	for position := range k.Controls[contact.Control].Positions {
		closed := false
		for i := range k.Contacts {
			other := &k.Contacts[i]
			if other.Control == contact.Control && slices.Contains(other.Positions, position) &&
				(other.A == contact.A || other.A == contact.B || other.B == contact.A || other.B == contact.B) {
				closed = true
				break
			}
		}
		if !closed {
			return true
		}
	}
	return false
}

// planNets gives for each terminal the net of the plan that its conductor is,
// whatever it is called there: a lead of which the plan names the end, a bolt
// of a chassis that the plan names by another bolt. NoNet where it is in none.
func planNets(c conductors, b *netlist.Book) []netlist.NetID {
	nets := make([]netlist.NetID, len(b.Terminals))
	for i := range nets {
		nets[i] = netlist.NoNet
	}
	for id, net := range b.Nets {
		for _, m := range net.Members {
			if root := c.of(m.Terminal); nets[root] == netlist.NoNet {
				nets[root] = netlist.NetID(id)
			}
		}
	}
	for i := range nets {
		nets[i] = nets[c.of(netlist.TerminalID(i))]
	}
	return nets
}

// marked says of every terminal whether its conductor has one of the marks.
func (c conductors) marked(marks []netlist.TerminalID) map[netlist.TerminalID]bool {
	roots := make(map[netlist.TerminalID]bool, len(marks))
	for _, t := range marks {
		roots[c.of(t)] = true
	}
	return roots
}
