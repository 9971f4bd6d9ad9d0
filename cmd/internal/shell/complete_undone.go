package shell

import (
	"slices"
	"strings"

	"buzzout/netlist"
)

// What is undone or corrected was done or said before: of all names, those of
// what there is are offered.

// joinedNames are the terminals at which something is joined on the bench; after
// one of them, those that it is joined to.
func (s *Session) joinedNames(said []string) []string {
	at := map[netlist.TerminalID]bool{}
	from := netlist.NoTerminal
	if len(said) > 0 {
		if t, problem, _ := s.book.Terminal(said[0]); problem == "" {
			from = t
		}
	}
	for i := range s.bench().Joints {
		switch j := &s.bench().Joints[i]; {
		case len(said) == 0:
			at[j.A], at[j.B] = true, true
		case j.A == from:
			at[j.B] = true
		case j.B == from:
			at[j.A] = true
		}
	}
	var names []string
	for t := range s.book.Terminals {
		if at[netlist.TerminalID(t)] {
			names = append(names, s.book.Name(netlist.TerminalID(t)))
		}
	}
	return names
}

// struckWords are the words with which facts of the notebook go on that begin as
// the one that is to be struck does.
func (s *Session) struckWords(verb string, said []string) []string {
	var list []string
	for _, f := range s.book.Facts {
		t := scan(f.Text() + " ")
		words := items(t.words)
		if len(words) <= len(said)+1 || !strings.EqualFold(words[0], verb) {
			continue
		}
		begins := true
		for i, w := range said {
			begins = begins && strings.EqualFold(w, words[i+1])
		}
		if w := words[len(said)+1]; begins && !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}
