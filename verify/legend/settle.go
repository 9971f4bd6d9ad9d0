package legend

import (
	"fmt"
	"math"
	"math/bits"
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
)

// A Settlement is the fewest readings that tell the sources of a part apart,
// cold and without mains, in order of ease.
type Settlement struct {
	Part    *netlist.Part
	Sources []string // that differ in something that a reading could tell
	Steps   []Step   // ohms, then volts, then phase; a step that nothing needs is left out
	// Alike are pairs of sources that differ only in what makes no difference,
	// so that no reading is wanted; Apart are pairs that none of the steps
	// tells apart.
	Alike, Apart [][2]string
	// WithoutSupply says why no reading of volts is asked for where one would
	// help; "" else.
	WithoutSupply string
	Cautions      []string // whole sentences
}

// Method is how a step reads.
type Method uint8

// The methods, easiest first.
const (
	ByOhms Method = iota + 1
	ByVolts
	ByPhase
)

func (m Method) String() string {
	return [...]string{"", "ohms", "small alternating volts", "aiding or opposing"}[m]
}

// A Step is readings of one method.
type Step struct {
	Method Method
	Tests  []Test
	// Doubt says when the step cannot be relied on, as a sentence; "" if it can.
	Doubt string
}

// A Test is one reading, or two that are compared.
type Test struct {
	Readings []Ask
	Expected []Expectation // by source, in the order of Settlement.Sources
	// Close says that what is expected under two sources lies closer together
	// than a cheap meter can tell, or that nobody knows how far apart.
	Close bool
}

// An Expectation is what one source lets expect.
type Expectation struct {
	Source string
	Says   string // a phrase: "open", "less than between black and white", "0.38 V"
	Range  Range  // in ohms or volts, where figures can be told
	Known  bool   // Range is told
}

// maxSources bounds the sources that are told apart at a time.
const maxSources = 6

// Settle finds the fewest readings that tell the sources of a part apart. It
// never asks for a supply on a winding for low volts, nor on leads that some
// source has anywhere else than on the winding with the most turns. meter
// bounds what readings can tell.
func Settle(book *netlist.Book, part *netlist.Part, meter Meter) *Settlement {
	s := &settler{book: book, part: part, meter: meter, lay: layoutOf(part), leads: leadsOf(book, part)}
	out := &Settlement{Part: part}
	loose := looseOf(book, part, s.leads)
	for _, k := range book.Keys {
		if k.Part != part || len(s.names) == maxSources {
			continue
		}
		n := namingOf(book, s.leads, k)
		if len(s.names) > 0 {
			n = n.aligned(s.names[0], loose)
		}
		s.names = append(s.names, n)
	}
	s.keep(out)
	if len(s.names) < 2 {
		return out
	}
	for _, n := range s.names {
		out.Sources = append(out.Sources, n.origin)
	}
	s.settle(out)
	return out
}

// A settler compares what readings would show under each source.
type settler struct {
	book  *netlist.Book
	part  *netlist.Part
	meter Meter
	lay   *layout
	leads []netlist.TerminalID
	names []naming
	pairs [][2]int // of sources that differ in what matters
	drive [2]int   // leads for the supply; both the same for none
}

// keep drops sources that differ from no other in anything that a reading
// could tell, and lists the pairs that do.
func (s *settler) keep(out *Settlement) {
	var kept []naming
	matters := func(a, b naming) bool { return s.lay.weigh(a.ends, b.ends) > NoMatter }
	for i, a := range s.names {
		if slices.ContainsFunc(s.names, func(b naming) bool { return matters(a, b) }) {
			kept = append(kept, a)
		}
		for _, b := range s.names[:i] {
			if !matters(a, b) && slices.ContainsFunc(cycles(b, a), func(cycle) bool { return true }) {
				out.Alike = append(out.Alike, [2]string{b.origin, a.origin})
			}
		}
	}
	s.names = kept
	for i, a := range kept {
		for k := range i {
			if matters(kept[k], a) {
				s.pairs = append(s.pairs, [2]int{k, i})
			}
		}
	}
}

// A candidate is a test with the pairs of sources that it tells apart, as
// bits: for certain, and with luck.
type candidate struct {
	test       Test
	sure, luck uint32
	cost       int
}

func (s *settler) settle(out *Settlement) {
	all := uint32(1)<<len(s.pairs) - 1
	byOhms := s.ohms()
	picked, reached := fewest(byOhms, all, func(c *candidate) uint32 { return c.sure | c.luck })
	var sure uint32
	if len(picked) > 0 {
		step := Step{Method: ByOhms}
		for _, c := range picked {
			step.Tests = append(step.Tests, c.test)
			sure |= c.sure
		}
		if sure != reached {
			step.Doubt = fmt.Sprintf("The difference may be smaller than a meter that shows tenths of an ohm can tell: two readings less than %.1f Ω apart decide nothing.", s.meter.apart(1))
		}
		out.Steps = append(out.Steps, step)
		out.Cautions = append(out.Cautions, coldCautions...)
	}
	if left := all &^ sure; left != 0 {
		left = s.supplied(out, left)
		sure = all &^ left
	}
	for i, pair := range s.pairs {
		if (sure|reached)>>i&1 == 0 {
			out.Apart = append(out.Apart, [2]string{s.names[pair[0]].origin, s.names[pair[1]].origin})
		}
	}
}

// supplied adds the steps that want a supply, and gives the pairs that they
// leave.
func (s *settler) supplied(out *Settlement, left uint32) uint32 {
	why := s.findDrive()
	if why != "" {
		out.WithoutSupply = why
		return left
	}
	volts, byVolts := fewest(s.volts(), left, func(c *candidate) uint32 { return c.sure })
	phase, byPhase := fewest(s.phase(), left&^byVolts, func(c *candidate) uint32 { return c.sure })
	if len(volts)+len(phase) > 0 {
		drive := candidate{test: Test{Readings: []Ask{s.ask(lang.Volts, s.drive[0], s.drive[1], "It is the supply itself: all other volts are compared with it.")}}}
		for range s.names {
			drive.test.Expected = append(drive.test.Expected, Expectation{Says: "what the supply gives, 12 V or less"})
		}
		s.sign(&drive.test)
		step := Step{Method: ByVolts, Tests: []Test{drive.test}}
		for _, c := range volts {
			step.Tests = append(step.Tests, c.test)
		}
		out.Steps = append(out.Steps, step)
		if len(out.Cautions) == 0 {
			out.Cautions = append(out.Cautions, coldCautions...)
		}
		out.Cautions = append(out.Cautions, supplyCautions...)
	}
	if len(phase) > 0 {
		step := Step{Method: ByPhase, Doubt: "It tells the sources apart only if the notebook lists the ends of all windings of the part in one sense, starts first."}
		for _, c := range phase {
			step.Tests = append(step.Tests, c.test)
		}
		out.Steps = append(out.Steps, step)
	}
	return left &^ byVolts &^ byPhase
}

// fewest picks tests that tell as many of the wanted pairs apart as any, at
// the least cost, and gives the pairs. The sets of pairs are small: what is
// cheapest for each set is worked out for all of them.
func fewest(list []candidate, wanted uint32, tells func(*candidate) uint32) (picked []*candidate, reached uint32) {
	best := map[uint32][]int{0: nil}
	cost := map[uint32]int{0: 0}
	masks := []uint32{0}
	for i := 0; i < len(masks); i++ {
		at := masks[i]
		for k := range list {
			next := at | tells(&list[k])&wanted
			if next == at {
				continue
			}
			c := cost[at] + list[k].cost
			if old, ok := cost[next]; ok && old <= c {
				continue
			} else if !ok {
				masks = append(masks, next)
			} else {
				masks = append(masks, next) // cheaper than before: what follows from it is, too
			}
			cost[next] = c
			best[next] = append(slices.Clone(best[at]), k)
		}
	}
	slices.Sort(masks)
	for _, mask := range masks {
		more, least := bits.OnesCount32(mask), bits.OnesCount32(reached)
		if more > least || more == least && cost[mask] < cost[reached] {
			reached = mask
		}
	}
	for _, k := range best[reached] {
		picked = append(picked, &list[k])
	}
	return picked, reached
}

func (s *settler) ask(q lang.Quantity, red, black int, why string, clipped ...int) Ask {
	a := Ask{Quantity: q, Red: s.leads[red], Black: s.leads[black], Why: why,
		Supply: [2]netlist.TerminalID{netlist.NoTerminal, netlist.NoTerminal}, Cautions: coldCautions}
	unit := ""
	if q == lang.Volts {
		unit = "V"
		a.Supply = [2]netlist.TerminalID{s.leads[s.drive[0]], s.leads[s.drive[1]]}
		a.Cautions = slices.Concat(coldCautions, supplyCautions)
	}
	for _, lead := range clipped {
		a.Clipped = append(a.Clipped, s.leads[lead])
	}
	a.Write = toWrite(s.book, a.Red, a.Black, a.Clipped, unit)
	return a
}

// sign puts the sources' names to what they let expect.
func (s *settler) sign(t *Test) {
	for i := range t.Expected {
		t.Expected[i].Source = s.names[i].origin
	}
}

func (s *settler) lead(i int) string { return s.book.Terminals[s.leads[i]].Name }

// disputed are the leads of which sources differ, and after them those that
// all sources agree on, to read them against.
func (s *settler) disputed() (list []int, differ int) {
	var agreed []int
	for i := range s.leads {
		ends := map[int]bool{}
		for _, n := range s.names {
			ends[n.ends[i]] = true
		}
		switch {
		case len(ends) > 1:
			list = append(list, i)
		case s.names[0].ends[i] != none:
			agreed = append(agreed, i)
		}
	}
	return append(list, agreed...), len(list)
}

// pairBits sets the bit of each pair of sources of which told says so.
func (s *settler) pairBits(told func(a, b int) bool) uint32 {
	var mask uint32
	for i, pair := range s.pairs {
		if told(pair[0], pair[1]) {
			mask |= 1 << i
		}
	}
	return mask
}

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
	c := candidate{cost: 10, test: Test{Readings: []Ask{s.ask(lang.Ohms, x, y, "It tells whether the two are on one winding.")}}}
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
				e.Says = "about " + lang.FormatQuantity(ohms, lang.Ohms)
			}
		default:
			w, e.Says = 0, "open"
		}
		wired = append(wired, w)
		c.test.Expected = append(c.test.Expected, e)
	}
	s.sign(&c.test)
	c.sure = s.pairBits(func(a, b int) bool {
		ea, eb := &c.test.Expected[a], &c.test.Expected[b]
		if wired[a] == 1 && wired[b] == 1 && ea.Known && eb.Known {
			return ea.Range.High < eb.Range.Low || eb.Range.High < ea.Range.Low
		}
		return wired[a] >= 0 && wired[b] >= 0 && wired[a] != wired[b]
	})
	return c
}

// expect is what a meter may show for so many ohms of wire: windings come out
// a tenth up or down (common practice, no source).
func (s *settler) expect(ohms float64) band {
	const made = 0.1
	by := s.meter.Contact + s.meter.Digit/2 + (s.meter.Scale+made)*ohms
	return band{max(0, ohms-by), ohms + by}
}

// compared is two readings from one lead: which is the lower?
func (s *settler) compared(from, x, y int) candidate {
	c := candidate{cost: 21, test: Test{Readings: []Ask{
		s.ask(lang.Ohms, from, x, "Compare it with the next."), s.ask(lang.Ohms, from, y, "Compare it with the one before.")}}}
	order := make([]int, len(s.names)) // -1: x is nearer; 1: y is; 0 not told
	gap := make([]float64, len(s.names))
	for i, n := range s.names {
		e := Expectation{Says: "not said"}
		f, a, b := n.ends[from], n.ends[x], n.ends[y]
		if f != none && a != none && b != none && s.lay.of[f] == s.lay.of[a] && s.lay.of[f] == s.lay.of[b] {
			order[i], gap[i] = s.nearer(f, a, b)
		}
		switch {
		case order[i] < 0:
			e.Says = fmt.Sprintf("%s to %s is the lower", s.lead(from), s.lead(x))
		case order[i] > 0:
			e.Says = fmt.Sprintf("%s to %s is the lower", s.lead(from), s.lead(y))
		}
		if gap[i] > 0 {
			e.Says += ", by about " + lang.FormatQuantity(gap[i], lang.Ohms)
		}
		c.test.Expected = append(c.test.Expected, e)
	}
	s.sign(&c.test)
	enough := func(i int) bool { return gap[i] > s.meter.apart(gap[i]) }
	c.luck = s.pairBits(func(a, b int) bool { return order[a]*order[b] < 0 })
	c.sure = s.pairBits(func(a, b int) bool { return order[a]*order[b] < 0 && enough(a) && enough(b) })
	c.test.Close = c.sure != c.luck
	if c.test.Close {
		c.cost++
	}
	return c
}

// nearer says which of two ends is fewer ohms from a third: -1 the first, 1
// the second, 0 if nobody can say; and by how much, 0 if that is not known.
func (s *settler) nearer(from, a, b int) (order int, gap float64) {
	ra, known := s.lay.wire(from, a)
	rb, also := s.lay.wire(from, b)
	if known && also {
		switch {
		case ra < rb:
			return -1, rb - ra
		case rb < ra:
			return 1, ra - rb
		}
		return 0, 0
	}
	f, x, y := s.lay.at[from], s.lay.at[a], s.lay.at[b]
	switch {
	case x > f && y > x, x < f && y < x:
		return -1, 0
	case y > f && x > y, y < f && x < y:
		return 1, 0
	}
	return 0, 0 // on either side of it
}

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

// highest is the winding with the most turns, by what the kind tells; -1 if
// it does not tell, or if a winding of which it tells nothing reads more ohms.
func (s *settler) highest() int {
	best, most := -1, 0.0
	for by := range families {
		for g := range s.lay.groups {
			group := &s.lay.groups[g]
			count := 0.0
			for _, t := range group.known {
				if t.by == by {
					count = max(count, s.whole(g, by))
				}
			}
			if count > most && group.high() {
				best, most = g, count
			}
		}
		if best >= 0 {
			break
		}
	}
	if best < 0 {
		return -1
	}
	ends := s.lay.groups[best].ends
	ohms, known := s.lay.wire(ends[0], ends[len(ends)-1])
	for g := range s.lay.groups {
		group := &s.lay.groups[g]
		if g == best || len(group.ends) < 2 || len(group.known) > 0 {
			continue
		}
		// Nobody says how many turns it has: fewer ohms mean fewer turns, near enough.
		other, told := s.lay.wire(group.ends[0], group.ends[len(group.ends)-1])
		if !told || !known || other*ahead > ohms {
			return -1
		}
	}
	return best
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
			is = band{says * slack[by].lo / slack[by].hi, says * slack[by].hi / slack[by].lo}
			return is.wider(s.meter.VoltsScale*says + 0.01), says, true
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
			c := candidate{cost: 10, test: Test{Readings: []Ask{s.ask(lang.Volts, y, x, "It tells how the turns between the two go with those of the driven winding.")}}}
			bands := make([]band, len(s.names))
			known := make([]bool, len(s.names))
			for n := range s.names {
				e := Expectation{Says: "not told"}
				var says float64
				if bands[n], says, known[n] = s.stands(&s.names[n], y, x); known[n] {
					e.Says = fmt.Sprintf("%s at %d V", lang.FormatQuantity(says, lang.Volts), supplyVolts)
					e.Range, e.Known = Range{bands[n].lo, bands[n].hi}, true
				}
				c.test.Expected = append(c.test.Expected, e)
			}
			s.sign(&c.test)
			c.sure = s.pairBits(func(a, b int) bool { return known[a] && known[b] && !bands[a].meets(bands[b]) })
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
// another winding.
func (s *settler) weighed(from, x, y int) candidate {
	const plain = 1.15 // times, from which on nobody can mistake it
	c := candidate{cost: 21, test: Test{Readings: []Ask{
		s.ask(lang.Volts, from, x, "Compare it with the next."), s.ask(lang.Volts, from, y, "Compare it with the one before.")}}}
	order := make([]int, len(s.names))
	for i := range s.names {
		e := Expectation{Says: "not told"}
		_, a, known := s.stands(&s.names[i], from, x)
		_, b, also := s.stands(&s.names[i], from, y)
		if known && also {
			low := x
			switch {
			case b > a*plain:
				order[i] = -1
			case a > b*plain:
				order[i], low = 1, y
			}
			if order[i] != 0 {
				e.Says = fmt.Sprintf("%s to %s is the lower, %s against %s at %d V", s.lead(from), s.lead(low),
					lang.FormatQuantity(min(a, b), lang.Volts), lang.FormatQuantity(max(a, b), lang.Volts), supplyVolts)
			}
		}
		c.test.Expected = append(c.test.Expected, e)
	}
	s.sign(&c.test)
	c.sure = s.pairBits(func(a, b int) bool { return order[a]*order[b] < 0 })
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
			c := candidate{cost: 30, test: Test{Readings: []Ask{s.ask(lang.Volts, u, v,
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
					case known && 2*is.lo < 2*s.meter.SameRange*supplyVolts+0.02:
						sense[n] = 0 // too small beside the supply to show
					case known:
						e.Says += fmt.Sprintf(", by about %s at %d V", lang.FormatQuantity(says, lang.Volts), supplyVolts)
						e.Range, e.Known = Range{supplyVolts - float64(sense[n])*is.hi, supplyVolts - float64(sense[n])*is.lo}, true
						if e.Range.Low > e.Range.High {
							e.Range.Low, e.Range.High = e.Range.High, e.Range.Low
						}
					}
				}
				c.test.Expected = append(c.test.Expected, e)
			}
			s.sign(&c.test)
			c.sure = s.pairBits(func(a, b int) bool { return sense[a]*sense[b] < 0 })
			if c.sure != 0 {
				found = append(found, c)
			}
		}
	}
	return found
}
