package rules

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var mainsOnChassisDrawn = verify.Rule{
	Name:   "mains-on-chassis-drawn",
	Title:  "the plan joins live or neutral to earth or to the chassis",
	Judges: verify.Plan,
	Look:   lookMainsOnChassisDrawn,
	Text: `
The plan has a way for direct current from the inlet's live or neutral contact
to the earth or to the chassis: by wire, or through fuses, resistors, coils or
windings. Neutral counts as well: it carries voltage, and with a plug that can
be reversed it is the live.

    part X1 inlet
    part CH chassis
    part R1 resistor 1M
    net live  X1.live R1.1
    net earth X1.earth CH.earth R1.2
    spare X1.neutral

Only a transformer with separate windings, or capacitors made for the purpose,
may stand between mains and metal. Capacitors are not looked at here: an old
circuit's capacitor from mains to chassis should be taken out (common
practice, no source).

To check, mains plug out, switch on, fuse in: live to chassis and neutral to
chassis must both read open, over 20M.
`,
}

func lookMainsOnChassisDrawn(c *verify.Case, report func(verify.Finding)) {
	mainsOnMetal(c.Planned(), "in the plan", report)
}

// mainsOnMetal tells for each inlet the shortest way for direct current from
// live or neutral to earth or chassis, over wire and over parts that pass it.
// Contacts are left out.
func mainsOnMetal(h *netlist.Harness, where string, report func(verify.Finding)) {
	book := h.Book
	entries := book.Inlets()
	if len(entries) == 0 {
		return
	}
	passing := wired(h).steady(h).through(h, parts.Fuse, parts.Lamp, parts.Heater)
	var t *trails
	for _, in := range entries {
		metals := chassis(book)
		if in.Earth != netlist.NoTerminal {
			metals = append(metals, in.Earth)
		}
		var from, to netlist.TerminalID
		var way []hop
		for _, mains := range [2]netlist.TerminalID{in.Live, in.Neutral} {
			for _, metal := range metals {
				if passing.of(metal) != passing.of(mains) {
					continue
				}
				if t == nil {
					t = newTrails(h, passedParts(book))
				}
				if w := t.way(mains, metal); way == nil || len(w) < len(way) {
					from, to, way = mains, metal, w
				}
			}
		}
		if way == nil {
			continue
		}
		notes, through := alongTrail(h, way)
		report(verify.Finding{
			Severity:  diag.Danger,
			Message:   fmt.Sprintf("%s %s is joined to %s%s", book.Name(from), where, book.Name(to), through),
			Terminals: []netlist.TerminalID{from, to}, Nets: netNames(book, book.Net(from)),
			Evidence: notes,
			Cause:    "The metal, and whoever touches it, can be at mains voltage. Do not plug it in.",
			Action:   "find the first joint of the way that is wrong, and undo it",
			Check:    fmt.Sprintf("mains plug out, switch on, fuse in: %s to the chassis must read open", book.Name(from)),
			Group:    "mains on chassis " + in.Part.Ref,
		})
	}
}

// passedParts are the parts that pass direct current, as edges of a trail.
func passedParts(b *netlist.Book) []edge {
	var list []edge
	for _, p := range b.Parts {
		for i := range p.Kind.Elements {
			switch e := &p.Kind.Elements[i]; e.Type {
			case parts.Resistance, parts.Track, parts.Coil, parts.Fuse, parts.Lamp, parts.Heater:
				for _, end := range e.Ends[1:] {
					list = append(list, edge{a: p.Terminals[e.Ends[0]], b: p.Terminals[end], part: p})
				}
			}
		}
		for _, w := range p.Kind.Windings {
			for i := 1; i < len(w.Ends); i++ {
				list = append(list, edge{a: p.Terminals[w.Ends[i-1]], b: p.Terminals[w.Ends[i]], part: p})
			}
		}
	}
	return list
}

// alongTrail quotes the facts of a trail, and names the parts that it goes
// through: " through F1 and R5", "" where it is wire alone.
func alongTrail(h *netlist.Harness, way []hop) (notes []diag.Note, through string) {
	var passed []string
	for _, hop := range way {
		note := diag.Note{}
		switch {
		case hop.part != nil:
			passed = append(passed, hop.part.Ref)
			note = verify.QuotePart(hop.part)
		case hop.join.Joint != nil:
			note = verify.Quote(hop.join.Fact, hop.join.Joint.Place)
		case hop.join.Kind == netlist.ByPlan:
			note = quotePlan(h.Book, hop.to)
		case hop.join.Fact != nil:
			note = verify.Quote(hop.join.Fact, noPlace)
		}
		if note.Place.Known() && !slices.Contains(notes, note) {
			notes = append(notes, note)
		}
	}
	if len(passed) > 0 {
		through = " through " + verify.And(passed)
	}
	return notes, through
}
