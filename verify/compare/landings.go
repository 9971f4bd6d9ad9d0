package compare

import (
	"fmt"
	"strings"

	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

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

// landed tells ends that were brought to the wrong place together.
func (t *teller) landed(moves []move) verify.Finding {
	f := t.put(&moves[0])
	first := t.of[moves[0].joint]
	goesOn := true // one lead, on its way through the place
	var others, ends []string
	for i := range moves {
		j, kept := t.of[moves[i].joint], t.side(&moves[i], 1-int(moves[i].side))
		goesOn = goesOn && j.Kind == netlist.Wire && j.Fact == first.Fact && j.Lead == first.Lead
		others = append(others, t.called(kept))
		ends = append(ends, t.endText(j, kept))
		if i > 0 {
			f.Terminals = append(f.Terminals, kept)
			f.Evidence = appendNote(f.Evidence, quoteJoint(j))
		}
	}
	here := t.called(t.side(&moves[0], int(moves[0].side)))
	sits := t.sits(moves[0].from)
	last := t.side(&moves[len(moves)-1], 1-int(moves[len(moves)-1].side))
	alone := t.verdict.of[last] == moves[0].to // nothing else of the net is apart
	if alone {
		f.Terminals = append(f.Terminals[:1], f.Terminals[2:]...)
		f.Check = fmt.Sprintf("buzz from %s to %s: it beeps, and must not.", others[0], here)
	}
	switch {
	case goesOn && alone:
		f.Message = fmt.Sprintf("%s lands at %s on its way from %s, %s, and does not belong there",
			t.leadText(first), here, strings.Join(others, " to "), sits)
		f.Action = fmt.Sprintf("take it off %s and lead it straight from %s", here, strings.Join(others, " to "))
	case goesOn:
		f.Message = fmt.Sprintf("%s lands at %s on its way from %s, %s, and belongs on net %s",
			t.leadText(first), here, strings.Join(others, " to "), sits, t.netName(moves[0].net))
	default:
		f.Message = fmt.Sprintf("%s are together at %s, %s, and belong on net %s",
			parts.Listed(ends), here, sits, t.netName(moves[0].net))
		if alone {
			f.Action = fmt.Sprintf("take them off %s, and join them at a place of their own", here)
		}
	}
	if !alone {
		f.Action = strings.Replace(f.Action, "move that end", "move those ends together", 1)
	}
	return f
}
