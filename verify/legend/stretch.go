package legend

import (
	"math"
	"slices"
)

// A stretch bounds the turns between two ends of a group, which may be as far
// from what the kind says as its slack allows.
type stretch struct {
	from, to int // places in group.ends, from before to
	is       band
	by       family
}

// mostTold bounds between how many ends of a winding turns are worked out that
// the kind does not tell outright.
const mostTold = 32

// stretches bounds the turns between any two ends by those that the kind tells:
// a kind tells of each tap against the common end, and a meter may read from
// tap to tap. The ends lie in order.
func (g *group) stretches() []stretch {
	var list []stretch
	for by := range families {
		var ends []int
		for _, t := range g.counted[by] {
			ends = append(ends, t.from, t.to)
		}
		slices.Sort(ends)
		ends = slices.Compact(ends)
		if len(ends) > mostTold {
			for _, t := range g.counted[by] {
				list = append(list, stretch{t.from, t.to, band{t.count * slack[by].lo, t.count * slack[by].hi}, by})
			}
			continue
		}
		most := g.furthest(ends, by)
		for to := range ends {
			for from := range to {
				if hi := most[from][to]; !math.IsInf(hi, 1) {
					list = append(list, stretch{ends[from], ends[to], band{max(0, -most[to][from]), hi}, by})
				}
			}
		}
	}
	return list
}

// furthest is by how many turns at most each of some ends lies further on than
// each other; it is below nought where it lies further back for certain.
func (g *group) furthest(ends []int, by family) [][]float64 {
	most := make([][]float64, len(ends))
	for i := range most {
		most[i] = make([]float64, len(ends))
		for k := i + 1; k < len(ends); k++ {
			most[i][k] = math.Inf(1)
		}
	}
	for _, t := range g.counted[by] {
		i, _ := slices.BinarySearch(ends, t.from)
		k, _ := slices.BinarySearch(ends, t.to)
		most[i][k] = min(most[i][k], t.count*slack[by].hi)
		most[k][i] = min(most[k][i], -t.count*slack[by].lo)
	}
	for via := range ends {
		for i := range ends {
			for k := range ends {
				most[i][k] = min(most[i][k], most[i][via]+most[via][k])
			}
		}
	}
	return most
}

// perTurn is what stands on one turn where so much stands on the stretch.
func (s *stretch) perTurn(on band) band {
	each := band{on.lo / s.is.hi, math.Inf(1)}
	if s.is.lo > 0 {
		each.hi = on.hi / s.is.lo
	}
	return each
}

// stretch is that between two ends of a kind; ok says that the two are on one
// winding and that it can be told.
func (l *layout) stretch(a, b int, by family) (is band, ok bool) {
	if l.of[a] < 0 || l.of[a] != l.of[b] {
		return anything, false
	}
	from, to := min(l.at[a], l.at[b]), max(l.at[a], l.at[b])
	for _, s := range l.groups[l.of[a]].told {
		if s.from == from && s.to == to && s.by == by {
			return s.is, true
		}
	}
	return anything, false
}

// passes says that the way along a winding from one end to another passes via.
func (l *layout) passes(from, via, to int) bool {
	if l.of[from] < 0 || l.of[from] != l.of[via] || l.of[from] != l.of[to] {
		return false
	}
	a, b, c := l.at[from], l.at[via], l.at[to]
	return a < b && b < c || c < b && b < a
}
