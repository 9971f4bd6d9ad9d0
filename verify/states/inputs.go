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
// capacitors and tracks, with a plug in every jack; those that do so in other
// positions of the switches and of the other plugs count too. A way ends at
// earth, at an anode or cathode, and at a winding: what comes from there is no
// input. With a point given, that is asked for in place of a grid. A jack with
// a plug in it that the notebook wires to something is none either: what that
// does is known.
//
// They are grouped by their first grid, the grid with most inputs first.
func Inputs(draw func(netlist.Setting) *netlist.Harness, s netlist.Setting, point netlist.TerminalID) [][]Input {
	return inputs(draw(s), draw, s, point)
}

// inputs is Inputs with the harness in the setting s drawn already.
func inputs(now *netlist.Harness, draw func(netlist.Setting) *netlist.Harness, s netlist.Setting, point netlist.TerminalID) [][]Input {
	all := netlist.Setting{}
	var jacks []Input
	named := false
	for p := range now.There() {
		if in, ok := asJack(p); ok {
			jacks = append(jacks, in)
			all[in.Plug] = netlist.Position{Index: 1, Known: true}
			named = named || s.PositionOf(in.Plug).Plug != nil
		}
	}
	if len(jacks) == 0 {
		return nil
	}
	h := draw(s.With(all))
	if named {
		jacks = slices.DeleteFunc(jacks, func(in Input) bool {
			taken := leadsOn(h, s.PositionOf(in.Plug).Plug)
			if taken {
				delete(all, in.Plug)
			}
			return taken
		})
		h = draw(s.With(all))
	}
	s = s.With(all)
	list := passives(h, s)
	of := h.Islands().Of
	joined := newSearch(h, list, point, func(t netlist.TerminalID) int32 { return of[t] })
	var web *Web
	var groups [][]Input
	for _, in := range jacks {
		if in.Grid = joined.firstGrid(in); in.Grid == netlist.NoTerminal {
			if joined.driven(in) {
				continue
			}
			if web == nil {
				web = NewWeb(h, s)
			}
			if in.Grid = anyPosition(web, list, point, s, in.Plug).firstGrid(in); in.Grid == netlist.NoTerminal {
				continue
			}
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

// leadsOn says that something is wired to a plug's tip.
func leadsOn(h *netlist.Harness, plug *netlist.Part) bool {
	if plug == nil {
		return false
	}
	tip := plug.Called("tip")
	islands := h.Islands()
	return tip != netlist.NoTerminal && len(islands.Members(islands.Of[tip])) > 1
}

// asJack finds tip and sleeve of a part that a plug goes into.
func asJack(p *netlist.Part) (Input, bool) {
	plug := slices.IndexFunc(p.Kind.Controls, func(c parts.Control) bool { return isPlug(&c) })
	if plug < 0 {
		return Input{}, false
	}
	tip, sleeve := p.Called("tip"), p.Called("sleeve")
	if tip == netlist.NoTerminal || sleeve == netlist.NoTerminal {
		return Input{}, false
	}
	return Input{Jack: p, Plug: netlist.ControlRef{Part: p, Control: plug}, Tip: tip, Sleeve: sleeve}, true
}

// A search looks for grids through passives, over conductors as of has them.
type search struct {
	of    func(netlist.TerminalID) int32
	at    map[int32][]int32
	ends  map[int32]bool
	grids map[int32]netlist.TerminalID
}

func newSearch(h *netlist.Harness, list []passive, point netlist.TerminalID, of func(netlist.TerminalID) int32) *search {
	s := &search{of: of, at: map[int32][]int32{}}
	s.ends, s.grids = stops(h, of)
	if point != netlist.NoTerminal {
		s.grids = map[int32]netlist.TerminalID{of(point): point}
		delete(s.ends, of(point))
	}
	for _, p := range list {
		s.link(of(p.ends[0]), of(p.ends[1]))
	}
	return s
}

func (s *search) link(a, b int32) {
	s.at[a] = append(s.at[a], b)
	s.at[b] = append(s.at[b], a)
}

// anyPosition is the search in which every switch, and every plug but one's
// own, lets through what it joins in some position.
func anyPosition(w *Web, list []passive, point netlist.TerminalID, s netlist.Setting, own netlist.ControlRef) *search {
	joined := newSets(w.conductors)
	at := w.at(s)
	free := func(c *Contact) bool {
		ref := w.Controls[c.Control]
		return ref != own && ref.Control != ref.Part.Kind.Seat
	}
	for i := range w.Contacts {
		if c := &w.Contacts[i]; !free(c) && c.At(int(at[c.Control])) {
			joined.join(c.a, c.b)
		}
	}
	of := func(t netlist.TerminalID) int32 { return joined.find(w.conductor[t]) }
	found := newSearch(w.Harness, list, point, of)
	for i := range w.Contacts {
		if c := &w.Contacts[i]; free(c) {
			found.link(of(c.A), of(c.B))
		}
	}
	return found
}

// driven says that an anode, a cathode or a winding feeds a jack's tip: it is
// a way out.
func (s *search) driven(in Input) bool {
	from, earth := s.of(in.Tip), s.of(in.Sleeve)
	seen := map[int32]bool{from: true, earth: true}
	queue := []int32{from}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		if s.ends[x] {
			return true
		}
		for _, y := range s.at[x] {
			if !seen[y] {
				seen[y] = true
				queue = append(queue, y)
			}
		}
	}
	return from == earth
}

// firstGrid is the grid that is fewest parts away from the input's tip.
func (s *search) firstGrid(in Input) netlist.TerminalID {
	from, earth := s.of(in.Tip), s.of(in.Sleeve)
	if from == earth || s.ends[from] {
		return netlist.NoTerminal
	}
	seen := map[int32]bool{from: true, earth: true}
	queue := []int32{from}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		if g, ok := s.grids[x]; ok {
			return g
		}
		for _, y := range s.at[x] {
			if !seen[y] && !s.ends[y] {
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
func stops(h *netlist.Harness, of func(netlist.TerminalID) int32) (ends map[int32]bool, grids map[int32]netlist.TerminalID) {
	ends, grids = map[int32]bool{}, map[int32]netlist.TerminalID{}
	for p, as := range h.There() {
		for _, w := range as.Kind.Windings {
			for _, t := range w.Ends {
				ends[of(p.Terminals[t])] = true
			}
		}
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			for n, t := range e.Ends {
				id := p.Terminals[t]
				switch {
				case e.Type == parts.Coil:
					ends[of(id)] = true
				case e.Type != parts.Triode && e.Type != parts.Pentode:
				case e.Type.Roles()[n] == "grid":
					if _, ok := grids[of(id)]; !ok {
						grids[of(id)] = id
					}
				default:
					ends[of(id)] = true
				}
			}
		}
	}
	return ends, grids
}
