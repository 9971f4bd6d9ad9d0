package meter

import (
	"math"

	"buzzout/netlist"
	"buzzout/verify/meter/ohms"
)

// Beside tells why a piece that lies straight between the probes reads less
// than its value: what else lies across it.
type Beside struct {
	Piece          // between the probes
	Around float64 // ohms of everything else between the probes
	Way    []Link  // the way round that takes most of what goes past the piece
	Lift   Lift    // what to take off so that the piece reads alone; its End is NoTerminal where nothing does
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
		without := n.circuit.Update(&ohms.Change{Values: []ohms.Value{{Branch: int32(i), Ohms: math.Inf(1)}}})
		currents := make([]float64, len(n.Pieces))
		around := without.Currents(pr, pr.P, pr.Q, currents)
		list = append(list, Beside{
			Piece: *p, Around: around,
			Way:  n.way(func(i int) float64 { return currents[i] }, pr.P, pr.Q),
			Lift: n.lift(i),
		})
	}
	return list
}

// A Lift is an end of a piece that comes off its conductor.
type Lift struct {
	End  netlist.TerminalID
	From []netlist.TerminalID // what is joined to it; none where nothing is yet
}

// alone is how near to its value a piece must read with an end lifted to count
// as read alone.
const alone = 0.01

// lift says which end of a piece to take off so that it reads alone: of those
// that do it, the one that comes off most easily. What else of the part ends
// there comes off with it, as the other half of a heater does.
func (n *Network) lift(piece int) Lift {
	p := &n.Pieces[piece]
	best, least := Lift{End: netlist.NoTerminal}, math.MaxInt
	for _, t := range []netlist.TerminalID{p.A, p.B} {
		cut := ohms.Cut{Point: n.Conductor(t)}
		for _, i := range n.pieceAt[t] {
			cut.Ends = append(cut.Ends, n.End(i, t))
		}
		other := n.Conductor(p.A + p.B - t)
		off := n.circuit.Update(&ohms.Change{Cuts: []ohms.Cut{cut}})
		reads := off.Between(n.circuit.Probe(cut.Point, other), int32(n.circuit.Points), other)
		if math.Abs(reads-p.Ohms) > alone*p.Ohms {
			continue
		}
		end := n.outside(t)
		if from, hard := n.joinedAt(end); hard < least {
			best, least = Lift{end, from}, hard
		}
	}
	return best
}

// outside is where an end is reached: the flying lead that it is, or the end
// itself.
func (n *Network) outside(end netlist.TerminalID) netlist.TerminalID {
	for i := range n.Harness.Joins {
		if j := &n.Harness.Joins[i]; j.Kind == netlist.ByColour && j.B == end {
			return j.A
		}
	}
	return end
}

// joinedAt lists what is joined to a terminal, and counts how hard it is to
// take off: a leg on a tag is the least of work, each further joint is more,
// and what is soldered to a tag of the part itself is the most. From the plan
// alone it is the conductor with the fewest terminals.
func (n *Network) joinedAt(t netlist.TerminalID) (others []netlist.TerminalID, hard int) {
	if n.Bench == nil {
		return nil, len(n.Harness.Islands().Members(n.Conductor(t)))
	}
	for i := range n.Bench.Joints {
		j := &n.Bench.Joints[i]
		if j.A != t && j.B != t || j.A == j.B {
			continue
		}
		other := j.A + j.B - t
		others = append(others, other)
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
	return others, hard
}
