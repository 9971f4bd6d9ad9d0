package compare

import (
	"slices"

	"buzzout/netlist"
)

// Heaters are wired from valve to valve, in the order in which a drawing lists
// them. Where such a chain is in pieces, a builder goes on at the holder next to
// the gap, and not each time at the far end of the greatest piece.

// chain lets each gap between valve holders begin at the piece that the plan
// lists beside it, where it is reached by then. The gaps are all of one net, from
// its greatest piece to each of the others.
func (t *teller) chain(gaps []gap) {
	if len(gaps) == 0 {
		return
	}
	hub := gaps[0].a
	reached := map[int32]piece{hub.root: hub}
	var order []piece // by member of the net that is a pin of a holder; root -1 for others
	for n, of := range t.verdict.netOf {
		if of != gaps[0].label {
			continue
		}
		for _, m := range t.book.Nets[n].Members {
			p := piece{root: -1}
			if t.onHolder(m.Terminal) {
				p.root = t.verdict.scene.sets.find(t.verdict.of[m.Terminal])
			}
			order = append(order, p)
		}
	}
	waiting := make(map[int32]*gap, len(gaps))
	for i := range gaps {
		waiting[gaps[i].b.root] = &gaps[i]
	}
	// extend goes on from what is reached, along the net and back.
	extend := func(from, to int32) {
		g := waiting[to]
		if _, known := reached[from]; !known || from < 0 || g == nil {
			return
		}
		if from != hub.root {
			g.a = reached[from]
			g.ends = slices.DeleteFunc(g.ends, func(d dangle) bool {
				return t.verdict.scene.sets.find(t.verdict.of[t.joints[d.joint].ends[d.side]]) == hub.root
			})
		}
		reached[to] = g.b
		delete(waiting, to)
	}
	sweep := func() {
		for i := 1; i < len(order); i++ {
			extend(order[i-1].root, order[i].root)
		}
		for i := len(order) - 1; i > 0; i-- {
			extend(order[i].root, order[i-1].root)
		}
	}
	sweep()
	for i := range gaps {
		if g := &gaps[i]; waiting[g.b.root] != nil {
			reached[g.b.root] = g.b
			delete(waiting, g.b.root)
			sweep()
		}
	}
}

// onHolder says that a terminal is a pin of a valve holder.
func (t *teller) onHolder(id netlist.TerminalID) bool {
	term := &t.book.Terminals[id]
	return term.Part != nil && term.Index >= 0 && term.Part.Kind.Seat >= 0
}
