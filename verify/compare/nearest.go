package compare

import (
	"cmp"
	"slices"

	"buzzout/netlist"
)

// nearest names the two terminals that a missing joint would join: tags where
// the pieces have some, since that is where the rest of the net is, two on one
// board or part rather than two apart, and of these two that the plan lists side
// by side.
func (t *teller) nearest(g *gap) (a, b netlist.TerminalID) {
	list := t.bestOf(t.pointsOf(g.b))
	others := t.pointsOf(g.a)
	if len(list)*len(others) > mostNear {
		list = list[:1]
	}
	most, least := -1, int32(0)
	for _, x := range list {
		for _, y := range others {
			score := t.suits(y)
			if part := t.book.Terminals[y].Part; score >= 0 && part != nil && part == t.book.Terminals[x].Part {
				score += 5
			}
			apart := t.apart(x, y)
			if score > most || score == most && apart < least {
				a, b, most, least = netlist.TerminalID(y), netlist.TerminalID(x), score, apart
			}
		}
	}
	if most < 0 {
		return netlist.TerminalID(others[0]), netlist.TerminalID(list[0])
	}
	return a, b
}

// mostNear bounds the pairs of terminals that are looked at for one gap.
const mostNear = 4096

// suits tells how readily a joint is made to a point; -1 is not at all.
func (t *teller) suits(point int32) int {
	switch term := &t.book.Terminals[point]; {
	case t.verdict.label[t.verdict.of[point]] < 0 && !term.Tie && term.Print == nil:
		return -1 // a pin where nothing belongs is not where something goes
	case term.Print != nil:
		return 1
	case term.Tie && term.Part != nil && !term.Part.Kind.JoinedAny:
		return 4
	case t.verdict.label[t.verdict.of[point]] < 0:
		return 0
	case t.brought(netlist.TerminalID(point)):
		return 2 // a leg is where something else holds it
	}
	return 3
}

// bestOf gives those of some points that suit best.
func (t *teller) bestOf(points []int32) []int32 {
	var best []int32
	most := 0
	for _, point := range points {
		score := t.suits(point)
		if score > most {
			best, most = best[:0], score
		}
		if score == most {
			best = append(best, point)
		}
	}
	if len(best) == 0 && len(points) > 0 {
		best = append(best, points[0])
	}
	return best
}

// apart is how far from one another the plan lists two points of a net; where it
// does not name both, how far they stand apart on one board, and as far as can
// be on two.
func (t *teller) apart(x, y int32) int32 {
	const far = 1 << 30
	if t.inNet == nil {
		t.inNet = make([]int32, len(t.book.Terminals))
		fill(t.inNet, -1)
		for _, n := range t.book.Nets {
			for i, m := range n.Members {
				t.inNet[m.Terminal] = int32(i)
			}
		}
	}
	if t.inNet[x] < 0 || t.inNet[y] < 0 {
		if part := t.book.Terminals[x].Part; part != nil && part == t.book.Terminals[y].Part {
			return far/2 + t.along(x, y)
		}
		return far
	}
	return max(t.inNet[x]-t.inNet[y], t.inNet[y]-t.inNet[x])
}

// spotOf is where an end goes that belongs with a conductor: a terminal of the
// part that its other end is at, as near there as can be, else a tag on which
// the net is already, else a terminal of it.
func (t *teller) spotOf(conductor int32, kept netlist.TerminalID) netlist.TerminalID {
	root := t.verdict.scene.root
	lump := root.find(conductor)
	var points, own []int32
	for p, c := range t.verdict.of {
		if root.find(c) != lump {
			continue
		}
		points = append(points, int32(p))
		if part := t.book.Terminals[p].Part; part != nil && part == t.book.Terminals[kept].Part && t.suits(int32(p)) >= 2 {
			own = append(own, int32(p))
		}
	}
	if len(own) > 0 {
		return netlist.TerminalID(slices.MinFunc(own, func(a, b int32) int { return cmp.Compare(t.along(a, int32(kept)), t.along(b, int32(kept))) }))
	}
	return netlist.TerminalID(t.bestOf(points)[0])
}

// along is how far from one another two terminals of one part stand in its row.
func (t *teller) along(x, y int32) int32 { return max(x-y, y-x) }
