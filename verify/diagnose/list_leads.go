package diagnose

import (
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter"
)

// bridges lists neighbouring places that are not one conductor.
func (l *lister) bridges() {
	for _, b := range l.near {
		if l.v.n.Conductor(b[0]) != l.v.n.Conductor(b[1]) {
			l.add(Fault{Kind: Bridge, A: b[0], B: b[1]})
		}
	}
}

// movable lists the joints at a place that may be put on a neighbouring one: a
// leg or the end of a lead, with the terminal that comes along.
func (l *lister) movable(at netlist.TerminalID) []*netlist.Joint {
	var list []*netlist.Joint
	n := l.v.n
	for i := range n.Bench.Joints {
		j := &n.Bench.Joints[i]
		if (j.A == at || j.B == at) && j.A != j.B && (j.Kind == netlist.Leg || j.Kind == netlist.Wire || j.Kind == netlist.Solder) {
			list = append(list, j)
		}
	}
	return list
}

// exchanges lists pairs of leads or legs at neighbouring places.
func (l *lister) exchanges() {
	n := l.v.n
	if n.Bench == nil {
		l.plannedExchanges()
		return
	}
	for _, b := range slices.Concat(l.near, l.leads) {
		for _, j := range l.movable(b[0]) {
			for _, k := range l.movable(b[1]) {
				x, y := j.A+j.B-b[0], k.A+k.B-b[1]
				if j == k || x == b[1] || y == b[0] || x == y || j.Kind != k.Kind && j.Kind != netlist.Solder && k.Kind != netlist.Solder {
					continue
				}
				if n.Conductor(b[0]) == n.Conductor(b[1]) {
					continue
				}
				l.add(Fault{Kind: Exchanged, A: x, B: b[0], C: y, D: b[1], Joint: j, other: k})
			}
		}
	}
}

// plannedExchanges lists neighbouring terminals of the plan whose wires may be
// exchanged.
func (l *lister) plannedExchanges() {
	for _, b := range slices.Concat(l.near, l.leads) {
		x, y := l.otherOf(b[0]), l.otherOf(b[1])
		if x != netlist.NoTerminal && y != netlist.NoTerminal && l.v.n.Conductor(b[0]) != l.v.n.Conductor(b[1]) {
			l.add(Fault{Kind: Exchanged, A: b[0], B: x, C: b[1], D: y})
		}
	}
}

func (l *lister) otherOf(t netlist.TerminalID) netlist.TerminalID {
	net := l.v.n.Book.Net(t)
	if net == netlist.NoNet {
		return netlist.NoTerminal
	}
	for _, m := range l.v.n.Book.Nets[net].Members {
		if m.Terminal != t {
			return m.Terminal
		}
	}
	return netlist.NoTerminal
}

// misplacements lists leads and legs that may sit on the neighbouring place.
func (l *lister) misplacements() {
	n := l.v.n
	if n.Bench == nil {
		return
	}
	for _, b := range l.near {
		if n.Conductor(b[0]) == n.Conductor(b[1]) {
			continue
		}
		for side := range 2 {
			here, there := b[side], b[1-side]
			for _, j := range l.movable(here) {
				if x := j.A + j.B - here; x != there {
					l.add(Fault{Kind: Misplaced, A: x, B: here, C: there, Joint: j})
				}
			}
		}
	}
}

// neighbouringPlaces lists terminals that stand beside each other: pins in
// their ring or row, tags in their order, and, of a part of three or four
// terminals without either, every two.
func neighbouringPlaces(b *netlist.Book) [][2]netlist.TerminalID {
	var list [][2]netlist.TerminalID
	for _, p := range b.Parts {
		k := p.Kind
		own := p.Terminals[:len(k.Terminals)]
		before := len(list)
		next := func(i, j int) { list = append(list, [2]netlist.TerminalID{own[i], own[j]}) }
		for _, ring := range k.Rings {
			for i := range ring {
				if len(ring) > 2 || i > 0 {
					next(ring[i], ring[(i+1)%len(ring)])
				}
			}
		}
		for _, row := range k.Rows {
			for i := 1; i < len(row); i++ {
				next(row[i-1], row[i])
			}
		}
		if len(list) > before {
			continue
		}
		for i := 1; i < len(own); i++ {
			if k.Terminals[i-1].Tie && k.Terminals[i].Tie {
				next(i-1, i)
			}
		}
		if len(list) == before && (len(own) == 3 || len(own) == 4) {
			for j := range own {
				for i := range j {
					next(i, j)
				}
			}
		}
	}
	return list
}

// leadPairs lists, for each winding, neighbouring ends as the bench reaches
// them: by the flying lead that is an end, or the end itself.
func leadPairs(n *meter.Network) [][2]netlist.TerminalID {
	lead := map[netlist.TerminalID]netlist.TerminalID{}
	for i := range n.Harness.Joins {
		if j := &n.Harness.Joins[i]; j.Kind == netlist.ByColour {
			lead[j.B] = j.A
		}
	}
	var list [][2]netlist.TerminalID
	for _, p := range n.Book.Parts {
		at := func(end int) netlist.TerminalID {
			if l, ok := lead[p.Terminals[end]]; ok {
				return l
			}
			return p.Terminals[end]
		}
		for _, w := range p.Kind.Windings {
			for i := 1; i < len(w.Ends); i++ {
				list = append(list, [2]netlist.TerminalID{at(w.Ends[i-1]), at(w.Ends[i])})
			}
		}
	}
	return list
}
