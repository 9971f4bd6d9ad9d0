package meter

import (
	"math"
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter/ohms"
)

// chain is the way from one probe to the other that takes, at every
// conductor, the piece with most of the current.
func (n *Network) chain(pr *ohms.Probe, red, black netlist.TerminalID) []Link {
	if math.IsInf(pr.Ohms, 1) || n.circuit.One(pr.P, pr.Q) {
		return nil
	}
	return n.way(func(i int) float64 { return pr.Current(i) }, pr.P, pr.Q)
}

// way walks from p to q along the greatest currents. Current falls in
// potential, so it never comes back; pieces without resistance are passed
// where they lead on.
func (n *Network) way(current func(piece int) float64, p, q int32) []Link {
	var chain []Link
	at := p
	seen := map[int32]bool{p: true}
	for at != q && !n.circuit.One(at, q) {
		best, most := -1, 1e-9
		for i := range n.Pieces {
			x, y := n.Conductor(n.Pieces[i].A), n.Conductor(n.Pieces[i].B)
			amount := current(i)
			switch {
			case n.circuit.One(x, at) && amount > most && !seen[y]:
				best, most = i, amount
			case n.circuit.One(y, at) && -amount > most && !seen[x]:
				best, most = i, -amount
			}
		}
		if best < 0 {
			return chain
		}
		l := Link{Piece: n.Pieces[best], From: n.Pieces[best].A, To: n.Pieces[best].B, Current: most}
		if current(best) < 0 {
			l.From, l.To = l.To, l.From
		}
		at = n.Conductor(l.To)
		seen[at] = true
		chain = append(chain, l)
	}
	return chain
}

// Beside tells why a piece that lies straight between the probes reads less
// than its value: what else lies across it.
type Beside struct {
	Piece          // between the probes
	Around float64 // ohms of everything else between the probes
	Way    []Link  // the way round that takes most of what goes past the piece
	Lift   Lift    // what to take off so that the piece reads alone
}

// A Lift is an end of a piece that comes off most easily.
type Lift struct {
	End  netlist.TerminalID
	From netlist.TerminalID // where it sits; NoTerminal where nothing is joined to it yet
}

// leastBeside is how much lower a piece must read than its value before that
// is worth a word.
const leastBeside = 0.05

// besides finds the pieces straight between the probes that something else
// lies across.
func (n *Network) besides(pr *ohms.Probe) []Beside {
	if math.IsInf(pr.Ohms, 1) || pr.Ohms == 0 {
		return nil
	}
	var list []Beside
	for i := range n.Pieces {
		p := &n.Pieces[i]
		if p.Out || p.Ohms == 0 {
			continue
		}
		x, y := n.Conductor(p.A), n.Conductor(p.B)
		straight := n.circuit.One(x, pr.P) && n.circuit.One(y, pr.Q) || n.circuit.One(x, pr.Q) && n.circuit.One(y, pr.P)
		if !straight || pr.Ohms > p.Ohms*(1-leastBeside) {
			continue
		}
		without := n.circuit.Changed(&ohms.Change{Values: []ohms.Value{{Branch: int32(i), Ohms: math.Inf(1)}}})
		round := without.Probe(pr.P, pr.Q)
		list = append(list, Beside{
			Piece: *p, Around: round.Ohms,
			Way:  n.way(func(i int) float64 { return round.Current(i) }, pr.P, pr.Q),
			Lift: n.lift(p),
		})
	}
	return list
}

// Lifting says which end of a piece comes off most easily.
func (n *Network) lift(p *Piece) Lift {
	best, least := Lift{End: p.A, From: netlist.NoTerminal}, math.MaxInt
	for _, t := range []netlist.TerminalID{p.A, p.B} {
		l, hard := n.hardToLift(t)
		if hard < least {
			best, least = l, hard
		}
	}
	return best
}

// hardToLift counts what has to come off at a terminal: a leg on a tag is the
// least of work, each further joint is more, and what is soldered to a tag of
// the part itself is the most. From the plan alone it is the conductor with
// the fewest terminals.
func (n *Network) hardToLift(t netlist.TerminalID) (Lift, int) {
	l := Lift{End: t, From: netlist.NoTerminal}
	if n.Bench == nil {
		return l, len(n.Harness.Islands().Members(n.Conductor(t)))
	}
	hard := 0
	for i := range n.Bench.Joints {
		j := &n.Bench.Joints[i]
		if j.A != t && j.B != t {
			continue
		}
		other := j.A + j.B - t
		if l.From == netlist.NoTerminal {
			l.From = other
		}
		switch j.Kind {
		case netlist.Leg, netlist.Hole:
			hard++
			if !n.Book.Terminals[other].Tie {
				hard++ // a socket's pin suffers more than a tag
			}
		default:
			hard += 3
		}
	}
	return l, hard
}

// together lists the terminals of a conductor.
func (n *Network) together(conductor int32) []netlist.TerminalID {
	members := n.Harness.Islands().Members(conductor)
	list := make([]netlist.TerminalID, len(members))
	for i, m := range members {
		list[i] = netlist.TerminalID(m)
	}
	slices.Sort(list)
	return list
}
