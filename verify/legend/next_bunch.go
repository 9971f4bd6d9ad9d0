package legend

import (
	"math"
	"math/bits"
	"slices"
)

// nextBunch is the reading in ohms that helps most to find out which leads
// are on one winding: one for which wire is as likely as none, which may want
// several leads clipped together. likely gives, for two leads, how many times
// likelier than by chance they are on one winding; nil for no opinion.
func (p *picture) nextBunch(hyps []hypothesis, likely func(a, b int) float64) (ask, bool) {
	if p.counted() {
		return ask{}, false
	}
	if len(p.bunches) > bits.UintSize {
		return p.anyPair()
	}
	ways := p.ways(hyps, likely)
	best, found := ask{}, 0.0
	for a := range p.bunches {
		others := ways.others(p, a)
		for i := range others[:min(len(others), mostClipped)] {
			// A single lead is less work, and its ohms are worth having.
			chance := ways.pair[a*len(p.bunches)+others[0]] / ways.whole
			if i > 0 {
				chance = ways.any(a, others[:i+1])
			}
			tells := information(chance) - clipping*float64(i)
			if tells <= found+1e-9 || i > 0 && (chance > asGoodAsSure || p.heard(a, others[:i+1])) {
				continue // to hear again that it is one of several tells nothing
			}
			found = tells
			best = ask{sort: through, red: p.bunches[a][0], black: p.bunches[others[0]][0]}
			for _, other := range others[1 : i+1] {
				best.with = append(best.with, p.bunches[other][0])
			}
			if chance > evenOdds {
				break // more of them would only make it the surer
			}
		}
	}
	return best, found > 0
}

// anyPair is a reading between the first two bunches of which nothing is
// known, where there are too many leads to weigh one against another.
func (p *picture) anyPair() (ask, bool) {
	for a := range p.bunches {
		for b := range a {
			if !p.isSplit(a, b) {
				return ask{sort: through, red: p.bunches[b][0], black: p.bunches[a][0]}, true
			}
		}
	}
	return ask{}, false
}

// heard says that wire was read from a bunch to these and no others.
func (p *picture) heard(a int, others []int) bool {
	return slices.ContainsFunc(p.vague, func(i int) bool {
		m := &p.measures[i]
		count := 0
		for _, pair := range p.candidates(m) {
			x, y := p.bunch[pair[0]], p.bunch[pair[1]]
			if y == a {
				x, y = y, x
			}
			if x != a || !slices.Contains(others, y) {
				return false
			}
			count++
		}
		return count > 0
	})
}

// counted says that there are as many bunches as windings, so that each bunch
// is one: none can be a part of another without leaving a winding bare.
func (p *picture) counted() bool {
	return len(p.lay.groups) > 0 && p.n >= p.lay.ends && len(p.bunches) == len(p.lay.groups)+p.n-p.lay.ends
}

// evenOdds tell most. asGoodAsSure is from which chance on a reading of several
// leads at once is not worth its clips (our own choice).
const (
	evenOdds     = 0.5
	asGoodAsSure = 0.98
)

// mostClipped leads are asked to be clipped together at the most. clipping is
// what each of them more than one costs, in bits.
const (
	mostClipped = 7
	clipping    = 0.1
)

// information is what an answer tells, in bits, if one of two answers has
// this chance; a little where it seems sure, since it has to be confirmed.
func information(chance float64) float64 {
	const confirmed = 0.05
	switch {
	case chance <= 0:
		return 0
	case chance >= 1:
		return confirmed
	}
	return max(confirmed, -chance*math.Log2(chance)-(1-chance)*math.Log2(1-chance))
}
