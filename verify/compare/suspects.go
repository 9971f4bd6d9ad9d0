package compare

import (
	"cmp"
	"slices"
)

// Which parts may sit wrongly is asked before the search, since only their
// terminals have to be seen one by one in it.

// A suspect is a part that may sit wrongly, or two that may sit in each
// other's places, or a part that may serve another way round.
type suspect struct {
	parts      [2]int32 // the second is -1 where there is one
	wrong      int32    // index in the part's wrong turns; -1 for two parts and for a free turn
	alike      int32    // index in the first part's alike turns in which it serves then; -1 as written
	free       bool     // a turn to serve another way round, which costs nothing
	conductors []int32
	from       []int32 // by conductor: that whose label it would take
	gain       int64   // in agreement of plan and bench
}

// Bounds on what is suspected.
const (
	mostTurnsOfPart = 4
	mostWaysOfPart  = 8
	mostPairs       = 40
)

// frontier marks the conductors that are joined to something foreign, or to a
// loose conductor between several nets.
func (c *contraction) frontier() []bool {
	list := make([]bool, len(c.first))
	for _, j := range c.doubt {
		for _, x := range c.ends[j] {
			if c.label[x] != means {
				list[x] = true
			}
		}
	}
	return list
}

// suspectParts lists the parts at the frontier that are awake and have ways of
// sitting otherwise.
func (c *contraction) suspectParts(frontier []bool) []int32 {
	var list []int32
	for i := range c.parts {
		if c.asleep[i] || len(c.parts[i].wrong) == 0 && c.parts[i].shape < 0 && len(c.parts[i].alike) == 0 {
			continue
		}
		for _, p := range c.parts[i].points {
			if frontier[c.of[p]] {
				list = append(list, int32(i))
				break
			}
		}
	}
	return list
}

// suspects lists the ways in which parts may sit wrongly: those in which plan
// and bench would agree no less than they do now.
func (t *tally) suspects(parts []int32, frontier []bool) []suspect {
	var list []suspect
	for _, part := range parts {
		for _, s := range t.wrongTurns(part) {
			if s.likely(t, frontier) {
				list = append(list, s)
			}
		}
	}
	pairs := 0
	var wired []int32
	for _, part := range parts {
		if t.wrongEnds(part, frontier) > 1 {
			wired = append(wired, part)
		}
	}
	for n, a := range wired {
		for _, b := range wired[n+1:] {
			if shape := t.parts[a].shape; shape < 0 || shape != t.parts[b].shape {
				continue
			}
			if s, ok := t.pair(a, b); ok && pairs < mostPairs && s.likely(t, frontier) {
				list = append(list, s)
				pairs++
			}
		}
	}
	return list
}

// wrongEnds counts the conductors of a part that are joined to something foreign.
func (t *tally) wrongEnds(part int32, frontier []bool) int {
	n := 0
	for _, p := range t.parts[part].points {
		if frontier[t.of[p]] {
			n++
		}
	}
	return n
}

// wrongTurns lists the likeliest ways in which one part may sit wrongly,
// whichever way round it serves.
func (t *tally) wrongTurns(part int32) []suspect {
	p := &t.parts[part]
	var list []suspect
	for w := range p.wrong {
		for alike := int32(-1); alike < int32(len(p.alike)); alike++ {
			if p.wrong[w].plain && alike != t.chosen[part] {
				continue
			}
			s := suspect{parts: [2]int32{part, -1}, wrong: int32(w), alike: alike}
			for i := range p.points {
				s.add(t, p.points[i], t.serving(part, p.role(alike, int(p.wrong[w].to[i]))))
			}
			if s.sound(t) && s.gain >= 0 && (p.wrong[w].plain || s.manyEnds(t, p)) {
				list = append(list, s)
			}
		}
	}
	return likeliest(list, mostTurnsOfPart)
}

// manyEnds says that a turn of a part of many ends changes more than two of
// them: with two it is those that are exchanged, not the whole that is turned.
func (s *suspect) manyEnds(t *tally, p *wiredPart) bool {
	return len(p.points) <= 4 || s.changes(t, 0, len(s.conductors)) > 2
}

// freeSuspects lists the ways in which parts may serve as well.
func (t *tally) freeSuspects(parts []int32) []suspect {
	var list []suspect
	for _, part := range parts {
		p := &t.parts[part]
		var turns []suspect
		for alike := int32(-1); alike < int32(len(p.alike)); alike++ {
			if alike == t.chosen[part] {
				continue
			}
			s := suspect{parts: [2]int32{part, -1}, wrong: -1, alike: alike, free: true}
			for i := range p.points {
				s.add(t, p.points[i], t.serving(part, p.role(alike, i)))
			}
			if s.sound(t) {
				turns = append(turns, s)
			}
		}
		list = append(list, likeliest(turns, mostWaysOfPart)...)
	}
	return list
}

// pair makes a suspect of two parts in each other's places, the first perhaps
// serving another way round there. It reports false if that is no likelier
// than what is there.
func (t *tally) pair(a, b int32) (suspect, bool) {
	p, q := &t.parts[a], &t.parts[b]
	if len(p.points) != len(q.points) {
		return suspect{}, false
	}
	var list []suspect
	for alike := int32(-1); alike < int32(len(p.alike)); alike++ {
		s := suspect{parts: [2]int32{a, b}, wrong: -1, alike: alike}
		for i := range p.points {
			s.add(t, p.points[i], q.points[p.role(alike, i)])
		}
		half := len(s.conductors)
		for i := range p.points {
			s.add(t, q.points[p.role(alike, i)], p.points[i])
		}
		// With one end each it is two legs that are exchanged, and told so.
		if s.changes(t, 0, half) > 1 && s.changes(t, half, len(s.conductors)) > 1 && s.sound(t) && s.gain > 0 {
			list = append(list, s)
		}
	}
	if list = likeliest(list, 1); len(list) == 0 {
		return suspect{}, false
	}
	return list[0], true
}

// likeliest keeps the few by which plan and bench agree best.
func likeliest(list []suspect, most int) []suspect {
	slices.SortStableFunc(list, func(a, b suspect) int { return cmp.Compare(b.gain, a.gain) })
	return list[:min(most, len(list))]
}

// role is the terminal whose work terminal i does when the part serves so.
func (p *wiredPart) role(alike int32, i int) int {
	if alike < 0 {
		return i
	}
	return int(p.alike[alike].to[i])
}

// serving is the point of a part that does the work of a terminal now.
func (t *tally) serving(part int32, role int) int32 {
	p := &t.parts[part]
	for i := range p.points {
		if p.role(t.chosen[part], i) == role {
			return p.points[i]
		}
	}
	return p.points[role]
}

// add says that a point takes the work of another.
func (s *suspect) add(t *tally, point, from int32) {
	x, y := t.of[point], t.of[from]
	if x != y && indexOf(s.conductors, x) < 0 {
		s.conductors = append(s.conductors, x)
		s.from = append(s.from, y)
	}
}

// touches reports whether the suspect has to do with one of these conductors.
func (s *suspect) touches(conductors map[int32]bool) bool {
	return slices.ContainsFunc(s.conductors, func(x int32) bool { return conductors[x] })
}

// changes counts the conductors from i to j that get another label.
func (s *suspect) changes(t *tally, i, j int) int {
	n := 0
	for ; i < j; i++ {
		if t.label[s.conductors[i]] != t.label[s.from[i]] {
			n++
		}
	}
	return n
}

// likely reports whether what would change by the suspect is wrong now: joined
// to something foreign, or to nothing. With many ends, a few may be right by
// chance.
func (s *suspect) likely(t *tally, frontier []bool) bool {
	changed, right := 0, 0
	for i, x := range s.conductors {
		if t.label[x] != t.label[s.from[i]] {
			changed++
			if !frontier[x] && t.degree[x] > 0 {
				right++
			}
		}
	}
	return right <= changed/4
}

// sound reports whether the suspect changes anything, and only gives and takes
// among its own conductors; it works out the gain.
func (s *suspect) sound(t *tally) bool {
	for i, x := range s.conductors {
		if indexOf(s.conductors, s.from[i]) < 0 || indexOf(s.from, x) < 0 {
			return false
		}
	}
	if s.changes(t, 0, len(s.conductors)) == 0 {
		return false
	}
	labels := make([]int32, len(s.from))
	for i, x := range s.from {
		labels[i] = t.label[x]
	}
	s.gain = t.gain(s.conductors, labels)
	return true
}
