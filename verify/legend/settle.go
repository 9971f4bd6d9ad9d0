package legend

import (
	"fmt"
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
	// Left are exchanges of leads that none of the steps tells by itself, since
	// every reading of them hangs on other leads in dispute as well. Once those are
	// decided, it can be asked again.
	Left []Left
	// Alike are pairs of sources that differ only in what makes no difference,
	// so that no reading is wanted; Apart are pairs that none of the steps
	// tells apart.
	Alike, Apart [][2]string
	// WithoutSupply says why no reading of volts is asked for where one would
	// help; "" else.
	WithoutSupply string
	// Wired are leads that something else is soldered to: volts count only once
	// they hang free.
	Wired    []netlist.TerminalID
	Cautions []string // whole sentences
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
	for i, k := range book.KeysOf(part) {
		if i == maxSources {
			break
		}
		n := namingOf(book, s.leads, k)
		if len(s.names) > 0 {
			n = n.aligned(s.names[0], loose)
		}
		s.names = append(s.names, n)
	}
	if open := s.undecided(); s.differ(open) {
		s.names = open
	}
	s.keep(out)
	s.questions()
	if len(s.names) < 2 {
		return out
	}
	for _, n := range s.names {
		out.Sources = append(out.Sources, n.origin)
	}
	s.settle(out)
	out.Wired = wiredOf(book, part, s.leads)
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
	pairs [][2]int   // of sources that differ in what matters
	asks  []question // the exchanges of pairs that differ in several
	alone []question // those of pairs that differ in one
	drive [2]int     // leads for the supply; both the same for none
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
			if !matters(a, b) && len(cycles(b, a)) > 0 {
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

// A candidate is a test with what it tells, as bits: the pairs of sources, and
// then the questions; for certain, and with luck.
type candidate struct {
	test       Test
	sure, luck uint32
	cost       int // see costOne
}

func (s *settler) settle(out *Settlement) {
	all := uint32(1)<<(len(s.pairs)+len(s.asks)) - 1
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
	told := sure | reached
	for i, pair := range s.pairs {
		if told>>i&1 == 0 {
			out.Apart = append(out.Apart, [2]string{s.names[pair[0]].origin, s.names[pair[1]].origin})
		}
	}
	for i := range s.asks {
		if q := &s.asks[i]; told>>q.pair&1 == 1 && !s.answered(q, told) {
			out.Left = append(out.Left, s.left(q))
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

// What a test costs the one who takes it, one against the other: two readings
// are twice the work and a little, since they have to be compared; what lies
// close together is worth a little less still; clips on two windings are more
// work than either. The figures are our own choice.
const (
	costOne     = 10
	costTwo     = 2*costOne + 1
	costClose   = 1
	costClipped = 3 * costOne
)

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
			}
			masks = append(masks, next) // again where it is cheaper than before: what follows from it is, too
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
