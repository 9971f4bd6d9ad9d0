package states

import (
	"fmt"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

// reservoirVolts is the rating, in volts, from which a polarised capacitor is
// taken to hold a charge that matters: below the 60 V of IEC 62368-1, Table 4,
// so that a 50 V part on a supply of its rating is not left out.
const reservoirVolts = 50

// A lostBleeder is a reservoir that something discharges in some settings and
// nothing in others.
type lostBleeder struct {
	caps        []*netlist.Part
	plus, minus netlist.TerminalID
	when        Table // in which nothing discharges it
}

// lostBleeders finds the reservoirs that switches cut off from their bleeder.
// Those with the same two ends are one.
func (s side) lostBleeders() []lostBleeder {
	h := s.harness()
	w := newWeb(h, s.Setting, steady(h))
	plain := NewWeb(h, s.Setting)
	ground := plain.ground()
	anodes, cathodes := map[int32]bool{}, map[int32]bool{}
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			if e := &as.Kind.Elements[i]; e.Type == parts.Diode {
				anodes[plain.conductor[p.Terminals[e.Ends[0]]]] = true
				cathodes[plain.conductor[p.Terminals[e.Ends[1]]]] = true
			}
		}
	}
	// On a rectifier's output: the plus of a supply, or the minus of one below
	// ground.
	rectified := func(plus, minus netlist.TerminalID) bool {
		return cathodes[plain.conductor[plus]] || anodes[plain.conductor[minus]] && ground[plain.conductor[plus]]
	}
	var list []lostBleeder
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			if e.Type != parts.Capacitance || !e.Polar {
				continue
			}
			plus, minus := p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]]
			a, b := w.conductor[plus], w.conductor[minus]
			if a == b || ratedVolts(as.Figures) < reservoirVolts && !rectified(plus, minus) {
				continue
			}
			if k := slices.IndexFunc(list, func(l lostBleeder) bool { return w.conductor[l.plus] == a && w.conductor[l.minus] == b }); k >= 0 {
				if !slices.Contains(list[k].caps, p) {
					list[k].caps = append(list[k].caps, p)
				}
				continue
			}
			when := w.tableWhere(w.Between(a, b), w.at(s.Setting), func(walk *Walk) bool { return !walk.Joined(a, b) })
			list = append(list, lostBleeder{[]*netlist.Part{p}, plus, minus, when})
		}
	}
	return slices.DeleteFunc(list, func(l lostBleeder) bool { return l.when.Never() || l.when.Always() })
}

// ratedVolts is the voltage rating among a part's figures, 0 where there is none.
func ratedVolts(figures []lang.Figure) float64 {
	for _, f := range figures {
		if f.Quantity == lang.Volts {
			return f.Value
		}
	}
	return 0
}

// tell makes a finding of a lost bleeder.
func (l *lostBleeder) tell(s side) verify.Finding {
	book := s.Book()
	refs := make([]string, len(l.caps))
	notes := []diag.Note{s.quote(l.plus)}
	for i, p := range l.caps {
		refs[i] = p.Ref
		notes = append(notes, verify.QuotePart(p))
	}
	plus, minus := book.Name(l.plus), book.Name(l.minus)
	return verify.Finding{
		Severity:  diag.Caution,
		Message:   fmt.Sprintf("nothing discharges %s %s", verify.And(refs), l.when.when()),
		Terminals: []netlist.TerminalID{l.plus, l.minus}, Nets: s.netNames(l.plus, l.minus), Settings: l.when.settings(),
		Evidence: append(notes, quoteControls(&l.when)...),
		Cause: join(fmt.Sprintf("The way that discharges it leads through a contact, and with that open no resistance leads from %s to %s.", plus, minus),
			l.when.looked(), "It then keeps a charge that can kill for hours after the power is off, and nothing shows it."),
		Action: fmt.Sprintf("put a bleeder on this side of the contact as well, straight from %s to %s: 100k to 470k, 2 W or more (common practice, no source)", plus, minus),
		Check:  fmt.Sprintf("measure it with your own meter before you touch anything, %s, and discharge it through 10k to 20k", l.when.when()),
	}
}
