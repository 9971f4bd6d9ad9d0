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
}

// next is the reading that tells most, ohms before volts before phase; ok is
// false where no reading would tell more, or the part has no windings.
func (p *picture) next(likely func(a, b int) float64) (ask, bool) {
	if len(p.lay.groups) == 0 {
		return ask{}, false
	}
	for _, c := range p.clash {
		if c.suspect >= 0 && p.measures[c.suspect].sort != span {
			m := &p.measures[c.suspect]
			return ask{sort: through, red: m.red, black: m.black, again: true}, true
		}
	}
	hyps := p.namings()
	if a, ok := p.nextBunch(hyps, likely); ok {
		return a, true
	}
	open := p.openLeads()
	if !slices.Contains(open, true) {
		return ask{}, false
	}
	if a, ok := p.best(p.ohmsAsks(open), hyps, open); ok {
		return a, true
	}
	if a, ok := p.unread(); ok {
		return a, true
	}
	drive, safe := p.driven()
	if !safe {
		return ask{}, false
	}
	if a, ok := p.further(drive); ok {
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

// closelyKnown is how wide, as a fraction, what volts can be may lie for a
// reading to tell no more of them: about twice what a hand meter and a supply
// from the mains are off either way (our own choice; it only chooses readings).
const closelyKnown = 0.1

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
				if is := p.volts(x, y, supply); p.wasRead(b, x, y, span, supply) || !math.IsInf(is.hi, 1) && is.hi-is.lo < closelyKnown*is.hi {
					continue // it is known as well as a reading could tell
				}
				if width := p.wire(x, y).middle(); width > most {
					far, most = [2]int{y, x}, width
				}
			}
		}
		if far[0] >= 0 {
			return ask{sort: span, red: far[0], black: far[1], drive: drive}, true
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
