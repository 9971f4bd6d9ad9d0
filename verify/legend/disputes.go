package legend

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A Dispute is one disagreement about the leads of a part, of drawing,
// stickers, meter or any other source with each other, or of the wiring with
// what holds. It is worked out from the notebook each time: nothing of it is
// stored, and the order of the facts is its only clock.
type Dispute struct {
	Part  *netlist.Part
	Kind  DisputeKind
	State State
	Leads []netlist.TerminalID
	Said  []Statement // what each said, the wiring last
	// What it comes to: "orange and white are exchanged".
	Message string // a sentence without a full stop
	Weight  Weight
	// Decided is what a trust fact made of it; nil while nobody has.
	Decided *Decision
	// Before and After are readings at the leads in question that were taken
	// before the decision and since; without one, all are Before.
	Before, After []*netlist.Reading
	// Reopened are readings taken since that speak against what was decided.
	Reopened []*netlist.Reading
	// Readings is what all readings say of each source.
	Readings []SourceJudged
	// Changed is what the decision changed: leads that mean something else by
	// it, and what that made of the wiring.
	Changed []Change
	// Rework are facts of the bench that have moved the leads since.
	Rework []*netlist.Fact
}

// DisputeKind says who disagrees.
type DisputeKind uint8

// The kinds of dispute.
const (
	_             DisputeKind = iota
	BetweenKeys               // two sources
	WithTheMeter              // a source, and the readings
	WithTheWiring             // the wiring, and what the leads are taken to be
)

// State is how a dispute stands.
type State uint8

// The states.
const (
	_          State = iota
	Undecided        // nobody has said which holds
	Settled          // a source is trusted, or the wiring was put right
	Reopened         // readings taken since speak against what was decided
	Overridden       // decided against readings that were there already
)

func (s State) String() string {
	return [...]string{"", "undecided", "settled", "reopened", "decided against readings"}[s]
}

// A Statement is what one of them says of the leads in question.
type Statement struct {
	Source string // "the wiring" and "the meter" for those two
	Wiring bool
	Meter  bool
	Paper  bool
	Ends   []netlist.TerminalID // by lead of the dispute; NoTerminal where it does not say
	Facts  []*netlist.Fact
}

// A Decision is a trust fact.
type Decision struct {
	Source string
	Why    string // as the builder wrote it
	Fact   *netlist.Fact
	Step   int // the index of the fact: when, in the notebook
	// Instead is the source that was trusted before, "" for none.
	Instead string
}

// A SourceJudged is what readings say of a source.
type SourceJudged struct {
	Source string
	Judgement
}

// A Change is one thing that a decision changed.
type Change struct {
	Lead     netlist.TerminalID
	Was, Now netlist.TerminalID // the ends; NoTerminal where it was open
	Message  string             // a sentence without a full stop
}

// Disputes lists every disagreement of a notebook, part by part.
func Disputes(book *netlist.Book, meter Meter) []Dispute {
	var list []Dispute
	for _, p := range book.Parts {
		if slices.ContainsFunc(book.Keys, func(k *netlist.ColourKey) bool { return k.Part == p }) {
			list = append(list, newRecord(book, p, meter).disputes()...)
		}
	}
	return list
}

// A record looks up what the disputes of one part are made of.
type record struct {
	book     *netlist.Book
	part     *netlist.Part
	lay      *layout
	meter    Meter
	leads    []netlist.TerminalID
	keys     []*netlist.ColourKey
	names    []naming
	trusts   []trust
	loose    [][]int
	built    *built
	measures []measure
}

func newRecord(book *netlist.Book, p *netlist.Part, meter Meter) *record {
	r := &record{book: book, part: p, lay: layoutOf(p), meter: meter, trusts: trustsOf(book, p), built: newBuild(book, p)}
	r.leads, r.measures, _ = read(book, p, meter, len(book.Facts))
	r.loose = looseOf(book, p, r.leads)
	for _, k := range book.Keys {
		if k.Part == p {
			r.keys = append(r.keys, k)
			r.names = append(r.names, namingOf(book, r.leads, k))
		}
	}
	return r
}

func (r *record) disputes() []Dispute {
	var list []Dispute
	for i := range r.names {
		for k := range i {
			for _, c := range conflicts(r.book, r.part, r.lay, r.leads, r.names[k], r.names[i], r.loose) {
				list = append(list, r.between(c, k, i))
			}
		}
	}
	list = append(list, r.meterAgainst(list)...)
	return append(list, r.wiring()...)
}

// meterAgainst makes the records of sources that readings speak against, in
// leads of which no other source says anything else.
func (r *record) meterAgainst(told []Dispute) []Dispute {
	p := look(len(r.leads), r.lay, slices.Clone(r.measures), r.meter)
	t := teller{book: r.book, part: r.part, leads: r.leads, p: p}
	var list []Dispute
	for n, name := range r.names {
		verdict, against, phase := p.judge(name.ends)
		if verdict < LeansAgainst {
			continue
		}
		var at []int
		for _, i := range against {
			m := &p.measures[i]
			for _, lead := range slices.Concat(m.clipped(m.red), m.clipped(m.black)) {
				if name.ends[lead] != none && !slices.Contains(at, lead) {
					at = append(at, lead)
				}
			}
		}
		slices.Sort(at)
		d := Dispute{Part: r.part, Kind: WithTheMeter, State: Undecided, Weight: Matters}
		var names []string
		for _, lead := range at {
			d.Leads = append(d.Leads, r.leads[lead])
			names = append(names, r.book.Terminals[r.leads[lead]].Name)
		}
		if slices.ContainsFunc(told, func(o Dispute) bool { return o.covers(name.origin, d.Leads) }) {
			continue
		}
		verb := "contradict"
		if verdict == LeansAgainst {
			verb = "lean against"
		}
		d.Message = fmt.Sprintf("the readings %s what %s says of %s", verb, name.origin, listed(names))
		if phase {
			d.Weight = PhaseAlone
			d.Message += ", in how the windings run"
		}
		d.Said = append(d.Said, r.says(n, at), t.meterSays(at))
		if s, wired := r.wiringSays(at); wired {
			d.Said = append(d.Said, s)
		}
		r.decide(&d, at)
		r.evidence(&d, at)
		r.changes(&d, at)
		d.Rework = r.rework(d.Leads, d.Decided)
		list = append(list, d)
	}
	return list
}

// covers says that a dispute is about some of the leads as a source has them.
func (d *Dispute) covers(origin string, leads []netlist.TerminalID) bool {
	return slices.ContainsFunc(d.Said, func(s Statement) bool { return s.Source == origin }) &&
		slices.ContainsFunc(leads, func(t netlist.TerminalID) bool { return slices.Contains(d.Leads, t) })
}

// meterSays is what the readings alone come to for some leads.
func (t *teller) meterSays(at []int) Statement {
	s := Statement{Source: "the meter", Meter: true}
	claims := t.p.claims()
	for _, lead := range at {
		end := netlist.NoTerminal
		if c := claims[lead]; c.sure != Open {
			end = t.end(c.end)
		}
		s.Ends = append(s.Ends, end)
		for _, r := range t.readings(t.evidence(lead)) {
			if !slices.Contains(s.Facts, r.Fact) {
				s.Facts = append(s.Facts, r.Fact)
			}
		}
	}
	return s
}

// between makes the record of a conflict of two sources.
func (r *record) between(c Conflict, a, b int) Dispute {
	d := Dispute{Part: r.part, Kind: BetweenKeys, State: Undecided, Leads: c.Leads, Weight: c.Weight, Message: c.Message}
	var at []int
	for _, lead := range c.Leads {
		at = append(at, slices.Index(r.leads, lead))
	}
	for n := range r.names {
		if n != a && n != b {
			continue // others have disputes of their own
		}
		d.Said = append(d.Said, r.says(n, at))
	}
	if s, wired := r.wiringSays(at); wired {
		d.Said = append(d.Said, s)
	}
	r.decide(&d, at, a, b)
	r.evidence(&d, at)
	r.changes(&d, at)
	d.Rework = r.rework(d.Leads, d.Decided)
	return d
}

func (r *record) says(n int, at []int) Statement {
	k := r.keys[n]
	s := Statement{Source: k.Origin, Paper: k.Paper}
	for _, lead := range at {
		end := netlist.NoTerminal
		if e := r.names[n].ends[lead]; e != none {
			end = r.part.Terminals[e]
		}
		s.Ends = append(s.Ends, end)
		for _, pair := range k.Pairs {
			if pair.Lead == r.leads[lead] && !slices.Contains(s.Facts, pair.Fact) {
				s.Facts = append(s.Facts, pair.Fact)
			}
		}
	}
	return s
}

// wiringSays is on whose places the leads sit now.
func (r *record) wiringSays(at []int) (Statement, bool) {
	s := Statement{Source: "the wiring", Wiring: true}
	wired := false
	for _, lead := range at {
		end := netlist.NoTerminal
		// On a conductor with several places, the one that is meant is told by
		// the sources.
		sits := r.built.sits[lead]
		for _, t := range sits {
			if slices.ContainsFunc(r.names, func(n naming) bool { return n.ends[lead] == t }) {
				end = r.part.Terminals[t]
				break
			}
		}
		if end == netlist.NoTerminal && len(sits) > 0 {
			end = r.part.Terminals[sits[0]]
		}
		wired = wired || end != netlist.NoTerminal
		s.Ends = append(s.Ends, end)
		for _, j := range r.book.Bench().Joints {
			if (j.A == r.leads[lead] || j.B == r.leads[lead]) && !slices.Contains(s.Facts, j.Fact) {
				s.Facts = append(s.Facts, j.Fact)
			}
		}
	}
	return s, wired
}

// decide finds the latest trust that speaks of all the leads.
func (r *record) decide(d *Dispute, at []int, sources ...int) {
	speaks := func(t trust) bool {
		for n := range r.names {
			if fold(r.names[n].origin) != fold(t.Origin) {
				continue
			}
			for _, lead := range at {
				if r.names[n].ends[lead] == none {
					return false
				}
			}
			return true
		}
		return false
	}
	instead := ""
	for _, t := range r.trusts {
		if !speaks(t) {
			continue
		}
		d.Decided = &Decision{Source: t.Origin, Why: t.Reason, Fact: t.Fact, Step: t.Fact.Index, Instead: instead}
		d.State = Settled
		instead = t.Origin
	}
	if d.Decided != nil && fold(d.Decided.Instead) == fold(d.Decided.Source) {
		d.Decided.Instead = ""
	}
}

// evidence sorts the readings at the leads by the decision, and looks whether
// they speak against it.
func (r *record) evidence(d *Dispute, at []int) {
	p := look(len(r.leads), r.lay, slices.Clone(r.measures), r.meter)
	t := teller{book: r.book, part: r.part, leads: r.leads, p: p}
	for n := range r.names {
		if slices.ContainsFunc(d.Said, func(s Statement) bool { return s.Source == r.keys[n].Origin }) ||
			d.Decided != nil && fold(d.Decided.Source) == fold(r.names[n].origin) {
			d.Readings = append(d.Readings, SourceJudged{r.keys[n].Origin, t.judgement(r.restricted(n, at))})
		}
	}
	touched := map[int]bool{}
	for _, lead := range at {
		touched[lead] = true
	}
	for i := range r.measures {
		m := &r.measures[i]
		if m.from == nil || !slices.ContainsFunc(append(m.clipped(m.red), m.clipped(m.black)...), func(lead int) bool { return touched[lead] }) {
			continue
		}
		if d.Decided != nil && m.from.Step > d.Decided.Step {
			d.After = append(d.After, m.from)
		} else {
			d.Before = append(d.Before, m.from)
		}
	}
	if d.Decided == nil {
		return
	}
	for _, s := range d.Readings {
		if fold(s.Source) != fold(d.Decided.Source) || s.Verdict < LeansAgainst {
			continue
		}
		for _, reading := range s.Against {
			if reading.Step > d.Decided.Step {
				d.Reopened = append(d.Reopened, reading)
			}
		}
		switch {
		case len(d.Reopened) > 0:
			d.State = Reopened
		case s.Verdict == Contradicted:
			d.State = Overridden
		}
	}
}

// restricted is what a source says, without the leads that other sources
// dispute elsewhere: only what is in question here is judged, together with
// what nobody doubts.
func (r *record) restricted(n int, at []int) naming {
	own := r.names[n]
	ends := slices.Clone(own.ends)
	for lead := range ends {
		if slices.Contains(at, lead) {
			continue
		}
		for _, other := range r.names {
			if e := other.aligned(own, r.loose).ends[lead]; e != none && ends[lead] != none && e != ends[lead] {
				ends[lead] = none
			}
		}
	}
	return naming{own.origin, ends, own.known}
}

// changes tells what the decision changed.
func (r *record) changes(d *Dispute, at []int) {
	if d.Decided == nil {
		return
	}
	n := slices.IndexFunc(r.names, func(n naming) bool { return fold(n.origin) == fold(d.Decided.Source) })
	before := -1
	if d.Decided.Instead != "" {
		before = slices.IndexFunc(r.names, func(n naming) bool { return fold(n.origin) == fold(d.Decided.Instead) })
	}
	for _, lead := range at {
		c := Change{Lead: r.leads[lead], Was: netlist.NoTerminal, Now: r.part.Terminals[r.names[n].ends[lead]]}
		if before >= 0 && r.names[before].ends[lead] != none {
			c.Was = r.part.Terminals[r.names[before].ends[lead]]
		}
		if c.Was == c.Now {
			continue
		}
		c.Message = fmt.Sprintf("%s is %s from here on", r.book.Name(c.Lead), r.book.Terminals[c.Now].Name)
		d.Changed = append(d.Changed, c)
	}
	r.madeOf(d, at, n)
}

// madeOf tells what the decision made of the wiring as it was then.
func (r *record) madeOf(d *Dispute, at []int, n int) {
	meaning := r.built.meanings[0]
	then := seats(r.book, r.part, r.leads, r.book.BenchAt(d.Decided.Step), meaning)
	var wrong []string
	for _, lead := range at {
		if len(then[lead]) > 0 && !slices.Contains(then[lead], r.names[n].ends[lead]) {
			wrong = append(wrong, r.book.Terminals[r.leads[lead]].Name)
		}
	}
	if len(wrong) == 0 {
		return
	}
	verb := "was"
	if len(wrong) > 1 {
		verb = "were"
	}
	d.Changed = append(d.Changed, Change{Lead: netlist.NoTerminal, Was: netlist.NoTerminal, Now: netlist.NoTerminal,
		Message: fmt.Sprintf("%s %s on the wrong place then", listed(wrong), verb)})
}

// rework are the facts that have taken the leads off or put them on since.
func (r *record) rework(leads []netlist.TerminalID, decided *Decision) []*netlist.Fact {
	if decided == nil {
		return nil
	}
	var list []*netlist.Fact
	add := func(j *netlist.Joint, f *netlist.Fact) {
		if f.Index > decided.Step && (slices.Contains(leads, j.A) || slices.Contains(leads, j.B)) && !slices.Contains(list, f) {
			list = append(list, f)
		}
	}
	bench := r.book.Bench()
	for i := range bench.Undone {
		add(&bench.Undone[i].Joint, bench.Undone[i].By)
		add(&bench.Undone[i].Joint, bench.Undone[i].Joint.Fact)
	}
	for i := range bench.Joints {
		add(&bench.Joints[i], bench.Joints[i].Fact)
	}
	slices.SortFunc(list, func(a, b *netlist.Fact) int { return a.Index - b.Index })
	return list
}

// wiring makes the records of leads that sit, or once sat, elsewhere than on
// the place of the end that they are taken to be.
func (r *record) wiring() []Dispute {
	ends := make([]int, len(r.leads))
	for i, lead := range r.leads {
		ends[i] = none
		if end, open := holds(r.built.meanings, lead); !open && end != netlist.NoTerminal {
			ends[i] = r.book.Terminals[end].Index
		}
	}
	var list []Dispute
	told := map[netlist.TerminalID]bool{}
	for _, x := range r.built.exchanged(ends, r.built.places(ends)) {
		if x.Weight == NoMatter {
			continue
		}
		d := r.against(x, Undecided)
		list = append(list, d)
		for _, lead := range x.Leads {
			told[lead] = true
		}
	}
	return append(list, r.mended(ends, told)...)
}

// against is the record of leads on each other's places.
func (r *record) against(x Exchange, state State) Dispute {
	d := Dispute{Part: r.part, Kind: WithTheWiring, State: state, Leads: x.Leads, Weight: x.Weight, Message: x.Message}
	var at []int
	for _, lead := range x.Leads {
		at = append(at, slices.Index(r.leads, lead))
	}
	for n := range r.names {
		if slices.ContainsFunc(at, func(lead int) bool { return r.names[n].ends[lead] != none }) {
			d.Said = append(d.Said, r.says(n, at))
		}
	}
	s := Statement{Source: "the wiring", Wiring: true, Ends: x.Places}
	if now, wired := r.wiringSays(at); wired {
		s.Facts = now.Facts
	}
	d.Said = append(d.Said, s)
	r.decide(&d, at)
	d.State = state
	return d
}

// mended finds leads that were unsoldered from a wrong place and sit on the
// right one now.
func (r *record) mended(ends []int, told map[netlist.TerminalID]bool) []Dispute {
	bench := r.book.Bench()
	var steps []int
	for i := range bench.Undone {
		j := &bench.Undone[i]
		if slices.Contains(r.leads, j.Joint.A) || slices.Contains(r.leads, j.Joint.B) {
			steps = append(steps, j.By.Index)
		}
	}
	slices.Sort(steps)
	steps = slices.Compact(steps)
	now := r.built.places(ends)
	var list []Dispute
	for _, step := range steps {
		then := *r.built
		then.sits = seats(r.book, r.part, r.leads, r.book.BenchAt(step), r.built.meanings[0])
		for _, x := range then.exchanged(ends, then.places(ends)) {
			right := true
			for _, lead := range x.Leads {
				i := slices.Index(r.leads, lead)
				right = right && now[i] == ends[i] && !told[lead]
			}
			if !right || x.Weight == NoMatter {
				continue
			}
			d := r.against(x, Settled)
			for n := range d.Said {
				if d.Said[n].Wiring {
					d.Said[n].Facts = nil
				}
			}
			d.Rework = r.since(x.Leads, step)
			list = append(list, d)
			for _, lead := range x.Leads {
				told[lead] = true
			}
		}
	}
	return list
}

// since are the facts that moved the leads from a step on.
func (r *record) since(leads []netlist.TerminalID, step int) []*netlist.Fact {
	return r.rework(leads, &Decision{Step: step - 1})
}

// Place is where the dispute first stands in the notebook: its latest
// statement, which made it one.
func (d *Dispute) Place() diag.Place {
	var last *netlist.Fact
	for _, s := range d.Said {
		for _, f := range s.Facts {
			if !s.Wiring && !s.Meter && (last == nil || f.Index > last.Index) {
				last = f
			}
		}
	}
	if last == nil {
		return diag.Place{}
	}
	return last.Place()
}
