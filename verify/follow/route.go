package follow

import (
	"cmp"
	"slices"

	"buzzout/netlist"
)

// A hop leads from one conductor to another through links side by side, or
// through a core.
type hop struct {
	from, to int32
	links    []int // indices of network.links, the one that carries most first
	core     int   // index of network.cores; -1 for links
	in, out  netlist.TerminalID
	passes   complex128 // signal on to over signal on from
}

// way goes back from a conductor to one of the origins of a state, always by
// what brings most power into the conductor it has come to, and gives the
// hops in the direction of the signal. It is nil where the target is an
// origin itself, and also where the trail is lost.
func (n *network) way(s *state, target int32, origins []int32) []hop {
	var hops []hop
	seen := []int32{target}
	for at := target; !slices.Contains(origins, at); {
		h, ok := n.bringer(s, at, seen)
		if !ok {
			break
		}
		hops = append(hops, h)
		at = h.from
		seen = append(seen, at)
	}
	slices.Reverse(hops)
	return hops
}

// bringer is the hop that brings the most power into a conductor.
func (n *network) bringer(s *state, to int32, seen []int32) (hop, bool) {
	v := n.at(s, to)
	power := map[int32]float64{}
	order := []int32{}
	byCore := make([]float64, len(n.cores))
	for i := range n.links {
		l := &n.links[i]
		from := n.of[l.a]
		if from == to {
			from = n.of[l.b]
		} else if n.of[l.b] != to {
			continue
		}
		if from == to || n.node[from] == earthed || slices.Contains(seen, from) {
			continue
		}
		if _, known := power[from]; !known {
			order = append(order, from)
		}
		power[from] += along((n.at(s, from)-v)*l.y, v)
	}
	for i := range n.cores {
		for k := range n.cores[i].sections {
			sec := &n.cores[i].sections[k]
			flow := n.current(s, &n.cores[i], sec)
			if n.of[sec.b] == to {
				byCore[i] += along(flow, v)
			}
			if n.of[sec.a] == to {
				byCore[i] -= along(flow, v)
			}
		}
	}
	best := hop{from: -1, to: to, core: -1}
	most := 0.0
	for _, from := range order {
		if power[from] > most {
			most, best.from = power[from], from
		}
	}
	for i := range n.cores {
		if byCore[i] > most {
			if h, ok := n.throughCore(s, i, to, seen); ok {
				most, best = byCore[i], h
			}
		}
	}
	if best.from < 0 {
		return best, false
	}
	best.passes = v / n.at(s, best.from)
	if best.core < 0 {
		n.throughLinks(&best)
	}
	return best, true
}

// current flows through a section from a to b.
func (n *network) current(s *state, c *core, sec *section) complex128 {
	if c.node == apart {
		return 0
	}
	return (n.volts(s, sec.a) - n.volts(s, sec.b) - complex(sec.turns, 0)*s.x[c.node]) * complex(sec.g, 0)
}

// throughCore finds the conductor that gives the core most power.
func (n *network) throughCore(s *state, core int, to int32, seen []int32) (hop, bool) {
	c := &n.cores[core]
	gives := map[int32]float64{}
	var order []int32
	for k := range c.sections {
		sec := &c.sections[k]
		flow := n.current(s, c, sec)
		for side, t := range []netlist.TerminalID{sec.a, sec.b} {
			at := n.of[t]
			if _, known := gives[at]; !known {
				order = append(order, at)
			}
			if side == 1 {
				flow = -flow
			}
			gives[at] += along(flow, n.at(s, at))
		}
	}
	h := hop{from: -1, to: to, core: core}
	most := 0.0
	for _, at := range order {
		if gives[at] > most && at != to && !slices.Contains(seen, at) {
			most, h.from = gives[at], at
		}
	}
	if h.from < 0 {
		return h, false
	}
	h.in, h.out = n.endOn(c, h.from), n.endOn(c, to)
	return h, true
}

// endOn gives the end of a winding that is on a conductor.
func (n *network) endOn(c *core, conductor int32) netlist.TerminalID {
	for _, w := range n.kindOf(c.part).Windings {
		for _, e := range w.Ends {
			if t := c.part.Terminals[e]; n.of[t] == conductor {
				return t
			}
		}
	}
	return netlist.NoTerminal
}

// still gives the other end of the same winding on which there is least signal.
func (n *network) still(s *state, p *netlist.Part, end netlist.TerminalID) netlist.TerminalID {
	quiet := netlist.NoTerminal
	for _, w := range n.kindOf(p).Windings {
		if !slices.ContainsFunc(w.Ends, func(e int) bool { return p.Terminals[e] == end }) {
			continue
		}
		for _, e := range w.Ends {
			if t := p.Terminals[e]; t != end && (quiet == netlist.NoTerminal || abs(n.volts(s, t)) < abs(n.volts(s, quiet))) {
				quiet = t
			}
		}
	}
	return quiet
}

// throughLinks finds what lies between the two conductors of a hop, a track
// in front, then what carries most.
func (n *network) throughLinks(h *hop) {
	for i := range n.links {
		l := &n.links[i]
		a, b := n.of[l.a], n.of[l.b]
		if a == h.from && b == h.to || a == h.to && b == h.from {
			h.links = append(h.links, i)
		}
	}
	rank := func(i int) float64 {
		l := &n.links[i]
		if n.isTrack(l) {
			return 2 * straight
		}
		return abs(l.y)
	}
	slices.SortStableFunc(h.links, func(a, b int) int { return cmp.Compare(rank(b), rank(a)) })
	l := &n.links[h.links[0]]
	h.in, h.out = l.a, l.b
	if n.of[l.a] != h.from {
		h.in, h.out = l.b, l.a
	}
}

// towards are the parts through which what arrives on a conductor leaves for
// a conductor that hardly moves, each with its share, the largest first.
func (n *network) towards(s *state, conductor int32, except *netlist.Part) []*netlist.Part {
	v := n.at(s, conductor)
	type taker struct {
		part  *netlist.Part
		power float64
	}
	var takers []taker
	total := 0.0
	for i := range n.links {
		l := &n.links[i]
		other := n.of[l.a]
		if other == conductor {
			other = n.of[l.b]
		} else if n.of[l.b] != conductor {
			continue
		}
		u := n.at(s, other)
		if other == conductor || l.part == except || abs(u) > abs(v)/10 {
			continue
		}
		p := abs((v - u) * l.y)
		total += p
		takers = append(takers, taker{l.part, p})
	}
	slices.SortStableFunc(takers, func(a, b taker) int { return cmp.Compare(b.power, a.power) })
	var list []*netlist.Part
	for _, t := range takers {
		if t.power > total/5 && !slices.Contains(list, t.part) {
			list = append(list, t.part)
		}
	}
	return list
}
