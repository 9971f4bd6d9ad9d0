package compare

import "buzzout/netlist"

// land numbers the ends that were brought to a point together: where a lead
// goes on to its next point, and where several terminals were soldered or
// bolted to one. One wrong word in the notebook puts them all wrongly.
func (a *adapted) land() {
	type place struct {
		fact *netlist.Fact
		lead int // -1 for a spot
		at   netlist.TerminalID
	}
	type end struct {
		joint int
		side  int
	}
	ends := make(map[place][]end)
	var order []place
	add := func(p place, e end) {
		if len(ends[p]) == 1 {
			order = append(order, p)
		}
		ends[p] = append(ends[p], e)
	}
	for i, j := range a.of {
		switch {
		case j.Kind == netlist.Wire && j.Lead >= 0:
			add(place{j.Fact, j.Lead, j.A}, end{i, 0})
			add(place{j.Fact, j.Lead, j.B}, end{i, 1})
		case j.Kind == netlist.Solder || j.Kind == netlist.Bolt:
			add(place{j.Fact, -1, j.A}, end{i, 0})
		}
	}
	for n, p := range order {
		for _, e := range ends[p] {
			a.joints[e.joint].landing[e.side] = int32(n + 1)
		}
	}
}
