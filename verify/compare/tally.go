package compare

import (
	"cmp"
	"slices"
)

// A tally counts, for each label and island, how many conductors of that label
// are there. The sum of the squares is how well plan and bench agree: it falls
// short of its greatest value by half the sum, over all conductors, of the
// difference between the net wanted and the island found.
type tally struct {
	*layout
	island []int32 // by conductor
	count  map[uint64]int32
}

// islands gives each conductor the island that it is in.
func (l *layout) islands() []int32 {
	s := newSets(len(l.first))
	for _, e := range l.ends {
		s.join(e[0], e[1])
	}
	island := make([]int32, len(l.first))
	for c := range island {
		island[c] = s.find(int32(c))
	}
	return island
}

func newTally(l *layout, island []int32) *tally {
	t := &tally{layout: l, island: island, count: make(map[uint64]int32, len(l.first))}
	for c, label := range l.label {
		if label != means {
			t.count[t.key(int32(c), label)]++
		}
	}
	return t
}

func (t *tally) key(c, label int32) uint64 {
	return uint64(label)<<32 | uint64(uint32(t.island[c]))
}

// add counts a conductor in and gives the gain in agreement; out counts it out.
func (t *tally) add(c, label int32) int64 {
	if label == means {
		return 0
	}
	k := t.key(c, label)
	n := t.count[k]
	t.count[k] = n + 1
	return 2*int64(n) + 1
}

func (t *tally) out(c, label int32) int64 {
	if label == means {
		return 0
	}
	k := t.key(c, label)
	n := t.count[k]
	t.count[k] = n - 1
	return 2*int64(n) - 1
}

// gain is how much better plan and bench would agree if these conductors had
// other labels.
func (t *tally) gain(conductors, labels []int32) int64 {
	var gain int64
	for _, c := range conductors {
		gain -= t.out(c, t.label[c])
	}
	for i, c := range conductors {
		gain += t.add(c, labels[i])
	}
	for i, c := range conductors {
		t.out(c, labels[i])
	}
	for _, c := range conductors {
		t.add(c, t.label[c])
	}
	return gain
}

// relabel gives these conductors other labels.
func (t *tally) relabel(conductors, labels []int32) {
	for _, c := range conductors {
		t.out(c, t.label[c])
	}
	for i, c := range conductors {
		t.add(c, labels[i])
		t.label[c] = labels[i]
	}
}

// disturbed tells of each conductor whether its net and its island differ.
func (t *tally) disturbed() []bool {
	const nowhere, several = -1, -2
	labelOf := make([]int32, len(t.first)) // of an island
	islandOf := make([]int32, t.labels)    // of a label
	fill(labelOf, nowhere)
	fill(islandOf, nowhere)
	note := func(slot *int32, value int32) {
		switch *slot {
		case nowhere:
			*slot = value
		case value:
		default:
			*slot = several
		}
	}
	for c, label := range t.label {
		if label != means {
			note(&labelOf[t.island[c]], label)
			note(&islandOf[label], t.island[c])
		}
	}
	list := make([]bool, len(t.first))
	for c, label := range t.label {
		list[c] = label != means && (labelOf[t.island[c]] == several || islandOf[label] == several)
	}
	return list
}

func fill(list []int32, value int32) {
	for i := range list {
		list[i] = value
	}
}

// mostSweeps bounds how often all parts are looked at again after one was turned.
const mostSweeps = 20

// settle turns parts, each to one of its ways round that are as good, one part
// at a time while plan and bench agree better for it. What is used as written
// stays as written where nothing decides.
//
// A part that sits wrongly with many ends misleads the parts around it. With
// wrongly, such parts are put right while the others are settled, and then
// left as they sit; settle reports whether there were any.
func (t *tally) settle(wrongly bool) bool {
	open := t.openParts(wrongly)
	sits := make([]int32, len(t.parts))
	fill(sits, -1)
	if wrongly {
		slices.SortStableFunc(open, func(a, b int32) int {
			return cmp.Compare(len(t.parts[b].points), len(t.parts[a].points))
		})
	}
	for range mostSweeps {
		t.settleOneByOne(open, sits, wrongly)
		if !t.settleSideBySide(open) {
			break
		}
	}
	any := false
	for _, part := range open {
		if sits[part] >= 0 {
			t.relabel(t.rolesIn(part, t.chosen[part], -1, nil, nil))
			any = true
		}
	}
	return any
}

// openParts lists the parts with an end where net and island differ, that may
// serve another way round, or with wrongly may sit wrongly.
func (t *tally) openParts(wrongly bool) []int32 {
	disturbed := t.disturbed()
	var open []int32
	for i := range t.parts {
		p := &t.parts[i]
		if t.asleep[i] || len(p.alike) == 0 && (!wrongly || len(p.wrong) == 0) {
			continue
		}
		for _, point := range p.points {
			if disturbed[t.of[point]] {
				open = append(open, int32(i))
				break
			}
		}
	}
	return open
}

// settleOneByOne turns single parts.
func (t *tally) settleOneByOne(open, sits []int32, wrongly bool) {
	var conductors, labels []int32
	for sweep, moved := 0, true; moved && sweep < mostSweeps; sweep++ {
		moved = false
		for _, part := range open {
			p := &t.parts[part]
			ways := int32(0)
			if wrongly {
				ways = int32(len(p.wrong))
			}
			alike, wrong, best := t.chosen[part], sits[part], int64(0)
			for a := int32(-1); a < int32(len(p.alike)); a++ {
				for w := int32(-1); w < ways; w++ {
					conductors, labels = t.rolesIn(part, a, w, conductors[:0], labels[:0])
					if gain := t.gain(conductors, labels); gain > best {
						alike, wrong, best = a, w, gain
					}
				}
			}
			if best > 0 {
				conductors, labels = t.rolesIn(part, alike, wrong, conductors[:0], labels[:0])
				t.relabel(conductors, labels)
				t.chosen[part], sits[part] = alike, wrong
				moved = true
			}
		}
	}
}

// settleSideBySide turns parts with two ends that stand side by side between
// the same islands, all those that lie one way round at once: each of them
// alone holds the others where they are. It reports whether any were turned.
func (t *tally) settleSideBySide(open []int32) bool {
	type lie struct{ islandA, islandB, labelA, labelB int32 }
	groups := make(map[lie][]int32)
	var order []lie
	for _, part := range open {
		p := &t.parts[part]
		if len(p.points) != 2 || len(p.alike) != 1 {
			continue
		}
		a, b := t.of[p.points[0]], t.of[p.points[1]]
		l := lie{t.island[a], t.island[b], t.label[a], t.label[b]}
		if l.islandA > l.islandB {
			l = lie{l.islandB, l.islandA, l.labelB, l.labelA}
		}
		if len(groups[l]) == 1 {
			order = append(order, l)
		}
		groups[l] = append(groups[l], part)
	}
	moved := false
	var conductors, labels []int32
	for _, l := range order {
		conductors, labels = conductors[:0], labels[:0]
		for _, part := range groups[l] {
			conductors, labels = t.rolesIn(part, -1-t.chosen[part], -1, conductors, labels)
		}
		if t.gain(conductors, labels) > 0 {
			t.relabel(conductors, labels)
			for _, part := range groups[l] {
				t.chosen[part] = -1 - t.chosen[part]
			}
			moved = true
		}
	}
	return moved
}

// rolesIn gives the conductors of a part and their labels if it served in one
// of its ways and sat in one of its wrong ways; -1 is as written.
func (l *layout) rolesIn(part, alike, wrong int32, conductors, labels []int32) ([]int32, []int32) {
	p := &l.parts[part]
	for i, point := range p.points {
		c := l.of[point]
		if indexOf(conductors, c) >= 0 {
			continue
		}
		to := i
		if wrong >= 0 {
			to = int(p.wrong[wrong].to[i])
		}
		conductors = append(conductors, c)
		labels = append(labels, l.base[l.of[p.points[p.role(alike, to)]]])
	}
	return conductors, labels
}

func indexOf(list []int32, x int32) int {
	for i, y := range list {
		if x == y {
			return i
		}
	}
	return -1
}
