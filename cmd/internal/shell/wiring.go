package shell

import (
	"buzzout/netlist"
	"buzzout/verify/compare"
)

// A wiring is the plan and the bench of a book under the first meaning of its
// leads' colours, joined without regard to switches and plugs: what a
// builder has soldered, and not what a control happens to close.
type wiring struct {
	book    *netlist.Book
	bench   *netlist.Bench
	meaning netlist.Meaning
	built   *netlist.Harness // in the present setting
	island  []netlist.TerminalID
	// does gives the terminal that does a terminal's work, where like ends are
	// used otherwise than drawn; what is not in it does its own.
	does map[netlist.TerminalID]netlist.TerminalID
	// inquiry is what the readings make of it; made when first asked for.
	inquiry *inquiry
}

func newWiring(book *netlist.Book) *wiring {
	bench := book.Bench()
	w := &wiring{book: book, bench: bench, meaning: book.Meanings()[0]}
	w.built = bench.Built(w.meaning, bench.Setting)
	w.island = make([]netlist.TerminalID, len(book.Terminals))
	for t := range w.island {
		w.island[t] = netlist.TerminalID(t)
	}
	for _, j := range w.built.Joins {
		if j.Kind != netlist.ByContact && j.Kind != netlist.ByPlug {
			w.island[w.root(j.A)] = w.root(j.B)
		}
	}
	return w
}

// serve takes over from comparison which like ends are used otherwise than
// drawn, so that a resistor the other way round counts as joined.
func (w *wiring) serve(served []compare.Serving) *wiring {
	w.does = map[netlist.TerminalID]netlist.TerminalID{}
	for _, s := range served {
		for _, moved := range s.Moved {
			w.does[moved[1]] = moved[0]
		}
	}
	return w
}

// place is the conductor on which a terminal's work is done.
func (w *wiring) place(t netlist.TerminalID) netlist.TerminalID {
	if other, otherwise := w.does[t]; otherwise {
		t = other
	}
	return w.root(t)
}

func (w *wiring) root(t netlist.TerminalID) netlist.TerminalID {
	for w.island[t] != t {
		w.island[t] = w.island[w.island[t]]
		t = w.island[t]
	}
	return t
}

// joined reports whether two terminals are one conductor on the bench.
func (w *wiring) joined(a, b netlist.TerminalID) bool { return w.root(a) == w.root(b) }

// progress counts the joints of a net: those that hold its terminals together
// now, and those that it takes in all. Tags are means and are not counted,
// nor are parts that are said not to be there.
func (w *wiring) progress(n *netlist.Net) (made, of int) {
	seen := map[netlist.TerminalID]bool{}
	points := 0
	counted := map[netlist.TerminalID]bool{}
	for _, m := range n.Members {
		if counted[m.Terminal] || !w.counts(m.Terminal) {
			continue
		}
		counted[m.Terminal] = true
		points++
		seen[w.place(m.Terminal)] = true
	}
	if points == 0 {
		return 0, 0
	}
	return points - len(seen), points - 1
}

// counts reports whether comparison asks for a terminal.
func (w *wiring) counts(t netlist.TerminalID) bool {
	term := &w.book.Terminals[t]
	if term.Tie || term.Part == nil {
		return false
	}
	return !w.bench.Fitted(term.Part).Absent
}
