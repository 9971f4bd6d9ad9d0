package rules

import (
	"fmt"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// jointed says of each terminal whether a live joint is at it.
func jointed(bench *netlist.Bench) []bool {
	at := make([]bool, len(bench.Book.Terminals))
	for i := range bench.Joints {
		at[bench.Joints[i].A] = true
		at[bench.Joints[i].B] = true
	}
	return at
}

// complete says whether what is missing on a net is a fault by now; for what
// is on no net, whether the wiring as a whole was said to be complete.
func complete(bench *netlist.Bench, net netlist.NetID) bool {
	if net == netlist.NoNet {
		return bench.AllComplete()
	}
	return bench.Complete(net)
}

// isMeans says that a terminal only carries joints: a tag, a bolt or a pad
// that the plan need not know.
func isMeans(t *netlist.Terminal) bool {
	return t.Tie || t.Print != nil || t.Index < 0 && !t.Lead
}

// leadName is how a lead on the bench is called: the green lead "W7".
func leadName(l *netlist.Lead) string {
	name := "the " + l.Colour.String() + " lead"
	if l.Label != "" {
		name += fmt.Sprintf(" %q", l.Label)
	}
	return name
}

// leadEnds is "from V1.2 to TB1.5", with the points between where there are
// any.
func leadEnds(b *netlist.Book, l *netlist.Lead) string {
	points := names(b, l.Points)
	switch len(points) {
	case 0:
		return "of no known end"
	case 1:
		return "at " + points[0]
	case 2:
		return "from " + points[0] + " to " + points[1]
	}
	return "along " + verify.And(points)
}

// liveLeads says which leads have a live piece, by their index in Bench.Leads,
// and gives the places of those pieces' words.
func liveLeads(bench *netlist.Bench) []*netlist.Joint {
	first := make([]*netlist.Joint, len(bench.Leads))
	for i := range bench.Joints {
		j := &bench.Joints[i]
		if j.Kind == netlist.Wire && j.Lead >= 0 && first[j.Lead] == nil {
			first[j.Lead] = j
		}
	}
	return first
}

// undoneAt gives the last fact that took something off each terminal.
func undoneAt(bench *netlist.Bench) map[netlist.TerminalID]*netlist.Fact {
	at := map[netlist.TerminalID]*netlist.Fact{}
	for i := range bench.Undone {
		u := &bench.Undone[i]
		at[u.Joint.A], at[u.Joint.B] = u.By, u.By
	}
	return at
}

// undoneGroup is the group of what follows from something that was taken off
// and not put back.
func undoneGroup(by *netlist.Fact) string { return fmt.Sprintf("taken off by fact %d", by.Index) }

// isEarthColour says that a colour is green and yellow, whichever of them is
// the base: the protective conductor's.
func isEarthColour(c lang.Colour) bool {
	return c.Base == "green" && c.Tracer == "yellow" || c.Base == "yellow" && c.Tracer == "green"
}

// noPlace is for evidence that is a whole fact.
var noPlace diag.Place
