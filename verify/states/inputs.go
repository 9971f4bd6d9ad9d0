package states

import (
	"cmp"
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// An Input is a jack whose tip leads to the grid of a valve.
type Input struct {
	Jack        *netlist.Part
	Plug        netlist.ControlRef
	Tip, Sleeve netlist.TerminalID
	Grid        netlist.TerminalID // the first on its way
}

// Inputs finds the jacks whose tip leads to a grid through wiring, resistors,
// capacitors and tracks, with a plug in every jack. A way ends at earth, at an
// anode or cathode, and at a winding: what comes from a transformer is no
// input. With a point given, that is asked for in place of a grid. They are grouped by their first grid, in the order of the grids'
// inputs.
func Inputs(draw func(netlist.Setting) *netlist.Harness, s netlist.Setting, book *netlist.Book, point netlist.TerminalID) [][]Input {
	all := netlist.Setting{}
	var jacks []Input
	for _, p := range book.Parts {
		if in, ok := asJack(p); ok {
			jacks = append(jacks, in)
			all[in.Plug] = netlist.Position{Index: 1, Known: true}
		}
	}
	if len(jacks) == 0 {
		return nil
	}
	s = s.With(all)
	h := draw(s)
	var groups [][]Input
	for _, in := range jacks {
		if in.Grid = firstGrid(h, s, in, point); in.Grid == netlist.NoTerminal {
			continue
		}
		i := slices.IndexFunc(groups, func(g []Input) bool { return h.Joined(g[0].Grid, in.Grid) })
		if i < 0 {
			groups = append(groups, nil)
			i = len(groups) - 1
		}
		groups[i] = append(groups[i], in)
	}
	slices.SortStableFunc(groups, func(a, b []Input) int { return -cmp.Compare(len(a), len(b)) })
	return groups
}

// asJack finds tip and sleeve of a part that a plug goes into.
func asJack(p *netlist.Part) (Input, bool) {
	plug := slices.IndexFunc(p.Kind.Controls, func(c parts.Control) bool { return c.Name == "plug" && len(c.Positions) > 1 })
	if plug < 0 {
		return Input{}, false
	}
	tip, _ := p.Kind.Find("tip")
	sleeve, _ := p.Kind.Find("sleeve")
	if len(tip) != 1 || len(sleeve) != 1 {
		return Input{}, false
	}
	return Input{Jack: p, Plug: netlist.ControlRef{Part: p, Control: plug}, Tip: p.Terminals[tip[0]], Sleeve: p.Terminals[sleeve[0]]}, true
}

// firstGrid is the grid that is fewest parts away from the input's tip.
func firstGrid(h *netlist.Harness, s netlist.Setting, in Input, point netlist.TerminalID) netlist.TerminalID {
	of := h.Islands().Of
	ends, grids := stops(h)
	if point != netlist.NoTerminal {
		grids = map[int32]netlist.TerminalID{of[point]: point}
		delete(ends, of[point])
	}
	from, earth := of[in.Tip], of[in.Sleeve]
	if from == earth || ends[from] {
		return netlist.NoTerminal
	}
	list, _ := passives(h, s)
	at := map[int32][]int32{}
	for _, p := range list {
		a, b := of[p.a], of[p.b]
		at[a] = append(at[a], b)
		at[b] = append(at[b], a)
	}
	seen := map[int32]bool{from: true, earth: true}
	queue := []int32{from}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		if g, ok := grids[x]; ok {
			return g
		}
		for _, y := range at[x] {
			if !seen[y] && !ends[y] {
				seen[y] = true
				queue = append(queue, y)
			}
		}
	}
	return netlist.NoTerminal
}

// stops are the conductors at which a signal's way to a grid ends: those of
// windings and coils, of anodes, screens and cathodes; and the grids, by
// conductor.
func stops(h *netlist.Harness) (ends map[int32]bool, grids map[int32]netlist.TerminalID) {
	of := h.Islands().Of
	ends, grids = map[int32]bool{}, map[int32]netlist.TerminalID{}
	for _, p := range h.Book.Parts {
		for _, w := range p.Kind.Windings {
			for _, t := range w.Ends {
				ends[of[p.Terminals[t]]] = true
			}
		}
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			for n, t := range e.Ends {
				id := p.Terminals[t]
				switch {
				case e.Type == parts.Coil:
					ends[of[id]] = true
				case e.Type != parts.Triode && e.Type != parts.Pentode:
				case e.Type.Roles()[n] == "grid":
					if _, ok := grids[of[id]]; !ok {
						grids[of[id]] = id
					}
				default:
					ends[of[id]] = true
				}
			}
		}
	}
	return ends, grids
}
