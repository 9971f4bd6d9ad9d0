package legend

import (
	"slices"

	"buzzout/lang"
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
	// Wired is how the leads sat when it was decided, and Effects what that
	// wiring would have done by the decision, the worst last.
	Wired   Seats
	Effects []Effect
	// Rework are facts of the bench that have moved the leads since.
	Rework []*netlist.Fact
	// History are all facts that have a part in it, in order.
	History []Event
}

// DisputeKind says who disagrees.
type DisputeKind uint8

// The kinds of dispute.
const (
	_             DisputeKind = iota
	BetweenKeys               // sources, two or more
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

// A Change is a lead that means something else by a decision.
type Change struct {
	Lead     netlist.TerminalID
	Was, Now netlist.TerminalID // the ends; NoTerminal where it was open
}

// Disputes lists every disagreement of a notebook, part by part.
func Disputes(book *netlist.Book, meter Meter) []Dispute {
	var list []Dispute
	for _, p := range book.Parts {
		if len(book.KeysOf(p)) > 0 {
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
	leads    []netlist.TerminalID
	keys     []*netlist.ColourKey
	names    []naming
	trusts   []netlist.Trust
	loose    [][]int
	built    *built
	measures []measure
	told     teller // of the picture that all readings make
}

func newRecord(book *netlist.Book, p *netlist.Part, meter Meter) *record {
	r := &record{book: book, part: p, lay: layoutOf(p), keys: book.KeysOf(p), trusts: book.Trusts(p), built: newBuild(book, p)}
	r.leads, r.measures, _ = read(book, p, meter, len(book.Facts))
	r.loose = looseOf(book, p, r.leads)
	for _, k := range r.keys {
		r.names = append(r.names, namingOf(book, r.leads, k))
	}
	r.told = teller{book: book, part: p, leads: r.leads, p: look(len(r.leads), r.lay, slices.Clone(r.measures), meter)}
	return r
}

func (r *record) disputes() []Dispute {
	var list []Dispute
	for _, q := range r.quarrels() {
		list = append(list, r.between(&q))
	}
	list = append(list, r.meterAgainst(list)...)
	return append(list, r.wiring()...)
}

// A quarrel is conflicts about the same leads, of two sources or more.
type quarrel struct {
	Conflict       // the first, and the weight of the heaviest
	sources  []int // rising
}

// quarrels gathers the conflicts of each two sources by the leads that they
// are about: who else says the same of them is a witness and no other case.
func (r *record) quarrels() []quarrel {
	var list []quarrel
	for i := range r.names {
		for k := range i {
			for _, c := range conflicts(r.book, r.part, r.lay, r.leads, r.names[k], r.names[i], r.loose) {
				at := slices.IndexFunc(list, func(q quarrel) bool { return sameLeads(q.Leads, c.Leads) })
				if at < 0 {
					at = len(list)
					list = append(list, quarrel{Conflict: c})
				}
				q := &list[at]
				q.Weight = max(q.Weight, c.Weight)
				q.sources = append(q.sources, k, i)
				slices.Sort(q.sources)
				q.sources = slices.Compact(q.sources)
			}
		}
	}
	return list
}

func sameLeads(a, b []netlist.TerminalID) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// between makes the record of a conflict of sources.
func (r *record) between(c *quarrel) Dispute {
	d := Dispute{Part: r.part, Kind: BetweenKeys, State: Undecided, Leads: c.Leads, Weight: c.Weight, Message: c.Message}
	var at []int
	for _, lead := range c.Leads {
		at = append(at, slices.Index(r.leads, lead))
	}
	for _, n := range c.sources {
		d.Said = append(d.Said, r.says(n, at))
	}
	r.complete(&d, at)
	return d
}

// complete adds to what the sources say of leads what the wiring says, what was
// decided, and all that goes with it.
func (r *record) complete(d *Dispute, at []int) {
	if s, wired := r.wiringSays(at); wired {
		d.Said = append(d.Said, s)
	}
	r.decide(d, at)
	r.evidence(d, at)
	r.changes(d, at)
	d.Rework = r.rework(d.Leads, d.Decided)
	d.History = r.history(d)
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

// decide finds the latest trust that speaks of all the leads.
func (r *record) decide(d *Dispute, at []int) {
	speaks := func(t netlist.Trust) bool {
		n := slices.Index(r.keys, t.Key)
		return !slices.ContainsFunc(at, func(lead int) bool { return r.names[n].ends[lead] == none })
	}
	instead := ""
	for _, t := range r.trusts {
		if !speaks(t) {
			continue
		}
		d.Decided = &Decision{Source: t.Key.Origin, Why: t.Reason, Fact: t.Fact, Step: t.Fact.Index, Instead: instead}
		d.State = Settled
		instead = t.Key.Origin
	}
	if d.Decided != nil && lang.Fold(d.Decided.Instead) == lang.Fold(d.Decided.Source) {
		d.Decided.Instead = ""
	}
}

// evidence sorts the readings at the leads by the decision, and looks whether
// they speak against it.
func (r *record) evidence(d *Dispute, at []int) {
	for i := range r.measures {
		m := &r.measures[i]
		switch {
		case m.from == nil || !m.touches(at):
		case d.Decided != nil && m.from.Step > d.Decided.Step:
			d.After = append(d.After, m.from)
		default:
			d.Before = append(d.Before, m.from)
		}
	}
	for n := range r.names {
		if slices.ContainsFunc(d.Said, func(s Statement) bool { return s.Source == r.keys[n].Origin }) ||
			d.Decided != nil && lang.Fold(d.Decided.Source) == lang.Fold(r.names[n].origin) {
			d.Readings = append(d.Readings, SourceJudged{r.keys[n].Origin, r.judged(d, n, at)})
		}
	}
	if d.Decided == nil {
		return
	}
	for _, s := range d.Readings {
		if lang.Fold(s.Source) != lang.Fold(d.Decided.Source) || s.Verdict < LeansAgainst {
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

// judged is what the readings say of a source in what is in question. Where no
// reading touches the leads they say nothing, and what they have against it
// elsewhere belongs to other disputes.
func (r *record) judged(d *Dispute, n int, at []int) Judgement {
	touching := slices.Concat(d.Before, d.After)
	if len(touching) == 0 {
		return Judgement{}
	}
	j := r.told.judgement(r.restricted(n, at))
	if j.Verdict >= LeansAgainst && !slices.ContainsFunc(j.Against, func(x *netlist.Reading) bool { return slices.Contains(touching, x) }) {
		return Judgement{Verdict: Agrees}
	}
	return j
}

// touches says that a probe, or what was clipped to it, was on one of some
// leads.
func (m *measure) touches(leads []int) bool {
	return slices.ContainsFunc(slices.Concat(m.clipped(m.red), m.clipped(m.black)), func(lead int) bool { return slices.Contains(leads, lead) })
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
