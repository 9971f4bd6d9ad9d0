package legend

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/netlist"
)

// Sure says how well the end of a lead is known.
type Sure uint8

// How well an end is known, least first.
const (
	Open      Sure = iota // it can be one or another
	EitherWay             // it can be one or another, and that makes no difference
	Certain               // it can be nothing else
)

// An Identification is what readings alone say of the leads of a part.
type Identification struct {
	Part           *netlist.Part
	Leads          []LeadFound    // the part's leads in the order in which they became known
	Windings       []WindingFound // in the order of their first leads; a lead by itself is one too
	Phases         []PhaseFound
	Contradictions []Contradiction
	Aside          []SetAside // readings that say nothing, and why
	Counted        int        // readings that were used
	// Assumes are the sentences that naming the ends rests on, beside the readings.
	Assumes []string
	// Next is the reading that would tell most; nil where none would tell
	// more, or where none can be asked for without danger.
	Next *Ask
	// Done says that every lead is certain, or as good as another.
	Done bool
	// Even are the outer ends of windings that read the same from either end, so
	// that no reading tells which is which. The notebook does not say that the one
	// may be used for the other; if that is so, nothing is open about them.
	Even [][2]netlist.TerminalID
}

// A LeadFound is what is known of one lead.
type LeadFound struct {
	Lead netlist.TerminalID
	// End is the end that it is, if Sure is Certain. If it is EitherWay, End is
	// a choice that fits with the choices for all other such leads.
	End  netlist.TerminalID
	Sure Sure
	// NoEnd says, where Sure is Certain, that the lead is no end of a winding:
	// a screen, or one that leads nowhere.
	NoEnd bool
	// Choices are the ends that it can be, itself among them, where it is not
	// Certain; empty where it can be any. With PhaseOnly they differ in nothing
	// but the sense of the winding.
	Choices   []netlist.TerminalID
	PhaseOnly bool
	Evidence  []*netlist.Reading // the readings of its winding
}

// A WindingFound is a set of leads with wire between them.
type WindingFound struct {
	Leads   []netlist.TerminalID // in the order in which they lie along it, if Ordered
	Ordered bool
	// Whole says that no other lead belongs to it: each was read to be apart,
	// or, with ByCount, there is one such set for each winding that the
	// notebook gives the part.
	Whole, ByCount bool
	Names          []string // of the windings that it can be
	Ohms           []Range  // from each lead to the next, if Ordered
	Volts          []Range  // the same, with the supply as it was last
}

// A Range is between which figures something lies. High is infinite where
// nothing bounds it.
type Range struct{ Low, High float64 }

// A PhaseFound says how two windings run: from A[0] to A[1] the one rises
// while from B[0] to B[1] the other does so as well.
type PhaseFound struct {
	A, B    [2]netlist.TerminalID
	Reading *netlist.Reading
}

// A Contradiction is a set of readings that cannot all be right.
type Contradiction struct {
	Message  string // a sentence without a full stop
	Readings []*netlist.Reading
	// Suspect is the one that is most likely wrong, nil where none stands out;
	// Why says what speaks against it.
	Suspect *netlist.Reading
	Why     string
}

// Identify finds which lead of a part is which end from readings alone: ohms
// say which leads share a winding and in what order they lie along it, volts
// which tap is which, and volts across two windings that are clipped together
// how they run. What is wired to the leads is allowed for as it was at each
// reading. It claims what every arrangement has that fits the readings as
// the meter bounds them, and nothing else.
func Identify(book *netlist.Book, part *netlist.Part, meter Meter) *Identification {
	return identifyAt(book, part, meter, len(book.Facts))
}

// identifyAt is what had been read before a step.
func identifyAt(book *netlist.Book, part *netlist.Part, meter Meter, until int) *Identification {
	leads, measures, aside := read(book, part, meter, until)
	id := &Identification{Part: part, Aside: aside}
	if len(leads) == 0 {
		return id
	}
	p := look(len(leads), layoutOf(part), measures, meter)
	t := teller{book: book, part: part, leads: leads, p: p}
	for i := range measures {
		if !p.aside[i] && !measures[i].told {
			id.Counted++
		}
	}
	for _, i := range p.idle {
		if measures[i].told {
			continue
		}
		id.Counted--
		id.Aside = append(id.Aside, SetAside{measures[i].from,
			"its leads are on windings that were not clipped together: what stands between them floats"})
	}
	id.Leads = t.leadsFound()
	for b := range p.bunches {
		id.Windings = append(id.Windings, t.winding(b))
	}
	id.Phases = t.phases()
	for i := range p.clash {
		id.Contradictions = append(id.Contradictions, t.contradiction(&p.clash[i]))
	}
	id.Assumes = t.assumes(id)
	id.Done = !slices.ContainsFunc(id.Leads, func(l LeadFound) bool { return l.Sure == Open })
	if next, ok := p.next(t.likely()); ok {
		ask := t.ask(next)
		id.Next = &ask
	} else {
		id.Even = t.even(id)
	}
	return id
}

// even finds the windings of which nothing is open but which outer end is which.
func (t *teller) even(id *Identification) [][2]netlist.TerminalID {
	var list [][2]netlist.TerminalID
	for g := range t.p.lay.groups {
		ends := t.p.lay.groups[g].ends
		outer := [2]netlist.TerminalID{t.end(ends[0]), t.end(ends[len(ends)-1])}
		between := func(l LeadFound) bool {
			return l.Sure == Open && !l.PhaseOnly && len(l.Choices) == 2 && slices.Contains(l.Choices, outer[0]) && slices.Contains(l.Choices, outer[1])
		}
		if outer[0] != outer[1] && slices.ContainsFunc(id.Leads, between) {
			list = append(list, outer)
		}
	}
	return list
}

// KeyFact is the colour key that the readings come to, as a fact of the
// notebook with the meter for its source. It has the leads that are certain
// and those that may be named either way; it is "" if there is none.
func (id *Identification) KeyFact(book *netlist.Book) string {
	var pairs []string
	for _, l := range id.Leads {
		switch {
		case l.Sure == Open:
		case l.NoEnd:
			pairs = append(pairs, book.Terminals[l.Lead].Name+" unknown")
		default:
			pairs = append(pairs, book.Terminals[l.Lead].Name+" "+book.Terminals[l.End].Name)
		}
	}
	if len(pairs) == 0 {
		return ""
	}
	return fmt.Sprintf("colours %s meter { %s }", id.Part.Ref, strings.Join(pairs, ", "))
}

// A teller says in terminals and readings what a picture has in numbers.
type teller struct {
	book  *netlist.Book
	part  *netlist.Part
	leads []netlist.TerminalID
	p     *picture
}

func (t *teller) end(kind int) netlist.TerminalID {
	if kind < 0 {
		return netlist.NoTerminal
	}
	return t.part.Terminals[kind]
}

func (t *teller) name(lead int) string { return t.book.Terminals[t.leads[lead]].Name }

func (t *teller) readings(measures []int) []*netlist.Reading {
	var list []*netlist.Reading
	for _, i := range measures {
		if r := t.p.measures[i].from; r != nil && !slices.Contains(list, r) {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b *netlist.Reading) int { return a.Step - b.Step })
	return list
}

func (t *teller) leadsFound() []LeadFound {
	var list []LeadFound
	for lead, c := range t.p.claims() {
		found := LeadFound{Lead: t.leads[lead], End: t.end(c.end), Sure: c.sure, PhaseOnly: c.around}
		found.NoEnd = c.sure != Open && c.end == none
		for _, end := range c.open {
			if end >= 0 {
				found.Choices = append(found.Choices, t.end(end))
			}
		}
		found.Evidence = t.readings(t.evidence(lead))
		list = append(list, found)
	}
	return list
}

// evidence are the measures that speak of a lead: those within its bunch,
// those that part it from others, and those that tie it to others.
func (t *teller) evidence(lead int) []int {
	p := t.p
	bunch := p.bunch[lead]
	list := slices.Clone(p.within[bunch])
	for i := range p.measures {
		m := &p.measures[i]
		if p.aside[i] {
			continue
		}
		switch {
		case m.sort == apart && (slices.Contains(m.clipped(m.red), lead) || slices.Contains(m.clipped(m.black), lead)),
			m.sort == through && m.is == anything && p.bunch[m.red] == bunch:
			list = append(list, i)
		}
	}
	for _, tie := range p.ties {
		if tie.sense != 0 && (p.bunch[tie.x] == bunch || p.bunch[tie.y] == bunch) {
			list = append(list, tie.measure)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

func (t *teller) winding(b int) WindingFound {
	p := t.p
	w := WindingFound{Whole: true}
	for other := range p.bunches {
		if other != b && !p.isSplit(b, other) {
			w.Whole = false
		}
	}
	if !w.Whole && p.counted() {
		w.Whole, w.ByCount = true, true
	}
	for _, g := range p.groupsOf(b) {
		if p.settled || p.counted() && len(p.lay.groups[g].ends) == len(p.bunches[b]) {
			w.Names = append(w.Names, p.lay.groups[g].name)
		}
	}
	row := p.bunches[b]
	l := p.linesOf(b)
	w.Ordered = len(row) < 3 || l.known && len(l.orders) == 1
	if l.known && len(l.orders) == 1 {
		row = nil
		for _, i := range l.orders[0].row {
			row = append(row, p.bunches[b][i])
		}
	}
	for i, lead := range row {
		w.Leads = append(w.Leads, t.leads[lead])
		if w.Ordered && i > 0 {
			ohms := p.wire(row[i-1], lead)
			volts := p.volts(row[i-1], lead, p.supply())
			w.Ohms = append(w.Ohms, Range{ohms.lo, ohms.hi})
			w.Volts = append(w.Volts, Range{volts.lo, volts.hi})
		}
	}
	return w
}

func (t *teller) phases() []PhaseFound {
	var list []PhaseFound
	for _, tie := range t.p.ties {
		if tie.sense == 0 {
			continue
		}
		f := PhaseFound{A: [2]netlist.TerminalID{t.leads[tie.x], t.leads[tie.u]}, B: [2]netlist.TerminalID{t.leads[tie.y], t.leads[tie.v]},
			Reading: t.p.measures[tie.measure].from}
		if tie.sense < 0 {
			f.B[0], f.B[1] = f.B[1], f.B[0]
		}
		list = append(list, f)
	}
	return list
}

// assumes tells what the names rest on beside the readings.
func (t *teller) assumes(id *Identification) []string {
	var list []string
	if len(t.p.lay.groups) == 0 {
		return append(list, fmt.Sprintf("The notebook gives %s no windings, so that no end can be named.", t.part.Ref))
	}
	named := slices.ContainsFunc(id.Leads, func(l LeadFound) bool { return l.Sure != Open })
	if !named {
		return nil
	}
	list = append(list, fmt.Sprintf("%s is wound as the notebook says: %s.", t.part.Ref, windingsSaid(t.p.lay)))
	if slices.ContainsFunc(id.Windings, func(w WindingFound) bool { return w.ByCount }) {
		list = append(list, "No two of its windings are joined inside, and none is left out: there is one set of leads for each.")
	}
	if len(id.Phases) > 0 {
		list = append(list, "The notebook lists the ends of all its windings in one sense, starts first.")
	}
	return list
}

func windingsSaid(l *layout) string {
	var list []string
	for i := range l.groups {
		if g := &l.groups[i]; len(g.ends) > 1 {
			list = append(list, fmt.Sprintf("%s with %d ends", g.name, len(g.ends)))
		}
	}
	return listed(list)
}

// listed writes "a", "a and b" or "a, b and c".
func listed(list []string) string {
	switch n := len(list); n {
	case 0:
		return ""
	case 1:
		return list[0]
	default:
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
}

// likely tells from the colour keys how likely two leads share a winding.
// What any source says of the leads is a good guess where to read first, and
// no more: how many times likelier it makes it is our own choice, and decides
// nothing but the order of readings.
func (t *teller) likely() func(a, b int) float64 {
	const faith = 4
	keys := t.book.KeysOf(t.part)
	group := func(k *netlist.ColourKey, lead int) int {
		end := k.End(t.leads[lead])
		if end == netlist.NoTerminal {
			return -1
		}
		return t.p.lay.of[t.book.Terminals[end].Index]
	}
	return func(a, b int) float64 {
		factor := 1.0
		for _, k := range keys {
			x, y := group(k, a), group(k, b)
			switch {
			case x < 0 || y < 0:
			case x == y:
				factor *= faith
			default:
				factor /= faith
			}
		}
		return factor
	}
}
