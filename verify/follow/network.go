package follow

import (
	"math"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// Tone is the frequency, in hertz, at which a signal is followed: the middle
// of what a guitar plays, where coupling capacitors pass and small ones do not.
const Tone = 1000

// leak is the conductance, in siemens, from every conductor to earth: a
// thousand megohms, so that one which nothing else holds stands still.
const leak = 1e-9

// straight is the conductance of what is no resistance to speak of: a fuse, a
// lamp, a wiper at its stop.
const straight = 1

// still is the conductance of a supply that gives a steady voltage and does
// not lie on earth with one end; one that does holds still altogether.
const still = 1e4

// What a part without a figure is taken for. Only signs hang on it.
const (
	usualOhms        = 100e3
	usualTrack       = 500e3
	usualFarads      = 100e-9
	usualPolarFarads = 25e-6
	usualLoudspeaker = 8
)

// A link lets signal from one conductor to another without a valve.
type link struct {
	a, b    netlist.TerminalID
	y       complex128 // siemens at Tone
	part    *netlist.Part
	element int
	direct  bool // direct current passes as well
}

func (l *link) kind(n *network) *parts.Element { return &n.kindOf(l.part).Elements[l.element] }

// A valve is one system of a bottle that is in its holder.
type valve struct {
	part    *netlist.Part
	element int
	anode, grid, cathode, screen,
	suppressor netlist.TerminalID
	figures Figures
}

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
	bench   *netlist.Bench

	from, earth, back netlist.TerminalID

	links  []link
	cores  []core
	valves []valve
	out    []*netlist.Part // valves that are not in their holders
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
func newNetwork(h *netlist.Harness, setting netlist.Setting, bench *netlist.Bench, from, to netlist.TerminalID) *network {
	n := &network{book: h.Book, h: h, of: h.Islands().Of, setting: setting, bench: bench, from: from}
	n.earth, n.back = earthOf(h, from)
	for _, p := range h.Book.Parts {
		n.take(p)
	}
	n.supplies(to)
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

// kindOf is what really sits in the part's place.
func (n *network) kindOf(p *netlist.Part) *parts.Kind {
	if f := n.fitting(p); f != nil && f.Kind != nil && len(f.Kind.Terminals) == len(p.Kind.Terminals) {
		return f.Kind
	}
	return p.Kind
}

func (n *network) fitting(p *netlist.Part) *netlist.Fitting {
	if n.bench == nil {
		return nil
	}
	return n.bench.Fittings[p]
}

// values are the figures of the part's elements: those that were fitted,
// else those of the plan.
func (n *network) values(p *netlist.Part) ([]lang.Figure, []lang.Figure) {
	f := n.fitting(p)
	if f == nil || len(f.Figures) == 0 && f.Kind == nil {
		return p.Values, p.Figures
	}
	var line []lang.Word
	for _, figure := range f.Figures {
		for _, word := range strings.Fields(figure.Text) {
			line = append(line, lang.Word{Text: word})
		}
	}
	k := n.kindOf(p)
	fitted := k.ReadLine(line)
	values := slices.Clone(fitted.Values)
	if k == p.Kind {
		for i := range values {
			if values[i].Text == "" && i < len(p.Values) {
				values[i] = p.Values[i]
			}
		}
	}
	return values, fitted.Figures
}

// take adds what a part puts between conductors.
func (n *network) take(p *netlist.Part) {
	k := n.kindOf(p)
	seated := p.Seated(n.setting)
	if len(k.Elements) == 0 && len(k.Windings) == 0 {
		if isSupply(p) {
			n.links = append(n.links, link{a: p.Terminals[0], b: p.Terminals[1], y: still, part: p, element: -1})
		}
		return
	}
	values, figures := n.values(p)
	for i := range k.Elements {
		e := &k.Elements[i]
		end := func(x int) netlist.TerminalID { return p.Terminals[e.Ends[x]] }
		if e.Type == parts.Triode || e.Type == parts.Pentode {
			if seated {
				n.takeValve(p, i, e)
			} else if !slices.Contains(n.out, p) {
				n.out = append(n.out, p)
			}
			continue
		}
		if !seated {
			continue
		}
		value := 0.0
		if i < len(values) && values[i].Text != "" {
			value = values[i].Value
		}
		add := func(a, b netlist.TerminalID, y complex128, direct bool) {
			n.links = append(n.links, link{a: a, b: b, y: y, part: p, element: i, direct: direct})
		}
		switch e.Type {
		case parts.Resistance:
			add(end(0), end(1), conductance(n.figure(p, value, usualOhms)), true)
		case parts.Capacitance:
			usual := usualFarads
			if e.Polar {
				usual = usualPolarFarads
			}
			add(end(0), end(1), complex(0, 2*math.Pi*Tone*n.figure(p, value, usual)), false)
		case parts.Track:
			ohms := n.figure(p, value, usualTrack)
			below, known := n.trackBelow(p, i)
			if !known {
				n.unset = append(n.unset, p)
			}
			add(end(0), end(1), conductance(ohms*below), true)
			add(end(1), end(2), conductance(ohms*(1-below)), true)
		case parts.Coil:
			add(end(0), end(1), n.coil(k, i, values, figures), true)
		case parts.Fuse, parts.Lamp:
			add(end(0), end(1), straight, true)
		}
	}
	if len(k.Windings) > 0 && k == p.Kind {
		n.cores = append(n.cores, coreOf(p, n.loudspeakerAcross))
	}
}

func conductance(ohms float64) complex128 {
	return complex(min(1/ohms, straight), 0)
}

func (n *network) figure(p *netlist.Part, value, usual float64) float64 {
	if value > 0 {
		return value
	}
	if !slices.Contains(n.bare, p) {
		n.bare = append(n.bare, p)
	}
	return usual
}

// coil is a loudspeaker with its impedance, or a choke with its henries and
// its wire. One of which nothing is known is a few turns of wire, as a bead.
func (n *network) coil(k *parts.Kind, element int, values, figures []lang.Figure) complex128 {
	e := &k.Elements[element]
	z := complex128(0)
	if element < len(values) {
		switch v := values[element]; {
		case v.Text == "":
		case v.Quantity == lang.Henries:
			z = complex(0, 2*math.Pi*Tone*v.Value)
		case v.Quantity == lang.Ohms:
			z = complex(v.Value, 0)
		}
	}
	if w, ok := k.WireOhms(element, figures); ok && imag(z) != 0 {
		z += complex(w.Value, 0)
	}
	if z == 0 && e.Nominal {
		z = usualLoudspeaker
	}
	if abs(z) < 1/straight {
		return straight
	}
	return 1 / z
}

func (n *network) takeValve(p *netlist.Part, element int, e *parts.Element) {
	v := valve{part: p, element: element, screen: netlist.NoTerminal, suppressor: netlist.NoTerminal, figures: figuresOf(n.kindOf(p), e.Type)}
	for i, role := range e.Type.Roles() {
		if i >= len(e.Ends) {
			break
		}
		t := p.Terminals[e.Ends[i]]
		switch role {
		case "anode":
			v.anode = t
		case "grid":
			v.grid = t
		case "cathode":
			v.cathode = t
		case "screen":
			v.screen = t
		case "suppressor":
			v.suppressor = t
		}
	}
	n.valves = append(n.valves, v)
	n.links = append(n.links, link{a: v.anode, b: v.cathode, y: complex(1/v.figures.Anode, 0), part: p, element: element})
}

// isSupply says that a part of two terminals with nothing in it gives a steady
// voltage: to a signal its two ends are one.
func isSupply(p *netlist.Part) bool {
	k := p.Kind
	if len(k.Terminals) != 2 || len(k.Controls) > 0 || len(k.Joined) > 0 {
		return false
	}
	plus, _ := k.Find("positive")
	minus, _ := k.Find("negative")
	return len(plus) == 1 && len(minus) == 1
}

// trackBelow is the share of a track between its anticlockwise end and the
// wiper, 0 to 1; a track that nobody has set is taken at half its travel.
//
// The wiper of a log track at half its travel has 12.5 % of the track below
// it, an antilog one 87.5 %: the middle of the 10 to 15 % and 85 to 90 % that
// makers' tables give.
func (n *network) trackBelow(p *netlist.Part, element int) (below float64, known bool) {
	turn, known := n.turnOf(p, element)
	atHalf := 0.5
	for _, w := range p.Words {
		switch lang.Fold(w) {
		case "log", "audio":
			atHalf = 0.125
		case "antilog", "reverse-log":
			atHalf = 0.875
		}
	}
	// Two straight pieces that meet at half the travel: how log tracks are made
	// (common practice, no source).
	if turn <= 0.5 {
		return turn * 2 * atHalf, known
	}
	return atHalf + (turn-0.5)*2*(1-atHalf), known
}

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
