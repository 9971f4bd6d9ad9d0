package follow

import (
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A voice is where a way can end: the two ends of a loudspeaker's coil, or one
// terminal, with b NoTerminal.
type voice struct {
	a, b netlist.TerminalID
	part *netlist.Part
}

// isLoudspeaker says that a part is one coil known by its impedance.
func isLoudspeaker(p *netlist.Part) bool { return len(p.Kind.Elements) == 1 && nominal(p) == 1 }

// loudest is the first of the loudspeakers that most reaches.
func (t *trail) loudest(list []voice) []voice {
	best, most := list[0], 0.0
	for _, v := range list {
		sum := 0.0
		for _, j := range t.speakers(v) {
			d, _ := t.heard(v, j)
			sum = max(sum, abs(d))
		}
		if sum > most*1.01 && nominal(v.part) >= nominal(best.part) {
			best, most = v, sum
		}
	}
	return []voice{best}
}

// furthest are the points behind the deepest stages: where something leaves
// the amplifier, else another winding of the transformer that the stage
// drives, else the electrode itself.
func (t *trail) furthest() []voice {
	deepest := 0
	for _, j := range t.order {
		deepest = max(deepest, t.depth[j])
	}
	var list []voice
	add := func(v voice) {
		if !slices.ContainsFunc(list, func(x voice) bool { return t.same(x.a, v.a) }) {
			list = append(list, v)
		}
	}
	feeders := []int{source}
	if deepest > 0 {
		feeders = nil
		for _, j := range t.order {
			if t.depth[j] == deepest {
				feeders = append(feeders, j)
			}
		}
	}
	for _, j := range feeders {
		// Where there are valves and none is reached, what comes out at another
		// jack has gone astray there: out by the other input.
		if j == source && len(t.valves)+len(t.idle)+len(t.out) > 0 {
			continue
		}
		if v, ok := t.leaves(j); ok {
			add(v)
			continue
		}
		if j == source {
			continue
		}
		if v, ok := t.wound(j); ok {
			add(v)
			continue
		}
		add(voice{t.live(j), netlist.NoTerminal, t.valves[j].part})
	}
	return list
}

// live is the electrode of a valve that moves more: its anode, or the cathode
// of a follower.
func (t *trail) live(j int) netlist.TerminalID {
	v := &t.valves[j]
	if abs(t.volts(&t.each[j], v.cathode)) > abs(t.volts(&t.each[j], v.anode)) {
		return v.cathode
	}
	return v.anode
}

// leaves finds a point where something from outside is joined, to which a
// valve or the source gives most.
func (t *trail) leaves(j int) (voice, bool) {
	var best voice
	most := 0.0
	for _, p := range t.book.Parts {
		if len(p.Kind.Elements) > 0 || len(p.Kind.Windings) > 0 || p.Kind.JoinedAny || p == t.book.Terminals[t.from].Part || !isWayOut(p) {
			continue
		}
		for _, x := range p.Terminals {
			v := voice{x, netlist.NoTerminal, p}
			if t.same(x, t.from) || t.book.Terminals[x].Tie {
				continue
			}
			if d, ok := t.heard(v, j); ok && abs(d) > most*1.01 {
				most, best = abs(d), v
			}
		}
	}
	return best, most > 0
}

// isWayOut says that something from outside can be joined to a part: one
// terminal by itself, or a plug.
func isWayOut(p *netlist.Part) bool {
	if len(p.Kind.Terminals) == 1 && !p.Kind.Any {
		return true
	}
	return slices.ContainsFunc(p.Kind.Controls, func(c parts.Control) bool { return c.Name == "plug" })
}

// wound is the last end of another winding of a transformer that a valve's
// anode or cathode is on.
func (t *trail) wound(j int) (voice, bool) {
	live := t.live(j)
	for i := range t.cores {
		p := t.cores[i].part
		on := slices.ContainsFunc(t.cores[i].sections, func(s section) bool { return t.same(s.a, live) || t.same(s.b, live) })
		if !on {
			continue
		}
		for _, w := range t.kindOf(p).Windings {
			if slices.ContainsFunc(w.Ends, func(e int) bool { return t.same(p.Terminals[e], live) }) {
				continue
			}
			for k := len(w.Ends) - 1; k >= 0; k-- {
				v := voice{p.Terminals[w.Ends[k]], netlist.NoTerminal, p}
				if _, ok := t.heard(v, j); ok {
					return v, true
				}
			}
		}
	}
	return voice{}, false
}

// loudspeakerAcross gives the ohms of a loudspeaker that lies between two
// terminals, 0 if there is none.
func (n *network) loudspeakerAcross(a, b netlist.TerminalID) float64 {
	for p, as := range n.h.There() {
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			if e.Type != parts.Coil || !e.Nominal {
				continue
			}
			x, y := p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]]
			if !(n.same(x, a) && n.same(y, b) || n.same(x, b) && n.same(y, a)) {
				continue
			}
			if v := as.Values[i]; v.Quantity == lang.Ohms && v.Value > 0 {
				return v.Value
			}
			return usualLoudspeaker
		}
	}
	return 0
}

// loudspeakers are the coils that lie across a winding of another part. What
// has a further coil that does not, as the springs of a reverberation unit,
// leads on and is none.
func loudspeakers(h *netlist.Harness) []voice {
	of := h.Islands().Of
	windings := map[*netlist.Part][][]int32{}
	for p, as := range h.There() {
		for _, w := range as.Kind.Windings {
			var ends []int32
			for _, e := range w.Ends {
				ends = append(ends, of[p.Terminals[e]])
			}
			windings[p] = append(windings[p], ends)
		}
	}
	across := func(coil *netlist.Part, a, b int32) bool {
		for _, p := range h.Book.Parts {
			for _, ends := range windings[p] {
				if p != coil && slices.Contains(ends, a) && slices.Contains(ends, b) {
					return true
				}
			}
		}
		return false
	}
	var list []voice
	for p, as := range h.There() {
		var coils []voice
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			if e.Type != parts.Coil || e.Moves >= 0 {
				continue
			}
			a, b := p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]]
			if of[a] == of[b] || !across(p, of[a], of[b]) {
				coils = nil
				break
			}
			coils = append(coils, voice{a, b, p})
		}
		if len(coils) > 0 {
			list = append(list, coils[0])
		}
	}
	slices.SortStableFunc(list, func(x, y voice) int { return nominal(y.part) - nominal(x.part) })
	return list
}

// nominal is 1 for what is known by its impedance, as a loudspeaker is.
func nominal(p *netlist.Part) int {
	for i := range p.Kind.Elements {
		if p.Kind.Elements[i].Nominal {
			return 1
		}
	}
	return 0
}
