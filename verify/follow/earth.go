package follow

import (
	"slices"

	"buzzout/netlist"
)

// returns are what the other end of a source is called.
var returns = []string{"sleeve", "ground", "screen", "-"}

// earthNames are what the plan's net of the 0 V line is called.
var earthNames = []string{"ground", "gnd", "earth", "chassis", "0v", "0-v", "common"}

// earthOf finds the conductor that holds still, against which a signal is
// measured: of the chassis, the other end of the source and a net of such a
// name, the one on which most ends meet; without any of them, the conductor
// on which most ends meet. One to which nothing is joined yet is none, as long
// as there is another: on a bench that is half wired, the loose leg of a
// resistor is no ground. back is the source's other end, if it has one.
func earthOf(h *netlist.Harness, from netlist.TerminalID) (earth, back netlist.TerminalID) {
	of := h.Islands().Of
	meet := make([]int, h.Islands().Count())
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			for _, e := range as.Kind.Elements[i].Ends {
				meet[of[p.Terminals[e]]]++
			}
		}
	}
	back = returnOf(h.Book, from)
	var candidates []netlist.TerminalID
	for _, p := range h.Book.Parts {
		if p.Kind.JoinedAny && len(p.Terminals) > 0 {
			candidates = append(candidates, p.Terminals[0])
		}
	}
	if back != netlist.NoTerminal {
		candidates = append(candidates, back)
	}
	for _, name := range earthNames {
		if net := h.Book.NetNamed(name); net != nil {
			for _, m := range net.Members {
				candidates = append(candidates, m.Terminal)
			}
		}
	}
	if len(candidates) == 0 {
		for t := range h.Book.Terminals {
			candidates = append(candidates, netlist.TerminalID(t))
		}
	}
	joined := func(t netlist.TerminalID) bool { return len(h.Islands().Members(of[t])) > 1 }
	earth = candidates[0]
	for _, c := range candidates[1:] {
		if joined(c) != joined(earth) {
			if joined(c) {
				earth = c
			}
		} else if meet[of[c]] > meet[of[earth]] {
			earth = c
		}
	}
	return earth, back
}

func returnOf(b *netlist.Book, from netlist.TerminalID) netlist.TerminalID {
	p := b.Terminals[from].Part
	if p == nil || len(p.Kind.Elements) > 0 {
		return netlist.NoTerminal
	}
	for _, name := range returns {
		if t := p.Called(name); t != netlist.NoTerminal && t != from {
			return t
		}
	}
	return netlist.NoTerminal
}

// supplies finds the points where a supply comes in from outside: a post, or a
// contact of a connector where the notebook has no rectifier, and from it
// anode and screen resistors, or grid leaks, spread to several valves, or a
// screen grid hangs on it. They hold still: without that an amplifier whose
// drawing ends at "B+" would have its stages talk over it.
func (n *network) supplies(to netlist.TerminalID) {
	for _, p := range n.book.Parts {
		k := p.Kind
		if k.Any || len(k.Elements)+len(k.Windings)+len(k.Controls)+len(k.Joined) > 0 || len(k.Terminals) != 1 && (len(n.diodes) > 0 || isSupply(p)) {
			continue
		}
		for _, t := range p.Terminals {
			if n.book.Terminals[t].Tie || t == n.from || t == to || n.same(t, n.earth) || n.same(t, n.from) || to != netlist.NoTerminal && n.same(t, to) {
				continue
			}
			held := slices.ContainsFunc(n.supply, func(s netlist.TerminalID) bool { return n.same(s, t) })
			if !held && n.feeds(n.of[t]) {
				n.supply = append(n.supply, t)
			}
		}
	}
}

// feeds says that a conductor is where valves get their steady voltages.
func (n *network) feeds(c int32) bool {
	grids, anode, screen := map[int32]bool{}, false, false
	meet := map[int32]int{}
	for i := range n.links {
		meet[n.of[n.links[i].a]]++
		meet[n.of[n.links[i].b]]++
	}
	for i := range n.valves {
		v := &n.valves[i]
		grids[n.of[v.grid]] = true
		if n.of[v.grid] == c || n.of[v.cathode] == c {
			return false
		}
		anode = anode || n.of[v.anode] == c
		screen = screen || v.screen != netlist.NoTerminal && n.of[v.screen] == c && n.of[v.anode] != c
	}
	if screen {
		return true
	}
	// fed is a conductor with an anode or screen grid of a valve that has no
	// anode here.
	fed := func(at int32) bool {
		return slices.ContainsFunc(n.valves, func(v valve) bool {
			return n.of[v.anode] != c && (n.of[v.anode] == at || v.screen != netlist.NoTerminal && n.of[v.screen] == at)
		})
	}
	onlyGrids, any := true, false
	for i := range n.links {
		l := &n.links[i]
		other := n.of[l.a]
		switch c {
		case n.of[l.a]:
			other = n.of[l.b]
		case n.of[l.b]:
		default:
			continue
		}
		if other == c {
			continue
		}
		// Where anodes sit at both ends of a resistor, as with a follower fed
		// straight, more meets at the supply's end, and no grid.
		if l.direct && fed(other) && (!anode || meet[c] > meet[other] || grids[other]) {
			return true
		}
		any = true
		onlyGrids = onlyGrids && l.direct && grids[other]
	}
	for i := range n.cores {
		p := n.cores[i].part
		for _, w := range n.kindOf(p).Windings {
			on, leads := false, false
			for _, e := range w.Ends {
				at := n.of[p.Terminals[e]]
				on = on || at == c
				leads = leads || at != c && fed(at)
			}
			if on && leads && !anode {
				return true
			}
		}
	}
	// A conductor of which grid leaks alone go out is a bias supply, unless a
	// winding is on it: then they are what feeds a signal back.
	return any && onlyGrids && !anode && !n.onWinding(c)
}

func (n *network) onWinding(c int32) bool {
	return slices.ContainsFunc(n.cores, func(core core) bool {
		return slices.ContainsFunc(core.sections, func(s section) bool { return n.of[s.a] == c || n.of[s.b] == c })
	})
}
