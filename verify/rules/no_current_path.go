package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var noCurrentPath = verify.Rule{
	Name:   "no-current-path",
	Title:  "an anode, screen grid or cathode that no current can reach",
	Judges: verify.Plan,
	Look:   lookNoCurrentPath,
	Text: `
The plan joins an anode, a screen grid or a cathode to capacitors and grids
only. A capacitor passes no direct current, so the valve cannot conduct: its
load, its screen feed or its cathode resistor is missing from the net. A
pentode whose anode is cut off while its screen grid is fed can burn out its
screen in minutes.

    part V1  triode
    part C1  electrolytic 22u 25V
    part R1  resistor 100k
    part HT, IN, GND post
    net anode   V1.a R1.1
    net ht      R1.2 HT
    net grid    V1.g IN
    net cathode V1.k C1.+
    net ground  C1.- GND

Compare the net with the drawing. To check at the bench, valve out, power off
and discharged: read from the pin to HT or to ground. It should be the
resistor that is missing here, and not open.
`,
}

func lookNoCurrentPath(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	direct := wired(c.Planned())
	nets := planNets(direct, book)
	loose := direct.clone().through(c.Planned(), parts.Fuse, parts.Lamp).throughContacts(c.Planned(), nil)
	fed := currentCarriers(loose, book)
	seen := map[netlist.TerminalID]bool{}
	eachElectrode(book, func(e electrode) {
		if e.role == "grid" || e.role == "suppressor" || nets[e.at] == netlist.NoNet || seen[e.at] {
			return
		}
		if len(book.Nets[nets[e.at]].Members) < 2 {
			return // told as a net with one terminal
		}
		if carriers := fed[loose.of(e.at)]; carriers.other || carriers.roles&^roleBit(e.role) != 0 {
			return
		}
		seen[e.at] = true
		report(verify.Finding{
			Severity:  diag.Fault,
			Message:   fmt.Sprintf("no current can reach the %s %s: the net %s has no way for it", spoken(e.role), book.Name(e.at), book.Nets[nets[e.at]].Name),
			Terminals: []netlist.TerminalID{e.at}, Nets: netNames(book, nets[e.at]),
			Evidence: []diag.Note{quotePlan(book, e.at)},
			Cause:    "What else is on that conductor passes no direct current.",
			Action:   fmt.Sprintf("find in the drawing what feeds %s and add it to the net", book.Name(e.at)),
			Check:    fmt.Sprintf("valve out, power off: read %s to HT and to ground; one of the two should not be open", book.Name(e.at)),
		})
	})
}

// carriers is what can carry a direct current to a conductor: electrodes, by
// role, and anything else.
type carriers struct {
	roles uint8
	other bool
}

func roleBit(role string) uint8 {
	switch role {
	case "anode":
		return 1
	case "cathode":
		return 2
	case "screen":
		return 4
	}
	return 0
}

func currentCarriers(c conductors, b *netlist.Book) map[netlist.TerminalID]carriers {
	fed := map[netlist.TerminalID]carriers{}
	other := func(t netlist.TerminalID) {
		root := c.of(t)
		on := fed[root]
		on.other = true
		fed[root] = on
	}
	for _, p := range b.Parts {
		k := p.Kind
		for i := range k.Elements {
			switch e := &k.Elements[i]; e.Type {
			case parts.Capacitance, parts.Triode, parts.Pentode, parts.Fuse, parts.Lamp:
			default:
				for _, end := range e.Ends {
					other(p.Terminals[end])
				}
			}
		}
		for _, w := range k.Windings {
			for _, end := range w.Ends {
				other(p.Terminals[end])
			}
		}
		if leadsOut(p) {
			for _, t := range p.Terminals {
				other(t)
			}
		}
	}
	eachElectrode(b, func(e electrode) {
		root := c.of(e.at)
		on := fed[root]
		on.roles |= roleBit(e.role)
		fed[root] = on
	})
	return fed
}

// leadsOut says that a part has nothing electrical of its own and a terminal
// that is no end of a contact: a jack, an inlet, a post, a chassis. What comes
// in there the notebook does not say. Cables only pass things on.
func leadsOut(p *netlist.Part) bool {
	k := p.Kind
	if len(k.Elements) > 0 || len(k.Windings) > 0 || len(k.Joined) > 0 {
		return false
	}
	if k.JoinedAny {
		return true
	}
	for i := range k.Terminals {
		if !k.Terminals[i].Tie && !isWay(p, i) {
			return true
		}
	}
	return false
}
