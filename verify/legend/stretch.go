package legend

import "math"

// A stretch bounds the turns between two ends of a group, which may be as far
// from what the kind says as its slack allows.
type stretch struct {
	from, to int // places in group.ends, from before to
	is       band
	by       family
}

// stretches bounds the turns between any two ends by those that the kind tells:
// a kind tells of each tap against the common end, and a meter may read from
// tap to tap. The ends lie in order.
func (g *group) stretches() []stretch {
	var list []stretch
	n := len(g.ends)
	for by := range families {
		// most[i][k] is by how many turns at most k lies further on than i.
		most := make([][]float64, n)
		for i := range most {
			most[i] = make([]float64, n)
			for k := i + 1; k < n; k++ {
				most[i][k] = math.Inf(1)
			}
		}
		for _, t := range g.known {
			if t.by == by {
				most[t.from][t.to] = min(most[t.from][t.to], t.count*slack[by].hi)
				most[t.to][t.from] = min(most[t.to][t.from], -t.count*slack[by].lo)
			}
		}
		for via := range n {
			for i := range n {
				for k := range n {
					most[i][k] = min(most[i][k], most[i][via]+most[via][k])
				}
			}
		}
		for to := range n {
			for from := range to {
				if hi := most[from][to]; !math.IsInf(hi, 1) {
					list = append(list, stretch{from, to, band{max(0, -most[to][from]), hi}, by})
				}
			}
		}
	}
	return list
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
