package states

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var samePositions = verify.Rule{
	Name:   "same-positions",
	Title:  "two positions of a switch that do the same",
	Judges: verify.Plan,
	Look:   lookSamePositions,
	Text: `
Whatever stands where otherwise, the same points are joined in both positions:
the switch can be moved, and nothing changes. Two ways are on one net, or one
of them was forgotten and the other serves twice.

    part S1     rotary-1x3
    part C1, C2 capacitor 1n
    part IN, OUT post
    net input IN S1.a
    net dark  S1.a1 C1.1
    net light S1.a2 S1.a3 C2.1
    net out   C1.2 C2.2 OUT

Positions 2 and 3 do the same here. On a switch with more positions than are
needed that may be meant, so that no position is dead; on one whose knob has a
mark for each position it hardly is.

Compared are the joins that each position makes, over all settings of the
other controls; contacts that lead to nothing are left out. Plugs and valve
holders are not switches in this sense.

To check, power off: read from the common to the way in question in both
positions.

It is told of the plan. Where only the bench has two ways on one conductor,
comparison tells the joint that is wrong.

What is told follows from the kinds' own contact tables.
`,
}

func lookSamePositions(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	web := NewWeb(s.harness(), c.Setting)
	at := web.at(c.Setting)
	things := web.things()
	for control := range web.Controls {
		if !web.isSwitch(control) {
			continue
		}
		joins := make([][]*Contact, web.positions(control))
		for i := range web.Contacts {
			k := &web.Contacts[i]
			if k.Control != control || k.a == k.b {
				continue
			}
			for p := range joins {
				if k.At(p) && web.leads(k, k.A, p, at, things) && web.leads(k, k.B, p, at, things) {
					joins[p] = append(joins[p], k)
				}
			}
		}
		for p := range joins {
			for q := p + 1; q < len(joins); q++ {
				if len(joins[p]) > 0 && len(joins[q]) > 0 && web.implies(control, at, p, joins[q]) && web.implies(control, at, q, joins[p]) {
					report(web.same(s, control, p, q, joins))
				}
			}
		}
	}
}

// implies says that with a control held in a position, the ends of all these
// contacts are one conductor in every setting of the others.
func (w *Web) implies(control int, at []uint8, position int, contacts []*Contact) bool {
	held := append([]uint8(nil), at...)
	held[control] = uint8(position)
	for _, c := range contacts {
		if !c.At(position) && !w.always(c.a, c.b, held, control) {
			return false
		}
	}
	return true
}

func (w *Web) same(s side, control, p, q int, joins [][]*Contact) verify.Finding {
	ref := w.Controls[control]
	one, other := w.control(control).Positions[p], w.control(control).Positions[q]
	f := verify.Finding{
		Severity: diag.Caution,
		Message:  fmt.Sprintf("positions %s and %s of %s do the same", one, other, ref.Name()),
		Settings: []string{ref.Name() + " " + one, ref.Name() + " " + other},
		Cause:    "The same points are joined in both, whatever stands where otherwise.",
		Action:   fmt.Sprintf("find in the drawing what position %s is for; if the two are meant to be alike, nothing needs doing", other),
		Check:    fmt.Sprintf("power off: read across the ways of %s in both positions", ref.Name()),
	}
	for _, k := range joins[q] {
		f.Terminals = append(f.Terminals, k.B)
		f.Evidence = append(f.Evidence, s.quote(k.B))
	}
	for _, k := range joins[p] {
		if !k.At(q) {
			f.Terminals = append(f.Terminals, k.B)
			f.Evidence = append(f.Evidence, s.quote(k.B))
		}
	}
	f.Nets = s.netNames(f.Terminals...)
	f.Evidence = append(f.Evidence, verify.QuotePart(ref.Part))
	return f
}

func nameAll(b *netlist.Book, ts []netlist.TerminalID) []string {
	list := make([]string, len(ts))
	for i, t := range ts {
		list[i] = b.Name(t)
	}
	return list
}

func verb(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}
