package compare

import (
	"cmp"
	"slices"
)

// Explanations of one size are told in the order of how likely they are. The
// weights are common practice, no source: a joint is forgotten more readily
// than it is put wrongly, a lead is put wrongly more readily than a leg, and
// what takes several slips at once is least likely.
const (
	missingWeight  = 50
	putWeight      = 100
	takeOffWeight  = 110
	turnWeight     = 120
	twoPartsWeight = 140
	exchangeWeight = 150
	ringWeight     = 300
	legWeight      = 15 // more, for each leg
	apartWeight    = 5  // more, where the places that were exchanged are on different parts
)

// weight tells how unlikely an action is.
func (s *search) weight(a *action) int {
	var w int
	switch a.deed {
	case put:
		w = putWeight
	case takeOff:
		w = takeOffWeight
	case exchange:
		w = exchangeWeight
	case ring:
		w = ringWeight
	case turnOver:
		f := &s.flips[a.to]
		if f.cost == 0 {
			return 0
		}
		if f.two {
			return twoPartsWeight
		}
		return turnWeight
	}
	n := a.size()
	part := int32(-1)
	for x := range n {
		strand := a.strands[x]
		if s.now[strand].leg {
			w += legWeight
		}
		if n == 1 {
			continue
		}
		place := s.partAt(s.strands[strand].ends[a.sides[x]])
		if x > 0 && place != part || place < 0 {
			w += apartWeight
		}
		part = place
	}
	return w
}

// partAt is the part of which a spot is, or -1.
func (k *knot) partAt(spot int32) int32 {
	if spot < 0 || k.at[spot] < 0 {
		return -1
	}
	return k.part[k.first[k.at[spot]]]
}

// Bounds of the search by feel.
const (
	feelWidth = 24
	feelDepth = 40
	feelWork  = 10_000_000
)

// A branch is one state of the search by feel.
type branch struct {
	trail []action
	cost  int
	guess int
	key   uint64
}

// feel looks for a small explanation where the search for the smallest gave
// up: it follows the most promising states only, a fixed number at each depth.
func (s *search) feel() []solution {
	s.work = feelWork
	s.found = s.found[:0]
	clear(s.keys)
	level := []branch{{}}
	best := noLimit
	for depth := 0; depth < feelDepth && len(level) > 0; depth++ {
		var next []branch
		met := make(map[uint64]bool)
		for _, b := range level {
			s.replay(b.trail, func() {
				v := s.view()
				if !v.wrong {
					if total := b.cost + v.missing; total <= best {
						best = total
						s.keep(v.missing)
					}
					return
				}
				if s.work > 0 {
					next = s.branches(b, v, met, next)
				}
			})
		}
		slices.SortStableFunc(next, func(x, y branch) int {
			return cmp.Or(cmp.Compare(x.guess, y.guess), cmp.Compare(x.key, y.key))
		})
		level = next[:0]
		for _, b := range next {
			if b.cost <= best && len(level) < feelWidth {
				level = append(level, b)
			}
		}
	}
	return s.found
}

// branches lists the states one action further on.
func (s *search) branches(b branch, v view, met map[uint64]bool, list []branch) []branch {
	var l level
	for _, a := range s.actions(v, nil) {
		s.apply(&a, &l)
		if key := s.stateKey(); !met[key] {
			met[key] = true
			u := s.view()
			list = append(list, branch{
				trail: append(slices.Clone(b.trail), a),
				cost:  b.cost + a.cost,
				guess: 4*(b.cost+a.cost+u.missing) + 3*u.loose,
				key:   key,
			})
		}
		s.revert(&a, &l)
	}
	return list
}

// replay does what f does after the actions of a trail.
func (s *search) replay(trail []action, f func()) {
	levels := make([]level, len(trail))
	for i := range trail {
		s.apply(&trail[i], &levels[i])
	}
	f()
	for i := len(trail) - 1; i >= 0; i-- {
		s.revert(&trail[i], &levels[i])
	}
}
