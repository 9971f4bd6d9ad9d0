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
