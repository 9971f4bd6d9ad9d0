package legend

import (
	"cmp"
	"slices"
)

// ways are ways in which bunches may make up windings: all of them, or a
// sample. with says for each way and bunch which bunches are on its winding,
// a bit for each.
type ways struct {
	with   [][]uint64
	weight []float64
	whole  float64
	pair   []float64 // by two bunches: the weight of the ways that have them together
	words  []uint64  // room for more of with
}

// any is how likely a bunch is on one winding with any of some others.
func (w *ways) any(a int, others []int) float64 {
	var set uint64
	for _, b := range others {
		set |= 1 << b
	}
	sum := 0.0
	for i, with := range w.with {
		if with[a]&set != 0 {
			sum += w.weight[i]
		}
	}
	return sum / w.whole
}

// others are the bunches that may be on one winding with a bunch, the
// likeliest first.
func (w *ways) others(p *picture, a int) []int {
	var list []int
	chance := w.pair[a*len(p.bunches) : (a+1)*len(p.bunches)]
	for b := range p.bunches {
		if b != a && !p.isSplit(a, b) && chance[b] > 0 {
			list = append(list, b)
		}
	}
	slices.SortStableFunc(list, func(x, y int) int { return cmp.Compare(chance[y], chance[x]) })
	return list
}

// ways gives the ways that are left. They only serve to choose a reading:
// nothing is claimed from them.
func (p *picture) ways(hyps []hypothesis, likely func(a, b int) float64) *ways {
	w := &ways{pair: make([]float64, len(p.bunches)*len(p.bunches))}
	switch {
	case p.settled && len(hyps) > 0:
		for i := range hyps {
			group := make([]int, len(p.bunches))
			for b := range p.bunches {
				group[b] = p.lay.groupOf(hyps[i].ends[p.bunches[b][0]])
			}
			w.add(group, p.weigh(group, likely))
		}
	default:
		p.draws(w, likely)
		if len(w.with) < few {
			p.goThrough(w, likely)
		}
	}
	if w.whole <= 0 {
		p.pairs(w)
	}
	return w
}

// add takes a way: by bunch, the winding that it is in; negative for none.
func (w *ways) add(group []int, weight float64) {
	if len(w.words) < len(group) {
		w.words = make([]uint64, 64*len(group))
	}
	with := w.words[:len(group):len(group)]
	w.words = w.words[len(group):]
	for a, at := range group {
		for b, other := range group[:a] {
			if at >= 0 && at == other {
				with[a] |= 1 << b
				with[b] |= 1 << a
				w.pair[a*len(group)+b] += weight
				w.pair[b*len(group)+a] += weight
			}
		}
	}
	w.with = append(w.with, with)
	w.weight = append(w.weight, weight)
	w.whole += weight
}

func (p *picture) weigh(group []int, likely func(a, b int) float64) float64 {
	weight := 1.0
	if likely == nil {
		return weight
	}
	for a := range group {
		for b := range a {
			if group[a] >= 0 && group[a] == group[b] {
				weight *= likely(p.bunches[a][0], p.bunches[b][0])
			}
		}
	}
	return weight
}

// allows says that the vague readings are explained.
func (p *picture) allows(group []int) bool {
	for _, i := range p.vague {
		m := &p.measures[i]
		explained := false
		for _, a := range m.clipped(m.red) {
			for _, b := range m.clipped(m.black) {
				explained = explained || group[p.bunch[a]] == group[p.bunch[b]]
			}
		}
		if !explained {
			return false
		}
	}
	return true
}

// pairs are ways in which any two bunches may be together, one pair at a
// time: all that can be said where no way to fill the windings was found.
func (p *picture) pairs(w *ways) {
	for a := range p.bunches {
		for b := range a {
			if p.isSplit(a, b) {
				continue
			}
			group := make([]int, len(p.bunches))
			for i := range group {
				group[i] = i
			}
			group[b] = a
			w.add(group, float64(len(p.bunches[a])*len(p.bunches[b])))
		}
	}
	// As likely as any of them, none is.
	group := make([]int, len(p.bunches))
	for i := range group {
		group[i] = i
	}
	w.add(group, max(1, w.whole))
}
