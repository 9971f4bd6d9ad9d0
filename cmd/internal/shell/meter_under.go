package shell

import (
	"strings"

	"buzzout/netlist"
)

// Where sources of the leads' colours disagree and none is trusted, a reading
// may hang on which of them is right. One meaning of the colours is taken, and
// where another would have it otherwise, that is said.

// disputed are the parts whose leads' ends hang on which source is right.
func (s *Session) disputed() []string {
	meanings := s.book.Meanings()
	if len(meanings) < 2 {
		return nil
	}
	var refs []string
	for _, p := range s.book.Parts {
		if _, open := meanings[0].Origins[p]; open {
			refs = append(refs, p.Ref)
		}
	}
	return refs
}

// underText says whose word on the leads' colours a meaning takes, as "T2 by
// circuit"; "" where nobody disagrees.
func (s *Session) underText(m netlist.Meaning) string {
	if len(s.book.Meanings()) < 2 {
		return ""
	}
	var names []string
	for _, p := range s.book.Parts {
		if origin, open := m.Origins[p]; open {
			names = append(names, p.Ref+" by "+origin)
		}
	}
	return strings.Join(names, ", ")
}

// otherMeanings are those besides the one that is taken.
func (s *Session) otherMeanings() []netlist.Meaning { return s.book.Meanings()[1:] }

// howToSettle names what to ask so that a dispute about colours is settled.
func howToSettle(refs []string) string {
	var asked []string
	for _, ref := range refs {
		asked = append(asked, "settle "+ref)
	}
	return joinAnd(asked) + " " + inNumber(len(asked), "names", "name") + " the readings that decide, and trust settles it."
}
