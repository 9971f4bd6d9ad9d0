package states

import (
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// What passes a current, for the rules that ask where one can go.

// steady is what passes a direct current as long as the part is there:
// resistances, tracks, coils and windings. Fuses, lamps and heaters are left
// out, since each can be open.
func steady(h *netlist.Harness) []bond {
	var list []bond
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			switch e := &as.Kind.Elements[i]; e.Type {
			case parts.Resistance, parts.Track, parts.Coil:
				list = append(list, chain(p, e.Ends)...)
			}
		}
		for _, w := range as.Kind.Windings {
			list = append(list, chain(p, w.Ends)...)
		}
	}
	return list
}

// chain bonds terminals of a part in a row.
func chain(p *netlist.Part, ends []int) []bond {
	var list []bond
	for i := 1; i < len(ends); i++ {
		list = append(list, bond{p.Terminals[ends[i-1]], p.Terminals[ends[i]], p})
	}
	return list
}

// loading is what takes power from a winding: coils, resistances, tracks and
// windings of other parts, through fuses. What has more ohms than most is no
// load; a coil without a figure in ohms is one.
func loading(h *netlist.Harness, of *netlist.Part, most float64) []bond {
	var list []bond
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			e, figure := &as.Kind.Elements[i], as.Values[i]
			known := figure.Text != "" && figure.Quantity == lang.Ohms
			switch e.Type {
			case parts.Fuse:
				list = append(list, chain(p, e.Ends)...)
			case parts.Coil:
				if !known || figure.Value <= most {
					list = append(list, chain(p, e.Ends)...)
				}
			case parts.Resistance, parts.Track:
				if known && figure.Value <= most {
					list = append(list, chain(p, e.Ends)...)
				}
			}
		}
		if p != of {
			for _, w := range as.Kind.Windings {
				list = append(list, chain(p, w.Ends)...)
			}
		}
	}
	return list
}

// references are the terminals from which a grid can get its voltage: chassis
// and earth, the sleeves of jacks, every other electrode, diodes and heaters,
// and ways out of the notebook.
func references(h *netlist.Harness) []netlist.TerminalID {
	var list []netlist.TerminalID
	for p, as := range h.There() {
		if p.Kind.JoinedAny || isOutside(p) {
			list = append(list, p.Terminals...)
		}
		if in, ok := asJack(p); ok {
			list = append(list, in.Sleeve)
		}
		if in, ok := p.Inlet(); ok && in.Earth != netlist.NoTerminal {
			list = append(list, in.Earth)
		}
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			for n, end := range e.Ends {
				switch e.Type {
				case parts.Diode, parts.Heater:
					list = append(list, p.Terminals[end])
				case parts.Triode, parts.Pentode:
					if e.Type.Roles()[n] != "grid" {
						list = append(list, p.Terminals[end])
					}
				}
			}
		}
	}
	return list
}

// isOutside says that a part is a way to what the notebook does not describe:
// a post, a connector. It has terminals and nothing between them, and nothing
// to turn or plug.
func isOutside(p *netlist.Part) bool {
	k := p.Kind
	if k.Any || len(k.Elements) > 0 || len(k.Windings) > 0 || len(k.Controls) > 0 || len(k.Joined) > 0 {
		return false
	}
	return slices.ContainsFunc(k.Terminals, func(t parts.Terminal) bool { return !t.Tie })
}

// bondAll holds a list of terminals together.
func bondAll(list []netlist.TerminalID) []bond {
	var bonds []bond
	for i := 1; i < len(list); i++ {
		bonds = append(bonds, bond{a: list[0], b: list[i]})
	}
	return bonds
}

// without is the web with one contact taken out.
func (w *Web) without(c *Contact) *Web {
	rest := *w
	rest.Contacts = make([]Contact, 0, len(w.Contacts)-1)
	for i := range w.Contacts {
		if &w.Contacts[i] != c {
			rest.Contacts = append(rest.Contacts, w.Contacts[i])
		}
	}
	return &rest
}

// find looks for a setting in which two conductors are joined, or apart, with
// one control held where at has it; -1 holds none. sure is false where there
// are too many settings to look at them all and none was found.
func (w *Web) find(a, b int32, joined bool, at []uint8, hold int) (found, sure bool) {
	if a == b {
		return joined, true
	}
	if joined {
		if found, sure = w.passable(a, b, at, hold); sure {
			return found, true
		}
	}
	controls := slices.DeleteFunc(w.Between(a, b), func(c int) bool { return c == hold })
	controls, left := w.within(controls, Bound)
	w.Walk(controls, at, func(walk *Walk) bool {
		found = walk.Joined(a, b) == joined
		return !found
	})
	return found, found || len(left) == 0
}

// always says for certain that two conductors are one in every setting.
func (w *Web) always(a, b int32, at []uint8, hold int) bool {
	apart, sure := w.find(a, b, false, at, hold)
	return sure && !apart
}

// never says for certain that two conductors are one in no setting.
func (w *Web) never(a, b int32, at []uint8, hold int) bool {
	one, sure := w.find(a, b, true, at, hold)
	return sure && !one
}
