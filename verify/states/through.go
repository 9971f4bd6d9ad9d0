package states

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A Pass is one step of a way that goes through parts: along the conductor
// from At, then through the part's element to Out.
type Pass struct {
	At      netlist.TerminalID // where the step begins
	Copper  []netlist.PathStep // the way along the conductor to In; of length one where there is none
	In, Out netlist.TerminalID // the ends of the element that is passed; NoTerminal in the last step
	Part    *netlist.Part      // nil in the last step
	Element *parts.Element     // nil for a winding
}

// A link is something that lets current from one conductor to another.
type link struct {
	a, b    netlist.TerminalID
	part    *netlist.Part
	element *parts.Element
}

// links are the passive elements of the parts that are in their places:
// resistances, tracks, capacitances, windings and coils, diodes, fuses and
// lamps. Valves are not: their grids let nothing through.
func (sc *Scene) links() []link {
	var list []link
	for _, p := range sc.Harness.Book.Parts {
		if !p.Seated(sc.Setting) {
			continue
		}
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			ends := func(x, y int) {
				list = append(list, link{p.Terminals[e.Ends[x]], p.Terminals[e.Ends[y]], p, e})
			}
			switch e.Type {
			case parts.Track:
				ends(0, 1)
				ends(1, 2)
			case parts.Resistance, parts.Capacitance, parts.Coil, parts.Diode, parts.Fuse, parts.Lamp:
				ends(0, 1)
			}
		}
		for _, winding := range p.Kind.Windings {
			for i := 1; i < len(winding.Ends); i++ {
				list = append(list, link{a: p.Terminals[winding.Ends[i-1]], b: p.Terminals[winding.Ends[i]], part: p})
			}
		}
	}
	return list
}

// Through is the way from a to b over the fewest parts; nil if there is none.
// Of equally short ways the one over the parts named first is taken. A way by
// ground, over the chassis or the sleeve of a jack, is taken only where there
// is no other: through ground nearly everything is joined to everything.
func (sc *Scene) Through(a, b netlist.TerminalID) []Pass {
	if way := sc.through(a, b, sc.ground()); way != nil {
		return way
	}
	return sc.through(a, b, nil)
}

// ground are the conductors of the chassis and of the jacks' sleeves.
func (sc *Scene) ground() map[int32]bool {
	of := sc.Harness.Islands().Of
	list := map[int32]bool{}
	for _, p := range sc.Harness.Book.Parts {
		if p.Kind.JoinedAny && len(p.Terminals) > 0 {
			list[of[p.Terminals[0]]] = true
		}
		if in, ok := asJack(p); ok {
			list[of[in.Sleeve]] = true
		}
	}
	return list
}

// through is the way from a to b that passes none of the conductors shunned;
// it may begin or end on one.
func (sc *Scene) through(a, b netlist.TerminalID, shun map[int32]bool) []Pass {
	islands := sc.Harness.Islands()
	at := map[int32][]link{}
	for _, l := range sc.links() {
		x, y := islands.Of[l.a], islands.Of[l.b]
		if x != y {
			at[x] = append(at[x], l)
			at[y] = append(at[y], l)
		}
	}
	from, to := islands.Of[a], islands.Of[b]
	came := map[int32]link{}
	seen := map[int32]bool{from: true}
	queue := []int32{from}
	for len(queue) > 0 && !seen[to] {
		x := queue[0]
		queue = queue[1:]
		if shun[x] && x != from {
			continue
		}
		for _, l := range at[x] {
			if islands.Of[l.a] != x {
				l.a, l.b = l.b, l.a
			}
			y := islands.Of[l.b]
			if !seen[y] {
				seen[y] = true
				came[y] = l
				queue = append(queue, y)
			}
		}
	}
	if !seen[to] || from == to {
		return nil
	}
	var links []link
	for x := to; x != from; x = islands.Of[links[len(links)-1].a] {
		links = append(links, came[x])
	}
	slices.Reverse(links)
	var way []Pass
	here := a
	for _, l := range links {
		way = append(way, Pass{At: here, Copper: sc.Harness.Path(here, l.a), In: l.a, Out: l.b, Part: l.part, Element: l.element})
		here = l.b
	}
	return append(way, Pass{At: here, Copper: sc.Harness.Path(here, b), In: netlist.NoTerminal, Out: netlist.NoTerminal})
}
