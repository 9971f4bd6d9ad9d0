package legend

import (
	"math"
	"slices"
)

// clashKind says in which way readings contradict each other.
type clashKind uint8

const (
	openInside  clashKind = iota + 1 // no wire was read between leads that other readings join
	offTheLine                       // distances that no order of the leads fits
	offTheTie                        // volts of two windings that neither add nor take away
	oddTies                          // senses that go round in a ring and come back turned over
	offThePlan                       // the windings as told fit no readings like these
	shortedClip                      // leads that were clipped together lie on one winding
)

// A clash is a set of readings that cannot all be right.
type clash struct {
	kind     clashKind
	measures []int
	leads    []int
	suspect  int     // the measure that is most likely wrong; -1 where none stands out
	factor   float64 // by which the suspect would be right, as 1000 for a wrong prefix; 0 for none
	others   int     // how many there are without which the rest would agree
}

// contradiction finds the first set of readings that contradict each other.
func (p *picture) contradiction() (clash, bool) {
	for _, look := range []func() (clash, bool){p.openWithin, p.shorted, p.bent, p.untied, p.turnedRound, p.unplanned} {
		if c, found := look(); found {
			slices.Sort(c.leads)
			c.leads = slices.Compact(c.leads)
			slices.Sort(c.measures)
			return c, true
		}
	}
	return clash{}, false
}

// without draws the picture as it would be with some more measures aside.
func (p *picture) without(measures ...int) *picture {
	q := &picture{n: p.n, lay: p.lay, meter: p.meter, measures: slices.Clone(p.measures),
		aside: slices.Clone(p.aside), doubted: make([]bool, p.n)}
	for _, m := range measures {
		q.aside[m] = true
	}
	q.draw()
	return q
}

// openWithin looks for an open reading inside a bunch. A probe that does not
// bite through the enamel reads open; wire where there is none is read by
// touching the wrong lead. So the open one is the likelier slip, unless
// several of them stand against one.
func (p *picture) openWithin() (clash, bool) {
	if i := p.baffled(); i >= 0 {
		m := &p.measures[i]
		leads := slices.Concat(m.clipped(m.red), m.clipped(m.black))
		return clash{kind: openInside, measures: []int{i}, leads: leads, suspect: i}, true
	}
	bunch, opens := p.opensInside()
	if len(opens) == 0 {
		return clash{}, false
	}
	c := clash{kind: openInside, measures: slices.Clone(opens), suspect: opens[0]}
	for i := range p.measures {
		m := &p.measures[i]
		if m.sort != through || p.aside[i] || p.bunch[m.red] != bunch || !m.plain() {
			continue
		}
		c.measures = append(c.measures, i)
		if len(opens) > 1 {
			if _, left := p.without(i).opensInside(); len(left) == 0 {
				c.suspect = i // of several the last: until it was read all was well
				c.others++
			}
		}
	}
	c.leads = slices.Clone(p.bunches[bunch])
	return c, true
}

// baffled is a reading of wire to one of several leads of which each reads
// open by itself; -1 for none.
func (p *picture) baffled() int {
	for i := range p.measures {
		m := &p.measures[i]
		if m.sort == through && !m.plain() && !p.aside[i] && !slices.Contains(p.vague, i) && !p.accounted(m) {
			return i
		}
	}
	return -1
}

// opensInside gives the first bunch that has open readings inside it, and those.
func (p *picture) opensInside() (bunch int, opens []int) {
	bunch = -1
	for i := range p.measures {
		m := &p.measures[i]
		if m.sort != apart || p.aside[i] {
			continue
		}
		for _, a := range m.clipped(m.red) {
			for _, b := range m.clipped(m.black) {
				if p.bunch[a] == p.bunch[b] && (bunch < 0 || p.bunch[a] == bunch) {
					bunch = p.bunch[a]
					opens = append(opens, i)
				}
			}
		}
	}
	return bunch, slices.Compact(opens)
}

// accounted says that wire is known between the probes of a vague reading.
func (p *picture) accounted(m *measure) bool {
	for _, a := range m.clipped(m.red) {
		for _, b := range m.clipped(m.black) {
			if p.bunch[a] == p.bunch[b] {
				return true
			}
		}
	}
	return false
}

// shorted looks for volts that were read with two leads of one winding
// clipped together: that winding was shorted, and the reading worth nothing.
func (p *picture) shorted() (clash, bool) {
	for i := range p.measures {
		m := &p.measures[i]
		if m.sort != span || p.aside[i] {
			continue
		}
		for _, clip := range m.clips {
			for n, a := range clip {
				for _, b := range clip[:n] {
					if p.bunch[a] == p.bunch[b] {
						return clash{kind: shortedClip, measures: []int{i}, leads: []int{a, b}, suspect: i}, true
					}
				}
			}
		}
	}
	return clash{}, false
}

// bent looks for a bunch whose distances no order fits.
func (p *picture) bent() (clash, bool) {
	for b := range p.bunches {
		if len(p.within[b]) == 0 {
			continue
		}
		l := p.linesOf(b)
		if !l.known || len(l.orders) > 0 {
			continue
		}
		c := clash{kind: offTheLine, measures: p.within[b], leads: slices.Clone(p.bunches[b])}
		c.suspect, c.factor = p.misfit(b)
		c.measures = p.narrowed(b)
		return c, true
	}
	return clash{}, false
}

// misfit finds the one reading inside a bunch without which the others fit: of
// several, one that would fit with its point or prefix put right, else the one
// that is furthest from what the others want of it.
func (p *picture) misfit(bunch int) (suspect int, factor float64) {
	suspect, worst := -1, 0.0
	within := p.within[bunch]
	for n, i := range within {
		rest := slices.Delete(slices.Clone(within), n, n+1)
		if p.bends(bunch, rest) {
			continue
		}
		l := p.order(bunch, rest, false)
		if !l.known || len(l.orders) == 0 {
			continue
		}
		m := &p.measures[i]
		a, b := p.index(m.red), p.index(m.black)
		off, slip := math.Inf(1), 0.0
		for k := range l.orders {
			o := &l.orders[k]
			w := o.ohms
			if m.sort == span {
				w = o.volts(m.supply)
			}
			wanted := w.distance(o.at[a], o.at[b])
			off = min(off, misfitOf(m.is, wanted))
			if f := factorOf(m, wanted); slip == 0 {
				slip = f
			}
		}
		if suspect < 0 || slip != 0 && factor == 0 || (slip != 0) == (factor != 0) && off >= worst {
			suspect, worst, factor = i, off, slip
		}
	}
	return suspect, factor
}

// misfitOf says how many times too large or too small a band is.
func misfitOf(is, wanted band) float64 {
	const least = 0.01 // ohms or volts: less than a hand meter shows
	switch {
	case is.lo > wanted.hi:
		return is.lo / max(wanted.hi, least)
	case wanted.lo > is.hi:
		return wanted.lo / max(is.hi, least)
	}
	return 1
}

// factorOf looks whether a reading would fit with its point or prefix put right,
// by a twentieth either way.
func factorOf(m *measure, wanted band) float64 {
	if math.IsInf(wanted.hi, 1) {
		return 0
	}
	for _, f := range [...]float64{10, 0.1, 1000, 1e-3} {
		if (band{m.value * f * 0.95, m.value * f * 1.05}).meets(wanted) {
			return f
		}
	}
	return 0
}

// narrowed are readings inside a bunch that contradict each other with none
// to spare: each of them is needed for it.
func (p *picture) narrowed(bunch int) []int {
	return needed(p.within[bunch], func(rest []int) bool { return p.bends(bunch, rest) })
}

// untied looks for volts across two windings that neither add nor take away.
func (p *picture) untied() (clash, bool) {
	for i := range p.ties {
		t := &p.ties[i]
		if same, other := p.tied(t); same || other {
			continue
		}
		return clash{kind: offTheTie, measures: []int{t.measure}, leads: []int{t.x, t.u, t.y, t.v}, suspect: t.measure}, true
	}
	return clash{}, false
}

// turnedRound looks for ties that contradict each other: of windings A, B and
// C, A runs with B and B with C, but A against C.
func (p *picture) turnedRound() (clash, bool) {
	used := p.ring()
	if len(used) == 0 {
		return clash{}, false
	}
	c := clash{kind: oddTies, suspect: p.ties[used[len(used)-1]].measure}
	least := math.Inf(1)
	for _, k := range used {
		t := &p.ties[k]
		m := &p.measures[t.measure]
		c.measures = append(c.measures, t.measure)
		c.leads = append(c.leads, t.x, t.u, t.y, t.v)
		if len(p.without(t.measure).ring()) > 0 {
			continue
		}
		// The smaller the volts that decide beside those that are read, the
		// easier it is to be wrong.
		if sure := p.volts(t.y, t.v, m.supply).lo / max(m.value, 1e-3); sure <= least {
			least, c.suspect = sure, t.measure
		}
	}
	return c, true
}

// ring gives the ties up to the first that comes back turned over; nil if none
// does.
func (p *picture) ring() []int {
	root, turned := make([]int, len(p.bunches)), make([]bool, len(p.bunches))
	for i := range root {
		root[i] = i
	}
	find := func(x int) (int, bool) {
		t := false
		for root[x] != x {
			t = t != turned[x]
			x = root[x]
		}
		return x, t
	}
	var used []int
	for i := range p.ties {
		t := &p.ties[i]
		against, ok := p.against(t)
		if !ok {
			continue
		}
		used = append(used, i)
		a, ta := find(p.bunch[t.x])
		b, tb := find(p.bunch[t.y])
		switch {
		case a != b:
			root[a], turned[a] = b, (ta != tb) != against
		case (ta != tb) != against:
			return used
		}
	}
	return nil
}

// against says that the bunches of a tie run against each other, each taken
// in the one order that it can have.
func (p *picture) against(t *tie) (against, ok bool) {
	if t.sense == 0 {
		return false, false
	}
	rises := func(from, to int) (bool, bool) {
		l := p.linesOf(p.bunch[from])
		if !l.known || len(l.orders) != 1 {
			return false, false
		}
		o := &l.orders[0]
		return o.at[p.index(to)] > o.at[p.index(from)], true
	}
	a, known := rises(t.x, t.u)
	b, also := rises(t.y, t.v)
	return (a == b) != (t.sense > 0), known && also
}

// unplanned looks whether the readings leave any way to name the leads.
func (p *picture) unplanned() (clash, bool) {
	if hyps := p.namings(); !p.settled || len(hyps) > 0 {
		return clash{}, false
	}
	c := clash{kind: offThePlan, suspect: -1}
	// Without a reading that joins two leads almost anything fits; so volts
	// come first, if there is one that alone is in the way.
	for _, volts := range []bool{true, false} {
		c.measures = nil
		for i := range p.measures {
			if p.aside[i] || (p.measures[i].sort == span) != volts {
				continue
			}
			q := p.without(i)
			if hyps := q.namings(); q.settled && len(hyps) > 0 {
				c.measures = append(c.measures, i)
			}
		}
		if len(c.measures) > 0 {
			break
		}
	}
	if len(c.measures) == 1 {
		c.suspect = c.measures[0]
	}
	for lead := range p.n {
		c.leads = append(c.leads, lead)
	}
	return c, true
}
