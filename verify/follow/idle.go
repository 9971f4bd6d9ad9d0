package follow

import (
	"slices"

	"buzzout/netlist"
)

// A hanging is a valve through which no current can flow, since nothing leads
// on from an electrode to where it would come from or go to.
type hanging struct {
	valve
	at netlist.TerminalID // the electrode
}

// idleAt is the electrode at which a valve hangs in the air; NoTerminal if it
// does not.
func (n *network) idleAt(step *Step) netlist.TerminalID {
	for i := range n.idle {
		if h := &n.idle[i]; h.part == step.Part && slices.Contains([]netlist.TerminalID{h.anode, h.grid, h.cathode, h.screen}, step.In) {
			return h.at
		}
	}
	return netlist.NoTerminal
}

// hangers takes out the valves through which no current can flow: a valve
// whose cathode or anode hangs in the air gives nothing on, whatever its grid
// does.
func (n *network) hangers() {
	for i := 0; i < len(n.valves); {
		v := n.valves[i]
		at := netlist.NoTerminal
		for _, t := range []netlist.TerminalID{v.cathode, v.anode} {
			if !n.leadsOut(t, &v) {
				at = t
				break
			}
		}
		if at == netlist.NoTerminal {
			i++
			continue
		}
		n.idle = append(n.idle, hanging{v, at})
		n.valves = slices.Delete(n.valves, i, i+1)
		n.links = slices.DeleteFunc(n.links, func(l link) bool { return n.isValves(&l, &v) })
		i = 0 // another may have had its current through this one
	}
}

// isValves says that a link is what a valve itself lets through.
func (n *network) isValves(l *link, v *valve) bool { return l.part == v.part && l.element == v.element }

// leadsOut says that a current finds a way from an electrode to earth or to a
// supply without passing the valve itself. Capacitors count: drawings often
// end before the supply, and what comes through them is still told.
func (n *network) leadsOut(from netlist.TerminalID, v *valve) bool {
	seen := map[int32]bool{n.of[from]: true}
	queue := []int32{n.of[from]}
	reach := func(t netlist.TerminalID) {
		if c := n.of[t]; !seen[c] {
			seen[c] = true
			queue = append(queue, c)
		}
	}
	for len(queue) > 0 {
		c := queue[0]
		queue = queue[1:]
		if c == n.of[n.earth] || slices.ContainsFunc(n.supply, func(t netlist.TerminalID) bool { return n.of[t] == c }) {
			return true
		}
		for i := range n.links {
			l := &n.links[i]
			if n.isValves(l, v) || n.of[l.a] != c && n.of[l.b] != c {
				continue
			}
			reach(l.a)
			reach(l.b)
		}
		for i := range n.cores {
			for k := range n.cores[i].sections {
				if s := &n.cores[i].sections[k]; n.of[s.a] == c || n.of[s.b] == c {
					reach(s.a)
					reach(s.b)
				}
			}
		}
	}
	return false
}
