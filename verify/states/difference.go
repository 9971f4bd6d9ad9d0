package states

import (
	"slices"

	"buzzout/netlist"
)

// A Difference says which contacts made two terminals one conductor, or no
// longer one, between two settings.
type Difference struct {
	Before, After bool
	// Contacts are the fewest whose change explains it: those that opened and
	// part the two, or those that closed on the way over the fewest of them.
	Contacts []*Contact
	Path     []netlist.PathStep // the way in the setting in which they are one, over those contacts
}

// Difference compares the scene with the same harness in another setting.
// other must be drawn from the same book.
func (sc *Scene) Difference(other *Scene, a, b netlist.TerminalID) Difference {
	d := Difference{Before: sc.Harness.Joined(a, b), After: other.Harness.Joined(a, b)}
	switch {
	case d.Before == d.After:
		return d
	case d.Before:
		d.Path = sc.Harness.Path(a, b)
		d.Contacts = sc.opened(other.Setting, a, b)
	default:
		d.Contacts = other.closedOnWay(sc.Setting, a, b)
		d.Path = other.pathOver(d.Contacts, sc.Setting, a, b)
	}
	return d
}

// opened is the least set of contacts, closed in the scene and open in the
// other setting, that parts a from b: a least cut, in which all that stays
// closed cannot be cut.
func (sc *Scene) opened(other netlist.Setting, a, b netlist.TerminalID) []*Contact {
	w := sc.Web
	stays := newSets(w.conductors)
	var arcs []*Contact
	for i := range w.Contacts {
		c := &w.Contacts[i]
		if !w.closed(c, sc.Setting) {
			continue
		}
		if w.closed(c, other) {
			stays.join(c.a, c.b)
		} else {
			arcs = append(arcs, c)
		}
	}
	return leastCut(arcs, stays, stays.find(w.conductor[a]), stays.find(w.conductor[b]))
}

// leastCut finds the fewest arcs that part two sets, by flow of one through
// each (Ford and Fulkerson; an arc lies across the cut that the last search
// could not pass). None, if the two are one set.
func leastCut(arcs []*Contact, s *sets, from, to int32) []*Contact {
	if from == to {
		return nil
	}
	flow := make([]int, len(arcs)) // +1 from a to b, -1 from b to a
	at := map[int32][]int{}
	for i, c := range arcs {
		at[s.find(c.a)] = append(at[s.find(c.a)], i)
		at[s.find(c.b)] = append(at[s.find(c.b)], i)
	}
	for {
		came := map[int32]int{from: -1}
		queue := []int32{from}
		for len(queue) > 0 && came[to] == 0 {
			x := queue[0]
			queue = queue[1:]
			for _, i := range at[x] {
				a, b := s.find(arcs[i].a), s.find(arcs[i].b)
				y, way := b, 1
				if x == b {
					y, way = a, -1
				}
				if _, seen := came[y]; seen || flow[i] == way {
					continue
				}
				came[y] = i + 1
				queue = append(queue, y)
			}
		}
		if came[to] == 0 {
			var cut []*Contact
			for _, c := range arcs {
				_, inA := came[s.find(c.a)]
				_, inB := came[s.find(c.b)]
				if inA != inB {
					cut = append(cut, c)
				}
			}
			return cut
		}
		for x := to; x != from; {
			i := came[x] - 1
			a, b := s.find(arcs[i].a), s.find(arcs[i].b)
			if x == b {
				flow[i]++
				x = a
			} else {
				flow[i]--
				x = b
			}
		}
	}
}

// closedOnWay are the contacts on the way from a to b that passes the fewest
// of those which were open in the other setting.
func (sc *Scene) closedOnWay(other netlist.Setting, a, b netlist.TerminalID) []*Contact {
	w := sc.Web
	at := map[int32][]*Contact{}
	for i := range w.Contacts {
		if c := &w.Contacts[i]; w.closed(c, sc.Setting) {
			at[c.a] = append(at[c.a], c)
			at[c.b] = append(at[c.b], c)
		}
	}
	from, to := w.conductor[a], w.conductor[b]
	type arrival struct {
		from int32
		by   *Contact
	}
	came := map[int32]arrival{from: {}}
	layers := [][]int32{{from}}
	best := map[int32]int{from: 0}
	for d := 0; d < len(layers); d++ {
		for i := 0; i < len(layers[d]); i++ {
			x := layers[d][i]
			if best[x] < d {
				continue
			}
			for _, c := range at[x] {
				y, cost := c.a+c.b-x, 0
				if !w.closed(c, other) {
					cost = 1
				}
				if known, seen := best[y]; seen && known <= d+cost {
					continue
				}
				best[y], came[y] = d+cost, arrival{x, c}
				for len(layers) <= d+cost {
					layers = append(layers, nil)
				}
				layers[d+cost] = append(layers[d+cost], y)
			}
		}
	}
	var list []*Contact
	for x := to; x != from; x = came[x].from {
		c := came[x].by
		if c == nil {
			return nil
		}
		if !w.closed(c, other) {
			list = append(list, c)
		}
	}
	slices.Reverse(list)
	return list
}

// pathOver is the way from a to b over the fewest joins that passes, of the
// contacts which were open in the other setting, those given and no other.
func (sc *Scene) pathOver(contacts []*Contact, other netlist.Setting, a, b netlist.TerminalID) []netlist.PathStep {
	h := sc.Harness
	shut := map[netlist.Join]bool{} // joins that were not there before
	for i := range sc.Web.Contacts {
		if c := &sc.Web.Contacts[i]; !sc.Web.closed(c, other) && !slices.Contains(contacts, c) {
			shut[netlist.Join{A: c.A, B: c.B, Part: c.Part}] = true
		}
	}
	came := make([]netlist.PathStep, len(h.Book.Terminals)) // where from
	seen := make([]bool, len(h.Book.Terminals))
	seen[a] = true
	queue := []netlist.TerminalID{a}
	for len(queue) > 0 && !seen[b] {
		t := queue[0]
		queue = queue[1:]
		for number, other := range h.Graph.At(int32(t)) {
			j := &h.Joins[number]
			if seen[other] || shut[netlist.Join{A: j.A, B: j.B, Part: j.Part}] {
				continue
			}
			seen[other] = true
			came[other] = netlist.PathStep{At: t, By: j}
			queue = append(queue, netlist.TerminalID(other))
		}
	}
	if !seen[b] {
		return h.Path(a, b)
	}
	var path []netlist.PathStep
	for t := b; t != a; t = came[t].At {
		path = append(path, netlist.PathStep{At: t, By: came[t].By})
	}
	path = append(path, netlist.PathStep{At: a})
	slices.Reverse(path)
	return path
}
