package legend

import (
	"fmt"
	"slices"

	"buzzout/netlist"
)

// A Left is an exchange of leads that no step tells by itself.
type Left struct {
	Sources [2]string
	Leads   []netlist.TerminalID
}

// A question is one exchange of leads between two sources that differ in
// several. Either source may be right about each of them, so that each wants
// readings of its own: on leads in question, and on none of the others that the
// two dispute.
type question struct {
	pair   int   // of sources
	bit    int   // which says that it is told: the pair's, where the pair differs in nothing else
	leads  []int // in question
	others []int // leads of the pair's other exchanges
}

// maxTold bounds the pairs and questions that are told apart at a time, since
// what is cheapest is worked out for every set of them.
const maxTold = 12

// questions parts what two sources differ in into its exchanges.
func (s *settler) questions() {
	for i, pair := range s.pairs {
		a, b := s.names[pair[0]], s.names[pair[1]]
		var cycles [][]int
		for _, c := range s.cycles(a, b) {
			cycles = append(cycles, c.leads)
		}
		if len(cycles) == 1 {
			s.alone = append(s.alone, question{pair: i, bit: i, leads: cycles[0]})
			continue
		}
		for n, leads := range cycles {
			if len(s.pairs)+len(s.asks) >= maxTold {
				break
			}
			q := question{pair: i, bit: len(s.pairs) + len(s.asks), leads: leads}
			for m, others := range cycles {
				if m != n {
					q.others = append(q.others, others...)
				}
			}
			s.asks = append(s.asks, q)
		}
	}
}

// cycles are the exchanges between two sources that matter by themselves.
func (s *settler) cycles(a, b naming) []cycle {
	return slices.DeleteFunc(cycles(a, b), func(c cycle) bool {
		only := slices.Clone(a.ends)
		for _, lead := range c.leads {
			only[lead] = b.ends[lead]
		}
		return s.lay.weigh(a.ends, only) <= NoMatter
	})
}

// tells sets the bit of each pair of sources, and of each question, that a test
// on some leads tells: told says of which sources it expects different things.
func (s *settler) tells(leads []int, told func(a, b int) bool) uint32 {
	on := func(list []int) bool {
		return slices.ContainsFunc(leads, func(lead int) bool { return slices.Contains(list, lead) })
	}
	var mask uint32
	for i, pair := range s.pairs {
		if told(pair[0], pair[1]) {
			mask |= 1 << i
		}
	}
	for _, q := range s.asks {
		if mask>>q.pair&1 == 1 && on(q.leads) && !on(q.others) {
			mask |= 1 << q.bit
		}
	}
	return mask
}

// answered says that a question is told, or another that is one with it: of
// the same leads, with the same said of them on either side.
func (s *settler) answered(q *question, told uint32) bool {
	a, b := s.sides(q)
	return slices.ContainsFunc(slices.Concat(s.asks, s.alone), func(other question) bool {
		c, d := s.sides(&other)
		return told>>other.bit&1 == 1 && a == c && b == d
	})
}

// sides is what the two sources say of the leads in question, in an order that
// hangs on nothing else.
func (s *settler) sides(q *question) (a, b string) {
	said := func(n int) string {
		var ends []int
		for _, lead := range slices.Sorted(slices.Values(q.leads)) {
			ends = append(ends, lead, s.names[n].ends[lead])
		}
		return fmt.Sprint(ends)
	}
	a, b = said(s.pairs[q.pair][0]), said(s.pairs[q.pair][1])
	return min(a, b), max(a, b)
}

func (s *settler) left(q *question) Left {
	pair := s.pairs[q.pair]
	l := Left{Sources: [2]string{s.names[pair[0]].origin, s.names[pair[1]].origin}}
	for _, lead := range q.leads {
		l.Leads = append(l.Leads, s.leads[lead])
	}
	return l
}

// undecided gives the sources with what a trusted one has settled taken from
// it: that is no longer in question.
func (s *settler) undecided() []naming {
	meanings := s.book.Meanings()
	var names []naming
	for _, n := range s.names {
		ends := slices.Clone(n.ends)
		for i, lead := range s.leads {
			end, open := holds(meanings, lead)
			if open || end == netlist.NoTerminal {
				continue
			}
			settled := s.book.Terminals[end].Index
			for k := range ends {
				if ends[k] == settled {
					ends[k] = none // another lead has that end
				}
			}
			if n.ends[i] != none {
				ends[i] = settled
			}
		}
		names = append(names, naming{n.origin, ends, n.known})
	}
	return names
}

// differ says that some of the sources differ in what matters.
func (s *settler) differ(names []naming) bool {
	for i, a := range names {
		for _, b := range names[:i] {
			if s.lay.weigh(a.ends, b.ends) > NoMatter {
				return true
			}
		}
	}
	return false
}
