package legend

import (
	"slices"
)

// Driving a winding makes volts on every other in the measure of its turns:
// 12 V on a heater winding are lethal on the high-tension winding. So a
// supply goes only onto the winding with by far the most ohms, or the one with
// the most that must be for high volts by the kind, and never onto one that
// the kind has for low volts. Ohms are no measure of turns, but they go with
// the square of them: the winding with the most has more than a third of the
// turns of any other (own reasoning, held by a test on invented transformers).
const (
	leastDriven = 3 // ohms, below which no winding is taken for one of many turns
	// A winding for less is a low-voltage one: the greatest of the bounds of class
	// ES1 in IEC 62368-1, Table 4, that of direct volts. That of alternating volts is
	// 30; the greater is taken since it keeps the supply off more windings.
	lowVolts = 60.0
	lowLoad  = 100 // ohms: a winding for a load below this is a low-voltage one
	ahead    = 1.5 // times as many ohms as any other
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
