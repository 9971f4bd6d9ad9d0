package legend

import (
	"slices"

	"buzzout/netlist"
)

// An Event is a fact that has a part in a dispute.
type Event struct {
	Fact *netlist.Fact
	// Against are the sources that a reading speaks against; empty for other
	// facts, and for readings that fit.
	Against []string
}

// history puts all facts of a dispute in order: who said what, every decision,
// the readings, and what was soldered and unsoldered.
func (r *record) history(d *Dispute) []Event {
	var facts []*netlist.Fact
	add := func(f *netlist.Fact) {
		if f != nil && !slices.Contains(facts, f) {
			facts = append(facts, f)
		}
	}
	for _, s := range d.Said {
		for _, f := range s.Facts {
			add(f)
		}
	}
	if d.Decided != nil {
		for _, t := range r.trusts {
			if slices.ContainsFunc(d.Leads, func(lead netlist.TerminalID) bool { return t.Key.End(lead) != netlist.NoTerminal }) {
				add(t.Fact)
			}
		}
	}
	for _, reading := range slices.Concat(d.Before, d.After) {
		add(reading.Fact)
	}
	at := func(j *netlist.Joint) bool { return slices.Contains(d.Leads, j.A) || slices.Contains(d.Leads, j.B) }
	bench := r.book.Bench()
	for i := range bench.Joints {
		if at(&bench.Joints[i]) {
			add(bench.Joints[i].Fact)
		}
	}
	for i := range bench.Undone {
		if u := &bench.Undone[i]; at(&u.Joint) {
			add(u.Joint.Fact)
			add(u.By)
		}
	}
	slices.SortFunc(facts, func(a, b *netlist.Fact) int { return a.Index - b.Index })
	var list []Event
	for _, f := range facts {
		e := Event{Fact: f}
		for _, s := range d.Readings {
			if slices.ContainsFunc(s.Against, func(x *netlist.Reading) bool { return x.Fact == f }) {
				e.Against = append(e.Against, s.Source)
			}
		}
		list = append(list, e)
	}
	return list
}
