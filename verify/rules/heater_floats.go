package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var heaterFloats = verify.Rule{
	Name:   "heater-floats",
	Title:  "a heater supply that is tied to nothing",
	Judges: verify.Plan,
	Look:   lookHeaterFloats,
	Text: `
A heater winding that is tied to no fixed point floats. Leakage from the HT
winding lifts it to a voltage that nobody chose, it hums through every
cathode, and the insulation between heater and cathode can break down. It is
tied by its centre tap, by two equal resistors from its ends to ground, by a
hum-balance pot, or to a divider that lifts it to a steady voltage.

    part T1 transformer { winding heater h-a h-b }
    part V1 ecc83
    net heater-a T1.h-a V1.4..5
    net heater-b T1.h-b V1.9

To check, power off: read from either heater pin to ground. With two 100 ohm
resistors it is about 50 ohm, since the winding joins their far ends; open
means that nothing ties it.

That a heater winding must be tied to a fixed potential was read in a textbook
(N. H. Crowhurst, Basic Audio vol. 3); 100 ohm each is common practice.
`,
}

func lookHeaterFloats(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	direct := wired(c.Planned())
	nets := planNets(direct, book)
	tied := direct.clone().steady(c.Planned()).through(c.Planned(), parts.Heater, parts.Lamp, parts.Fuse).throughContacts(c.Planned(), nil)

	fixed := tied.marked(fixedPoints(book))
	type supply struct {
		heaters []*netlist.Part
		winding netlist.TerminalID
	}
	found := map[netlist.TerminalID]*supply{}
	var order []netlist.TerminalID
	for _, p := range book.Parts {
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			end := p.Terminals[e.Ends[0]]
			if e.Type != parts.Heater || nets[end] == netlist.NoNet {
				continue
			}
			root := tied.of(end)
			if found[root] == nil {
				found[root] = &supply{winding: netlist.NoTerminal}
				order = append(order, root)
			}
			if s := found[root]; len(s.heaters) == 0 || s.heaters[len(s.heaters)-1] != p {
				s.heaters = append(s.heaters, p)
			}
		}
	}
	for _, p := range book.Parts {
		for _, w := range p.Kind.Windings {
			if s := found[tied.of(p.Terminals[w.Ends[0]])]; s != nil && s.winding == netlist.NoTerminal {
				s.winding = p.Terminals[w.Ends[0]]
			}
		}
	}
	for _, root := range order {
		s := found[root]
		if fixed[root] || s.winding == netlist.NoTerminal {
			continue // without a winding the supply is not in this notebook
		}
		report(verify.Finding{
			Severity:  diag.Caution,
			Message:   fmt.Sprintf("the heater supply of %s is tied to nothing: it floats and hums", verify.And(refs(s.heaters))),
			Terminals: []netlist.TerminalID{s.winding}, Nets: netNames(book, nets[s.winding]),
			Evidence: []diag.Note{quotePlan(book, s.winding), verify.QuotePart(s.heaters[0])},
			Cause:    practiceSays("heater-reference"),
			Action: fmt.Sprintf("tie %s to ground by its centre tap, or by 100 ohm from each end",
				book.Name(s.winding)),
			Check: "power off: read from a heater pin to ground; open means that nothing ties it",
		})
	}
}

// fixedPoints are terminals that hold a heater supply where they are: earth
// and chassis, every electrode and diode, mains, and ways out of the notebook.
func fixedPoints(b *netlist.Book) []netlist.TerminalID {
	marks := earths(b)
	eachElectrode(b, func(e electrode) { marks = append(marks, e.at) })
	for _, p := range b.Parts {
		for i := range p.Kind.Elements {
			if e := &p.Kind.Elements[i]; e.Type == parts.Diode {
				marks = append(marks, p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]])
			}
		}
		if isOutside(p) {
			marks = append(marks, p.Terminals...)
		}
	}
	return marks
}
