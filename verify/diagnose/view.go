package diagnose

import (
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify/meter"
	"buzzout/verify/meter/ohms"
)

// A view is the network at one moment, in one setting, with all that is needed
// to put faults into it.
type view struct {
	n       *meter.Network
	c       *ohms.Circuit
	setting netlist.Setting // as told, for faults of settings
	fixed   netlist.Setting // positions that the reading itself tells

	piece   map[pieceKey]int32
	joint   map[jointKey]int32
	contact map[contactKey]int32
	probes  map[[2]int32]*ohms.Probe
	swings  []meter.Swing

	mark  []int32 // for walking: by terminal
	round int32
}

type pieceKey struct {
	part             *netlist.Part
	nature           meter.Nature
	element, stretch int
}

// A jointKey knows a joint again at another moment: its words in the notebook.
type jointKey struct {
	a, b netlist.TerminalID
	kind netlist.JointKind
	at   diag.Place
}

type contactKey struct {
	part    *netlist.Part
	contact *parts.Contact
}

func keyOf(p *meter.Piece) pieceKey { return pieceKey{p.Part, p.Nature, p.Element, p.Stretch} }

func newView(n *meter.Network, fixed netlist.Setting) *view {
	v := &view{
		n: n, c: n.Circuit(), setting: n.Setting, fixed: fixed,
		piece: map[pieceKey]int32{}, joint: map[jointKey]int32{}, contact: map[contactKey]int32{},
		probes: map[[2]int32]*ohms.Probe{}, swings: n.Swings(), mark: make([]int32, len(n.Book.Terminals)),
	}
	v.c.Table()
	for i := range n.Pieces {
		v.piece[keyOf(&n.Pieces[i])] = int32(i)
	}
	for i := range n.Harness.Joins {
		switch j := &n.Harness.Joins[i]; j.Kind {
		case netlist.ByJoint:
			v.joint[jointKey{j.A, j.B, j.Joint.Kind, j.Joint.Place}] = int32(i)
		case netlist.ByContact:
			v.contact[contactKey{j.Part, j.Contact}] = int32(i)
		}
	}
	return v
}

// probe is the probe between two conductors.
func (v *view) probe(p, q int32) *ohms.Probe {
	key := [2]int32{p, q}
	pr := v.probes[key]
	if pr == nil {
		pr = v.c.Probe(p, q)
		v.probes[key] = pr
	}
	return pr
}

// An effect is what faults do to the wiring: in words of pieces, joins and
// terminals of one view.
type effect struct {
	values  []ohms.Value
	removed []int32                 // joins of the harness that do not join
	alone   []netlist.TerminalID    // terminals that come off their conductor by themselves
	bridges [][2]netlist.TerminalID // terminals that are joined
	wipers  []int32                 // tracks, by their Below piece, whose wiper is off
	drift   bool                    // the values may be any about those told
}

func (e *effect) add(other *effect) {
	e.values = append(e.values, other.values...)
	e.removed = append(e.removed, other.removed...)
	e.alone = append(e.alone, other.alone...)
	e.bridges = append(e.bridges, other.bridges...)
	e.wipers = append(e.wipers, other.wipers...)
	e.drift = e.drift || other.drift
}

// A prepared effect answers for any pair of terminals.
type prepared struct {
	v      *view
	change ohms.Change
	sides  [][]netlist.TerminalID // by cut: the terminals on the side cut off
	update ohms.Update
	none   bool           // it changes nothing that a meter could see
	drift  bool           // the values changed may be any about those told
	turned [][2]*prepared // by swing and end of its travel, as asked for
}

// prepare puts an effect into the network.
func (v *view) prepare(e *effect) *prepared {
	p := &prepared{v: v, drift: e.drift}
	p.change.Values = e.values
	// Wipers first: what comes off at a wiper does not come off with its
	// terminal as well.
	for _, below := range e.wipers {
		wiper := v.n.Pieces[below].B
		p.change.Cuts = append(p.change.Cuts, ohms.Cut{Point: v.n.Conductor(wiper),
			Ends: []ohms.End{v.n.End(below, wiper), v.n.End(below+1, wiper)}})
		p.sides = append(p.sides, nil)
	}
	p.split(e)
	for _, b := range e.bridges {
		x, y := p.point(b[0]), p.point(b[1])
		if x != y && !(int(x) < v.c.Points && int(y) < v.c.Points && v.c.One(x, y)) {
			p.change.Bridges = append(p.change.Bridges, ohms.Bridge{A: x, B: y})
		}
	}
	p.none = len(p.change.Values)+len(p.change.Bridges)+len(p.change.Cuts) == 0
	if !p.none {
		p.update.Prepare(v.c, &p.change)
	}
	return p
}

// split finds which terminals come off their conductors when joins are gone.
// The greatest piece of each conductor stays what it was.
func (p *prepared) split(e *effect) {
	v := p.v
	islands := v.n.Harness.Islands()
	taken := map[netlist.TerminalID]bool{}
	for _, t := range e.alone {
		if !taken[t] && len(islands.Members(islands.Of[t])) > 1 {
			taken[t] = true
			p.cut(islands.Of[t], []netlist.TerminalID{t})
		}
	}
	if len(e.removed) == 0 {
		return
	}
	seen := map[int32]bool{}
	for _, r := range e.removed {
		island := islands.Of[v.n.Harness.Joins[r].A]
		if seen[island] {
			continue
		}
		seen[island] = true
		v.round++
		var pieces [][]netlist.TerminalID
		for _, s := range e.removed {
			j := &v.n.Harness.Joins[s]
			if islands.Of[j.A] != island {
				continue
			}
			for _, t := range []netlist.TerminalID{j.A, j.B} {
				if v.mark[t] != v.round {
					pieces = append(pieces, v.walk(t, e.removed))
				}
			}
		}
		if len(pieces) < 2 {
			continue
		}
		greatest := 0
		for i := range pieces {
			if len(pieces[i]) > len(pieces[greatest]) {
				greatest = i
			}
		}
		for i := range pieces {
			if i != greatest {
				p.cut(island, pieces[i])
			}
		}
	}
}

// walk lists what is joined to a terminal without some of the joins, and marks
// it with the round.
func (v *view) walk(from netlist.TerminalID, without []int32) []netlist.TerminalID {
	list := []netlist.TerminalID{from}
	v.mark[from] = v.round
	for i := 0; i < len(list); i++ {
		for join, other := range v.n.Harness.Graph.At(int32(list[i])) {
			if t := netlist.TerminalID(other); v.mark[t] != v.round && !slices.Contains(without, join) {
				v.mark[t] = v.round
				list = append(list, t)
			}
		}
	}
	return list
}

func (p *prepared) cut(conductor int32, side []netlist.TerminalID) {
	cut := ohms.Cut{Point: conductor}
	for _, t := range side {
		for _, piece := range p.v.n.PiecesAt(t) {
			if end := p.v.n.End(piece, t); !p.taken(end) {
				cut.Ends = append(cut.Ends, end)
			}
		}
	}
	p.change.Cuts = append(p.change.Cuts, cut)
	p.sides = append(p.sides, side)
}

// taken says that an end comes off with a cut already.
func (p *prepared) taken(end ohms.End) bool {
	for i := range p.change.Cuts {
		if slices.Contains(p.change.Cuts[i].Ends, end) {
			return true
		}
	}
	return false
}

// point is the point of the changed network that a terminal is on.
func (p *prepared) point(t netlist.TerminalID) int32 { return p.pointOn(t, p.v.n.Conductor(t)) }

// pointOn is point for a terminal whose conductor is known: it is another point
// only where that conductor is cut.
func (p *prepared) pointOn(t netlist.TerminalID, conductor int32) int32 {
	for k := range p.sides {
		if p.change.Cuts[k].Point == conductor && slices.Contains(p.sides[k], t) {
			return int32(p.v.c.Points + k)
		}
	}
	return conductor
}

// A pair is two terminals, and the probe between them in the network without
// a fault.
type pair struct {
	red, black netlist.TerminalID
	pr         *ohms.Probe
}

func (v *view) pair(red, black netlist.TerminalID) pair {
	return pair{red, black, v.probe(v.n.Conductor(red), v.n.Conductor(black))}
}

// terminals names a pair whichever way round the probes are; so does
// conductors.
func (p *pair) terminals() [2]netlist.TerminalID {
	return [2]netlist.TerminalID{min(p.red, p.black), max(p.red, p.black)}
}

func (p *pair) conductors() [2]int32 { return [2]int32{min(p.pr.P, p.pr.Q), max(p.pr.P, p.pr.Q)} }

// between is the resistance between two terminals.
func (p *prepared) between(at *pair) float64 {
	switch {
	case p.none:
		return at.pr.Ohms
	case len(p.sides) == 0:
		return p.update.Between(at.pr, at.pr.P, at.pr.Q)
	}
	return p.update.Between(at.pr, p.pointOn(at.red, at.pr.P), p.pointOn(at.black, at.pr.Q))
}

// touches says whether the fault can alter a reading.
func (p *prepared) touches(at *pair) bool {
	if len(p.sides) == 0 {
		return p.update.Touches(at.pr, at.pr.P, at.pr.Q)
	}
	return p.update.Touches(at.pr, p.pointOn(at.red, at.pr.P), p.pointOn(at.black, at.pr.Q))
}

// currents is between, with the currents through the pieces.
func (p *prepared) currents(at *pair, into []float64) float64 {
	if p.none {
		for i := range into {
			into[i] = at.pr.Current(i)
		}
		return at.pr.Ohms
	}
	return p.update.Currents(at.pr, p.pointOn(at.red, at.pr.P), p.pointOn(at.black, at.pr.Q), into)
}
