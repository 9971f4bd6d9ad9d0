package compare

import (
	"cmp"
	"slices"
)

// Which parts sit wrongly is decided first: a turn gives conductors other nets
// and leaves the joints alone, so that it matters little when it is done, and
// with the turns settled a knot's bounds are close.

// A posture is a choice of turns.
type posture struct {
	flips []int32
	cost  int
	least int // findings there are at least
}

// Bounds on the turns that are tried together.
const (
	mostTurned   = 3
	mostPostures = 150
)

// postures lists the choices of turns, the most promising first.
func (s *search) postures() []posture {
	list := []posture{{least: s.least(s.view())}}
	for i := 0; i < len(list) && len(list) < mostPostures; i++ {
		if len(list[i].flips) == mostTurned {
			break
		}
		from := int32(0)
		if n := len(list[i].flips); n > 0 {
			from = list[i].flips[n-1] + 1
		}
		for n := from; n < int32(len(s.flips)) && len(list) < mostPostures; n++ {
			if s.clashes(list[i].flips, n) {
				continue
			}
			p := posture{flips: append(slices.Clone(list[i].flips), n), cost: list[i].cost + 1}
			s.strike(p)
			p.least = p.cost + s.least(s.view())
			s.relax(p)
			list = append(list, p)
		}
	}
	slices.SortStableFunc(list, func(a, b posture) int {
		return cmp.Or(cmp.Compare(a.least, b.least), cmp.Compare(a.cost, b.cost))
	})
	return list
}

// clashes reports whether a flip turns a part that is turned already.
func (s *search) clashes(flips []int32, n int32) bool {
	return slices.ContainsFunc(flips, func(m int32) bool {
		return slices.ContainsFunc(s.flips[n].spots, func(x int32) bool { return slices.Contains(s.flips[m].spots, x) })
	})
}

// strike takes a posture up.
func (s *search) strike(p posture) {
	for _, n := range p.flips {
		f := &s.flips[n]
		s.list = s.list[:0]
		for _, from := range f.from {
			s.list = append(s.list, s.lab[from])
		}
		for i, spot := range f.spots {
			s.lab[spot] = s.list[i]
		}
		s.trail = append(s.trail, action{deed: turnOver, cost: 1, to: n})
	}
}

// relax gives it up, with all that was done since.
func (s *search) relax(p posture) {
	copy(s.lab, s.label)
	s.trail = s.trail[:len(s.trail)-len(p.flips)]
}
