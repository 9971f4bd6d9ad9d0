package states

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var contactDoesNothing = verify.Rule{
	Name:   "contact-does-nothing",
	Title:  "a contact that can never change anything",
	Judges: verify.Plan,
	Look:   lookContactDoesNothing,
	Text: `
Both ends of the contact are one conductor in every position of every control,
whether the contact is closed or not. Whatever it was meant to switch, it does
not: a wire goes round it, or both its ends were put on one net.

    part J1  jack-break
    part R1  resistor 1M
    part GND post
    net input  J1.tip J1.break R1.1
    net ground J1.sleeve R1.2 GND

The break contact of J1 was meant to short the tip while no plug is in; on the
tip's own net it does nothing.

All positions of the controls that can matter are gone through, with the
contact left out. Where the one conductor is ground it is a remark: contacts
that are not used are often tied to ground (common practice, no source). Two
poles side by side, for more current, are not told: each does what the other
does. Nor is a two-pole plug in a three-pole jack whose ring is grounded.

To check, power off: read across the contact, and move its control. It reads
near 0 ohm in every position.

It is told of the plan. Where the bench is wired otherwise, comparison tells
the joint that goes round the contact.

What is told follows from the kinds' own contact tables.
`,
}

func lookContactDoesNothing(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	book := c.Book()
	web := NewWeb(s.harness(), c.Setting)
	at := web.at(c.Setting)
	ground := web.ground()
	for i := range web.Contacts {
		k := &web.Contacts[i]
		if k.Inside || book.Net(k.A) == netlist.NoNet || book.Net(k.B) == netlist.NoNet || isPlugs(k) {
			continue
		}
		rest := web
		if k.a != k.b {
			rest = web.without(k)
		}
		if !rest.always(k.a, k.b, at, -1) {
			continue
		}
		f := verify.Finding{
			Severity: diag.Caution,
			Message: fmt.Sprintf("the contact of %s between %s and %s can change nothing: the two are one conductor whatever stands where",
				web.Controls[k.Control].Name(), book.Name(k.A), book.Name(k.B)),
			Terminals: []netlist.TerminalID{k.A, k.B}, Nets: s.netNames(k.A, k.B),
			Evidence: []diag.Note{s.quote(k.B), s.quote(k.A), verify.QuotePart(k.Part)},
			Cause:    "One net has both its ends.",
			Action:   fmt.Sprintf("find in the drawing where %s belongs, and strike it from this net", book.Name(k.B)),
			Check:    fmt.Sprintf("power off: read %s to %s in each position of %s", book.Name(k.A), book.Name(k.B), web.Controls[k.Control].Name()),
		}
		if k.a != k.b {
			around := rest.tableWhere(rest.Between(k.a, k.b), at, func(walk *Walk) bool { return walk.Joined(k.a, k.b) })
			f.Cause = join("Other contacts join its ends in every position.", around.looked())
			f.Action = "find in the drawing what it was meant to switch, and take off what goes round it"
		}
		if ground[k.a] && ground[k.b] {
			f.Severity = diag.Remark
			f.Cause = join(f.Cause, "It lies on ground, where contacts that are not used are often tied.")
			f.Action = "nothing, if it is not used"
		}
		report(f)
	}
}

// isPlugs says that a contact is the plug's doing: the sleeve of a two-pole
// plug that lies on the ring and the sleeve of a three-pole jack.
func isPlugs(c *Contact) bool {
	ring, sleeve := c.Part.Called("ring"), c.Part.Called("sleeve")
	return c.A == ring && c.B == sleeve || c.A == sleeve && c.B == ring
}

// ground are the conductors of the chassis, of mains earth and of the jacks'
// sleeves.
func (w *Web) ground() map[int32]bool {
	list := map[int32]bool{}
	for p := range w.Harness.There() {
		if p.Kind.JoinedAny && len(p.Terminals) > 0 {
			list[w.conductor[p.Terminals[0]]] = true
		}
		if in, ok := asJack(p); ok {
			list[w.conductor[in.Sleeve]] = true
		}
		if in, ok := p.Inlet(); ok && in.Earth != netlist.NoTerminal {
			list[w.conductor[in.Earth]] = true
		}
	}
	return list
}
