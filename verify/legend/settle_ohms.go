package legend

import (
	"fmt"

	"buzzout/lang"
)

// ohms are tests in ohms: one reading of which it matters whether there is
// wire at all, or how much; two readings from one lead, of which it matters
// which is the lower.
func (s *settler) ohms() []candidate {
	list, differ := s.disputed()
	var found []candidate
	for i, x := range list {
		for k, y := range list[:i] {
			if k < differ || i < differ {
				if c := s.single(y, x); c.sure|c.luck != 0 {
					found = append(found, c)
				}
			}
		}
	}
	for _, from := range list {
		for i := range differ {
			for k := range list {
				x, y := list[i], list[k]
				if x == from || y == from || x == y || k < differ && k < i {
					continue
				}
				if c := s.compared(from, x, y); c.sure|c.luck != 0 {
					found = append(found, c)
				}
			}
		}
	}
	return found
}

// single is one reading in ohms.
func (s *settler) single(x, y int) candidate {
	c := candidate{cost: costOne, test: Test{Readings: []Ask{s.ask(lang.Ohms, x, y, "It tells whether the two are on one winding.")}}}
	var wired []int // 1 wire, 0 open, -1 not said
	for _, n := range s.names {
		e := Expectation{Says: "not said"}
		a, b := n.ends[x], n.ends[y]
		w := -1
		switch {
		case a == none || b == none:
		case s.lay.of[a] == s.lay.of[b]:
			w = 1
			e.Says = "wire"
			if ohms, ok := s.lay.wire(a, b); ok {
				is := s.expect(ohms)
				e.Range, e.Known = Range{is.lo, is.hi}, true
				e.Says = "about " + shown(ohms, lang.Ohms)
			}
		default:
			w, e.Says = 0, "open"
		}
		wired = append(wired, w)
		c.test.Expected = append(c.test.Expected, e)
	}
	s.sign(&c.test)
	c.sure = s.tells([]int{x, y}, func(a, b int) bool {
		ea, eb := &c.test.Expected[a], &c.test.Expected[b]
		if wired[a] == 1 && wired[b] == 1 && ea.Known && eb.Known {
			return ea.Range.High < eb.Range.Low || eb.Range.High < ea.Range.Low
		}
		return wired[a] >= 0 && wired[b] >= 0 && wired[a] != wired[b]
	})
	return c
}

// made is how far the ohms of a winding come out up or down from their figure
// (common practice, no source).
const made = 0.1

// expect is what a meter may show for so many ohms of wire.
func (s *settler) expect(ohms float64) band {
	by := s.meter.Contact + s.meter.Digit/2 + (s.meter.Scale+made)*ohms
	return band{max(0, ohms-by), ohms + by}
}

// compared is two readings from one lead: which is the lower?
func (s *settler) compared(from, x, y int) candidate {
	c := candidate{cost: costTwo, test: Test{Readings: []Ask{
		s.ask(lang.Ohms, from, x, "Compare it with the next."), s.ask(lang.Ohms, from, y, "Compare it with the one before.")}}}
	order := make([]int, len(s.names)) // -1: x is nearer; 1: y is; 0 not told
	gap := make([]float64, len(s.names))
	least := make([]float64, len(s.names)) // that gap has to be for a meter to tell
	for i, n := range s.names {
		e := Expectation{Says: "not said"}
		f, a, b := n.ends[from], n.ends[x], n.ends[y]
		if f != none && a != none && b != none && s.lay.of[f] == s.lay.of[a] && s.lay.of[f] == s.lay.of[b] {
			order[i], gap[i], least[i] = s.nearer(f, a, b)
		}
		switch {
		case order[i] < 0:
			e.Says = fmt.Sprintf("%s to %s is the lower", s.lead(from), s.lead(x))
		case order[i] > 0:
			e.Says = fmt.Sprintf("%s to %s is the lower", s.lead(from), s.lead(y))
		}
		if gap[i] > 0 {
			e.Says += ", by about " + shown(gap[i], lang.Ohms)
		}
		c.test.Expected = append(c.test.Expected, e)
	}
	s.sign(&c.test)
	enough := func(i int) bool { return gap[i] > least[i] }
	c.luck = s.tells([]int{from, x, y}, func(a, b int) bool { return order[a]*order[b] < 0 })
	c.sure = s.tells([]int{from, x, y}, func(a, b int) bool { return order[a]*order[b] < 0 && enough(a) && enough(b) })
	c.test.Close = c.sure != c.luck
	if c.test.Close {
		c.cost += costClose
	}
	return c
}

// nearer says which of two ends is fewer ohms from a third: -1 the first, 1
// the second, 0 if nobody can say; by how much, 0 if that is not known; and how
// much it has to be for a meter to tell. Of two ends on one side of the third
// the further one reads more whatever the figures; of two on either side the
// figures alone say so, and windings come out a tenth up or down.
func (s *settler) nearer(from, a, b int) (order int, gap, least float64) {
	ra, known := s.lay.wire(from, a)
	rb, also := s.lay.wire(from, b)
	f, x, y := s.lay.at[from], s.lay.at[a], s.lay.at[b]
	oneSide := (x > f) == (y > f)
	if known && also {
		least = s.meter.apart(max(ra, rb))
		if !oneSide {
			least += made * (ra + rb)
		}
		switch {
		case ra < rb:
			return -1, rb - ra, least
		case rb < ra:
			return 1, ra - rb, least
		}
		return 0, 0, least
	}
	switch {
	case !oneSide:
		return 0, 0, 0
	case (x > f) == (y > x):
		return -1, 0, 0
	}
	return 1, 0, 0
}
