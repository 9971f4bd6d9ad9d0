package states

import (
	"slices"

	"buzzout/lang"
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
	Value   lang.Figure        // of the element; Text is "" where it has none
	// Stopped says that the two ends are an end of a track and its wiper, which
	// stands at that stop: an ohmmeter finds nothing between them.
	Stopped bool
}

// A link is something that lets current from one conductor to another.
type link struct {
	a, b    netlist.TerminalID
	part    *netlist.Part
	element *parts.Element
	value   lang.Figure
	stopped bool
}

// links are the passive elements of the parts that are in their places:
// resistances, tracks, capacitances, windings and coils, diodes, fuses and
// lamps. Valves are not: their grids let nothing through.
func (sc *Scene) links() []link {
	var list []link
	for p, as := range sc.Harness.There() {
		if !p.Seated(sc.Setting) {
			continue
		}
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			ends := func(x, y int, stopped bool) {
				list = append(list, link{p.Terminals[e.Ends[x]], p.Terminals[e.Ends[y]], p, e, as.Values[i], stopped})
			}
			switch e.Type {
			case parts.Track:
				var at netlist.Position
				if e.By >= 0 {
					at = sc.Setting.PositionOf(netlist.ControlRef{Part: p, Control: e.By})
				}
				ends(0, 1, at.Known && at.Turn == 0)
				ends(1, 2, at.Known && at.Turn == 1)
			case parts.Resistance, parts.Capacitance, parts.Coil, parts.Diode, parts.Fuse, parts.Lamp:
				ends(0, 1, false)
			}
		}
		for _, winding := range as.Kind.Windings {
			for i := 1; i < len(winding.Ends); i++ {
				list = append(list, link{a: p.Terminals[winding.Ends[i-1]], b: p.Terminals[winding.Ends[i]], part: p})
			}
		}
	}
	return list
}

// Through is the way from a to b over the fewest parts; nil if there is none.
// Of equally short ways the one over the parts named first is taken. A way
// over wipers at their stops alone comes before all others, since there is no
// resistance in it. A way by ground, over the chassis or the sleeve of a jack,
// is taken only where there is no other: through ground nearly everything is
// joined to everything.
func (sc *Scene) Through(a, b netlist.TerminalID) []Pass {
	links := sc.links()
	stopped := slices.DeleteFunc(slices.Clone(links), func(l link) bool { return !l.stopped })
	if way := sc.through(a, b, stopped, nil); way != nil {
		return way
	}
	if way := sc.through(a, b, links, sc.ground()); way != nil {
		return way
	}
	return sc.through(a, b, links, nil)
}

// AtStops says that a way leads over wipers at their stops alone, so that an
// ohmmeter finds nothing between its ends.
func AtStops(way []Pass) bool {
	return len(way) > 1 && !slices.ContainsFunc(way, func(p Pass) bool { return p.Part != nil && !p.Stopped })
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

// through is the way from a to b over some links that passes none of the
// conductors shunned; it may begin or end on one.
func (sc *Scene) through(a, b netlist.TerminalID, over []link, shun map[int32]bool) []Pass {
	islands := sc.Harness.Islands()
	at := map[int32][]link{}
	for _, l := range over {
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
		way = append(way, Pass{At: here, Copper: sc.Harness.Path(here, l.a), In: l.a, Out: l.b, Part: l.part, Element: l.element, Value: l.value, Stopped: l.stopped})
		here = l.b
	}
	return append(way, Pass{At: here, Copper: sc.Harness.Path(here, b), In: netlist.NoTerminal, Out: netlist.NoTerminal})
}
