package shell

import (
	"slices"

	"buzzout/netlist"
)

// endOfLead is the end that a flying lead is taken to be; NoTerminal where
// nobody knows. open says that sources differ about it and none is trusted.
func (s *Session) endOfLead(lead netlist.TerminalID) (end netlist.TerminalID, open bool) {
	for i, m := range s.meaningsOf(s.book.Terminals[lead].Part) {
		said, known := m.Ends[lead]
		if !known {
			said = netlist.NoTerminal
		}
		if i > 0 && said != end {
			return netlist.NoTerminal, true
		}
		end = said
	}
	return end, false
}

// leadOfEnd is what an end is called at the bench: the colour of its lead, or
// what each source calls it where they differ.
func (s *Session) leadOfEnd(end netlist.TerminalID) string {
	p := s.book.Terminals[end].Part
	var leads []netlist.TerminalID
	var sources [][]string // by lead
	for _, m := range s.meaningsOf(p) {
		for _, lead := range p.Terminals {
			if said, known := m.Ends[lead]; !known || said != end {
				continue
			}
			i := slices.Index(leads, lead)
			if i < 0 {
				i = len(leads)
				leads, sources = append(leads, lead), append(sources, nil)
			}
			if origin := m.Origins[p]; !slices.Contains(sources[i], origin) {
				sources[i] = append(sources[i], origin)
			}
			break
		}
	}
	switch len(leads) {
	case 0:
		return s.book.Name(end)
	case 1:
		return s.book.Name(leads[0]) + " (" + s.book.NameWithin(end) + ")"
	}
	var said []string
	for i, lead := range leads {
		said = append(said, s.book.NameWithin(lead)+" by "+joinAnd(sources[i]))
	}
	return s.book.Name(end) + " (" + joinOr(said) + ")"
}

// meaningsOf are the ways to take a part's leads: one, but where sources
// differ and none is trusted.
func (s *Session) meaningsOf(p *netlist.Part) []netlist.Meaning {
	if first := s.wiring().meaning; first.Origins[p] == "" {
		return []netlist.Meaning{first}
	}
	return s.book.Meanings()
}
