package parts

import (
	"fmt"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// deal gives each element the figure of its own unit. An element whose own
// line has one keeps it; one figure on the part's line serves all the others,
// as many as there are others are dealt out in order.
func (in *Instance) deal() {
	k := in.Kind
	in.Values = make([]lang.Figure, len(k.Elements))
	for i := range k.Elements {
		e := &k.Elements[i]
		for _, q := range valueQuantities(e.Type) {
			if f, ok := firstOf(e.Figures, q); ok {
				in.Values[i] = f
				break
			}
		}
	}
	var dealt [lang.VoltAmperes + 1]bool
	for i, f := range in.Figures {
		if in.strange(i) || dealt[f.Quantity] {
			continue
		}
		dealt[f.Quantity] = true
		in.dealOne(f.Quantity, i)
	}
}

// strange tells of a figure that can be no part's, and reports whether to pass
// over it; one that may have been meant otherwise is told, and taken as read.
func (in *Instance) strange(i int) bool {
	f := in.Figures[i]
	m := diag.Diagnostic{Rule: "bad-figure", Severity: diag.Fault, Place: in.Places[i]}
	valued := len(in.Kind.Elements) > 0 || len(in.Kind.Windings) > 0
	switch {
	case f.Value < 0:
		m.Message = fmt.Sprintf("%s is below nought", f.Text)
	case valued && (f.Quantity == lang.Metres || f.Quantity == lang.SquareMetres || f.Quantity == lang.AWG || f.Quantity == lang.SWG):
		m.Message = fmt.Sprintf("%s is the size of a wire, and says nothing of %s", f.Text, article(in.Kind.Name))
	case f.Doubt != "":
		m.Severity = diag.Caution
		m.Message = fmt.Sprintf("%s is read as %s", f.Text, f)
	default:
		return false
	}
	if f.Doubt != "" {
		m.Notes = []string{f.Doubt + "."}
	}
	in.Mistakes = append(in.Mistakes, m)
	return m.Severity == diag.Fault
}

// valueQuantities are what an element's value may measure, the first first.
func valueQuantities(t ElementType) []lang.Quantity {
	switch t {
	case Coil:
		return []lang.Quantity{lang.Henries, lang.Ohms}
	case Diode, Triode, Pentode:
		return nil
	}
	return forms[t].quantities[:1]
}

// takers are the elements that take a figure of this quantity from the part's
// line. Ohms are a coil's only where the kind has no resistance to take them.
func (k *Kind) takers(q lang.Quantity) []int {
	var list []int
	for i := range k.Elements {
		e := &k.Elements[i]
		if len(forms[e.Type].quantities) == 0 || !forms[e.Type].deals {
			continue
		}
		first := forms[e.Type].quantities[0] == q
		wire := e.Type == Coil && q == lang.Ohms && !k.has(Resistance) && !k.has(Track)
		if _, own := firstOf(e.Figures, q); !own && (first || wire) {
			list = append(list, i)
		}
	}
	return list
}

// dealOne deals the figures of one quantity; first is the first of them.
func (in *Instance) dealOne(q lang.Quantity, first int) {
	takers := in.Kind.takers(q)
	given := 0
	for _, f := range in.Figures {
		if f.Quantity == q {
			given++
		}
	}
	must := q == lang.Ohms || q == lang.Farads || q == lang.Henries
	switch {
	case len(takers) == 0 && must:
		in.Mistakes = append(in.Mistakes, in.noTaker(q, first))
	case len(takers) == 0:
		// A rating.
	case given == 1 || given == len(takers):
		n := 0
		for _, f := range in.Figures[first:] {
			if f.Quantity != q {
				continue
			}
			if given == 1 {
				for _, t := range takers {
					in.give(t, f)
				}
				break
			}
			in.give(takers[n], f)
			n++
		}
	case must:
		in.Mistakes = append(in.Mistakes, in.misdealt(q, first, given, len(takers)))
	}
}

// give sets an element's value; a coil's ohms give way to its henries.
func (in *Instance) give(element int, f lang.Figure) {
	old := in.Values[element]
	if in.Kind.Elements[element].Type == Coil && f.Quantity == lang.Ohms && old.Quantity == lang.Henries {
		return
	}
	in.Values[element] = f
}

func (in *Instance) noTaker(q lang.Quantity, at int) diag.Diagnostic {
	k := in.Kind
	f := in.Figures[at]
	m := diag.Diagnostic{
		Rule: "bad-figure", Severity: diag.Fault, Place: in.Places[at],
		Message: fmt.Sprintf("%s is in %s, and %s has nothing that takes %s", f.Text, unitName(q), article(k.Name), unitName(q)),
	}
	written, _ := lang.ReadFigure(f.Text)
	bare := written.Quantity == lang.Number
	if bare {
		m.Notes = []string{"A number without a unit is read as ohms."}
	}
	switch {
	case bare && k.has(Capacitance):
		m.Mend = []string{fmt.Sprintf("give the unit: `%sp`, `%sn` or `%su`", f.Text, f.Text, f.Text)}
	case q == lang.Ohms && len(k.Windings) > 0:
		m.Mend = []string{fmt.Sprintf("say between which ends: `{ load %s %s %s }`", k.end(0), k.end(-1), f.Text)}
	case bare:
		m.Mend = []string{fmt.Sprintf("give the unit, as in `%sV`", f.Text)}
	default:
		for i := range k.Elements {
			if own, ok := firstOf(k.Elements[i].Figures, q); ok {
				m.Message = fmt.Sprintf("%s cannot be given here: the kind %s itself says %s", f.Text, k.Name, own.Text)
				break
			}
		}
	}
	return m
}

// end is the name of the first end of the first winding, or of its last.
func (k *Kind) end(which int) string {
	ends := k.Windings[0].Ends
	if which < 0 {
		which = len(ends) - 1
	}
	return k.Terminals[ends[which]].Name
}

func (in *Instance) misdealt(q lang.Quantity, first, given, takers int) diag.Diagnostic {
	last := first
	for i := range in.Figures {
		if in.Figures[i].Quantity == q {
			last = i
		}
	}
	m := diag.Diagnostic{
		Rule: "bad-figure", Severity: diag.Fault, Place: in.Places[first].To(in.Places[last]),
		Message: fmt.Sprintf("%d figures in %s are given, and %s takes %d", given, unitName(q), article(in.Kind.Name), takers),
	}
	if takers > 1 {
		m.Mend = []string{fmt.Sprintf("give one figure for all, or %d in order", takers)}
	}
	return m
}

func firstOf(list []lang.Figure, q lang.Quantity) (lang.Figure, bool) {
	for _, f := range list {
		if f.Quantity == q {
			return f, true
		}
	}
	return lang.Figure{}, false
}

// WireOhms is the resistance of a coil's wire, where the coil's own line or
// the part's figures tell it: the 180R of "choke 10H 180R". What is nominal,
// as the 8 ohm of a loudspeaker, tells nothing of the wire.
func (k *Kind) WireOhms(element int, figures []lang.Figure) (lang.Figure, bool) {
	if k.Elements[element].Type != Coil || k.Elements[element].Nominal {
		return lang.Figure{}, false
	}
	if f, ok := firstOf(k.Elements[element].Figures, lang.Ohms); ok {
		return f, true
	}
	var ohms []lang.Figure
	for _, f := range figures {
		if f.Quantity == lang.Ohms {
			ohms = append(ohms, f)
		}
	}
	for n, t := range k.takers(lang.Ohms) {
		if t == element && len(ohms) == 1 {
			return ohms[0], true
		}
		if t == element && n < len(ohms) {
			return ohms[n], true
		}
	}
	return lang.Figure{}, false
}
