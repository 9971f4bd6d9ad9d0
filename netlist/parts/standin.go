package parts

import (
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// StandIn is the kind as it sits in the place of a part of another kind: its
// elements, windings and contacts, told by the terminals and controls of that
// kind. A terminal is the one of the same name; where no names are shared, the
// one at the same number. What has an end that the place has not is left out,
// and a contact whose control the place has not stays as it rests.
//
// A Kind that is in its own place is itself.
func (k *Kind) StandIn(place *Kind) *Kind {
	if k == place {
		return k
	}
	s := standIn{kind: k, place: place, terminal: terminalsIn(k, place), control: controlsIn(k, place)}
	as := &Kind{
		Name: k.Name, Also: k.Also, Title: k.Title, Place: k.Place, Counts: k.Counts,
		Terminals: place.Terminals, Any: place.Any, JoinedAny: place.JoinedAny, Rings: place.Rings, Rows: place.Rows,
		Controls: place.Controls, Seat: place.Seat,
		Limits: k.Limits, Words: k.Words, Origins: k.Origins,
	}
	for _, set := range k.Joined {
		if ends, ok := s.ends(set); ok {
			as.Joined = append(as.Joined, ends)
		}
	}
	for _, w := range k.Windings {
		if ends, ok := s.ends(w.Ends); ok {
			as.Windings = append(as.Windings, Winding{w.Name, ends})
		}
	}
	for _, e := range k.Elements {
		if ends, ok := s.ends(e.Ends); ok {
			e.Ends, e.By, e.Moves = ends, s.controlled(e.By), s.controlled(e.Moves)
			as.Elements = append(as.Elements, e)
		}
	}
	for _, a := range k.Alike {
		these, one := s.ends(a.These)
		those, other := s.ends(a.Those)
		if one && other {
			as.Alike = append(as.Alike, Alike{these, those, a.But, a.Place})
		}
	}
	for _, b := range k.Between {
		if ends, ok := s.ends([]int{b.From, b.To}); ok {
			as.Between = append(as.Between, Between{b.Verb, ends[0], ends[1], b.Figures, b.Place})
		}
	}
	for i := range k.Contacts {
		s.contact(&k.Contacts[i], as)
	}
	as.index()
	return as
}

// TerminalIn is the terminal of a place that one of the kind's sits at, as
// [Kind.StandIn] tells; false where the place has none for it.
func (k *Kind) TerminalIn(place *Kind, terminal int) (int, bool) {
	if k == place {
		return terminal, true
	}
	t := terminalsIn(k, place)[terminal]
	return t, t >= 0
}

type standIn struct {
	kind, place *Kind
	terminal    []int // by terminal of kind: that of place, or -1
	control     []int // by control of kind: that of place, or -1
}

func terminalsIn(k, place *Kind) []int {
	list := make([]int, len(k.Terminals))
	shared := false
	for i := range k.Terminals {
		list[i] = -1
		if t, ok := place.byName[lang.Fold(k.Terminals[i].Name)]; ok {
			list[i], shared = t, true
		}
	}
	for i := range list {
		if !shared && i < len(place.Terminals) {
			list[i] = i
		}
	}
	return list
}

func controlsIn(k, place *Kind) []int {
	list := make([]int, len(k.Controls))
	for i := range k.Controls {
		list[i] = slices.IndexFunc(place.Controls, func(c Control) bool {
			return c.Name == k.Controls[i].Name && c.Turns == k.Controls[i].Turns
		})
	}
	if len(k.Controls) == 1 && len(place.Controls) == 1 && k.Controls[0].Turns == place.Controls[0].Turns {
		list[0] = 0
	}
	return list
}

func (s *standIn) ends(of []int) ([]int, bool) {
	list := make([]int, len(of))
	for i, t := range of {
		if list[i] = s.terminal[t]; list[i] < 0 {
			return nil, false
		}
	}
	return list, true
}

func (s *standIn) controlled(by int) int {
	if by < 0 {
		return by
	}
	return s.control[by]
}

// contact adds a contact of the stand-in, closed in the positions of the
// place's control that put its own control where it is closed.
func (s *standIn) contact(c *Contact, as *Kind) {
	ends, ok := s.ends([]int{c.A, c.B})
	if !ok {
		return
	}
	by := s.control[c.Control]
	if by < 0 {
		if slices.Contains(c.Positions, 0) {
			as.Joined = append(as.Joined, ends)
		}
		return
	}
	own := s.kind.Controls[c.Control].Positions
	out := Contact{A: ends[0], B: ends[1], Control: by, Place: c.Place}
	for i, name := range s.place.Controls[by].Positions {
		at := slices.Index(own, name)
		if at < 0 {
			at = min(i, len(own)-1)
		}
		if slices.Contains(c.Positions, at) {
			out.Positions = append(out.Positions, i)
		}
	}
	as.Contacts = append(as.Contacts, out)
}

// Deal gives each element of the kind the figure of its own unit, as a part's
// line with these figures would.
func (k *Kind) Deal(figures []lang.Figure) []lang.Figure {
	in := Instance{Kind: k, Figures: figures, Places: make([]diag.Place, len(figures))}
	in.deal()
	return in.Values
}
