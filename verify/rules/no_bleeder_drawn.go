package rules

import (
	"fmt"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var noBleederDrawn = verify.Rule{
	Name:   "no-bleeder-drawn",
	Title:  "the plan has nothing that discharges a capacitor",
	Judges: verify.Plan,
	Look:   lookNoBleederDrawn,
	Text: `
In the plan no resistance leads from one end of a high-voltage capacitor to
the other. It keeps its charge after the power is off, for hours or for days.
A running amplifier discharges its capacitors through the warm valves in
seconds; with a valve out, a fuse blown or the standby switch open, nothing
does, and that is when hands go in.

    part D1  diode
    part C1  electrolytic 47u 450V
    part AC, GND post
    net ac     AC D1.a
    net ht     D1.k C1.+
    net ground C1.- GND

A bleeder across the reservoir is 100k to 470k, 2 W or more, rated for the
voltage too: above some 350 V use two in series (common practice, no source).
Looked at are capacitors rated above 60 V that are polarised or have 300 nF or
more: 60 V is the highest steady direct voltage of the lowest class of
IEC 62368-1, Tables 4 and 5, read in translation. Counted as a way are
resistors, tracks, coils and windings; fuses, lamps, valves and switches are
not, since each can be open.

A bleeder fails open unseen. Always measure before you touch: your own meter,
both ends of every reservoir, under 30 V before hands go in. Discharge through
10k to 20k on an insulated lead, clipped to the chassis first, and never with
a screwdriver. The voltage creeps back: measure again.
`,
}

func lookNoBleederDrawn(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	direct := wired(c.Planned())
	steady := direct.clone().steady(c.Planned())
	perhaps := steady.clone().through(c.Planned(), parts.Fuse, parts.Lamp, parts.Heater).throughContacts(c.Planned(), nil)
	uncertain := func(plus, minus netlist.TerminalID) bool { return perhaps.of(plus) == perhaps.of(minus) }
	tellCharged(book, planNets(direct, book), steady, nil, uncertain, report)
}

// tellCharged tells the capacitors that nothing steady discharges, those with
// the same two ends in one finding. keep, unless nil, says which are looked
// at; uncertain says that there is a way after all, over something that can
// be open.
func tellCharged(book *netlist.Book, nets []netlist.NetID, steady conductors, keep, uncertain func(plus, minus netlist.TerminalID) bool, report func(verify.Finding)) {
	type pair struct{ plus, minus netlist.TerminalID }
	found := map[pair]*verify.Finding{}
	holds := map[pair][]*netlist.Part{}
	var order []pair
	for _, p := range book.Parts {
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			if e.Type != parts.Capacitance || !keepsCharge(p, i) {
				continue
			}
			plus, minus := p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]]
			key := pair{steady.of(plus), steady.of(minus)}
			if nets[plus] == netlist.NoNet || nets[minus] == netlist.NoNet || key.plus == key.minus || keep != nil && !keep(plus, minus) {
				continue
			}
			f := found[key]
			if f == nil {
				f = &verify.Finding{
					Severity:  diag.Caution,
					Terminals: []netlist.TerminalID{plus, minus}, Nets: netNames(book, nets[plus], nets[minus]),
					Cause: "It keeps a charge that can kill after the power is off, and nothing shows it.",
					Check: "measure it with your own meter before you touch anything, and discharge it through 10k to 20k",
				}
				if uncertain(plus, minus) {
					f.Cause = "The only way leads through a contact, a fuse, a lamp or a heater: while that is open, it keeps a charge that can kill."
				}
				found[key] = f
				order = append(order, key)
			}
			if list := holds[key]; len(list) == 0 || list[len(list)-1] != p {
				holds[key] = append(list, p)
				f.Evidence = append(f.Evidence, verify.QuotePart(p))
			}
		}
	}
	for _, key := range order {
		f := found[key]
		bleeder := practice("bleeder")
		f.Message = fmt.Sprintf("nothing is certain to discharge %s: no resistance leads from %s to %s",
			verify.And(refs(holds[key])), f.Nets[0], f.Nets[1])
		f.Action = fmt.Sprintf("add a bleeder from %s to %s: %s %s", f.Nets[0], f.Nets[1], bleeder.Figure, bleeder.Cited())
		f.Evidence = append(f.Evidence, quotePlan(book, f.Terminals[0]))
		report(*f)
	}
}

// keepsCharge says that a capacitance can hold more than a touchable voltage:
// by its rating and, where it is not polarised, by its size.
func keepsCharge(p *netlist.Part, element int) bool {
	const large = 300e-9 // farads: IEC 62368-1 Table 5, 60 V for 300 nF or more
	if ratedVolts(p) <= touchableVolts {
		return false
	}
	if p.Kind.Elements[element].Polar {
		return true
	}
	if element >= len(p.Values) {
		return false
	}
	v := p.Values[element]
	return v.Quantity == lang.Farads && v.Value >= large
}
