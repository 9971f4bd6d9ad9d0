package legend

import "slices"

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
	count, windings := len(p.bunches), len(p.lay.groups)
	*w = ways{pair: make([]float64, count*count)}
	f := filler{p: p, w: w, likely: likely, group: make([]int, count), room: make([]int, windings+1), noEnd: windings}
	for g := range p.lay.groups {
		f.room[g] = len(p.lay.groups[g].ends)
	}
	f.room[f.noEnd] = max(0, p.n-p.lay.ends)
	for b := range f.group {
		f.group[b] = unplaced
	}
	f.try(count)
}

// A filler puts bunches into windings, one after another.
type filler struct {
	p      *picture
	w      *ways // those that were found
	likely func(a, b int) float64
	group  []int // by bunch: its winding, noEnd, or unplaced
	room   []int // by winding, and for noEnd: leads that it can take yet
	noEnd  int   // stands in the place of a winding for leads that are no end
	steps  int
}

// unplaced is a bunch that has no winding yet.
const unplaced = -2

// try places the bunches that are left in all ways.
func (f *filler) try(left int) {
	if left == 0 {
		f.keep()
		return
	}
	at := f.tightest()
	size := len(f.p.bunches[at])
	for g := range f.room {
		if f.steps++; f.steps > goneAlong || len(f.w.with) == goneTo {
			return
		}
		if !f.free(at, g) || !f.inTurn(g) {
			continue
		}
		f.group[at] = g
		f.room[g] -= size
		f.try(left - 1)
		f.room[g] += size
		f.group[at] = unplaced
	}
}

// tightest is the unplaced bunch with the fewest windings to choose from.
func (f *filler) tightest() int {
	at, least := -1, len(f.room)+1
	for b := range f.group {
		if f.group[b] != unplaced {
			continue
		}
		choices := 0
		for g := range f.room {
			if f.free(b, g) {
				choices++
			}
		}
		if choices < least {
			at, least = b, choices
		}
	}
	return at
}

// free says that a winding can take a bunch: there is room, and no bunch on it
// is known to be apart.
func (f *filler) free(b, g int) bool {
	if f.room[g] < len(f.p.bunches[b]) {
		return false
	}
	for other, at := range f.group {
		if at == g && g != f.noEnd && f.p.isSplit(b, other) {
			return false
		}
	}
	return true
}

// inTurn says that a winding may be begun: of those with as many ends that are
// empty yet, one stands for all.
func (f *filler) inTurn(g int) bool {
	if g == f.noEnd {
		return true
	}
	size := len(f.p.lay.groups[g].ends)
	for other := range g {
		if len(f.p.lay.groups[other].ends) == size && f.room[other] == size && f.room[g] == size {
			return false
		}
	}
	return true
}

// keep takes a way that explains the vague readings.
func (f *filler) keep() {
	if !f.p.allows(f.group) {
		return
	}
	found := slices.Clone(f.group)
	for b := range found {
		if found[b] == f.noEnd {
			found[b] = none
		}
	}
	f.w.add(found, f.p.weigh(found, f.likely))
}
