package meter

import (
	"cmp"
	"slices"

	"buzzout/netlist"
)

// A Conductor is a set of terminals that are joined.
type Conductor struct {
	Number    int32 // as in [Network.Conductor]
	Nets      []string
	Terminals []netlist.TerminalID // rising
	// Probe is the terminal where a probe goes most easily: a tag before a
	// socket's pin, a pin before a leg.
	Probe netlist.TerminalID
	Mains bool // the mains is on it when the plug is in, or comes through a fuse or switch
}

// Conductors lists the conductors that have a name or join something: those
// with a net of the plan, and those of two terminals or more. They come in the
// order of a walk: part by part, and along each part or board in the order of
// its terminals, by the terminal for the probe.
func (n *Network) Conductors() []Conductor {
	if n.names != nil {
		return n.names
	}
	mains := n.mainsConductors()
	islands := n.Harness.Islands()
	list := []Conductor{}
	for i := range int32(islands.Count()) {
		c := Conductor{Number: i, Terminals: n.together(i), Mains: mains[i]}
		for _, t := range c.Terminals {
			net := n.Book.Net(t)
			if net == netlist.NoNet {
				continue
			}
			if name := n.Book.Nets[net].Name; !slices.Contains(c.Nets, name) {
				c.Nets = append(c.Nets, name)
			}
		}
		if len(c.Nets) == 0 && len(c.Terminals) < 2 {
			continue
		}
		c.Probe = slices.MinFunc(c.Terminals, func(a, b netlist.TerminalID) int {
			return cmp.Or(cmp.Compare(n.inReach(a, c.Terminals), n.inReach(b, c.Terminals)), cmp.Compare(a, b))
		})
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b Conductor) int {
		return cmp.Or(cmp.Compare(n.partIndex(a.Probe), n.partIndex(b.Probe)), cmp.Compare(a.Probe, b.Probe))
	})
	n.names = list
	return list
}

// inReach is how awkward a terminal is beside others that it is joined to: an end
// from which a coloured lead flies is inside its part, and no probe comes there.
func (n *Network) inReach(t netlist.TerminalID, joined []netlist.TerminalID) int {
	const inside = 5
	if term := &n.Book.Terminals[t]; !term.Lead && slices.ContainsFunc(joined, func(other netlist.TerminalID) bool {
		lead := &n.Book.Terminals[other]
		return lead.Lead && lead.Part == term.Part
	}) {
		return inside
	}
	return n.Awkward(t)
}

func (n *Network) partIndex(t netlist.TerminalID) int {
	if p := n.Book.Terminals[t].Part; p != nil {
		return p.Index
	}
	return len(n.Book.Parts)
}

// Awkward says how hard it is to hold a probe on a terminal, 0 for the easiest:
// tags, pads and bolts; then the pins of sockets, whose other side is free for
// a probe; then tags of pots, jacks and switches; then legs of small parts and
// flying leads; a print by itself cannot be touched and comes last.
func (n *Network) Awkward(t netlist.TerminalID) int {
	term := &n.Book.Terminals[t]
	switch {
	case term.Print != nil:
		return 9
	case term.Tie, term.Part.Kind.Any:
		return 0
	case term.Lead:
		return 4
	}
	k := term.Part.Kind
	switch {
	case len(k.Terminals) == 1:
		return 0
	case len(k.Rings) > 0:
		return 1
	case len(k.Controls) > 0 || len(k.Terminals) > 3:
		return 2
	}
	return 3
}

// Ground is where the black probe stays: a point of the part that is one
// conductor however many bolts it has, the chassis, and where there are several
// such parts, or none, the conductor with the most terminals. NoTerminal where
// nothing is joined at all.
func (n *Network) Ground() netlist.TerminalID {
	if n.ground == nil {
		g := n.findGround()
		n.ground = &g
	}
	return *n.ground
}

func (n *Network) findGround() netlist.TerminalID {
	islands := n.Harness.Islands()
	best, most, found := netlist.NoTerminal, 1, false
	for _, p := range n.Book.Parts {
		if !p.Kind.JoinedAny || len(p.Terminals) == 0 {
			continue
		}
		if size := len(islands.Members(islands.Of[p.Terminals[0]])); size > most {
			best, most, found = n.busiest(p.Terminals), size, true
		}
	}
	if found {
		return best
	}
	for i := range int32(islands.Count()) {
		if members := islands.Members(i); len(members) > most {
			most = len(members)
			best = netlist.TerminalID(members[0])
		}
	}
	if best == netlist.NoTerminal {
		return best
	}
	return slices.MinFunc(n.together(islands.Of[best]), func(a, b netlist.TerminalID) int {
		return cmp.Or(cmp.Compare(n.Awkward(a), n.Awkward(b)), cmp.Compare(a, b))
	})
}

// busiest is the terminal with the most joints at it; the first of equal ones.
func (n *Network) busiest(list []netlist.TerminalID) netlist.TerminalID {
	if n.Bench == nil {
		return list[0]
	}
	count := make(map[netlist.TerminalID]int, len(list))
	for i := range n.Bench.Joints {
		count[n.Bench.Joints[i].A]++
		count[n.Bench.Joints[i].B]++
	}
	return slices.MaxFunc(list, func(a, b netlist.TerminalID) int {
		return cmp.Or(cmp.Compare(count[a], count[b]), cmp.Compare(b, a))
	})
}

// mainsConductors marks what the mains is on: the live and neutral of what has
// terminals of these names, and what lies behind fuses and contacts from there,
// open ones too.
func (n *Network) mainsConductors() []bool {
	islands := n.Harness.Islands()
	mains := make([]bool, islands.Count())
	reach := newReach(islands.Count())
	for p, as := range n.Harness.There() {
		for _, c := range as.Kind.Contacts {
			reach.join(islands.Of[p.Terminals[c.A]], islands.Of[p.Terminals[c.B]])
		}
	}
	for i := range n.Pieces {
		if p := &n.Pieces[i]; p.Nature == Fuse {
			reach.join(n.Conductor(p.A), n.Conductor(p.B))
		}
	}
	hot := map[int32]bool{}
	for _, in := range n.Book.Inlets() {
		hot[reach.find(n.Conductor(in.Live))] = true
		hot[reach.find(n.Conductor(in.Neutral))] = true
	}
	ground := int32(-1)
	if len(hot) > 0 {
		if g := n.Ground(); g != netlist.NoTerminal {
			ground = n.Conductor(g)
		}
	}
	for i := range mains {
		mains[i] = int32(i) != ground && hot[reach.find(int32(i))]
	}
	return mains
}

// reach is a set of sets of conductors.
type reach []int32

func newReach(n int) reach {
	r := make(reach, n)
	for i := range r {
		r[i] = int32(i)
	}
	return r
}

func (r reach) find(x int32) int32 {
	for r[x] != x {
		r[x] = r[r[x]]
		x = r[x]
	}
	return x
}

func (r reach) join(a, b int32) { r[r.find(a)] = r.find(b) }
