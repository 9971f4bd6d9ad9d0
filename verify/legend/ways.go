package legend

import (
	"cmp"
	"math/rand/v2"
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

// samplesPerLead is how many ways are drawn for each lead where there are too
// many to go through, and attempts how often each is tried.
const (
	samplesPerLead = 25
	attempts       = 4
)

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
	case len(p.lay.groups) > 0:
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

// few draws that come out say little: the readings leave so few ways that it
// is better to go through them.
const (
	few       = 50
	goneAlong = 20000 // steps
	goneTo    = 2000  // ways
)

// goThrough goes through the ways in order, the bunch with the fewest windings
// to choose from first, as far as the steps allow.
func (p *picture) goThrough(w *ways, likely func(a, b int) float64) {
	count, none := len(p.bunches), len(p.lay.groups)
	*w = ways{pair: make([]float64, count*count)}
	room := make([]int, none+1)
	for g := range p.lay.groups {
		room[g] = len(p.lay.groups[g].ends)
	}
	room[none] = max(0, p.n-p.lay.ends)
	group := make([]int, count)
	for b := range group {
		group[b] = -2
	}
	free := func(b, g int) bool {
		if room[g] < len(p.bunches[b]) {
			return false
		}
		for other, at := range group {
			if at == g && g < none && p.isSplit(b, other) {
				return false
			}
		}
		return true
	}
	// Of windings with as many ends that are empty yet, one stands for all.
	inTurn := func(g int) bool {
		for other := range min(g, none) {
			if size := len(p.lay.groups[other].ends); g < none && size == len(p.lay.groups[g].ends) && room[other] == size && room[g] == size {
				return false
			}
		}
		return true
	}
	steps := 0
	var try func(left int)
	try = func(left int) {
		if left == 0 {
			if !p.allows(group) {
				return
			}
			found := slices.Clone(group)
			for b := range found {
				if found[b] == none {
					found[b] = -1
				}
			}
			w.add(found, p.weigh(found, likely))
			return
		}
		at, least := -1, none+2
		for b := range group {
			if group[b] != -2 {
				continue
			}
			choices := 0
			for g := range room {
				if free(b, g) {
					choices++
				}
			}
			if choices < least {
				at, least = b, choices
			}
		}
		for g := range room {
			if steps++; steps > goneAlong || len(w.with) == goneTo {
				return
			}
			if !free(at, g) || !inTurn(g) {
				continue
			}
			group[at] = g
			room[g] -= len(p.bunches[at])
			try(left - 1)
			room[g] += len(p.bunches[at])
			group[at] = -2
		}
	}
	try(count)
}

// draws fills bunches into windings at random, each in as many ways as there
// are free ends to take; the same readings give the same draws. A draw is
// weighed by the ways that it had, so that what readings rule out along the
// way does not favour any.
func (p *picture) draws(w *ways, likely func(a, b int) float64) {
	count := len(p.bunches)
	r := rand.New(rand.NewPCG(uint64(p.n), uint64(len(p.measures))))
	sequence, sizes, split := make([]int, count), make([]int, count), make([]uint64, count)
	for b := range sequence {
		sequence[b], sizes[b] = b, len(p.bunches[b])
		for other := range count {
			if p.isSplit(b, other) {
				split[b] |= 1 << other
			}
		}
	}
	slices.SortStableFunc(sequence, func(a, b int) int { return sizes[b] - sizes[a] })
	none := len(p.lay.groups)
	room, chance, members := make([]int, none+1), make([]float64, none+1), make([]uint64, none+1)
	group := make([]int, count)
	suits := make([]float64, count*(none+1))
	for b := range count {
		for g := range none + 1 {
			suits[b*(none+1)+g] = p.suits(b, g)
		}
	}
	samples := samplesPerLead * p.n
	for range attempts * samples {
		if len(w.with) == samples {
			return
		}
		for g := range p.lay.groups {
			room[g] = len(p.lay.groups[g].ends)
		}
		room[none] = max(0, p.n-p.lay.ends)
		clear(members)
		weight := 1.0
		for _, b := range sequence {
			size, sum := sizes[b], 0.0
			for g, free := range room {
				chance[g] = 0
				if free < size || members[g]&split[b] != 0 {
					continue
				}
				ways := suits[b*(none+1)+g]
				for i := range size {
					ways *= float64(free - i)
				}
				chance[g] = ways
				sum += ways
			}
			weight *= sum
			if sum == 0 {
				break
			}
			pick, at := r.Float64()*sum, -1
			for g, c := range chance {
				if c > 0 && pick >= 0 {
					at = g
				}
				pick -= c
			}
			group[b] = at
			room[at] -= size
			members[at] |= 1 << b
		}
		if weight == 0 || !p.allows(group) {
			continue
		}
		for b := range group {
			if group[b] == none {
				group[b] = -1
			}
		}
		w.add(group, weight*p.weigh(group, likely))
	}
}

// suits weighs a bunch against a winding by the ohms that were read in it:
// windings for low volts read low, those for high volts read high, most of
// the time (orders of magnitude, common practice, no source).
func (p *picture) suits(b, g int) float64 {
	const (
		odd     = 0.1 // how much less likely what reads otherwise is
		mostLow = 5.0 // ohms
	)
	if g == len(p.lay.groups) {
		return 1
	}
	for _, i := range p.within[b] {
		m := &p.measures[i]
		low, high := p.lay.groups[g].low(), p.lay.groups[g].high()
		if m.sort == through && (low && m.is.lo > mostLow || high && m.is.hi < leastDriven) {
			return odd
		}
	}
	return 1
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
// time: all that can be said where the kind tells no windings.
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
