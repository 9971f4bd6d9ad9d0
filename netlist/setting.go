package netlist

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// PositionOf is where a control stands in a setting: where it was put, or
// where it rests.
func (s Setting) PositionOf(ref ControlRef) Position {
	if p, ok := s[ref]; ok {
		return p
	}
	return Position{}
}

// With is the setting with some controls put elsewhere.
func (s Setting) With(other Setting) Setting {
	if len(other) == 0 {
		return s
	}
	merged := maps.Clone(s)
	if merged == nil {
		merged = Setting{}
	}
	for ref, p := range other {
		merged[ref] = p
	}
	return merged
}

// PositionName is what a position of a control is called.
func (c ControlRef) PositionName(p Position) string {
	control := &c.Part.Kind.Controls[c.Control]
	switch {
	case p.Plug != nil:
		return p.Plug.Ref
	case control.Turns && !p.Known:
		return "not set"
	case control.Turns:
		return fmt.Sprintf("%g%%", p.Turn*100)
	}
	return control.Positions[p.Index]
}

// Name is how a control is called: the part's reference, with the control's
// name where the part has several.
func (c ControlRef) Name() string {
	if len(c.Part.Kind.Controls) == 1 {
		return c.Part.Ref
	}
	return c.Part.Ref + "." + c.Part.Kind.Controls[c.Control].Name
}

// set puts controls in positions from here on.
func (w *worker) set(s *lang.Set) {
	for _, pair := range s.Pairs {
		for _, to := range w.position(pair) {
			to.step = w.fact.Index
			w.log.sets = append(w.log.sets, to)
		}
	}
}

// position reads a pair of a control and its position; a range of parts is
// several controls.
func (b *builder) position(pair lang.Pair) []loggedSet {
	var out []loggedSet
	for _, word := range b.expand([]lang.Word{pair.Left}) {
		ref, name, _ := strings.Cut(word.Text, ".")
		part := b.Part(ref)
		if part == nil {
			b.unknownPart(ref, word.Place, b.nearestRef(ref))
			continue
		}
		if control, p, ok := b.positionOf(part, name, word, pair.Right); ok {
			out = append(out, loggedSet{ref: ControlRef{part, control}, to: p})
		}
	}
	return out
}

func (b *builder) positionOf(part *Part, name string, word, position lang.Word) (int, Position, bool) {
	controls := part.Kind.Controls
	if len(controls) == 0 {
		b.mistake(diag.Diagnostic{Rule: "no-such-control", Place: word.Place,
			Message: fmt.Sprintf("%s has nothing to turn, push or plug", part.Ref)})
		return 0, Position{}, false
	}
	candidates := make([]int, 0, len(controls))
	for i, c := range controls {
		if name == "" || strings.EqualFold(c.Name, name) {
			candidates = append(candidates, i)
		}
	}
	if len(candidates) == 0 {
		names := controlNames(controls)
		d := diag.Diagnostic{Rule: "no-such-control", Place: word.Place,
			Message: fmt.Sprintf("%s has no control called %s", part.Ref, name),
			Notes:   []string{fmt.Sprintf("%s has %s.", part.Ref, parts.Listed(names))}}
		if near, ok := lang.Nearest(name, names); ok {
			d.Nearest = part.Ref + "." + near
		}
		b.mistake(d)
		return 0, Position{}, false
	}
	var fits []int
	var at Position
	for _, i := range candidates {
		if p, ok := b.readPosition(&controls[i], position.Text); ok {
			fits, at = append(fits, i), p
		}
	}
	switch {
	case len(fits) == 1:
		return fits[0], at, true
	case len(fits) > 1:
		b.mistake(diag.Diagnostic{Rule: "no-such-control", Place: word.Place,
			Message: fmt.Sprintf("%s has more than one control with a position %s", part.Ref, position.Text),
			Mend:    []string{fmt.Sprintf("say which: %s.%s %s", part.Ref, controls[fits[0]].Name, position.Text)}})
		return 0, Position{}, false
	}
	var positions []string
	for _, i := range candidates {
		if controls[i].Turns {
			positions = append(positions, "0% to 100%", "ccw", "cw")
		}
		positions = append(positions, controls[i].Positions...)
	}
	d := diag.Diagnostic{Rule: "no-such-position", Place: position.Place,
		Message: fmt.Sprintf("%s has no position %s", part.Ref, position.Text),
		Notes:   []string{fmt.Sprintf("Its positions: %s.", strings.Join(positions, ", "))}}
	d.Nearest, _ = lang.Nearest(position.Text, positions)
	b.mistake(d)
	return 0, Position{}, false
}

func controlNames(controls []parts.Control) []string {
	names := make([]string, len(controls))
	for i, c := range controls {
		names[i] = c.Name
	}
	return names
}

// readPosition reads a position of a control. Any plug can be put in a jack:
// its contacts are then as with any plug in.
func (b *builder) readPosition(c *parts.Control, text string) (Position, bool) {
	if c.Turns {
		switch lang.Fold(text) {
		case "ccw":
			return Position{Known: true}, true
		case "cw":
			return Position{Turn: 1, Known: true}, true
		}
		f, ok := lang.ReadFigure(text)
		if ok && f.Quantity == lang.Percent && f.Value >= 0 && f.Value <= 100 {
			return Position{Turn: f.Value / 100, Known: true}, true
		}
		return Position{}, false
	}
	i := slices.IndexFunc(c.Positions, func(p string) bool { return strings.EqualFold(p, text) })
	if i >= 0 {
		return Position{Index: i, Known: true}, true
	}
	if plug := b.Part(text); plug != nil && c.Name == "plug" && len(c.Positions) > 1 {
		// In a three-pole jack a two-pole plug is the position "mono", and a
		// plug with a ring of its own "stereo".
		poles := "mono"
		if plug.Called("ring") != NoTerminal {
			poles = "stereo"
		}
		at := max(slices.Index(c.Positions, poles), 1)
		return Position{Index: at, Known: true, Plug: plug}, true
	}
	return Position{}, false
}

// reading keeps what the meter said, with the bench of its moment.
func (w *worker) reading(s *lang.Reading) {
	words := s.Words
	if len(words) > 0 && strings.EqualFold(words[0].Text, "probes") {
		w.probes(s)
		return
	}
	if len(words) < 3 {
		w.mistake(diag.Diagnostic{Rule: "bad-figure", Place: s.Span(),
			Message: "a reading is the red probe, the black probe and what the meter said",
			Mend:    []string{"write it so: reading V1.2 CH.star 1.03M"}})
		return
	}
	ids, _ := w.points(words[:2])
	r := &Reading{Step: w.fact.Index, Fact: w.fact, With: Setting{}}
	if s.Remark != nil {
		r.Remark = s.Remark.Text
	}
	if !w.readValue(words[2:], r) {
		return
	}
	for _, pair := range s.With {
		w.with(pair, r)
	}
	if len(ids) < 2 {
		return
	}
	r.Red, r.Black = ids[0], ids[1]
	w.Readings = append(w.Readings, r)
	w.log.tests = append(w.log.tests, r)
}

var signs = map[string]string{
	"open": "open", "ol": "open", "rising": "rising", "buzz": "buzz", "silent": "silent",
}

func (w *worker) readValue(words []lang.Word, r *Reading) bool {
	place := words[0].Place.To(words[len(words)-1].Place)
	if len(words) == 1 {
		if sign, ok := signs[lang.Fold(words[0].Text)]; ok {
			r.Sign = sign
			return true
		}
	}
	if len(words) > 1 && lang.Fold(words[0].Text) == "over" {
		r.Sign = "over"
		words = words[1:]
	}
	figures, rest := lang.ReadFigures(words)
	if len(figures) == 1 && len(rest) == 0 {
		r.Value = figures[0].Figure
		if r.Value.Quantity == lang.Number {
			r.Value.Quantity = lang.Ohms
		}
		switch r.Value.Quantity {
		case lang.Ohms, lang.Volts, lang.Amperes, lang.Farads:
			return true
		}
	}
	w.mistake(diag.Diagnostic{Rule: "bad-figure", Place: place,
		Message: fmt.Sprintf("%s is not what a meter says", place.Text()),
		Notes:   []string{"A meter says a figure (1.03M, 47, 12.4V), open or OL, over 20M, rising, buzz or silent."}})
	return false
}

// probes keeps what the meter shows with its probes together.
func (w *worker) probes(s *lang.Reading) {
	r := &Reading{}
	if len(s.Words) < 2 || !w.readValue(s.Words[1:], r) {
		if len(s.Words) < 2 {
			w.mistake(diag.Diagnostic{Rule: "bad-figure", Place: s.Span(),
				Message: "what does the meter show with its probes together?", Mend: []string{"write it so: reading probes 0.2"}})
		}
		return
	}
	if r.Sign != "" || r.Value.Quantity != lang.Ohms {
		w.mistake(diag.Diagnostic{Rule: "bad-figure", Place: s.Words[1].Place,
			Message: "probes held together read a few tenths of an ohm", Mend: []string{"write it so: reading probes 0.2"}})
		return
	}
	w.log.probes = append(w.log.probes, loggedProbes{r.Value.Value, w.fact.Index})
}

// ReadSetting reads pairs of a control and its position as a question names
// them. The mistakes say what could not be read.
func (b *Book) ReadSetting(pairs []lang.Pair) (Setting, []diag.Diagnostic) {
	book := *b
	book.Mistakes = nil
	reader := &builder{Book: &book, untold: map[string]bool{}}
	s := Setting{}
	for _, pair := range pairs {
		for _, to := range reader.position(pair) {
			s[to.ref] = to.to
		}
	}
	reader.reportUnknownParts()
	return s, book.Mistakes
}
