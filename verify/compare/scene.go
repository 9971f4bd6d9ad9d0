package compare

import (
	"cmp"
	"slices"
)

// A scene is the bench once all knots are untied, each by one of its
// explanations.
type scene struct {
	*contraction
	suspects []suspect
	byLabel  [][]int32          // by label: a conductor of each lump, as contracted
	sets     sets               // what hangs together in the end
	ends     map[int32][2]int32 // joints that the actions changed: conductors, gone, or a pending place
	given    map[int32]int32    // labels of conductors that the actions turned
	gained   map[int32]int      // by label: how many conductors were given it
	pending  []pending
	netAt    map[int32]int32 // label of a set, for the nets of the knots
}

// A pending place is a net to which the end of a joint goes; to which of its
// pieces is settled last, so that several knots do not use up one gap.
type pending struct {
	label int32
	wish  int32 // a conductor of the piece that the search had in mind, or -1
	to    int32 // conductor that was settled on; gone if the net has no piece left to join
}

// firstPending marks ends of joints that are pending: place n is firstPending-n.
const firstPending = -10

// lumpsByLabel lists a conductor of each lump, label by label.
func (c *contraction) lumpsByLabel() [][]int32 {
	list := make([][]int32, c.labels)
	taken := make([]bool, len(c.label))
	for x, label := range c.label {
		if label == means {
			continue
		}
		if root := c.root.find(int32(x)); !taken[root] {
			taken[root] = true
			list[label] = append(list[label], int32(x))
		}
	}
	return list
}

// play sets the scene: answer i is told by its explanation choose[i].
func (c *contraction) play(byLabel [][]int32, suspects []suspect, answers []answer, choose []int) *scene {
	s := &scene{
		contraction: c, suspects: suspects, byLabel: byLabel,
		sets: slices.Clone(c.root), ends: make(map[int32][2]int32), given: make(map[int32]int32),
		gained: make(map[int32]int),
		netAt:  make(map[int32]int32),
	}
	for i := range answers {
		if len(answers[i].solutions) == 0 {
			continue
		}
		for _, a := range answers[i].solutions[choose[i]].actions {
			s.act(answers[i].knot, &a)
		}
	}
	for _, j := range c.doubt {
		if _, changed := s.ends[j]; !changed {
			s.sets.join(c.ends[j][0], c.ends[j][1])
		}
	}
	changed := make([]int32, 0, len(s.ends))
	for j := range s.ends {
		changed = append(changed, j)
	}
	slices.Sort(changed)
	for _, j := range changed {
		if e := s.ends[j]; e[0] >= 0 && e[1] >= 0 {
			s.sets.join(e[0], e[1])
		}
	}
	for n := range s.pending {
		s.settle(n, changed)
	}
	return s
}

// act does one action.
func (s *scene) act(k *knot, a *action) {
	if a.deed == turnOver {
		f := &s.suspects[k.flips[a.to].suspect]
		labels := make([]int32, len(f.from))
		for i, x := range f.from {
			labels[i] = s.labelOf(x)
		}
		for i, x := range f.conductors {
			s.given[x] = labels[i]
			s.gained[labels[i]]++
		}
		return
	}
	ends := k.touched(a, nil)
	places := make([]int32, len(ends))
	for i, x := range ends {
		places[i] = s.endsOf(k.strands[x.strand].joint)[x.side]
	}
	for i, x := range ends {
		j := k.strands[x.strand].joint
		e := s.endsOf(j)
		switch a.deed {
		case takeOff:
			e = [2]int32{gone, gone}
		case put:
			e[x.side] = firstPending - int32(len(s.pending))
		default:
			e[x.side] = places[(i+1)%len(ends)]
		}
		s.ends[j] = e
	}
	if a.deed == put {
		s.pending = append(s.pending, pending{label: k.labels[a.net], wish: k.at[a.to], to: gone})
	}
}

// endsOf is where the ends of a joint are by now.
func (s *scene) endsOf(j int32) [2]int32 {
	if e, changed := s.ends[j]; changed {
		return e
	}
	return s.contraction.ends[j]
}

// labelOf is the label of a conductor by now.
func (s *scene) labelOf(x int32) int32 {
	if label, given := s.given[x]; given {
		return label
	}
	return s.label[x]
}

// lumps calls f with a conductor of each lump of a label.
func (s *scene) lumps(label int32, f func(x int32)) {
	for _, x := range s.byLabel[label] {
		if given, changed := s.given[x]; !changed || given == label {
			f(x)
		}
	}
	if len(s.given) == 0 {
		return
	}
	var more []int32
	for x, given := range s.given {
		if given == label && s.label[x] != label {
			more = append(more, x)
		}
	}
	slices.Sort(more)
	for _, x := range more {
		f(x)
	}
}

// settle finds the piece of a net to which the ends of joints at a pending
// place go: the one that the search had in mind if it is still apart, else the
// greatest.
func (s *scene) settle(n int, changed []int32) {
	p := &s.pending[n]
	var kept []int32 // the other ends of the joints that go there
	own := make(map[int32]bool)
	for _, j := range changed {
		e := s.ends[j]
		for side, x := range e {
			if x != firstPending-int32(n) {
				continue
			}
			other := e[1-side]
			if other <= firstPending {
				other = s.anyOf(s.pending[firstPending-other].label)
			}
			if other >= 0 {
				kept = append(kept, other)
				own[s.sets.find(other)] = true
			}
		}
	}
	if len(kept) == 0 {
		return
	}
	if p.wish >= 0 && s.labelOf(p.wish) == p.label && !own[s.sets.find(p.wish)] {
		p.to = p.wish
	} else {
		p.to = s.greatest(p.label, own)
	}
	if p.to < 0 && len(own) > 1 { // they belong together, and on nothing else
		p.to = kept[len(kept)-1]
	}
	for _, x := range kept {
		if p.to >= 0 {
			s.sets.join(x, p.to)
		}
	}
}

// greatest is a conductor of the greatest piece of a net but for some; gone if
// there is none.
func (s *scene) greatest(label int32, but map[int32]bool) int32 {
	size := make(map[int32]int)
	s.lumps(label, func(x int32) { size[s.sets.find(x)] += s.root.size(x) })
	best, most := int32(gone), 0
	s.lumps(label, func(x int32) {
		if root := s.sets.find(x); !but[root] && size[root] > most {
			best, most = x, size[root]
		}
	})
	return best
}

func (s *scene) anyOf(label int32) int32 {
	first := int32(-1)
	s.lumps(label, func(x int32) {
		if first < 0 {
			first = x
		}
	})
	return first
}

// name notes the labels of all sets in which these nets are.
func (s *scene) name(labels []int32) {
	for _, label := range labels {
		s.lumps(label, func(x int32) { s.netAt[s.sets.find(x)] = label })
	}
}

// netOf is the net that is at a conductor in the end; means if it is none of
// those named.
func (s *scene) netOf(x int32) int32 {
	if x < 0 {
		return means
	}
	if label, known := s.netAt[s.sets.find(x)]; known {
		return label
	}
	return means
}

// place is the conductor where the end of a joint is in the end; gone if it is off.
func (s *scene) place(j int32, side int) int32 {
	x := s.endsOf(j)[side]
	if x <= firstPending {
		return s.pending[firstPending-x].to
	}
	return x
}

// A piece is some of a net that hangs together.
type piece struct {
	root  int32
	lumps []int32 // a conductor of each
	size  int     // conductors, tags among them
}

// pieces lists the pieces of a net, the greatest first.
func (s *scene) pieces(label int32) []piece {
	at := make(map[int32]int)
	var list []piece
	s.lumps(label, func(x int32) {
		root := s.sets.find(x)
		n, known := at[root]
		if !known {
			n = len(list)
			at[root] = n
			list = append(list, piece{root: root})
		}
		list[n].lumps = append(list[n].lumps, x)
		list[n].size += s.root.size(x)
	})
	slices.SortStableFunc(list, func(a, b piece) int {
		return cmp.Or(cmp.Compare(b.size, a.size), cmp.Compare(a.lumps[0], b.lumps[0]))
	})
	return list
}
