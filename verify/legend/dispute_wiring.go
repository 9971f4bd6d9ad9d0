package legend

import (
	"slices"

	"buzzout/netlist"
)

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
	d.History = r.history(&d)
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
