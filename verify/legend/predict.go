package legend

import (
	"math"
)

// predict is the band of what a reading between two leads would show under a
// hypothesis, as far as it can be told.
func (p *picture) predict(h *hypothesis, a, b, supply int) band {
	is := p.rowUnder(h, a, b, func(o *order) *web { return o.volts(supply) })
	ga, gb := h.ends[a], h.ends[b]
	if ga < 0 || gb < 0 || p.lay.of[ga] != p.lay.of[gb] {
		return is
	}
	for by := range families {
		count, ok := p.lay.between(ga, gb, by)
		if !ok || supply*int(families)+int(by) >= len(h.scale) {
			continue
		}
		s := h.scale[supply*int(families)+int(by)]
		count = math.Abs(count)
		is = is.meet(band{s.lo * count * slack[by].lo, s.hi * count * slack[by].hi})
	}
	return is
}

// rowUnder is the distance of two leads of a bunch in the orders that agree
// with the names of a hypothesis.
func (p *picture) rowUnder(h *hypothesis, a, b int, which func(*order) *web) band {
	bunch := p.bunch[a]
	l := p.linesOf(bunch)
	if !l.known || len(l.orders) == 0 {
		return anything
	}
	i, j := p.index(a), p.index(b)
	is := band{math.Inf(1), 0}
	for n := range l.orders {
		o := &l.orders[n]
		if !p.runsLike(h, bunch, o) {
			continue
		}
		d := which(o).distance(o.at[i], o.at[j])
		is = band{min(is.lo, d.lo), max(is.hi, d.hi)}
	}
	if is.lo > is.hi {
		return anything
	}
	return is
}

// runsLike says that the names rise or fall along the order.
func (p *picture) runsLike(h *hypothesis, bunch int, o *order) bool {
	leads := p.bunches[bunch]
	rising, falling := true, true
	for i := 1; i < len(o.row); i++ {
		a, b := h.ends[leads[o.row[i-1]]], h.ends[leads[o.row[i]]]
		if a < 0 || b < 0 {
			return true
		}
		if p.lay.at[a] < p.lay.at[b] {
			falling = false
		} else {
			rising = false
		}
	}
	return rising || falling
}
