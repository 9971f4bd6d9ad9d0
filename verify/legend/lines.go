package legend

import (
	"math"
	"slices"
)

// lines are the orders in which the leads of a bunch can lie along the wire,
// each from one end or the other but not both.
type lines struct {
	orders []order
	known  bool // all orders are there; false: there are too many
}

// An order is one such order: leads as places in their bunch, and how far
// apart any two are by each kind of reading.
type order struct {
	row    []int
	at     []int // the inverse of row
	ohms   *web
	supply []*web // by application of the supply; nil where nothing was read
}

// web bounds the distance between any two of k points on a line: up[i*k+j] is
// the most by which j lies further along than i.
type web struct {
	k  int
	up []float64
}

// distance is the band of how far two points are apart; i lies before j.
func (w *web) distance(i, j int) band {
	if w == nil {
		return anything
	}
	if i > j {
		i, j = j, i
	}
	return band{max(0, -w.up[j*w.k+i]), w.up[i*w.k+j]}
}

// maxOrders bounds the orders of one bunch that are kept, and maxTried the
// beginnings that are tried for them.
const (
	maxOrders = 64
	maxTried  = 6000
)

// linesOf gives the orders of a bunch, worked out once.
func (p *picture) linesOf(bunch int) *lines {
	if p.lines[bunch] == nil {
		p.lines[bunch] = p.order(bunch, p.within[bunch], false)
	}
	return p.lines[bunch]
}

// order tries the orders of a bunch, beginning at one end of the line, and
// gives up each beginning that no distances fit. leaning takes readings for
// what they most likely are.
func (p *picture) order(bunch int, within []int, leaning bool) *lines {
	s := p.sorter(p.bunches[bunch], within, leaning)
	s.try(0)
	return &lines{orders: s.found, known: !s.over}
}

// bends says that no order fits some of the measures inside a bunch.
func (p *picture) bends(bunch int, within []int) bool {
	s := p.sorter(p.bunches[bunch], within, false)
	s.first = true
	s.try(0)
	return len(s.found) == 0 && !s.over
}

// A sorter tries orders of one bunch.
type sorter struct {
	k      int
	limits [][]float64 // by system: limit[i*k+j] of leads, the most that they are apart; negative at [j*k+i] the least
	least  [][]float64
	webs   []*web
	row    []int
	used   []bool
	found  []order
	tried  int
	over   bool
	supply []int // by system: the application of the supply; -1 is ohms
	most   int
	given  []int // not nil: the only order to try
	first  bool  // one order is enough
	saves  [][][]float64
}

// sorter prepares to order some leads of one winding by the measures between them.
func (p *picture) sorter(leads []int, within []int, leaning bool) *sorter {
	k := len(leads)
	s := &sorter{k: k, used: make([]bool, k), row: make([]int, 0, k)}
	system := func(supply int) int {
		for i, have := range s.supply {
			if have == supply {
				return i
			}
		}
		s.supply = append(s.supply, supply)
		limit := make([]float64, k*k)
		for i := range limit {
			limit[i] = math.Inf(1)
		}
		s.limits = append(s.limits, limit)
		s.least = append(s.least, make([]float64, k*k))
		s.webs = append(s.webs, &web{k: k, up: make([]float64, k*k)})
		return len(s.supply) - 1
	}
	for _, i := range within {
		m := &p.measures[i]
		n := -1
		if m.sort == span {
			n = m.supply
		}
		n = system(n)
		a, b := slices.Index(leads, m.red), slices.Index(leads, m.black)
		is := m.is
		if leaning {
			is = m.leans
		}
		for _, at := range [2]int{a*k + b, b*k + a} {
			s.limits[n][at] = min(s.limits[n][at], is.hi)
			s.least[n][at] = max(s.least[n][at], is.lo)
		}
		s.most = max(s.most, m.supply+1)
	}
	return s
}

// try puts each lead that is left at the end of the row in turn.
func (s *sorter) try(depth int) {
	if s.over || s.first && len(s.found) > 0 {
		return
	}
	if depth == s.k {
		s.keep()
		return
	}
	for lead := range s.k {
		if s.used[lead] || s.given != nil && s.given[depth] != lead {
			continue
		}
		// An order and its reverse are one: the lead with the lowest number
		// of the two outer ones comes first.
		if s.given == nil && s.k > 1 && depth == s.k-1 && lead < s.row[0] {
			continue
		}
		if s.tried++; s.tried > maxTried {
			s.over = true
			return
		}
		saved := s.saved(depth)
		fits := true
		for n := range s.webs {
			copy(saved[n], s.webs[n].up)
			if fits && !s.extend(n, depth, lead) {
				fits = false
			}
		}
		if fits {
			s.used[lead] = true
			s.row = append(s.row, lead)
			s.try(depth + 1)
			s.row = s.row[:depth]
			s.used[lead] = false
		}
		for n := range s.webs {
			copy(s.webs[n].up, saved[n])
		}
	}
}

// saved is room to keep the webs as they are at a depth.
func (s *sorter) saved(depth int) [][]float64 {
	for len(s.saves) <= depth {
		var webs [][]float64
		for range s.webs {
			webs = append(webs, make([]float64, s.k*s.k))
		}
		s.saves = append(s.saves, webs)
	}
	return s.saves[depth]
}

// rounding is what sums of ohms or volts may be off by, far below any digit of a
// meter.
const rounding = 1e-9

// extend adds a lead at the end of the row to one web and tightens all
// distances; it reports whether some distances fit.
func (s *sorter) extend(n, depth, lead int) bool {
	w, k := s.webs[n], s.k
	at := func(i, j int) *float64 { return &w.up[i*k+j] }
	*at(depth, depth) = 0
	for i := range depth {
		*at(i, depth) = s.limits[n][s.row[i]*k+lead]
		*at(depth, i) = -s.least[n][s.row[i]*k+lead]
	}
	for i := range depth {
		for j := range depth {
			*at(i, depth) = min(*at(i, depth), *at(i, j)+s.limits[n][s.row[j]*k+lead])
			*at(depth, i) = min(*at(depth, i), -s.least[n][s.row[j]*k+lead]+*at(j, i))
		}
	}
	for i := range depth {
		if *at(i, depth)+*at(depth, i) < -rounding {
			return false
		}
	}
	for i := range depth {
		for j := range depth {
			*at(i, j) = min(*at(i, j), *at(i, depth)+*at(depth, j))
		}
	}
	return true
}

func (s *sorter) keep() {
	if len(s.found) == maxOrders {
		s.over = true
		return
	}
	o := order{row: append([]int(nil), s.row...), at: make([]int, s.k)}
	for i, lead := range o.row {
		o.at[lead] = i
	}
	o.supply = make([]*web, s.most)
	for n, supply := range s.supply {
		w := &web{k: s.k, up: append([]float64(nil), s.webs[n].up...)}
		if supply < 0 {
			o.ohms = w
		} else {
			o.supply[supply] = w
		}
	}
	s.found = append(s.found, o)
}

// fits says that some distances fit leads that lie along a winding in the
// order given, and gives the order with those distances.
func (p *picture) fits(leads []int, within []int, leaning bool) (*order, bool) {
	s := p.sorter(leads, within, leaning)
	s.given = make([]int, len(leads))
	for i := range leads {
		s.given[i] = i
	}
	s.try(0)
	if len(s.found) == 0 {
		return nil, false
	}
	return &s.found[0], true
}

// volts is the band of the volts between two leads of a bunch, over all of
// its orders.
func (p *picture) volts(a, b, supply int) band {
	return p.reach(a, b, supply, func(o *order) *web { return o.volts(supply) })
}

// volts is the web of one application of the supply, nil where nothing was read.
func (o *order) volts(supply int) *web {
	if supply < 0 || supply >= len(o.supply) {
		return nil
	}
	return o.supply[supply]
}

// wire is the same in ohms.
func (p *picture) wire(a, b int) band {
	return p.reach(a, b, inOhms, func(o *order) *web { return o.ohms })
}

// inOhms stands in the place of an application of the supply for readings in ohms.
const inOhms = -1

// reach is the distance of two leads over all orders; where there are too
// many orders, what was read between the two.
func (p *picture) reach(a, b, supply int, which func(*order) *web) band {
	l := p.linesOf(p.bunch[a])
	if !l.known || len(l.orders) == 0 {
		is := anything
		for _, i := range p.within[p.bunch[a]] {
			m := &p.measures[i]
			if (m.red == a && m.black == b || m.red == b && m.black == a) && (m.sort == span && m.supply == supply || m.sort == through && supply == inOhms) {
				is = is.meet(m.is)
			}
		}
		return is
	}
	i, j := p.index(a), p.index(b)
	is := band{math.Inf(1), 0}
	for n := range l.orders {
		o := &l.orders[n]
		d := which(o).distance(o.at[i], o.at[j])
		is = band{min(is.lo, d.lo), max(is.hi, d.hi)}
	}
	return is
}

// senseOf tells whether the two bunches of a tie run the same way: their
// volts take away from each other then, and add if they do not.
func (p *picture) senseOf(t *tie) int {
	same, other := p.tied(t)
	switch {
	case same && !other:
		return 1
	case other && !same:
		return -1
	}
	return 0
}

// tied says which of the two the reading of a tie can be. What was read on
// one range of the meter can be compared the more closely.
func (p *picture) tied(t *tie) (same, other bool) {
	m := &p.measures[t.measure]
	a, b := p.volts(t.x, t.u, m.supply), p.volts(t.y, t.v, m.supply)
	is := m.is
	for _, i := range p.within[p.bunch[t.x]] {
		d := &p.measures[i]
		if d.sort == span && d.supply == m.supply && d.digit == m.digit && (d.red == t.x && d.black == t.u || d.red == t.u && d.black == t.x) {
			a, is = a.meet(d.leans), m.leans
		}
	}
	sum := band{a.lo + b.lo, a.hi + b.hi}
	difference := band{max(0, a.lo-b.hi, b.lo-a.hi), max(a.hi-b.lo, b.hi-a.lo)}
	return is.meets(difference), is.meets(sum)
}
