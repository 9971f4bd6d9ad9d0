package parts

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// A form says how an element is written: how many ends, and what its figures
// may measure. The first quantity is the one that the element takes from a
// part's line, where deals says so.
type form struct {
	verb       string
	least      int
	most       int
	ends       string // for messages
	quantities []lang.Quantity
	deals      bool
}

var forms = [...]form{
	Resistance:  {"resistance", 2, 2, "two ends", []lang.Quantity{lang.Ohms, lang.Percent, lang.Watts, lang.Volts}, true},
	Capacitance: {"capacitance", 2, 2, "two ends, the positive first where it is polar", []lang.Quantity{lang.Farads, lang.Percent, lang.Volts}, true},
	Track:       {"track", 3, 3, "the anticlockwise end, the wiper and the clockwise end", []lang.Quantity{lang.Ohms, lang.Percent, lang.Watts, lang.Volts}, true},
	Diode:       {"diode", 2, 2, "anode and cathode", []lang.Quantity{lang.Volts, lang.Amperes, lang.Watts}, false},
	Triode:      {"triode", 3, 3, "anode, grid and cathode", nil, false},
	Pentode:     {"pentode", 4, 5, "anode, screen grid, control grid and cathode, and the suppressor grid where it has a pin", nil, false},
	Heater:      {"heater", 2, 2, "two ends", []lang.Quantity{lang.Volts, lang.Amperes, lang.Ohms}, false},
	Lamp:        {"lamp", 2, 2, "two ends", []lang.Quantity{lang.Volts, lang.Amperes, lang.Watts, lang.Ohms}, true},
	Fuse:        {"fuse", 2, 2, "two ends", []lang.Quantity{lang.Amperes, lang.Volts}, true},
	Coil:        {"coil", 2, 2, "two ends", []lang.Quantity{lang.Henries, lang.Ohms, lang.Amperes, lang.Volts}, true},
}

func elementType(verb string) ElementType {
	for t := range forms {
		if forms[t].verb == verb && verb != "" {
			return ElementType(t)
		}
	}
	return 0
}

func (t ElementType) String() string { return forms[t].verb }

// use reads the lines that put something between terminals.
func (d *draft) use(line lang.KindLine) {
	switch l := line.(type) {
	case *lang.Element:
		d.element(l)
	case *lang.Contact:
		d.contact(l)
	case *lang.Pole:
		d.pole(l)
	case *lang.Between:
		d.betweenEnds(l)
	case *lang.Alike:
		d.alikeEnds(l)
	case *lang.Limit:
		d.limit(l)
	case *lang.Origin:
		d.origin(l)
	}
}

func (d *draft) element(l *lang.Element) {
	kind := elementType(l.Verb())
	f := &forms[kind]
	words := d.expand(l.Words)
	if len(words) < f.least {
		if !(d.kind.Counts && d.count == 0) {
			d.bad(l.Span(), "", "%s needs %s", f.verb, f.ends)
		}
		return
	}
	ends := min(len(words), f.most)
	at, ok := d.ends(words[:ends])
	if !ok || !d.noneTwice(words, at) || !d.occupy(words, at, f.verb) {
		return
	}
	e := Element{Type: kind, Ends: at, By: -1, Moves: -1, Place: l.Span()}
	rest := words[ends:]
	switch kind {
	case Capacitance:
		e.Polar, rest = cutWord(rest, "polar")
	case Coil:
		e.Nominal, rest = cutWord(rest, "nominal")
	}
	if e.Figures, ok = d.figures(rest, f.verb, f.quantities, lang.Ohms); !ok {
		return
	}
	if e.By, ok = d.turnedBy(l, kind); !ok {
		return
	}
	if e.Moves, ok = d.moves(l, kind); !ok {
		return
	}
	d.elements = put(d.elements, layered[Element]{e, d.layer, l.Span()}, func(other Element) bool {
		return other.Type == kind && sameSet(other.Ends, at)
	})
}

// cutWord takes a plain word out of a list.
func cutWord(words []lang.Word, plain string) (found bool, rest []lang.Word) {
	is := func(w lang.Word) bool { return lang.Fold(w.Text) == plain }
	if !slices.ContainsFunc(words, is) {
		return false, words
	}
	return true, slices.DeleteFunc(slices.Clone(words), is)
}

// turnedBy finds the control that turns a track.
func (d *draft) turnedBy(l *lang.Element, kind ElementType) (int, bool) {
	if l.By == nil {
		return -1, true
	}
	if kind != Track {
		d.bad(l.By.Place, "", "only a track is turned by something")
		return -1, false
	}
	i := d.findControl(l.By.Text)
	if i < 0 {
		d.missing(d.name, "control", *l.By, d.controlNames())
		return -1, false
	}
	if !d.controls[i].what.Turns {
		d.bad(l.By.Place, fmt.Sprintf("declare it so: `control %s 0%%..100%%`", d.controls[i].what.Name), "a track needs a control that turns, and %s has positions", d.controls[i].what.Name)
		return -1, false
	}
	return i, true
}

// moves finds the control that a coil works.
func (d *draft) moves(l *lang.Element, kind ElementType) (int, bool) {
	if l.Moves == nil {
		return -1, true
	}
	if kind != Coil {
		d.bad(l.Moves.Place, "", "only a coil moves something")
		return -1, false
	}
	return d.stepping(*l.Moves)
}

// figures reads the figures of a line. A bare number is taken as the quantity
// bare. What is no figure, or measures what cannot stand here, is told.
func (d *draft) figures(words []lang.Word, verb string, may []lang.Quantity, bare lang.Quantity) ([]lang.Figure, bool) {
	if len(words) == 0 {
		return nil, true
	}
	read, rest := lang.ReadFigures(words)
	if len(rest) > 0 {
		d.tell(diag.Diagnostic{
			Rule: "bad-figure", Place: rest[0].Place,
			Message: fmt.Sprintf("%s is not a figure, and %s takes figures here", rest[0].Text, verb),
		})
		return nil, false
	}
	list := make([]lang.Figure, len(read))
	for i, r := range read {
		f := r.Figure
		if f.Quantity == lang.Number {
			f.Quantity = bare
		}
		if len(may) == 0 {
			d.tell(diag.Diagnostic{
				Rule: "bad-figure", Place: r.Place,
				Message: fmt.Sprintf("%s takes no figure, and %s is one", verb, f.Text),
			})
			return nil, false
		}
		if !slices.Contains(may, f.Quantity) {
			d.tell(diag.Diagnostic{
				Rule: "bad-figure", Place: r.Place,
				Message: fmt.Sprintf("%s is in %s, and %s takes %s", f.Text, unitName(f.Quantity), verb, unitName(may[0])),
			})
			return nil, false
		}
		if f.Doubt != "" {
			d.tell(diag.Diagnostic{
				Rule: "bad-figure", Severity: diag.Caution, Place: r.Place,
				Message: fmt.Sprintf("%s is read as %s", f.Text, f), Notes: []string{f.Doubt + "."},
			})
		}
		list[i] = f
	}
	return list, true
}

// betweenEnds reads load, volts and dcr.
func (d *draft) betweenEnds(l *lang.Between) {
	words := []lang.Word{l.From, l.To}
	ends, ok := d.ends(words)
	may := []lang.Quantity{lang.Ohms, lang.Percent, lang.Watts}
	if l.Verb() == "volts" {
		may = []lang.Quantity{lang.Volts, lang.Amperes, lang.VoltAmperes, lang.Hertz, lang.Percent}
	}
	figures, read := d.figures(l.Figures, l.Verb(), may, may[0])
	if !ok || !read || !d.noneTwice(words, ends) {
		return
	}
	if !slices.ContainsFunc(figures, func(f lang.Figure) bool { return f.Quantity == may[0] }) {
		d.tell(diag.Diagnostic{
			Rule: "bad-figure", Place: l.Span(),
			Message: fmt.Sprintf("%s needs a figure in %s", l.Verb(), unitName(may[0])),
		})
		return
	}
	b := Between{l.Verb(), ends[0], ends[1], figures, l.Span()}
	d.between = put(d.between, layered[Between]{b, d.layer, l.Span()}, func(other Between) bool {
		return other.Verb == b.Verb && sameSet([]int{other.From, other.To}, ends)
	})
}

func (d *draft) limit(l *lang.Limit) {
	title := lang.Fold(l.Name.Text)
	known := findLimit(title)
	if known == nil {
		d.tell(diag.Diagnostic{
			Rule: "unknown-name", Place: l.Name.Place,
			Message: fmt.Sprintf("there is no limit called %s", l.Name.Text),
			Nearest: nearest(l.Name.Text, LimitNames()),
			Notes:   []string{fmt.Sprintf("The limits are %s.", strings.Join(LimitNames(), ", "))},
		})
		return
	}
	figures, ok := d.figures(l.Figures, title, []lang.Quantity{known.Quantity}, lang.Number)
	if !ok {
		return
	}
	if len(figures) != 1 {
		d.tell(diag.Diagnostic{
			Rule: "bad-figure", Place: l.Span(),
			Message: fmt.Sprintf("%s takes one figure, in %s", title, unitName(known.Quantity)),
		})
		return
	}
	limit := Limit{Name: title, Figure: figures[0], Place: l.Span()}
	if l.Remark != nil {
		limit.Remark = l.Remark.Text
	}
	for _, other := range d.limits {
		if other.layer == d.layer && other.what.Name == title {
			d.twice(l.Name.Place, other.place, "%s is told twice", title)
			return
		}
	}
	d.limits = put(d.limits, layered[Limit]{limit, d.layer, l.Span()}, func(other Limit) bool { return other.Name == title })
}

// origin reads a source line. Those of a kind take the place of those that it
// took over; a kind may have several.
func (d *draft) origin(l *lang.Origin) {
	o := Origin{Status: l.Status}
	if l.Remark != nil {
		o.Remark = l.Remark.Text
	}
	d.origins = slices.DeleteFunc(d.origins, func(other layered[Origin]) bool { return other.layer < d.layer })
	d.origins = append(d.origins, layered[Origin]{o, d.layer, l.Span()})
}

// alikeEnds reads what may be exchanged.
func (d *draft) alikeEnds(l *lang.Alike) {
	a, b := d.expand(l.These), d.expand(l.Those)
	if d.kind.Counts && d.count == 0 && len(a)+len(b) < 2 {
		return
	}
	these, ok := d.ends(a)
	those, found := d.ends(b)
	if !ok || !found {
		return
	}
	if len(these) != len(those) {
		d.bad(l.Span(), "name as many on both sides, in the order in which they answer each other", "%d %s cannot be exchanged with %d", len(these), plural(len(these), "end"), len(those))
		return
	}
	all := slices.Concat(these, those)
	if !d.noneTwice(slices.Concat(a, b), all) {
		return
	}
	alike := Alike{These: these, Those: those, Place: l.Span()}
	switch l.But {
	case "phase":
		alike.But = Phase
	case "hum":
		alike.But = Hum
	}
	d.alike = put(d.alike, layered[Alike]{alike, d.layer, l.Span()}, func(other Alike) bool {
		return sameSet(slices.Concat(other.These, other.Those), all)
	})
}
