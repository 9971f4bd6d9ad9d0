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
	for _, j := range changed {
		for side := range 2 {
			if e := s.ends[j]; e[side] <= firstPending {
				s.settle(j, side)
			}
		}
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
	n := a.size()
	var places [ringSize]int32
	for i := range n {
		places[i] = s.endsOf(k.strands[a.strands[i]].joint)[a.sides[i]]
	}
	for i := range n {
		j := k.strands[a.strands[i]].joint
		e := s.endsOf(j)
		switch a.deed {
		case takeOff:
			e = [2]int32{gone, gone}
		case put:
			e[a.sides[i]] = firstPending - int32(len(s.pending))
			s.pending = append(s.pending, pending{label: k.labels[a.net], wish: k.at[a.to], to: gone})
		default:
			e[a.sides[i]] = places[(i+1)%n]
		}
		s.ends[j] = e
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

// settle finds the piece of a net to which the end of a joint goes: the one
// that the search had in mind if it is still apart, else the greatest.
func (s *scene) settle(j int32, side int) {
	e := s.ends[j]
	p := &s.pending[firstPending-e[side]]
	kept := e[1-side]
	if kept <= firstPending {
		kept = s.anyOf(s.pending[firstPending-kept].label)
	}
	if kept < 0 {
		return
	}
	own := s.sets.find(kept)
	if p.wish >= 0 && s.labelOf(p.wish) == p.label && s.sets.find(p.wish) != own {
		p.to = p.wish
	} else {
		size := make(map[int32]int)
		best := int32(-1)
		s.lumps(p.label, func(x int32) {
			if piece := s.sets.find(x); piece != own {
				size[piece] += s.root.size(x)
			}
		})
		s.lumps(p.label, func(x int32) {
			piece := s.sets.find(x)
			if piece != own && (best < 0 || size[piece] > size[s.sets.find(best)]) {
				best = x
			}
		})
		p.to = best
	}
	if p.to >= 0 {
		s.sets.join(kept, p.to)
	}
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
