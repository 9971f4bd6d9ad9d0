package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var gridFloats = verify.Rule{
	Name:   "grid-floats",
	Title:  "a grid that no resistance joins to anything",
	Judges: verify.Plan,
	Look:   lookGridFloats,
	Text: `
A control grid needs a way for direct current: to ground, to the cathode, or
to a bias supply. Without one it charges up to wherever its own small current
takes it, and nothing sets the idle current: a small valve goes quiet or
rattles, an output valve runs away and can melt its anode.

    part C1  capacitor 22n 400V
    part R1  resistor 1k5
    part IN, HT, GND post
    part V1  triode
    net in      IN C1.1
    net grid    C1.2 V1.g
    net cathode V1.k R1.1
    net anode   V1.a HT
    net ground  R1.2 GND

A capacitor passes no direct current. What is missing is the grid leak,
usually 220k to 1M from the grid to ground. Where the only way goes through a
contact, it is told as a caution: with the contact open the grid floats.

To check, valves out, power off and discharged: read from the grid's pin to
ground. It should be the grid leak and what stands in series with it, and not
open.

That every grid wants a leak is common practice; the most that a maker allows
is in the valve's sheet.
`,
}

// somewhere marks the conductors from which a grid can get its voltage: earth
// and chassis, every other electrode, diodes and heaters, and ways out of the
// notebook. A jack's tip and sleeve on one conductor are a way too: the
// resistance between them is the leak.
func somewhere(c conductors, b *netlist.Book) map[netlist.TerminalID]bool {
	marks := earths(b)
	eachElectrode(b, func(e electrode) {
		if e.role != "grid" {
			marks = append(marks, e.at)
		}
	})
	for _, p := range b.Parts {
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			if e.Type == parts.Diode || e.Type == parts.Heater {
				for _, end := range e.Ends {
					marks = append(marks, p.Terminals[end])
				}
			}
		}
		switch {
		case isOutside(p):
			marks = append(marks, p.Terminals...)
		case len(p.Kind.Controls) > 0 && len(p.Kind.Elements) == 0:
			tip, sleeve := p.Called("tip"), p.Called("sleeve")
			if tip != netlist.NoTerminal && sleeve != netlist.NoTerminal && c.of(tip) == c.of(sleeve) {
				marks = append(marks, tip)
			}
		}
	}
	return c.marked(marks)
}

func lookGridFloats(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	grids := controlGrids(book)
	if len(grids) == 0 {
		return
	}
	direct := wired(c.Planned())
	nets := planNets(direct, book)
	steady := direct.clone().steady(c.Planned())
	certain := somewhere(steady, book)
	perhaps := steady.clone().through(c.Planned(), parts.Fuse, parts.Lamp).throughContacts(c.Planned(), nil)
	possible := somewhere(perhaps, book)
	told := map[netlist.TerminalID]bool{}
	for _, g := range grids {
		root := steady.of(g)
		if nets[g] == netlist.NoNet || certain[root] || told[root] {
			continue
		}
		told[root] = true
		f := verify.Finding{
			Severity:  diag.Fault,
			Message:   fmt.Sprintf("no resistance joins the grid %s to anything: it floats", book.Name(g)),
			Terminals: []netlist.TerminalID{g}, Nets: netNames(book, nets[g]),
			Evidence: []diag.Note{quotePlan(book, g)},
			Cause:    "With no way for direct current nothing sets the grid's voltage, and so nothing sets the valve's current.",
			Action:   fmt.Sprintf("find the grid leak of %s in the drawing and add its net", book.Name(g)),
			Check:    fmt.Sprintf("valve out, power off: read %s to ground; it should not be open", book.Name(g)),
		}
		if possible[perhaps.of(g)] {
			f.Severity = diag.Caution
			f.Message = fmt.Sprintf("the only way for direct current from the grid %s leads through a contact", book.Name(g))
			f.Cause = "While that contact is open the grid floats, and nothing sets the valve's current."
			f.Action = fmt.Sprintf("add a grid leak at %s that no switch and no plug takes off", book.Name(g))
		}
		report(f)
	}
}
