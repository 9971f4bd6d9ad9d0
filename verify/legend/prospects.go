package legend

import (
	"slices"

	"buzzout/netlist"
)

// A Prospect is what would follow if somebody wired the leads as By has them
// and Source were right.
type Prospect struct {
	By string
	Under
}

// Prospects tells what would follow for each two sources that differ in
// something that matters, whichever of the two is wired by. It needs no
// wiring. drawn is which way the feedback works in the amplifier as drawn.
func Prospects(book *netlist.Book, part *netlist.Part, drawn Feedback) []Prospect {
	keys := book.KeysOf(part)
	b := newBuild(book, part)
	loose := looseOf(book, part, b.leads)
	var list []Prospect
	for i, by := range keys {
		for k, right := range keys {
			truth := namingOf(book, b.leads, right)
			if i == k || b.lay.weigh(namingOf(book, b.leads, by).aligned(truth, loose).ends, truth.ends) <= NoMatter {
				continue
			}
			list = append(list, Prospect{by.Origin, ifWiredBy(book, part, by, right, drawn)})
		}
	}
	return list
}

// ifWiredBy says what follows if the leads are placed as one source has them
// and another is right. drawn is which way the feedback works in the amplifier
// as drawn: a winding that is turned end for end turns it round.
func ifWiredBy(book *netlist.Book, part *netlist.Part, by, right *netlist.ColourKey, drawn Feedback) Under {
	b := newBuild(book, part)
	truth := namingOf(book, b.leads, right)
	wired := namingOf(book, b.leads, by).aligned(truth, looseOf(book, part, b.leads))
	for i, end := range wired.ends {
		b.sits[i] = nil
		if end != none && b.hasPlace(end) {
			b.sits[i] = []int{end}
		}
	}
	return b.under(truth, func(_ netlist.Meaning, turned []int) Feedback {
		way := drawn
		for range turned {
			way = way.turned()
		}
		return way
	})
}

// hasPlace says that the drawing has somewhere for an end to be soldered to.
// Where it draws nothing of the part yet, every end is taken to have a place.
func (b *built) hasPlace(end int) bool {
	drawn := func(t netlist.TerminalID) bool { return b.book.Net(t) != netlist.NoNet }
	ends := b.part.Terminals[:len(b.part.Kind.Terminals)]
	return drawn(ends[end]) || !slices.ContainsFunc(ends, drawn)
}

// turned is the feedback with one winding on its way turned end for end.
func (f Feedback) turned() Feedback {
	switch f {
	case Negative:
		return Positive
	case Positive:
		return Negative
	}
	return f
}
