package compare

import (
	"cmp"
	"slices"
)

// Parts whose ends are alike are settled before anything is called wrong: each
// is turned to that way round in which plan and bench agree best.

// mostSweeps bounds how often all parts are looked at again after one was turned.
const mostSweeps = 20

// A manner is how parts are settled.
type manner struct {
	// inPairs turns two parts at once that meet in an island with several
	// nets: where little is wired yet, one alone tells nothing.
	inPairs bool
	// wrongly puts right, while the others are settled, parts that sit wrongly
	// with many ends, since they mislead the parts around them. They are then
	// left as they sit.
	wrongly bool
}

// settle turns parts, each to one of its ways round that are as good, while
// plan and bench agree better for it. What is used as written stays as written
// where nothing decides. It reports whether the manner made any difference.
func (t *tally) settle(m manner) bool {
	open := t.openParts(m.wrongly)
	sits := make([]int32, len(t.parts))
	fill(sits, -1)
	if m.wrongly {
		slices.SortStableFunc(open, func(a, b int32) int {
			return cmp.Compare(len(t.parts[b].points), len(t.parts[a].points))
		})
	}
	differs := false
	for range mostSweeps {
		t.settleOneByOne(open, sits, m.wrongly)
		if t.settleSideBySide(open) {
			continue
		}
		if !m.inPairs || !t.settleInPairs(open, sits) {
			break
		}
		differs = true
	}
	for _, part := range open {
		if sits[part] >= 0 {
			t.relabel(t.rolesIn(part, t.chosen[part], -1, nil, nil))
			differs = true
		}
	}
	return differs
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

// mostAtIsland bounds how many parts of an island are tried in pairs.
const mostAtIsland = 10

// settleInPairs turns two parts at once that meet in an island with several
// nets: while their other ends are still bare, either alone tells nothing. It
// reports whether any were turned.
func (t *tally) settleInPairs(open, sits []int32) bool {
	at := make(map[int32][]int32) // island to open parts there
	var order []int32
	for _, part := range open {
		if sits[part] >= 0 {
			continue
		}
		for _, point := range t.parts[part].points {
			c := t.of[point]
			if t.degree[c] == 0 || indexOf(at[t.island[c]], part) >= 0 {
				continue
			}
			if len(at[t.island[c]]) == 0 {
				order = append(order, t.island[c])
			}
			at[t.island[c]] = append(at[t.island[c]], part)
		}
	}
	mixed := t.mixedIslands()
	moved := false
	for _, island := range order {
		if !mixed[island] {
			continue
		}
		list := at[island]
		list = list[:min(len(list), mostAtIsland)]
		for i, p := range list {
			for _, q := range list[i+1:] {
				moved = t.settlePair(p, q) || moved
			}
		}
	}
	return moved
}

// settlePair turns two parts at once if plan and bench agree better for it.
func (t *tally) settlePair(p, q int32) bool {
	var conductors, labels []int32
	bestP, bestQ, best := t.chosen[p], t.chosen[q], int64(0)
	for a := int32(-1); a < int32(len(t.parts[p].alike)); a++ {
		for b := int32(-1); b < int32(len(t.parts[q].alike)); b++ {
			if a == t.chosen[p] || b == t.chosen[q] {
				continue
			}
			conductors, labels = t.rolesIn(p, a, -1, conductors[:0], labels[:0])
			conductors, labels = t.rolesIn(q, b, -1, conductors, labels)
			if gain := t.gain(conductors, labels); gain > best {
				bestP, bestQ, best = a, b, gain
			}
		}
	}
	if best == 0 {
		return false
	}
	conductors, labels = t.rolesIn(p, bestP, -1, conductors[:0], labels[:0])
	conductors, labels = t.rolesIn(q, bestQ, -1, conductors, labels)
	t.relabel(conductors, labels)
	t.chosen[p], t.chosen[q] = bestP, bestQ
	return true
}

// mixedIslands tells of each island whether several nets are in it.
func (t *tally) mixedIslands() map[int32]bool {
	first := make(map[int32]int32)
	mixed := make(map[int32]bool)
	for c, label := range t.label {
		if label == means || t.degree[c] == 0 {
			continue
		}
		island := t.island[c]
		if other, met := first[island]; !met {
			first[island] = label
		} else if other != label {
			mixed[island] = true
		}
	}
	return mixed
}
