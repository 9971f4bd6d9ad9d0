package legend

import (
	"math/rand/v2"
	"slices"
)

// samplesPerLead is how many ways are drawn for each lead where there are too
// many to go through, and attempts how often each is tried.
const (
	samplesPerLead = 25
	attempts       = 4
)

// draws fills bunches into windings at random, each in as many ways as there
// are free ends to take; the same readings give the same draws. A draw is
// weighed by the ways that it had, so that what readings rule out along the
// way does not favour any.
func (p *picture) draws(w *ways, likely func(a, b int) float64) {
	d := p.drawer()
	samples := samplesPerLead * p.n
	for range attempts * samples {
		if len(w.with) == samples {
			return
		}
		weight := d.draw()
		if weight == 0 || !p.allows(d.group) {
			continue
		}
		for b := range d.group {
			if d.group[b] == d.noEnd {
				d.group[b] = none
			}
		}
		w.add(d.group, weight*p.weigh(d.group, likely))
	}
}

// A drawer draws ways at random.
type drawer struct {
	p        *picture
	r        *rand.Rand
	sequence []int     // bunches, large ones first
	sizes    []int     // by bunch: its leads
	split    []uint64  // by bunch: the bunches that are apart from it, a bit for each
	suits    []float64 // by bunch and winding: see picture.suits
	noEnd    int       // stands in the place of a winding for leads that are no end

	// Of the draw at hand.
	group   []int     // by bunch: its winding, or noEnd
	room    []int     // by winding, and for noEnd: leads that it can take yet
	members []uint64  // by winding: the bunches on it, a bit for each
	chance  []float64 // by winding: how likely it is for the bunch at hand, unscaled
}

func (p *picture) drawer() *drawer {
	count, windings := len(p.bunches), len(p.lay.groups)
	d := &drawer{p: p, r: rand.New(rand.NewPCG(uint64(p.n), uint64(len(p.measures)))), noEnd: windings,
		sequence: make([]int, count), sizes: make([]int, count), split: make([]uint64, count), group: make([]int, count),
		suits: make([]float64, count*(windings+1)), room: make([]int, windings+1), members: make([]uint64, windings+1), chance: make([]float64, windings+1)}
	for b := range d.sequence {
		d.sequence[b], d.sizes[b] = b, len(p.bunches[b])
		for other := range count {
			if p.isSplit(b, other) {
				d.split[b] |= 1 << other
			}
		}
		for g := range windings + 1 {
			d.suits[b*(windings+1)+g] = p.suits(b, g)
		}
	}
	slices.SortStableFunc(d.sequence, func(a, b int) int { return d.sizes[b] - d.sizes[a] })
	return d
}

// draw gives every bunch a winding, and weighs that by the ways that there
// were; 0 where a bunch found no room.
func (d *drawer) draw() (weight float64) {
	for g := range d.p.lay.groups {
		d.room[g] = len(d.p.lay.groups[g].ends)
	}
	d.room[d.noEnd] = max(0, d.p.n-d.p.lay.ends)
	clear(d.members)
	weight = 1.0
	for _, b := range d.sequence {
		sum := d.weighWindings(b)
		if sum == 0 {
			return 0
		}
		weight *= sum
		pick, at := d.r.Float64()*sum, -1
		for g, c := range d.chance {
			if c > 0 && pick >= 0 {
				at = g
			}
			pick -= c
		}
		d.group[b] = at
		d.room[at] -= d.sizes[b]
		d.members[at] |= 1 << b
	}
	return weight
}

// weighWindings sets the chance of every winding to take a bunch, by the ways
// to put its leads on free ends, and gives the sum.
func (d *drawer) weighWindings(b int) (sum float64) {
	for g, free := range d.room {
		d.chance[g] = 0
		if free < d.sizes[b] || d.members[g]&d.split[b] != 0 {
			continue
		}
		ways := d.suits[b*len(d.room)+g]
		for i := range d.sizes[b] {
			ways *= float64(free - i)
		}
		d.chance[g] = ways
		sum += ways
	}
	return sum
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
