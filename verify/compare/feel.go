package compare

import (
	"cmp"
	"slices"
)

// Bounds of the search by feel.
const (
	feelWidth    = 24
	feelDepth    = 40
	feelWork     = 1_000_000
	feelPostures = 4
)

// A branch is one state of the search by feel.
type branch struct {
	trail []action
	cost  int
	guess int
	key   uint64
}

// feel looks for a small explanation where the search for the smallest gave
// up: it follows the most promising states only, a fixed number at each depth,
// from each of the most promising choices of turns.
func (s *search) feel() {
	best := noLimit
	for _, p := range first(s.postures(), feelPostures) {
		s.strike(p)
		s.work = feelWork
		best = s.feelFrom(p.cost, best)
		s.relax(p)
	}
}

func first[T any](list []T, n int) []T { return list[:min(n, len(list))] }

// feelFrom does so from one choice of turns. It gives the least total found so
// far.
func (s *search) feelFrom(cost, best int) int {
	level := []branch{{cost: cost}}
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
	return best
}

// hack unties the knot joint by joint, as they come, where it is too great for
// anything better. Each joint is put elsewhere once at most, and then comes off.
func (s *search) hack() {
	moved := make([]bool, len(s.now))
	var levels []level
	for v := s.view(); v.wrong; v = s.view() {
		i := v.way[0]
		for _, j := range v.way {
			if moved[i] && !moved[j] {
				i = j
			}
		}
		next := action{deed: takeOff, cost: 1, strands: [ringSize]int32{i}}
		if puts := s.puts(i, nil); !moved[i] && len(puts) > 0 {
			next = puts[0]
		}
		moved[i] = true
		levels = append(levels, level{})
		s.apply(&next, &levels[len(levels)-1])
	}
	s.keep(s.missing())
}

// branches lists the states one action further on.
func (s *search) branches(b branch, v view, met map[uint64]bool, list []branch) []branch {
	var l level
	for _, a := range s.actions(v, nil) {
		if s.work <= 0 {
			break
		}
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
		s.revert(&l)
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
		s.revert(&levels[i])
	}
}
