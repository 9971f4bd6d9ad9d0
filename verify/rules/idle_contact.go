package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var idleContact = verify.Rule{
	Name:   "idle-contact",
	Title:  "a switching contact of a jack that nothing uses",
	Judges: verify.Plan,
	Look:   lookIdleContact,
	Text: `
A jack with a break contact can do something while no plug is in it. The plan
uses the tip and leaves the contact free. What that costs depends on what the
tip is:

An input: with no plug in, the way to the first grid hangs open and picks up
hum. Wired to ground, the contact shorts the tip until a plug is in. Wired to
the tip of another jack, it hands that jack's signal on.

A loudspeaker or line output, or a send: it costs nothing, unless a plug was
meant to take something off. Where the jack is the only way to the
loudspeaker, nothing loads the output transformer while no plug is in.

    part J1  jack-break
    part R1  resistor 68k
    part R2  resistor 1M
    part V1  triode
    part GND post
    net input  J1.tip R1.1 R2.1
    net grid   R1.2 V1.g
    net ground J1.sleeve R2.2 GND
    spare V1.a V1.k

If the contact is meant to stay free, say so: spare J1.break.

To check at the bench, read from the tip to ground with no plug in: near
0 ohm where the contact grounds it, the grid leak's value where it does not.

That a grounded break contact keeps an unused input quiet was read in a
tutorial on input jacks; that an unwired one leaves the tip open follows from
the contact's own table.
`,
}

// idleContacts are contacts of which one end is used and the other is not,
// where the used end has no other contact: break and make contacts of jacks. A
// free way of a change-over is no loss, and a switch of which one end is drawn
// lacks a net: both are left to the rule for idle parts.
func idleContacts(b *netlist.Book, nets []netlist.NetID) []idleEnd {
	var list []idleEnd
	seen := map[netlist.TerminalID]bool{}
	for _, p := range b.Parts {
		if p.Called("tip") == netlist.NoTerminal {
			continue
		}
		for i := range p.Kind.Contacts {
			k := &p.Kind.Contacts[i]
			for _, ends := range [2][2]int{{k.A, k.B}, {k.B, k.A}} {
				used, idle := p.Terminals[ends[0]], p.Terminals[ends[1]]
				if nets[used] == netlist.NoNet || nets[idle] != netlist.NoNet ||
					b.Spare(idle) != nil || p.Kind.Terminals[ends[1]].Tie ||
					contactsAt(p.Kind, ends[0]) > 1 || seen[idle] {
					continue
				}
				seen[idle] = true
				list = append(list, idleEnd{p, k, used, idle})
			}
		}
	}
	return list
}

type idleEnd struct {
	part       *netlist.Part
	contact    *parts.Contact
	used, idle netlist.TerminalID
}

func contactsAt(k *parts.Kind, terminal int) int {
	n := 0
	for i := range k.Contacts {
		if c := &k.Contacts[i]; c.A == terminal || c.B == terminal {
			n++
		}
	}
	return n
}

func lookIdleContact(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	direct := wired(c.Planned())
	list := idleContacts(book, planNets(direct, book))
	if len(list) == 0 {
		return
	}
	grids := gridsBehind(book, direct, list)
	for _, k := range list {
		f := verify.Finding{
			Severity:  diag.Remark,
			Terminals: []netlist.TerminalID{k.idle, k.used},
			Message:   fmt.Sprintf("nothing uses the contact %s of %s", book.Name(k.idle), book.Name(k.used)),
			Evidence:  []diag.Note{verify.QuotePart(k.part), quotePlan(book, k.used)},
			Cause:     "It costs nothing, unless a plug was meant to switch something here.",
			Action:    fmt.Sprintf("if it is meant to stay free, say: spare %s", book.Name(k.idle)),
		}
		rests := len(k.contact.Positions) > 0 && k.contact.Positions[0] == 0
		if grid, ok := grids[k.used]; ok && rests {
			f.Severity = diag.Caution
			f.Message += ", which leads to a grid"
			f.Cause = fmt.Sprintf("With no plug in, the way to %s hangs open and picks up hum. %s",
				book.Name(grid), practiceSays("jack-mute"))
			f.Action = fmt.Sprintf("wire %s to ground, or to the tip of the jack whose signal it hands on; if it is meant to stay free, say: spare %s",
				book.Name(k.idle), book.Name(k.idle))
		}
		report(f)
	}
}

// gridsBehind gives for the used ends of contacts a grid that they lead to:
// on the same conductor, or behind one resistor or capacitor. Further away
// everything leads to everything. A grid on the conductor of the jack's own
// sleeve is grounded and does not count.
func gridsBehind(b *netlist.Book, c conductors, list []idleEnd) map[netlist.TerminalID]netlist.TerminalID {
	grids := map[netlist.TerminalID]netlist.TerminalID{}
	for _, g := range controlGrids(b) {
		if root := c.of(g); !has(grids, root) {
			grids[root] = g
		}
	}
	ends := map[netlist.TerminalID][]idleEnd{}
	behind := map[netlist.TerminalID]netlist.TerminalID{}
	reach := func(k idleEnd, root netlist.TerminalID) {
		sleeve := k.part.Called("sleeve")
		if grid, ok := grids[root]; ok && !has(behind, k.used) && (sleeve == netlist.NoTerminal || c.of(sleeve) != root) {
			behind[k.used] = grid
		}
	}
	for _, k := range list {
		root := c.of(k.used)
		ends[root] = append(ends[root], k)
		reach(k, root)
	}
	for _, p := range b.Parts {
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			if e.Type != parts.Resistance && e.Type != parts.Capacitance {
				continue
			}
			from, to := c.of(p.Terminals[e.Ends[0]]), c.of(p.Terminals[e.Ends[1]])
			for _, k := range ends[from] {
				reach(k, to)
			}
			for _, k := range ends[to] {
				reach(k, from)
			}
		}
	}
	return behind
}
