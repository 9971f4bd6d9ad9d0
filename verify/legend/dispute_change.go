package legend

import (
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
)

// Seats says how leads in dispute sat on the bench at some moment.
type Seats uint8

// The ways, for the leads that were wired at all.
const (
	Unwired   Seats = iota // none was wired
	AllRight               // each sat on the place of its end
	SomeWrong              // one or more sat elsewhere
)

// changes tells what the decision changed: what the leads mean by it, and what
// that made of the wiring as it was then.
func (r *record) changes(d *Dispute, at []int) {
	if d.Decided == nil {
		return
	}
	find := func(source string) int {
		return slices.IndexFunc(r.names, func(n naming) bool { return lang.Fold(n.origin) == lang.Fold(source) })
	}
	n, before := find(d.Decided.Source), find(d.Decided.Instead)
	for _, lead := range at {
		c := Change{Lead: r.leads[lead], Was: netlist.NoTerminal, Now: r.part.Terminals[r.names[n].ends[lead]]}
		if before >= 0 && r.names[before].ends[lead] != none {
			c.Was = r.part.Terminals[r.names[before].ends[lead]]
		}
		if c.Was != c.Now {
			d.Changed = append(d.Changed, c)
		}
	}
	then := *r.built
	then.sits = seats(r.book, r.part, r.leads, r.book.BenchAt(d.Decided.Step), r.built.meanings[0])
	for _, lead := range at {
		switch {
		case len(then.sits[lead]) == 0:
		case !slices.Contains(then.sits[lead], r.names[n].ends[lead]):
			d.Wired = SomeWrong
		default:
			d.Wired = max(d.Wired, AllRight)
		}
	}
	if d.Wired != SomeWrong {
		return
	}
	ends := then.named(r.names[n])
	for _, e := range then.arranged(ends, then.finished(ends, then.places(ends))).tell(NotAsked) {
		if slices.ContainsFunc(e.Leads, func(lead netlist.TerminalID) bool { return slices.Contains(d.Leads, lead) }) {
			d.Effects = append(d.Effects, e)
		}
	}
}
