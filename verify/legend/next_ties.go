package legend

import (
	"math"
	"slices"
)

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

// closely is the band of volts that were read between these very leads,
// beside other readings on the same range.
func (p *picture) closely(x, u, supply int) band {
	for _, i := range p.within[p.bunch[x]] {
		if m := &p.measures[i]; m.sort == span && m.supply == supply && (m.red == x && m.black == u || m.red == u && m.black == x) {
			return m.leans
		}
	}
	return anything
}
