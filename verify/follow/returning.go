package follow

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A returning is a valve whose output comes back to one before it, or to itself.
type returning struct {
	late, early int
	electrode   Electrode
	weight      float64 // of the early valve's drive
	hops        []hop
}

// onWay are the valves that the lanes pass, in the order in which they are reached.
func (t *trail) onWay() []int {
	var list []int
	for _, j := range t.order {
		if slices.ContainsFunc(t.lanes, func(l lane) bool { return slices.Contains(l.valves, j) }) {
			list = append(list, j)
		}
	}
	return list
}

// returnings finds what comes back over passive parts: from a valve to one of
// those before it, or to its own stage otherwise than by its own cathode.
func (t *trail) returnings() []returning {
	var list []returning
	valves := t.onWay()
	for _, late := range valves {
		before := t.ancestors(late)
		for _, early := range valves {
			local := t.depth[late] == t.depth[early]
			mate := local && t.group[late] == t.group[early] && late != early
			if !slices.Contains(before, early) && !local && !t.mateOfAncestor(early, before) || mate && !t.wide(late, early) {
				continue
			}
			if r, ok := t.returning(late, early, local); ok {
				list = append(list, r)
			}
		}
	}
	return list
}

// mateOfAncestor says that a valve works in one stage with an ancestor.
func (t *trail) mateOfAncestor(early int, before []int) bool {
	return slices.ContainsFunc(before, func(b int) bool { return t.group[b] == t.group[early] })
}

// wide says that two valves of a stage are not tied at their cathodes alone.
func (t *trail) wide(a, b int) bool {
	return !t.same(t.valves[a].cathode, t.valves[b].cathode)
}

func (t *trail) returning(late, early int, local bool) (returning, bool) {
	s := &t.each[late]
	grid, cathode, screen := t.controls(early, s)
	scale := complex(t.valves[late].figures.Slope, 0) * t.u[late] / t.u[early]
	v := &t.valves[early]
	r := returning{late: late, early: early}
	at := v.grid
	r.electrode = Grid
	part := grid
	if abs(cathode) > abs(part) {
		r.electrode, at, part = Cathode, v.cathode, cathode
	}
	if abs(screen) > abs(part) && v.screen != netlist.NoTerminal {
		r.electrode, at, part = ScreenGrid, v.screen, screen
	}
	r.weight = real(part * scale)
	if abs(part*scale) < looksBack || abs(part) < reaches*reaches*t.sent(late) {
		return r, false
	}
	w := &t.valves[late]
	r.hops = t.way(s, t.of[at], []int32{t.of[w.anode], t.of[w.cathode]})
	if slices.ContainsFunc(r.hops, t.backwards) {
		return r, false
	}
	if !local {
		return r, true
	}
	// Within a stage only what comes by way of a transformer or from the
	// anode is told; a cathode resistor of one's own is everywhere.
	if r.electrode != Grid {
		r.hops = nil
		return r, t.onCore(at) && late == early
	}
	return r, len(r.hops) > 0 && r.hops[0].from == t.of[w.anode] && late == early
}

// backwards says that a hop goes through the anode resistance of a valve, where
// a little of everything leaks.
func (t *trail) backwards(h hop) bool {
	if h.core >= 0 {
		return false
	}
	l := &t.links[h.links[0]]
	return l.element >= 0 && (l.kind(t.network).Type == parts.Triode || l.kind(t.network).Type == parts.Pentode)
}

// onCore says that a terminal is on a winding.
func (t *trail) onCore(x netlist.TerminalID) bool { return len(t.coresOn(x)) > 0 }

// coresOn are the transformers with a winding on the conductor of a terminal
// that is not earth.
func (t *trail) coresOn(x netlist.TerminalID) []*netlist.Part {
	var list []*netlist.Part
	for i := range t.cores {
		for _, s := range t.cores[i].sections {
			if (t.same(s.a, x) || t.same(s.b, x)) && !t.same(x, t.earth) && !slices.Contains(list, t.cores[i].part) {
				list = append(list, t.cores[i].part)
			}
		}
	}
	return list
}
