package states

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var emptyPosition = verify.Rule{
	Name:   "empty-position",
	Title:  "a position of a selector with nothing on it",
	Judges: verify.Plan,
	Look:   lookEmptyPosition,
	Text: `
A selector has a position in which its common leads to a way with nothing on
it, while other positions have something. Turned there, it switches off what
it should select: a signal goes quiet, a grid loses its leak, or an output
transformer runs without a load.

    part S1     rotary-1x3
    part C1, C2 capacitor 1n
    part IN, OUT post
    net input IN S1.a
    net dark  S1.a1 C1.1
    net light S1.a2 C2.1
    net out   C1.2 C2.2 OUT

In position 3 nothing is joined to the input. If a way is meant to be empty,
say so: spare S1.a3. Better still, set the stop of the switch one position
earlier, or join the way to its neighbour.

Looked at are switches with three positions or more, of which two or more have
something. A way counts as empty if it is on no net, or if what is on it leads
to nothing but other contacts in any setting of them. A middle position that
the switch has by its make is not told.

To check, power off: turn to that position and read from the common to each
neighbour's way; all are open.

It is told of the plan. A way that only the bench leaves empty is a joint that
is missing, and comparison tells it.

What is told follows from the kinds' own contact tables.
`,
}

func lookEmptyPosition(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	book := c.Book()
	web := NewWeb(s.harness(), c.Setting)
	at := web.at(c.Setting)
	things := web.things()
	for control := range web.Controls {
		if !web.isSwitch(control) || web.positions(control) < 3 {
			continue
		}
		var poles []pole
		for _, p := range web.poles(control) {
			if book.Net(p.common) != netlist.NoNet {
				poles = append(poles, p)
			}
		}
		used := 0
		var empty []int
		var ways []netlist.TerminalID
		for position := range web.positions(control) {
			some, meant := false, false
			var free []netlist.TerminalID
			for i := range poles {
				p := &poles[i]
				if p.ways[position] == nil {
					continue
				}
				way := p.way(position)
				meant = meant || book.Spare(way) != nil
				if web.leads(p.ways[position], way, position, at, things) {
					some = true
				} else {
					free = append(free, way)
				}
			}
			switch {
			case some:
				used++
			case len(free) > 0 && !meant:
				empty = append(empty, position)
				ways = append(ways, free...)
			}
		}
		if used < 2 || len(empty) == 0 {
			continue
		}
		ref := web.Controls[control]
		var names []string
		for _, p := range empty {
			names = append(names, web.control(control).Positions[p])
		}
		f := verify.Finding{
			Severity:  diag.Caution,
			Message:   fmt.Sprintf("%s has nothing on its %s %s: %s %s to nothing", ref.Name(), verb(len(names), "position", "positions"), verify.And(names), verify.And(nameAll(book, ways)), verb(len(ways), "leads", "lead")),
			Terminals: ways, Nets: s.netNames(ways...),
			Evidence: []diag.Note{verify.QuotePart(ref.Part)},
			Cause:    fmt.Sprintf("Turned there, %s leads nowhere.", verify.And(nameAll(book, commons(poles)))),
			Action:   fmt.Sprintf("add the net that is missing; if the way is meant to be empty, say: spare %s", book.Name(ways[0])),
			Check:    fmt.Sprintf("power off, %s %s: read from %s to the ways beside it; all are open", ref.Name(), names[0], book.Name(poles[0].common)),
		}
		for _, p := range names {
			f.Settings = append(f.Settings, ref.Name()+" "+p)
		}
		report(f)
	}
}

func commons(poles []pole) []netlist.TerminalID {
	list := make([]netlist.TerminalID, len(poles))
	for i, p := range poles {
		list[i] = p.common
	}
	return list
}
