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
	// nothing that the notebook knows would. GivenUp says that the search came
	// to its bound: there may be a way over fewer, or a way at all.
	Gap     []Step
	GivenUp bool
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
	ans.Gap, ans.GivenUp = sc.Gap(a, b)
	ans.Through = sc.Through(a, b)
	return ans
}

// maxDetours is how often a way over a gap is looked for again because it
// asked one control to be in two positions at once.
const maxDetours = 256

// Gap finds the way from a to b that needs the fewest contacts to close and
// joints to be made. A way that would need a control in two positions at once
// is none: it is looked for again without one of the contacts that clash, the
// cheapest way so far first, so that the first without a clash is the least.
// It is nil where there is none; givenUp says that the search came to its bound.
func (sc *Scene) Gap(a, b netlist.TerminalID) (way []Step, givenUp bool) {
	type detour struct {
		without []int // contacts of the web that are not used
		way     []Step
		cost    int
	}
	var open []detour
	look := func(without []int) {
		if way := sc.leastGap(a, b, without); way != nil {
			open = append(open, detour{without, way, cost(way)})
		}
	}
	look(nil)
	for tries := 0; len(open) > 0; tries++ {
		least := 0
		for i := range open {
			if open[i].cost < open[least].cost {
				least = i
			}
		}
		next := open[least]
		open = slices.Delete(open, least, least+1)
		clash := sc.clash(next.way)
		if clash == nil {
			return next.way, false
		}
		if tries == maxDetours {
			return nil, true
		}
		for _, c := range clash {
			look(append(slices.Clone(next.without), c))
		}
	}
	return nil, false
}

// What a contact to close and a joint to make cost: as much, but for a little
// by which a switch to turn is the lesser of two ways that need as many.
const (
	costOfContact = 16
	costOfJoint   = 17
)

// cost is what a way still needs.
func cost(way []Step) int {
	n := 0
	for _, s := range way {
		switch {
		case s.Net != netlist.NoNet:
			n += costOfJoint
		case s.Contact != nil && !s.Closed:
			n += costOfContact
		}
	}
	return n
}

// clash gives contacts of a way that cannot all be closed together, as
// indices of Web.Contacts; nil if all of the way can.
func (sc *Scene) clash(way []Step) []int {
	used := map[int][]int{} // by control
	for _, s := range way {
		if s.Contact == nil {
			continue
		}
		control := s.Contact.Control
		used[control] = append(used[control], sc.Web.index(s.Contact))
		all := ^uint64(0)
		for _, c := range used[control] {
			all &= sc.Web.Contacts[c].Closed
		}
		if all == 0 {
			return used[control]
		}
	}
	return nil
}

// index is where a contact stands in Web.Contacts.
func (w *Web) index(c *Contact) int {
	for i := range w.Contacts {
		if &w.Contacts[i] == c {
			return i
		}
	}
	return -1
}

// leastGap is a breadth-first walk in layers of cost: what is there costs
// nothing.
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
				cost := costOfContact
				closed := c.At(int(at[c.Control]))
				if closed {
					cost = 0
				}
				reach(c.A+c.B-t, cost, Step{At: t, Contact: c, Closed: closed, Net: netlist.NoNet})
			}
			if net := book.Net(t); net != netlist.NoNet && !enteredNet[net] {
				enteredNet[net] = true
				for _, m := range book.Nets[net].Members {
					reach(m.Terminal, costOfJoint, Step{At: t, Net: net})
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
