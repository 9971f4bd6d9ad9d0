// Package compare compares the wiring as built with the wiring as drawn, and
// tells the differences as the fewest things that a builder would do about
// them.
//
// [Compare] is the door. It makes numbers of plan and bench (adapt.go), finds
// a smallest explanation (explain.go and what it calls; none of that knows
// names or places), and puts it into the builder's words (tell.go).
package compare

import (
	"buzzout/netlist"
	"buzzout/verify"
)

// A Result is what comparison came to.
type Result struct {
	Findings []verify.Finding // sorted
	// Served are parts whose like ends are used otherwise than drawn, which is
	// no mistake: "R5 the other way round".
	Served []Serving
	// Wanted counts the joints that the plan takes, Done those that are there.
	Wanted, Done int
	// Looked counts the states that the search looked at. Unproven says that
	// it stopped at its bound, so that fewer findings might explain as much.
	Looked   int
	Unproven bool
}

// A Serving is a part whose like ends are used otherwise than drawn.
type Serving struct {
	Part *netlist.Part
	// Moved are the terminals that do another's work, with that other.
	Moved [][2]netlist.TerminalID
}

// Compare compares the bench with the plan under one meaning of the leads'
// colours. Switches and plugs have no part in it: what is asked is what is
// soldered.
func Compare(b *netlist.Bench, m netlist.Meaning) *Result {
	if len(b.Book.Terminals) == 0 {
		return &Result{}
	}
	a := adapt(b, m)
	v := a.explained()
	t := &teller{adapted: a, verdict: v}
	t.tell()
	verify.Sort(t.found)
	return &Result{
		Findings: t.found, Served: t.served,
		Wanted: v.wanted, Done: v.done, Looked: v.nodes, Unproven: v.unproven,
	}
}
