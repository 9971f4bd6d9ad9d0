package compare

// A tally counts, for each label and island, how many conductors of that label
// are there. The sum of the squares is how well plan and bench agree: it falls
// short of its greatest value by half the sum, over all conductors, of the
// difference between the net wanted and the island found.
type tally struct {
	*layout
	island []int32 // by conductor
	count  counts
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
	t := &tally{layout: l, island: island, count: newCounts(len(l.first))}
	for c, label := range l.label {
		if label != means {
			*t.count.at(t.key(int32(c), label))++
		}
	}
	return t
}

func (t *tally) key(c, label int32) uint64 {
	return uint64(label+1)<<32 | uint64(uint32(t.island[c]))
}

// add counts a conductor in and gives the gain in agreement; out counts it out.
func (t *tally) add(c, label int32) int64 {
	if label == means {
		return 0
	}
	n := t.count.at(t.key(c, label))
	*n++
	return 2*int64(*n) - 1
}

func (t *tally) out(c, label int32) int64 {
	if label == means {
		return 0
	}
	n := t.count.at(t.key(c, label))
	*n--
	return 2*int64(*n) + 1
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

// counts is a table of small numbers. It takes half the time of comparison of
// a large notebook, and a map takes three times as long.
type counts struct {
	keys   []uint64 // 0 is free
	values []int32
	used   int
}

func newCounts(n int) counts {
	size := 64
	for size < 4*n {
		size *= 2
	}
	return counts{keys: make([]uint64, size), values: make([]int32, size)}
}

// at gives the place of a key's number. It holds until the next call.
func (c *counts) at(key uint64) *int32 {
	mask := uint64(len(c.keys) - 1)
	i := mix(key) & mask
	for ; c.keys[i] != 0; i = (i + 1) & mask {
		if c.keys[i] == key {
			return &c.values[i]
		}
	}
	if c.used++; 2*c.used > len(c.keys) {
		c.grow()
		return c.at(key)
	}
	c.keys[i] = key
	return &c.values[i]
}

func (c *counts) grow() {
	old := *c
	*c = counts{keys: make([]uint64, 2*len(old.keys)), values: make([]int32, 2*len(old.keys))}
	for i, key := range old.keys {
		if key != 0 && old.values[i] != 0 {
			*c.at(key) = old.values[i]
		}
	}
}
