package legend

import (
	"math"
	"slices"
)

// An ask is a reading to take, in leads of one part.
type ask struct {
	sort       sort // through asks for ohms
	red, black int
	clip       [2]int // for volts across two windings: leads to clip together first
	clipped    bool
	with       []int  // for ohms: leads to clip together with black
	again      bool   // it has been read, and is in doubt
	drive      [2]int // for volts: where the supply goes
	begins     bool   // it reads the supply itself
	fresh      bool   // nothing is known yet of what it will show
	stage      string
}

// next is the reading that tells most, ohms before volts before phase; ok is
// false where no reading would tell more.
func (p *picture) next(likely func(a, b int) float64) (ask, bool) {
	if len(p.clash) > 0 {
		for _, c := range p.clash {
			if c.suspect >= 0 && p.measures[c.suspect].sort != span {
				m := &p.measures[c.suspect]
				return ask{sort: through, red: m.red, black: m.black, again: true}, true
			}
		}
	}
	hyps := p.namings()
	if a, ok := p.nextBunch(hyps, likely); ok {
		a.stage = "bunch"
		return a, true
	}
	open := p.openLeads()
	if !slices.Contains(open, true) {
		return ask{}, false
	}
	if a, ok := p.best(p.ohmsAsks(open), hyps, open); ok {
		a.stage = "order"
		return a, true
	}
	if a, ok := p.unread(); ok {
		a.stage = "unread"
		return a, true
	}
	drive, safe := p.driven()
	if !safe {
		return ask{}, false
	}
	if a, ok := p.further(drive); ok {
		a.stage = "further"
		return a, true
	}
	supply := p.supply()
	if supply < 0 {
		return ask{sort: span, red: drive[0], black: drive[1], drive: drive, begins: true}, true
	}
	asks := append(p.voltsAsks(drive, supply), p.tieAsks(open, drive, supply)...)
	if a, ok := p.best(asks, hyps, open); ok {
		return a, true
	}
	if a, ok := p.local(open, drive, supply); ok {
		return a, true
	}
	return p.fresh(open, drive, supply)
}

// local is the reading of volts that tells most of one bunch, where there are
// too many ways to name all of them together.
func (p *picture) local(open []bool, drive [2]int, supply int) (ask, bool) {
	if p.settled {
		return ask{}, false
	}
	for b, leads := range p.bunches {
		if len(leads) < 3 || !p.anyOf(open, b) {
			continue
		}
		var hyps []hypothesis
		only := make([]bool, p.n)
		for _, f := range p.fittings(b, p.supplies()) {
			if f.ends == nil {
				continue
			}
			h := hypothesis{ends: make([]int, p.n), scale: f.scale}
			for i := range h.ends {
				h.ends[i] = none
			}
			for i, lead := range leads {
				h.ends[lead], only[lead] = f.ends[i], true
			}
			hyps = append(hyps, h)
		}
		if a, ok := p.best(p.voltsAsks(drive, supply), hyps, only); ok {
			return a, true
		}
	}
	return ask{}, false
}

// anyOf says that some lead of a bunch is marked.
func (p *picture) anyOf(marked []bool, bunch int) bool {
	return slices.ContainsFunc(p.bunches[bunch], func(lead int) bool { return marked[lead] })
}

// openLeads are those of which more could be known.
func (p *picture) openLeads() []bool {
	open := make([]bool, p.n)
	if len(p.lay.groups) == 0 {
		for b := range p.bunches {
			if l := p.linesOf(b); len(p.bunches[b]) > 2 && (!l.known || len(l.orders) > 1) {
				for _, lead := range p.bunches[b] {
					open[lead] = true
				}
			}
		}
		return open
	}
	for lead, c := range p.claims() {
		open[lead] = c.sure == Open && !p.doubted[lead]
	}
	return open
}

// ohmsAsks are readings in ohms inside bunches that are open.
func (p *picture) ohmsAsks(open []bool) []ask {
	var list []ask
	for b, leads := range p.bunches {
		if len(leads) < 3 || !p.anyOf(open, b) {
			continue
		}
		for i, x := range leads {
			for _, y := range leads[:i] {
				if !p.wasRead(b, x, y, through, 0) {
					list = append(list, ask{sort: through, red: y, black: x})
				}
			}
		}
	}
	return list
}

func (p *picture) wasRead(bunch, x, y int, s sort, supply int) bool {
	for _, i := range p.within[bunch] {
		m := &p.measures[i]
		if m.sort == s && (s == through || m.supply == supply) && (m.red == x && m.black == y || m.red == y && m.black == x) {
			return true
		}
	}
	return false
}

// voltsAsks are readings of volts inside bunches. What is settled itself may
// settle others all the same: it tells how many volts a turn has.
func (p *picture) voltsAsks(drive [2]int, supply int) []ask {
	var list []ask
	for b, leads := range p.bunches {
		for i, x := range leads {
			for _, y := range leads[:i] {
				if !p.wasRead(b, x, y, span, supply) {
					list = append(list, ask{sort: span, red: y, black: x, drive: drive})
				}
			}
		}
	}
	return list
}

// tieAsks are readings across two bunches, clipped together at one lead each:
// the driven winding with another, or two others.
func (p *picture) tieAsks(open []bool, drive [2]int, supply int) []ask {
	var list []ask
	for b, leads := range p.bunches {
		for d := range p.bunches {
			if b == d || p.bunch[drive[0]] == b || p.bunch[drive[0]] != d && d > b || len(leads) < 2 || len(p.bunches[d]) < 2 {
				continue
			}
			if !p.anyOf(open, b) && !p.anyOf(open, d) || p.isTied(b, d) || p.anyWayRound(b) || p.anyWayRound(d) {
				continue
			}
			if a, ok := p.tieAsk(d, b, supply); ok {
				a.drive = drive
				list = append(list, a)
			}
		}
	}
	return list
}

// anyWayRound says that a bunch may be put end for end without any difference.
func (p *picture) anyWayRound(b int) bool {
	list := p.groupsOf(b)
	return len(list) > 0 && !slices.ContainsFunc(list, func(g int) bool { return !p.lay.free[g] })
}

// tieAsk finds the pieces of two bunches to read across: of one the most
// volts, and of the other about as many, so that the two show beside each
// other.
func (p *picture) tieAsk(d, b, supply int) (ask, bool) {
	leads := p.bunches[b]
	y, v, most := -1, -1, 0.0
	for i, a := range leads {
		for _, c := range leads[:i] {
			if is := p.volts(c, a, supply); is.lo > most {
				y, v, most = c, a, is.lo
			}
		}
	}
	if y < 0 {
		return ask{}, false
	}
	x, u, least := -1, -1, math.Inf(1)
	for i, a := range p.bunches[d] {
		for _, c := range p.bunches[d][:i] {
			if is := p.volts(c, a, supply); is.lo > 0 && !math.IsInf(is.hi, 1) {
				far := math.Abs(math.Log(is.middle() / most))
				if !p.wasRead(d, a, c, span, supply) {
					far += math.Ln2 // what was read itself is known the more closely
				}
				if far < least {
					x, u, least = c, a, far
				}
			}
		}
	}
	if x < 0 || !p.decides(x, u, y, v, supply) {
		return ask{}, false
	}
	return ask{sort: span, red: u, black: v, clip: [2]int{x, y}, clipped: true}, true
}

// isTied says that a reading across two bunches has told their sense.
func (p *picture) isTied(a, b int) bool {
	return slices.ContainsFunc(p.ties, func(t tie) bool {
		x, y := p.bunch[t.x], p.bunch[t.y]
		return t.sense != 0 && (x == a && y == b || x == b && y == a)
	})
}

// decides says that the volts of two pieces of winding are known well enough,
// and large enough beside one another, for their sum and their difference to
// be told apart.
func (p *picture) decides(x, u, y, v, supply int) bool {
	d, o := p.volts(x, u, supply).meet(p.closely(x, u, supply)), p.volts(y, v, supply)
	sum := p.asRead(band{d.lo + o.lo, d.hi + o.hi})
	difference := p.asRead(band{max(0, d.lo-o.hi, o.lo-d.hi), max(d.hi-o.lo, o.hi-d.lo)})
	return !sum.meets(difference)
}

// closely is the band of volts that were read between just these leads,
// beside other readings on the same range.
func (p *picture) closely(x, u, supply int) band {
	for _, i := range p.within[p.bunch[x]] {
		if m := &p.measures[i]; m.sort == span && m.supply == supply && (m.red == x && m.black == u || m.red == u && m.black == x) {
			return m.leans
		}
	}
	return anything
}

// mostCompared bounds the hypotheses that are compared two by two.
const mostCompared = 40

// best is the reading that parts the most hypotheses, two by two.
func (p *picture) best(asks []ask, hyps []hypothesis, open []bool) (ask, bool) {
	if len(p.lay.groups) == 0 {
		return p.bestOrder(asks)
	}
	hyps = hyps[:min(len(hyps), mostCompared)]
	bestAsk, best := ask{}, 0
	for _, a := range asks {
		shows := make([]band, len(hyps))
		for i := range hyps {
			shows[i] = p.shows(&hyps[i], &a)
		}
		parted := 0
		for i := range hyps {
			for k := range i {
				if !shows[i].meets(shows[k]) && differ(&hyps[i], &hyps[k], open) {
					parted++
				}
			}
		}
		if parted > best {
			bestAsk, best = a, parted
		}
	}
	return bestAsk, best > 0
}

func differ(a, b *hypothesis, open []bool) bool {
	for lead, end := range a.ends {
		if open[lead] && b.ends[lead] != end {
			return true
		}
	}
	return false
}

// shows is the band of what the meter would show under a hypothesis.
func (p *picture) shows(h *hypothesis, a *ask) band {
	if a.sort == through {
		is := p.rowUnder(h, a.red, a.black, func(o *order) *web { return o.ohms })
		return is.wider(p.meter.Contact + p.meter.Digit)
	}
	supply := p.supply()
	if !a.clipped {
		return p.asRead(p.predict(h, a.red, a.black, supply))
	}
	x, y := a.clip[0], a.clip[1]
	d, o := p.predict(h, x, a.red, supply), p.predict(h, y, a.black, supply)
	d = d.meet(p.closely(x, a.red, supply))
	ex, eu, ey, ev := h.ends[x], h.ends[a.red], h.ends[y], h.ends[a.black]
	if ex < 0 || eu < 0 || ey < 0 || ev < 0 || p.lay.free[p.lay.of[ex]] || p.lay.free[p.lay.of[ey]] {
		return anything
	}
	if (p.lay.at[eu] > p.lay.at[ex]) == (p.lay.at[ev] > p.lay.at[ey]) {
		return p.asRead(band{max(0, d.lo-o.hi, o.lo-d.hi), max(d.hi-o.lo, o.hi-d.lo)})
	}
	return p.asRead(band{d.lo + o.lo, d.hi + o.hi})
}

// asRead widens a band by what the meter most likely makes of it. Small volts
// are read to a hundredth on most meters.
func (p *picture) asRead(b band) band {
	const digit = 0.01
	return b.wider(p.meter.VoltsDigits*digit + p.meter.SameRange*b.middle()/2)
}

// bestOrder is the reading that parts the most orders, where the kind has no
// windings to name the leads after.
func (p *picture) bestOrder(asks []ask) (ask, bool) {
	bestAsk, best := ask{}, 0
	for _, a := range asks {
		if a.clipped {
			continue
		}
		l := p.linesOf(p.bunch[a.red])
		parted := 0
		for i := range l.orders {
			for k := range i {
				x, y := p.orderShows(&l.orders[i], &a), p.orderShows(&l.orders[k], &a)
				if !x.meets(y) {
					parted++
				}
			}
		}
		if parted > best {
			bestAsk, best = a, parted
		}
	}
	return bestAsk, best > 0
}

func (p *picture) orderShows(o *order, a *ask) band {
	i, j := o.at[p.index(a.red)], o.at[p.index(a.black)]
	if a.sort == through {
		return o.ohms.distance(i, j).wider(p.meter.Contact + p.meter.Digit)
	}
	return p.asRead(o.volts(p.supply()).distance(i, j))
}

// fresh is a reading of volts that nothing is known of yet, in a winding that
// is open: the most that can be said is that it will tell something.
func (p *picture) fresh(open []bool, drive [2]int, supply int) (ask, bool) {
	for b, leads := range p.bunches {
		if len(leads) < 2 || !p.anyOf(open, b) {
			continue
		}
		read := 0
		for _, i := range p.within[b] {
			if m := &p.measures[i]; m.sort == span && m.supply == supply {
				read++
			}
		}
		if read >= p.wanted(b) {
			continue
		}
		far, most := [2]int{-1, -1}, -1.0
		for i, x := range leads {
			for _, y := range leads[:i] {
				if is := p.volts(x, y, supply); p.wasRead(b, x, y, span, supply) || !math.IsInf(is.hi, 1) && is.hi-is.lo < 0.1*is.hi {
					continue // it is known as well as a reading could tell
				}
				if width := p.wire(x, y).middle(); width > most {
					far, most = [2]int{y, x}, width
				}
			}
		}
		if far[0] >= 0 {
			return ask{sort: span, red: far[0], black: far[1], drive: drive, fresh: true}, true
		}
	}
	return ask{}, false
}

// wanted is how many readings of volts a bunch can do with: as many as fix
// the order of its leads; where that is known, as many as fix their turns, if
// the kind tells turns to compare with; else one, for the phase.
func (p *picture) wanted(b int) int {
	k := len(p.bunches[b])
	if l := p.linesOf(b); !l.known || len(l.orders) != 1 {
		return 2*k - 3
	}
	most := 1
	for _, g := range p.groupsOf(b) {
		if group := &p.lay.groups[g]; len(group.known) > 1 || len(group.known) > 0 && k == 2 || group.even && k > 2 {
			most = max(most, k-1)
		}
	}
	return most
}

// Driving a winding makes volts on every other in the measure of its turns:
// 12 V on a heater winding are lethal on the high-tension winding. So a
// supply goes only onto the winding with by far the most ohms, or the one with
// the most that must be for high volts by the kind, and never onto one that
// the kind has for low volts. Ohms are no measure of turns, but they go with
// the square of them: the winding with the most has more than a third of the
// turns of any other (own reasoning, held by a test on invented transformers).
const (
	leastDriven = 3    // ohms, below which no winding is taken for one of many turns
	lowVolts    = 60.0 // a winding for less is a low-voltage one: touchable, IEC 62368-1 Table 4 (ES1, direct volts)
	lowLoad     = 100  // ohms: a winding for a load below this is a low-voltage one
	ahead       = 1.5  // times as many ohms as any other
)

// driven is the pair of leads that a supply may go on, the outer leads of the
// winding with the most ohms; ok is false where none is known to be safe.
func (p *picture) driven() (drive [2]int, ok bool) {
	most, second, at := 0.0, 0.0, -1
	for b, leads := range p.bunches {
		span := 0.0
		for i, x := range leads {
			for _, y := range leads[:i] {
				if is := p.wire(x, y); is.middle() > span {
					span = is.middle()
					if span > most {
						drive = [2]int{y, x}
					}
				}
			}
		}
		switch {
		case span > most:
			most, second, at = span, most, b
		case span > second:
			second = span
		}
	}
	if at < 0 || most < leastDriven || most < ahead*second && !p.highVolts(at) {
		return drive, false
	}
	return drive, !p.lowVoltage(at)
}

// further is a reading in ohms of two leads that may lie further apart than
// those that the supply would go on: on a piece of a winding it would make
// too many volts.
func (p *picture) further(drive [2]int) (ask, bool) {
	b := p.bunch[drive[0]]
	driven := p.wire(drive[0], drive[1])
	for i, x := range p.bunches[b] {
		for _, y := range p.bunches[b][:i] {
			if is := p.wire(x, y); is.hi > ahead*driven.lo && !p.wasRead(b, x, y, through, 0) {
				return ask{sort: through, red: y, black: x}, true
			}
		}
	}
	return ask{}, false
}

// groupsOf are the windings that a bunch can be, under all hypotheses.
func (p *picture) groupsOf(bunch int) []int {
	var list []int
	add := func(g int) {
		if g >= 0 && !slices.Contains(list, g) {
			list = append(list, g)
		}
	}
	p.namings()
	if p.settled {
		for i := range p.hyps {
			for _, lead := range p.bunches[bunch] {
				add(p.lay.groupOf(p.hyps[i].ends[lead]))
			}
		}
		return list
	}
	for g := range p.lay.groups {
		if len(p.lay.groups[g].ends) >= len(p.bunches[bunch]) {
			add(g)
		}
	}
	return list
}

// lowVoltage says that a bunch can be nothing but a low-voltage winding.
func (p *picture) lowVoltage(bunch int) bool {
	list := p.groupsOf(bunch)
	return len(list) > 0 && !slices.ContainsFunc(list, func(g int) bool { return !p.lay.groups[g].low() })
}

// highVolts says that a bunch can be nothing but a winding for high volts.
func (p *picture) highVolts(bunch int) bool {
	list := p.groupsOf(bunch)
	return len(list) > 0 && !slices.ContainsFunc(list, func(g int) bool { return !p.lay.groups[g].high() })
}

func (g *group) most() (volts, load float64) {
	for _, t := range g.known {
		if t.by == byVolts {
			volts = max(volts, t.count)
		} else {
			load = max(load, t.count*t.count)
		}
	}
	return volts, load
}

func (g *group) low() bool {
	volts, load := g.most()
	return volts > 0 && volts <= lowVolts || load > 0 && load <= lowLoad
}

func (g *group) high() bool {
	volts, load := g.most()
	return volts > lowVolts || load > lowLoad
}

// unread is a reading in ohms of a winding that has none yet: where the
// supply goes hangs on it.
func (p *picture) unread() (ask, bool) {
	for b, leads := range p.bunches {
		if len(leads) > 1 && !slices.ContainsFunc(p.within[b], func(i int) bool { return p.measures[i].sort == through }) {
			return ask{sort: through, red: leads[0], black: leads[1]}, true
		}
	}
	return ask{}, false
}

// supply is the last application of the supply, -1 if there is none.
func (p *picture) supply() int {
	last := -1
	for i := range p.measures {
		if m := &p.measures[i]; m.sort == span && !p.aside[i] {
			last = max(last, m.supply)
		}
	}
	return last
}
