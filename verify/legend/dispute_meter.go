package legend

import (
	"fmt"
	"slices"

	"buzzout/netlist"
)

// meterAgainst makes the records of sources that readings speak against, in
// leads of which no other source says anything else.
func (r *record) meterAgainst(told []Dispute) []Dispute {
	p := r.told.p
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
		d.Said = append(d.Said, r.says(n, at), r.told.meterSays(at))
		r.complete(&d, at)
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
