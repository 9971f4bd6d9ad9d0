package compare

import (
	"cmp"
	"slices"
)

// The search for the fewest actions that untie a knot. It tries one action,
// two, and so on. At each step it takes two spots of different nets that are
// joined without a third net between them and tries all that could part them:
// every action on a joint of the way between them, and every turn of a part
// that gives one of the two another net. What is then missing is counted. No
// action that leaves that way alone can part the two, so nothing is
// overlooked by looking only there.

// A search is the state of the search in one knot.
type search struct {
	*knot
	now   []strand // as the actions so far have left them; an end of gone is a joint taken off
	lab   []int32  // labels likewise
	trail []action

	limit  int // actions and missing joints allowed
	work   int // steps that may still be taken
	nodes  int // states looked at
	seen   map[uint64]int
	found  []solution
	keys   map[uint64]int // what found ends in, to its place in found
	levels []level

	scratch
}

// gone stands for the ends of a joint that was taken off.
const gone = -1

// A solution unties a knot.
type solution struct {
	actions []action
	missing int
	joins   []int // by local label: lumps that come together
	weight  int
	key     uint64
}

func (s *solution) total() int { return s.cost() + s.missing }

func (s *solution) cost() int {
	n := 0
	for i := range s.actions {
		n += s.actions[i].cost
	}
	return n
}

// A level is what one depth of the search needs to itself.
type level struct {
	actions []action
	ends    []strandEnd
	undo    []undo
}

type undo struct {
	strand     int32
	ends, feet [2]int32
}

// Bounds of the search in one knot.
const (
	mostNodes     = 100_000
	mostWork      = 10_000_000 // steps through strands and spots: a few tenths of a second
	mostFound     = 256        // solutions gathered, before the best are picked
	mostTold      = 8          // explanations told
	deepestSearch = 12
	noLimit       = 1 << 30
)

// An answer is what became of a knot.
type answer struct {
	*knot
	solutions []solution // equally small, the likeliest first
	unproven  bool       // the search stopped at its bounds
	nodes     int
	work      int // what it took
}

// untie finds the smallest explanations of a knot with so much work, and if
// that is not enough, some explanation by feel.
func (k *knot) untie(work int) answer {
	a := k.untieWithin(noLimit, work)
	if a.unproven {
		s := newSearch(k)
		s.feel()
		if len(s.found) == 0 {
			s.hack()
		}
		a.take(s)
	}
	return a
}

// untieWithin finds the smallest explanations of a knot as long as they are
// not greater than limit in actions and missing joints, and found with so much
// work; there may be none then.
func (k *knot) untieWithin(limit, work int) answer {
	s := newSearch(k)
	s.work = work
	postures := s.postures()
	for s.limit = postures[0].least; s.limit <= limit; s.limit++ {
		for _, p := range postures {
			if p.least > s.limit {
				break
			}
			clear(s.seen)
			s.strike(p)
			s.step(0, p.cost)
			s.relax(p)
		}
		if len(s.found) > 0 || s.spent() {
			break
		}
	}
	a := answer{knot: k, nodes: s.nodes, work: work - s.work}
	a.take(s)
	if s.spent() {
		a.unproven = len(s.found) == 0
	}
	return a
}

// take takes over the smallest explanations that a search has found.
func (a *answer) take(s *search) {
	a.solutions = s.found
	slices.SortStableFunc(a.solutions, func(x, y solution) int {
		return cmp.Or(cmp.Compare(x.total(), y.total()), cmp.Compare(x.weight, y.weight))
	})
	for i := range a.solutions {
		if a.solutions[i].total() > a.solutions[0].total() {
			a.solutions = a.solutions[:i]
			break
		}
	}
}

func newSearch(k *knot) *search {
	s := &search{
		knot: k, now: slices.Clone(k.strands), lab: slices.Clone(k.label),
		seen: make(map[uint64]int), keys: make(map[uint64]int),
		levels: make([]level, deepestSearch+1),
	}
	s.scratch.make(len(k.label), len(k.strands), len(k.labels))
	return s
}

func (s *search) spent() bool { return s.work <= 0 || s.nodes >= mostNodes }

// step looks at a state that cost so much, at this depth.
func (s *search) step(depth, cost int) {
	s.nodes++
	if s.spent() || len(s.found) >= mostFound {
		return
	}
	v := s.view()
	if !v.wrong {
		if cost+v.missing == s.limit {
			s.keep(v.missing)
		}
		return
	}
	if cost+s.least(v) > s.limit || depth == deepestSearch {
		return
	}
	key := s.stateKey()
	if before, met := s.seen[key]; met && before <= cost {
		return
	}
	s.seen[key] = cost
	l := &s.levels[depth]
	l.actions = s.actions(v, l.actions[:0])
	for i := range l.actions {
		a := &l.actions[i]
		if cost+a.cost > s.limit {
			continue
		}
		s.apply(a, l)
		s.step(depth+1, cost+a.cost)
		s.revert(l)
	}
}

// least is a bound: so many more actions and missing joints there must be. A
// strand that is put elsewhere makes up for one missing joint, and one action
// puts few strands elsewhere; but to a lump elsewhere an action puts one only,
// or those of one landing, and then it saves no more than it costs.
func (s *search) least(v view) int {
	if !v.wrong {
		return v.missing
	}
	saved := min(v.missing-v.elsewhere, v.savings)
	most := max(ringSize, s.most)
	need := (max(saved, v.units-v.elsewhere*s.most) + most - 1) / most
	if need == 0 && v.elsewhere == 0 {
		need = 1
	}
	return v.missing - saved + need
}

// keep notes the actions of the trail as a solution.
func (s *search) keep(missing int) {
	sol := solution{actions: slices.Clone(s.trail), missing: missing, joins: s.joins(), key: s.endKey()}
	for i := range sol.actions {
		sol.weight += s.weight(&sol.actions[i])
	}
	sol.weight += missing * missingWeight
	if at, met := s.keys[sol.key]; met {
		if sol.weight < s.found[at].weight {
			s.found[at] = sol
		}
		return
	}
	s.keys[sol.key] = len(s.found)
	s.found = append(s.found, sol)
}

// mix spreads a number over 64 bits (the finalizer of splitmix64).
func mix(x uint64) uint64 {
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}

func pairKey(a, b int32) uint64 {
	if a > b {
		a, b = b, a
	}
	return mix(uint64(uint32(a+2))<<32 | uint64(uint32(b+2)))
}

// stateKey tells states apart.
func (s *search) stateKey() uint64 {
	var key uint64
	for i := range s.now {
		e := &s.now[i]
		key += mix(pairKey(e.ends[0], e.ends[1]) + uint64(i))
	}
	for i, label := range s.lab {
		key += mix(uint64(i)<<32 + uint64(label+1) + 1<<63)
	}
	return key
}

// endKey tells end states apart as far as a builder would: which piece of a
// net a joint was put to does not matter.
func (s *search) endKey() uint64 {
	name := func(spot int32) int32 {
		if spot == gone || s.lab[spot] < 0 {
			return spot
		}
		return -3 - s.lab[spot]
	}
	var key uint64
	for i := range s.now {
		if e := &s.now[i]; e.ends != s.strands[i].ends {
			key += mix(pairKey(name(e.ends[0]), name(e.ends[1])) + uint64(i))
		}
	}
	for i, label := range s.lab {
		if label != s.label[i] {
			key += mix(uint64(i)<<32 + uint64(label+1) + 1<<63)
		}
	}
	return key
}
