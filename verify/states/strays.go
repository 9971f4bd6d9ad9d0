package states

import (
	"slices"

	"buzzout/netlist"
)

// A Stray is a jack that one would look for among the inputs, and that is none
// as wired.
type Stray struct {
	Jack        *netlist.Part
	Tip, Sleeve netlist.TerminalID
	// Shorted says that tip and sleeve are one conductor with a plug in; else
	// it is an input in the plan, and leads to no grid here.
	Shorted bool
}

// Strays finds the jacks that are missing from what [Inputs] finds: those that
// lead to a grid, or to the point, in the plan alone, and those whose tip is
// their sleeve.
func Strays(draw, plan func(netlist.Setting) *netlist.Harness, s netlist.Setting, point netlist.TerminalID) []Stray {
	has := func(groups [][]Input, jack *netlist.Part) bool {
		return slices.ContainsFunc(groups, func(g []Input) bool {
			return slices.ContainsFunc(g, func(in Input) bool { return in.Jack == jack })
		})
	}
	now := draw(s)
	found, meant := inputs(now, draw, s, point), Inputs(plan, s, point)
	var list []Stray
	for p := range now.There() {
		in, ok := asJack(p)
		if !ok || has(found, p) {
			continue
		}
		h := draw(s.With(netlist.Setting{in.Plug: {Index: 1, Known: true}}))
		if shorted := h.Joined(in.Tip, in.Sleeve); shorted || has(meant, p) {
			list = append(list, Stray{p, in.Tip, in.Sleeve, shorted})
		}
	}
	return list
}
