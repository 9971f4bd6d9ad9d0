package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var noEarthDrawn = verify.Rule{
	Name:   "no-earth-drawn",
	Title:  "the plan does not join the mains earth to the chassis",
	Judges: verify.Plan,
	Look:   lookNoEarthDrawn,
	Text: `
The notebook has a mains inlet with an earth contact and a metal chassis, and
the plan does not make them one conductor. When a live lead comes loose and
touches the metal, no fuse blows: the chassis, the strings of the guitar and
whoever holds them are at mains voltage.

    part X1 inlet
    part CH chassis
    part GND post
    net ground CH.star GND
    spare X1.earth

A switch, a fuse or a resistor between earth and chassis does not count as a
way. Saying that the earth is spare does not silence this.

The earth lead is the first thing on the bench: a bolt of its own, never fused
or switched, and the longest slack of the three at the inlet, so that it is
the last to tear (common practice, no source).
`,
}

func lookNoEarthDrawn(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	metals := chassis(book)
	if len(metals) == 0 {
		return // nothing that the notebook knows to be metal
	}
	var direct, perhaps conductors
	for _, in := range book.Inlets() {
		if in.Earth == netlist.NoTerminal {
			continue
		}
		if direct == nil {
			direct = wired(c.Planned())
			perhaps = direct.clone().through(c.Planned(), parts.Fuse, parts.Resistance, parts.Lamp, parts.Coil).throughContacts(c.Planned(), nil)
		}
		for _, metal := range metals {
			if direct.of(in.Earth) == direct.of(metal) {
				continue
			}
			f := earthFinding(book, in, metal)
			f.Message = fmt.Sprintf("the plan does not join the mains earth %s to the chassis %s", book.Name(in.Earth), book.Terminals[metal].Part.Ref)
			f.Evidence = []diag.Note{quotePlan(book, in.Earth)}
			if spare := book.Spare(in.Earth); spare != nil {
				f.Evidence = []diag.Note{verify.Quote(spare, noPlace)}
			}
			f.Evidence = append(f.Evidence, verify.QuotePart(book.Terminals[metal].Part))
			if perhaps.of(in.Earth) == perhaps.of(metal) {
				f.Message += " by wire alone"
				f.Cause = "The only way leads through a switch, a fuse or a resistor, and that can be open when it is needed. " + f.Cause
			}
			f.Action = fmt.Sprintf("add them to one net: %s and a bolt of %s", book.Name(in.Earth), book.Terminals[metal].Part.Ref)
			report(f)
		}
	}
}

// earthFinding is what the two rules about a missing earth have in common.
func earthFinding(b *netlist.Book, in netlist.Inlet, metal netlist.TerminalID) verify.Finding {
	return verify.Finding{
		Severity:  diag.Danger,
		Terminals: []netlist.TerminalID{in.Earth, metal},
		Nets:      netNames(b, b.Net(in.Earth)),
		Group:     "earth " + b.Name(in.Earth),
		Cause: "If a live lead touches the metal, no fuse blows: the chassis, the strings of the guitar and whoever holds them are at mains voltage. " +
			practiceSays("earth-first"),
		Check: fmt.Sprintf("mains plug out: read %s to the bare metal of %s; 0.2 ohm or less with the probes' own reading taken off (common practice, no source)",
			b.Name(in.Earth), b.Terminals[metal].Part.Ref),
	}
}
