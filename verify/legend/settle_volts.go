package legend

import (
	"fmt"
	"math"
	"slices"

	"buzzout/lang"
)

// findDrive looks for two leads that every source has on the winding with the
// most turns; why says in a sentence why there are none.
func (s *settler) findDrive() (why string) {
	high := s.highest()
	if high < 0 {
		return "The notebook does not say which winding of the part has the most turns, and on any other a supply would be dangerous: give the windings their volts or loads."
	}
	group := &s.lay.groups[high]
	var on []int
	for i := range s.leads {
		every := true
		for _, n := range s.names {
			every = every && n.ends[i] != none && s.lay.of[n.ends[i]] == high
		}
		if every {
			on = append(on, i)
		}
	}
	// The two that lie furthest apart by the source that has them closest.
	most := 0
	for i, x := range on {
		for _, y := range on[:i] {
			least := len(group.ends)
			for _, n := range s.names {
				least = min(least, max(s.lay.at[n.ends[x]], s.lay.at[n.ends[y]])-min(s.lay.at[n.ends[x]], s.lay.at[n.ends[y]]))
			}
			if least > most {
				s.drive, most = [2]int{y, x}, least
			}
		}
	}
	if most < len(group.ends)-1 {
		return fmt.Sprintf("The sources do not agree on the outer leads of the %s winding, which has the most turns, and a supply on any other would be dangerous: settle that by ohms first.", group.name)
	}
	return ""
}

// highest is the winding with the most turns, by what the kind tells; -1 if it
// does not tell, or if another winding may have more for all that is told.
func (s *settler) highest() int {
	for by := range families {
		best, most := -1, 0.0
		for g := range s.lay.groups {
			if count := s.whole(g, by); count > most && s.lay.groups[g].high() {
				best, most = g, count
			}
		}
		if best >= 0 {
			if s.mayHaveMore(best, by) {
				return -1
			}
			return best
		}
	}
	return -1
}

// mayHaveMore says that some other winding may have more turns than one that is
// counted in a family: its turns are told in no figures of that family, it is
// none for low volts, and its wire is not known to have fewer ohms.
func (s *settler) mayHaveMore(best int, by family) bool {
	ends := s.lay.groups[best].ends
	ohms, known := s.lay.wire(ends[0], ends[len(ends)-1])
	for g := range s.lay.groups {
		group := &s.lay.groups[g]
		if g == best || len(group.ends) < 2 || len(group.counted[by]) > 0 || group.low() {
			continue
		}
		// Fewer ohms mean fewer turns, near enough.
		other, told := s.lay.wire(group.ends[0], group.ends[len(group.ends)-1])
		if !told || !known || other*ahead > ohms {
			return true
		}
	}
	return false
}

// whole is the most turns between any two known ends of a winding.
func (s *settler) whole(g int, by family) float64 {
	most := 0.0
	ends := s.lay.groups[g].ends
	for _, a := range ends {
		for _, b := range ends {
			if count, ok := s.lay.between(a, b, by); ok {
				most = max(most, count)
			}
		}
	}
	return most
}

// supplyVolts is what the supply is taken to give where figures are told.
const supplyVolts = 12

// stands is the band of the volts between two leads under a source; ok is
// false where it cannot be told.
func (s *settler) stands(n *naming, x, y int) (is band, says float64, ok bool) {
	a, b := n.ends[x], n.ends[y]
	if a == none || b == none {
		return anything, 0, false
	}
	for by := range families {
		count, known := s.lay.between(a, b, by)
		whole, also := s.lay.between(n.ends[s.drive[0]], n.ends[s.drive[1]], by)
		if known && also && whole != 0 {
			says = supplyVolts * math.Abs(count/whole)
			part, bounded := s.lay.stretch(a, b, by)
			all, driven := s.lay.stretch(n.ends[s.drive[0]], n.ends[s.drive[1]], by)
			if !bounded || !driven || all.lo == 0 {
				return anything, 0, false
			}
			is = band{supplyVolts * part.lo / all.hi, supplyVolts * part.hi / all.lo}
			return is.wider(s.meter.VoltsScale*says + smallVolts), says, true
		}
	}
	return anything, 0, false
}

// volts are tests with the supply: one reading each.
func (s *settler) volts() []candidate {
	list, differ := s.disputed()
	var found []candidate
	for i, x := range list {
		for k, y := range list[:i] {
			if k >= differ && i >= differ || s.floats(x, y) {
				continue
			}
			c := candidate{cost: costOne, test: Test{Readings: []Ask{s.ask(lang.Volts, y, x, "It tells how the turns between the two go with those of the driven winding.")}}}
			bands := make([]band, len(s.names))
			known := make([]bool, len(s.names))
			for n := range s.names {
				e := Expectation{Says: "not told"}
				var says float64
				if bands[n], says, known[n] = s.stands(&s.names[n], y, x); known[n] {
					e.Says = fmt.Sprintf("%s at %d V", shown(says, lang.Volts), supplyVolts)
					e.Range, e.Known = Range{bands[n].lo, bands[n].hi}, true
				}
				c.test.Expected = append(c.test.Expected, e)
			}
			s.sign(&c.test)
			c.sure = s.tells([]int{x, y}, func(a, b int) bool { return known[a] && known[b] && !bands[a].meets(bands[b]) })
			if c.sure != 0 {
				found = append(found, c)
			}
		}
	}
	for _, from := range list {
		for i := range differ {
			for k := range list {
				x, y := list[i], list[k]
				if x == from || y == from || x == y || k < differ && k < i || s.floats(from, x) || s.floats(from, y) {
					continue
				}
				if c := s.weighed(from, x, y); c.sure != 0 {
					found = append(found, c)
				}
			}
		}
	}
	return found
}

// weighed is two readings of volts from one lead: which is the lower? What two
// taps of one winding have to each other is surer than what they have to
// another winding, and surest where the way to the one passes the other.
func (s *settler) weighed(from, x, y int) candidate {
	const plain = 1.15 // times, from which on no meter mistakes it: far more than two readings on one range are off
	c := candidate{cost: costTwo, test: Test{Readings: []Ask{
		s.ask(lang.Volts, from, x, "Compare it with the next."), s.ask(lang.Volts, from, y, "Compare it with the one before.")}}}
	order := make([]int, len(s.names))
	for i := range s.names {
		e := Expectation{Says: "not told"}
		n := &s.names[i]
		is, a, known := s.stands(n, from, x)
		other, b, also := s.stands(n, from, y)
		if known && also {
			low := x
			switch {
			case b > a*plain && (s.lay.passes(n.ends[from], n.ends[x], n.ends[y]) || is.hi < other.lo):
				order[i] = -1
			case a > b*plain && (s.lay.passes(n.ends[from], n.ends[y], n.ends[x]) || other.hi < is.lo):
				order[i], low = 1, y
			}
			if order[i] != 0 {
				e.Says = fmt.Sprintf("%s to %s is the lower, %s against %s at %d V", s.lead(from), s.lead(low),
					shown(min(a, b), lang.Volts), shown(max(a, b), lang.Volts), supplyVolts)
			}
		}
		c.test.Expected = append(c.test.Expected, e)
	}
	s.sign(&c.test)
	c.sure = s.tells([]int{from, x, y}, func(a, b int) bool { return order[a]*order[b] < 0 })
	return c
}

// floats says that some source has the two leads on different windings, so
// that what stands between them tells nothing.
func (s *settler) floats(x, y int) bool {
	return slices.ContainsFunc(s.names, func(n naming) bool {
		a, b := n.ends[x], n.ends[y]
		return a != none && b != none && s.lay.of[a] != s.lay.of[b]
	})
}

// anyOn says that some source has two leads on one winding.
func (s *settler) anyOn(x, y int) bool {
	return slices.ContainsFunc(s.names, func(n naming) bool {
		a, b := n.ends[x], n.ends[y]
		return a != none && b != none && s.lay.of[a] == s.lay.of[b]
	})
}

// phase are tests across two windings that are clipped together at one lead
// each: the volts add, or take away.
func (s *settler) phase() []candidate {
	list, _ := s.disputed()
	var found []candidate
	x, u := s.drive[0], s.drive[1]
	for i, v := range list {
		for _, y := range list[:i] {
			if s.floats(v, y) || s.anyOn(v, x) || s.anyOn(y, x) {
				continue
			}
			c := candidate{cost: costClipped, test: Test{Readings: []Ask{s.ask(lang.Volts, u, v,
				fmt.Sprintf("With %s and %s clipped together the volts add, or take away.", s.lead(x), s.lead(y)), x, y)}}}
			sense := make([]int, len(s.names))
			for n := range s.names {
				e := Expectation{Says: "not told"}
				ends := s.names[n].ends
				if ends[v] != none && ends[y] != none {
					is, says, known := s.stands(&s.names[n], y, v)
					along := (s.lay.at[ends[u]] > s.lay.at[ends[x]]) == (s.lay.at[ends[v]] > s.lay.at[ends[y]])
					sense[n] = -1
					e.Says = "more than the supply"
					if along {
						sense[n], e.Says = 1, "less than the supply"
					}
					switch {
					case known && 2*is.lo < 2*s.meter.SameRange*supplyVolts+2*smallVolts:
						sense[n] = 0 // too small beside the supply to show
					case known:
						e.Says += fmt.Sprintf(", by about %s at %d V", shown(says, lang.Volts), supplyVolts)
						e.Range, e.Known = Range{supplyVolts - float64(sense[n])*is.hi, supplyVolts - float64(sense[n])*is.lo}, true
						if e.Range.Low > e.Range.High {
							e.Range.Low, e.Range.High = e.Range.High, e.Range.Low
						}
					}
				}
				c.test.Expected = append(c.test.Expected, e)
			}
			s.sign(&c.test)
			c.sure = s.tells([]int{x, u, v, y}, func(a, b int) bool { return sense[a]*sense[b] < 0 })
			if c.sure != 0 {
				found = append(found, c)
			}
		}
	}
	return found
}
