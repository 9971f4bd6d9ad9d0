package follow

import (
	"slices"

	"buzzout/netlist"
)

// Tone is the frequency, in hertz, at which a signal is followed: the middle
// of what a guitar plays, where coupling capacitors pass and small ones do not.
const Tone = 1000

// leak is the conductance, in siemens, from every conductor to earth: a
// thousand megohms, so that one which nothing else holds stands still.
const leak = 1e-9

// A state is the signal everywhere when one thing alone feeds the network:
// the source with its one volt, or a valve with one ampere, from its cathode
// out into its anode circuit.
type state struct {
	x      []complex128
	source complex128
}

// A network is the amplifier as a signal sees it, in one setting: conductors
// with what is passive between them, solved once; and valves, which the
// passive part feeds and which feed it.
type network struct {
	book    *netlist.Book
	h       *netlist.Harness
	of      []int32 // conductor of each terminal
	setting netlist.Setting

	from, earth, back netlist.TerminalID

	links  []link
	cores  []core
	valves []valve
	diodes []link          // of which few conduct
	out    []*netlist.Part // valves that are not in their holders
	idle   []hanging       // valves through which no current can flow
	unset  []*netlist.Part // pots that nobody has set
	bare   []*netlist.Part // parts without a figure
	supply []netlist.TerminalID

	node []int // by conductor: its unknown, or earthed, sourced, apart
	m    *matrix
	rest state   // what the source gives with all valves still
	each []state // what each valve gives, with all others still
}

const (
	apart   = -3 // nothing leads there
	sourced = -2
	earthed = -1
)

// newNetwork draws the network of a harness. from is fed; to, where there is
// one, is never taken for a supply.
func newNetwork(h *netlist.Harness, setting netlist.Setting, from, to netlist.TerminalID) *network {
	n := &network{book: h.Book, h: h, of: h.Islands().Of, setting: setting, from: from}
	n.earth, n.back = earthOf(h, from)
	for p, as := range h.There() {
		n.take(p, &as)
	}
	n.light()
	n.supplies(to)
	n.hangers()
	n.number()
	n.stamp()
	n.rest = n.fed()
	n.each = make([]state, len(n.valves))
	for i := range n.valves {
		n.each[i] = n.driven(i)
	}
	return n
}

func (n *network) same(a, b netlist.TerminalID) bool { return n.of[a] == n.of[b] }

// number finds the conductors that the source can have to do with and counts
// them; earth is not passed.
func (n *network) number() {
	n.node = make([]int, n.h.Islands().Count())
	for i := range n.node {
		n.node[i] = apart
	}
	at := make([][]int32, len(n.node))
	touch := func(list ...netlist.TerminalID) {
		for i, a := range list {
			for _, b := range list[:i] {
				at[n.of[a]] = append(at[n.of[a]], n.of[b])
				at[n.of[b]] = append(at[n.of[b]], n.of[a])
			}
		}
	}
	for i := range n.links {
		touch(n.links[i].a, n.links[i].b)
	}
	for i := range n.valves {
		v := &n.valves[i]
		touch(v.anode, v.grid, v.cathode)
		if v.screen != netlist.NoTerminal {
			touch(v.screen, v.cathode)
		}
	}
	for i := range n.cores {
		var ends []netlist.TerminalID
		for k := range n.cores[i].sections {
			ends = append(ends, n.cores[i].sections[k].a, n.cores[i].sections[k].b)
		}
		touch(ends...) // one of them may be on earth, and all the others follow each other
	}
	n.hold()
	n.node[n.of[n.from]] = sourced
	queue := []int32{n.of[n.from]}
	count := 0
	for len(queue) > 0 {
		c := queue[0]
		queue = queue[1:]
		for _, d := range at[c] {
			if n.node[d] == apart {
				n.node[d] = count
				count++
				queue = append(queue, d)
			}
		}
	}
	for i := range n.cores {
		c := &n.cores[i]
		c.node = apart
		if slices.ContainsFunc(c.sections, func(s section) bool { return n.inPlay(s.a) || n.inPlay(s.b) }) {
			c.node = count
			count++
		}
	}
	n.m = newMatrix(count)
}

// hold gives the conductors that hold still: earth, the points where a supply
// comes in, and what a supply holds against one of them.
func (n *network) hold() {
	n.node[n.of[n.earth]] = earthed
	for _, t := range n.supply {
		n.node[n.of[t]] = earthed
	}
	for changed := true; changed; {
		changed = false
		for i := range n.links {
			l := &n.links[i]
			a, b := n.of[l.a], n.of[l.b]
			if l.y == still && (n.node[a] == earthed) != (n.node[b] == earthed) {
				n.node[a], n.node[b] = earthed, earthed
				changed = true
			}
		}
	}
}

// inPlay says that the source can have to do with a terminal.
func (n *network) inPlay(t netlist.TerminalID) bool {
	node := n.node[n.of[t]]
	return node >= 0 || node == sourced
}

// stamp writes down that what flows into each conductor flows out again, with
// all valves still.
func (n *network) stamp() {
	for _, node := range n.node {
		if node >= 0 {
			n.m.add(node, node, leak)
		}
	}
	for i := range n.links {
		l := &n.links[i]
		n.between(n.node[n.of[l.a]], n.node[n.of[l.b]], l.y)
	}
	for i := range n.cores {
		c := &n.cores[i]
		if c.node == apart {
			continue
		}
		n.m.add(c.node, c.node, magnetising)
		for k := range c.sections {
			s := &c.sections[k]
			a, b, g, t := n.node[n.of[s.a]], n.node[n.of[s.b]], complex(s.g, 0), complex(s.turns, 0)
			n.between(a, b, g)
			n.m.add(c.node, c.node, t*t*g)
			if a >= 0 {
				n.m.add(a, c.node, -g*t)
				n.m.add(c.node, a, -g*t)
			}
			if b >= 0 {
				n.m.add(b, c.node, g*t)
				n.m.add(c.node, b, g*t)
			}
		}
	}
}

func (n *network) between(a, b int, y complex128) {
	if a >= 0 {
		n.m.add(a, a, y)
		if b >= 0 {
			n.m.add(a, b, -y)
			n.m.add(b, a, -y)
		}
	}
	if b >= 0 {
		n.m.add(b, b, y)
	}
}

// fed is the state in which the source holds its conductor at one volt. It
// factors the network, so it comes first.
func (n *network) fed() state {
	right := make([]complex128, n.m.n)
	feed := func(a, b int, y complex128) {
		if a == sourced && b >= 0 {
			right[b] += y
		}
	}
	for i := range n.links {
		l := &n.links[i]
		a, b := n.node[n.of[l.a]], n.node[n.of[l.b]]
		feed(a, b, l.y)
		feed(b, a, l.y)
	}
	for i := range n.cores {
		c := &n.cores[i]
		if c.node == apart {
			continue
		}
		for k := range c.sections {
			s := &c.sections[k]
			a, b, g := n.node[n.of[s.a]], n.node[n.of[s.b]], complex(s.g, 0)
			feed(a, b, g)
			feed(b, a, g)
			if a == sourced {
				right[c.node] += g * complex(s.turns, 0)
			}
			if b == sourced {
				right[c.node] -= g * complex(s.turns, 0)
			}
		}
	}
	n.m.factor()
	return state{n.m.solve(right), 1}
}

// driven is the state in which one valve alone feeds the network: one ampere
// flows in at its anode and out at its cathode, and as much of it again as
// the screen grid takes.
func (n *network) driven(i int) state {
	v := &n.valves[i]
	right := make([]complex128, n.m.n)
	inject := func(t netlist.TerminalID, amperes float64) {
		if node := n.node[n.of[t]]; node >= 0 {
			right[node] += complex(amperes, 0)
		}
	}
	inject(v.anode, -1)
	inject(v.cathode, 1+v.figures.Share)
	if v.screen != netlist.NoTerminal {
		inject(v.screen, -v.figures.Share)
	}
	return state{n.m.solve(right), 0}
}

// at is the signal on a conductor.
func (n *network) at(s *state, conductor int32) complex128 {
	switch node := n.node[conductor]; {
	case node >= 0:
		return s.x[node]
	case node == sourced:
		return s.source
	}
	return 0
}

func (n *network) volts(s *state, t netlist.TerminalID) complex128 { return n.at(s, n.of[t]) }
