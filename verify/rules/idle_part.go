package rules

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var idlePart = verify.Rule{
	Name:   "idle-part",
	Title:  "a part of the plan, or terminals of it, that no net uses",
	Judges: verify.Plan,
	Look:   lookIdlePart,
	Text: `
A part is in the list and the plan does not use it, or uses some of its
terminals only. Either a net is missing, or the part is left over from an
earlier drawing, or its terminals are meant to stay free. It is told once for
a part, not once for each pin.

    part R1, R2  resistor 100k
    part IN, GND post
    net input    IN R1.1
    net ground   R1.2 GND

R2 is in no net here.

To settle it, look the part up in the drawing. Where nothing belongs at a
terminal, say so: spare V1.6 V1.7 "half not used". Tags of boards and bolts of
a chassis need no net, and nothing is said of pins that must stay empty. A
transformer's lead that is not used still carries its winding's voltage:
insulate its end and say spare.
`,
}

func lookIdlePart(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	if len(book.Nets) == 0 {
		return // nothing is drawn yet, so nothing is left out
	}
	nets := planNets(wired(c.Planned()), book)
	told := map[netlist.TerminalID]bool{}
	for _, k := range idleContacts(book, nets) {
		told[k.idle] = true
	}
	for _, p := range book.Parts {
		var idle []netlist.TerminalID
		needed, ways := 0, 0
		for i := range p.Kind.Terminals {
			id := p.Terminals[i]
			if t := &p.Kind.Terminals[i]; t.Tie || t.Empty != "" || p.Kind.JoinedAny || told[id] {
				continue
			}
			needed++
			if nets[id] == netlist.NoNet && book.Spare(id) == nil && !entersFromOutside(p, id, nets) {
				idle = append(idle, id)
				if isFreeWay(p, i) {
					ways++
				}
			}
		}
		if len(idle) == 0 {
			continue
		}
		f := verify.Finding{
			Severity: diag.Caution, Terminals: idle, Evidence: []diag.Note{verify.QuotePart(p)},
			Check: fmt.Sprintf("look %s up in the drawing", p.Ref),
		}
		if len(idle) == needed {
			f.Message = fmt.Sprintf("%s is in no net of the plan", p.Ref)
			f.Action = "add its net, or take the part out of the list"
		} else {
			f.Message = fmt.Sprintf("%s %s in no net of the plan and not said to be spare",
				verify.And(names(book, idle)), verb(len(idle), "is", "are"))
			f.Action = fmt.Sprintf("add the net that is missing, or say: spare %s", book.Name(idle[0]))
			if ways == len(idle) {
				f.Severity = diag.Remark // a way of a switch that stays free is common
			}
		}
		report(f)
	}
}

// entersFromOutside says that mains comes in at a terminal by the plug, and goes
// on inside the part to a terminal that is on a net: nobody solders to the first.
func entersFromOutside(p *netlist.Part, id netlist.TerminalID, nets []netlist.NetID) bool {
	if id != p.Called("live") && id != p.Called("neutral") {
		return false
	}
	inside := func(a, b int) bool {
		x, y := p.Terminals[a], p.Terminals[b]
		return x == id && nets[y] != netlist.NoNet || y == id && nets[x] != netlist.NoNet
	}
	for i := range p.Kind.Elements {
		if e := &p.Kind.Elements[i]; e.Type == parts.Fuse && inside(e.Ends[0], e.Ends[1]) {
			return true
		}
	}
	return slices.ContainsFunc(p.Kind.Joined, func(set []int) bool {
		return slices.ContainsFunc(set, func(t int) bool { return inside(set[0], t) })
	})
}

// isFreeWay says that a terminal is one of several ways of a contact, of which
// the others may do without it.
func isFreeWay(p *netlist.Part, terminal int) bool {
	for i := range p.Kind.Contacts {
		switch k := &p.Kind.Contacts[i]; terminal {
		case k.A:
			return contactsAt(p.Kind, k.B) > 1
		case k.B:
			return contactsAt(p.Kind, k.A) > 1
		}
	}
	return false
}

// isWay says that a terminal of a part's kind is an end of a contact.
func isWay(p *netlist.Part, terminal int) bool {
	for i := range p.Kind.Contacts {
		if k := &p.Kind.Contacts[i]; k.A == terminal || k.B == terminal {
			return true
		}
	}
	return false
}
