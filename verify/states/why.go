package states

import (
	"slices"

	"buzzout/netlist"
)

// A Scene is a harness in one setting, with its web: what the questions of
// this package are asked of.
type Scene struct {
	Harness *netlist.Harness
	Setting netlist.Setting
	Web     *Web
}

// NewScene looks at a harness that was drawn in that setting.
func NewScene(h *netlist.Harness, s netlist.Setting) *Scene {
	return &Scene{Harness: h, Setting: s, Web: NewWeb(h, s)}
}

// An Answer says why two terminals are one conductor, or why not.
type Answer struct {
	A, B   netlist.TerminalID
	Joined bool // in the setting of the scene
	// Path is the way from A to B over the fewest joins, where they are joined.
	Path []netlist.PathStep
	// Table says in which settings they are one.
	Table Table
	// Gap is the least that would join them, where they are not; nil if
	// nothing that the notebook knows would.
	Gap []Step
	// Through is the way from A to B over the fewest parts, where they are not
	// joined; nil if there is none.
	Through []Pass
}

// A Step on the way over a gap: Contact has to close, or a joint of the plan
// has to be made; a step with neither is there already.
type Step struct {
	At      netlist.TerminalID
	By      *netlist.Join // that led here, where it is there
	Contact *Contact      // that has to close to come here
	Closed  bool          // the contact is closed in the setting of the scene
	Net     netlist.NetID // whose joint is missing on the way here; NoNet
}

// Why answers why two terminals are one conductor, or why not.
func (sc *Scene) Why(a, b netlist.TerminalID) Answer {
	w := sc.Web
	ans := Answer{A: a, B: b, Joined: sc.Harness.Joined(a, b)}
	ans.Table = w.Table(w.conductor[a], w.conductor[b], w.at(sc.Setting))
	if ans.Joined {
		ans.Path = sc.Harness.Path(a, b)
		return ans
	}
	ans.Gap = sc.gap(a, b)
	ans.Through = sc.Through(a, b)
	return ans
}

// maxDetours is how often a way over a gap is looked for again because it
// asked one control to be in two positions at once.
const maxDetours = 64

// gap finds the way from a to b that needs the fewest contacts to close and
// joints to be made. A way that would need a control in two positions at once
// is none.
func (sc *Scene) gap(a, b netlist.TerminalID) []Step {
	type attempt struct {
		without []int // contacts of the web that are not used
	}
	queue := []attempt{{}}
	var best []Step
	for tries := 0; len(queue) > 0 && tries < maxDetours; tries++ {
		next := queue[0]
		queue = queue[1:]
		way := sc.leastGap(a, b, next.without)
		if way == nil || best != nil && cost(way) >= cost(best) {
			continue
		}
		clash := sc.clash(way)
		if clash == nil {
			best = way
			continue
		}
		for _, c := range clash {
			queue = append(queue, attempt{append(slices.Clone(next.without), c)})
		}
	}
	return best
}

// cost is how many contacts and joints a way still needs.
func cost(way []Step) int {
	n := 0
	for _, s := range way {
		if s.Contact != nil && !s.Closed || s.Net != netlist.NoNet {
			n++
		}
	}
	return n
}

// clash gives two contacts of a way that cannot be closed together, as
// indices of Web.Contacts; nil if all can.
func (sc *Scene) clash(way []Step) []int {
	allowed := map[int]uint64{}
	last := map[int]int{}
	for _, s := range way {
		if s.Contact == nil {
			continue
		}
		i := s.Contact.Control
		m, seen := allowed[i]
		if !seen {
			m = ^uint64(0)
		}
		index := slices.IndexFunc(sc.Web.Contacts, func(c Contact) bool {
			return c.A == s.Contact.A && c.B == s.Contact.B && c.Control == s.Contact.Control && c.Closed == s.Contact.Closed
		})
		if m &= s.Contact.Closed; m == 0 {
			return []int{last[i], index}
		}
		allowed[i], last[i] = m, index
	}
	return nil
}

// leastGap is a 0-1 breadth-first walk: what is there costs nothing, a
// contact that is open or a joint that is missing costs one.
func (sc *Scene) leastGap(a, b netlist.TerminalID, without []int) []Step {
	book := sc.Harness.Book
	n := len(book.Terminals)
	contactsAt := make([][]int, n)
	for i := range sc.Web.Contacts {
		c := &sc.Web.Contacts[i]
		if !slices.Contains(without, i) {
			contactsAt[c.A] = append(contactsAt[c.A], i)
			contactsAt[c.B] = append(contactsAt[c.B], i)
		}
	}
	at := sc.Web.at(sc.Setting)
	const far = int(^uint(0) >> 1)
	distance := make([]int, n)
	came := make([]Step, n) // Step.At is where from
	for i := range distance {
		distance[i] = far
	}
	distance[a] = 0
	layers := [][]netlist.TerminalID{{a}}
	enteredNet := make([]bool, len(book.Nets))
	for d := 0; d < len(layers); d++ {
		reach := func(to netlist.TerminalID, cost int, by Step) {
			if d+cost >= distance[to] {
				return
			}
			distance[to] = d + cost
			came[to] = by
			for len(layers) <= d+cost {
				layers = append(layers, nil)
			}
			layers[d+cost] = append(layers[d+cost], to)
		}
		for i := 0; i < len(layers[d]); i++ {
			t := layers[d][i]
			if distance[t] < d {
				continue
			}
			if t == b {
				return walkBack(came, a, b)
			}
			for join, other := range sc.Harness.Graph.At(int32(t)) {
				j := &sc.Harness.Joins[join]
				if j.Kind != netlist.ByContact && j.Kind != netlist.ByPlug {
					reach(netlist.TerminalID(other), 0, Step{At: t, By: j, Net: netlist.NoNet})
				}
			}
			for _, ci := range contactsAt[t] {
				c := &sc.Web.Contacts[ci]
				cost := 1
				closed := c.At(int(at[c.Control]))
				if closed {
					cost = 0
				}
				reach(c.A+c.B-t, cost, Step{At: t, Contact: c, Closed: closed, Net: netlist.NoNet})
			}
			if net := book.Net(t); net != netlist.NoNet && !enteredNet[net] {
				enteredNet[net] = true
				for _, m := range book.Nets[net].Members {
					reach(m.Terminal, 1, Step{At: t, Net: net})
				}
			}
		}
	}
	return nil
}

func walkBack(came []Step, a, b netlist.TerminalID) []Step {
	var way []Step
	for t := b; t != a; {
		s := came[t]
		from := s.At
		s.At = t
		way = append(way, s)
		t = from
	}
	way = append(way, Step{At: a, Net: netlist.NoNet})
	slices.Reverse(way)
	return way
}

// A Difference says which contacts made two terminals one conductor, or no
// longer one, between two settings.
type Difference struct {
	Before, After bool
	// Contacts are the fewest whose change explains it: those that opened and
	// part the two, or those that closed on the way over the fewest of them.
	Contacts []*Contact
	Path     []netlist.PathStep // the way in the setting in which they are one
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
		d.Path = other.Harness.Path(a, b)
		d.Contacts = other.closedOnWay(sc.Setting, a, b)
	}
	return d
}

// opened is the least set of contacts, closed in the scene and open in the
// other setting, that parts a from b: a least cut, in which all that stays
// closed cannot be cut.
func (sc *Scene) opened(other netlist.Setting, a, b netlist.TerminalID) []*Contact {
	w := sc.Web
	before, after := w.at(sc.Setting), w.at(other)
	stays := newSets(w.conductors)
	var arcs []*Contact
	for i := range w.Contacts {
		c := &w.Contacts[i]
		if !c.At(int(before[c.Control])) {
			continue
		}
		if c.At(int(after[c.Control])) {
			stays.join(c.a, c.b)
		} else {
			arcs = append(arcs, c)
		}
	}
	from, to := stays.find(w.conductor[a]), stays.find(w.conductor[b])
	return leastCut(arcs, stays, from, to)
}

// leastCut finds the fewest arcs that part two sets, by flow of one through
// each (Ford and Fulkerson; an arc lies across the cut that the last search
// could not pass).
func leastCut(arcs []*Contact, s *sets, from, to int32) []*Contact {
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
	now, before := w.at(sc.Setting), w.at(other)
	at := map[int32][]*Contact{}
	for i := range w.Contacts {
		if c := &w.Contacts[i]; c.At(int(now[c.Control])) {
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
				if !c.At(int(before[c.Control])) {
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
		if !c.At(int(before[c.Control])) {
			list = append(list, c)
		}
	}
	slices.Reverse(list)
	return list
}
