package parts

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// An Instance is a kind as the line of one part uses it. Parts without a
// block of their own share their kind.
type Instance struct {
	Kind *Kind // nil where no kind has the name
	// Values has the figure of each element of the kind: ohms of a resistance
	// or track, farads, henries, the volts of a lamp or heater, the amperes of
	// a fuse. Text is "" where none is known. A coil without henries has its
	// ohms here; see also [Kind.WireOhms].
	Values  []lang.Figure
	Figures []lang.Figure // all figures of the line in the order written, ratings among them, the count not
	Places  []diag.Place  // where each of the figures stands
	Words   []string      // the plain words, as the kind spells them
	// Mistakes are in the part's line and block; the kind's own are told by
	// [Library.Settle].
	Mistakes []diag.Diagnostic
}

// ForPart makes the kind of a part's line: with its own block, and with the
// bare number for its count where the kind has one. Figures are dealt out to
// the elements, and plain words are checked.
func (l *Library) ForPart(p *lang.Part) Instance {
	var in Instance
	e := l.find(lang.Fold(p.Kind.Text))
	if e == nil {
		in.Mistakes = []diag.Diagnostic{l.unknownKindOf(p)}
		return in
	}
	e.read()
	figures, words := lang.ReadFigures(p.Words)
	count := 0
	if e.kind.Counts || countsTerminals(p.Lines) {
		count, figures = in.takeCount(e, p, figures)
		if count == 0 {
			in.Kind = e.kind
			in.Values = make([]lang.Figure, len(e.kind.Elements))
			return in
		}
	}
	in.Kind = e.kind
	if len(p.Lines) > 0 {
		in.Kind, in.Mistakes = l.withBlock(e, p.Lines, count)
		if len(in.Kind.Terminals) == 0 && !in.Kind.Any && len(in.Mistakes) == 0 {
			in.Mistakes = append(in.Mistakes, noTerminals(e, p))
		}
	} else {
		if count > 0 {
			var mistakes []diag.Diagnostic
			if in.Kind, mistakes = e.withCount(count); len(e.mistakes) == 0 {
				in.Mistakes = append(in.Mistakes, mistakes...)
			}
		}
		if len(in.Kind.Terminals) == 0 && !in.Kind.Any && len(e.mistakes) == 0 {
			in.Mistakes = append(in.Mistakes, noTerminals(e, p))
		}
	}
	in.take(figures, words)
	return in
}

// ReadLine reads figures and words as they may stand after this kind on a
// part's line or in a fit fact. It has no count and no block.
func (k *Kind) ReadLine(line []lang.Word) Instance {
	in := Instance{Kind: k}
	figures, words := lang.ReadFigures(line)
	in.take(figures, words)
	return in
}

// take deals figures and words of the line to the kind.
func (in *Instance) take(figures []lang.PlacedFigure, words []lang.Word) {
	if len(figures) > 0 {
		in.Figures = make([]lang.Figure, len(figures))
		in.Places = make([]diag.Place, len(figures))
		for i, f := range figures {
			if f.Quantity == lang.Number {
				f.Quantity = lang.Ohms
			}
			in.Figures[i], in.Places[i] = f.Figure, f.Place
		}
	}
	in.deal()
	in.plainWords(words)
}

// takeCount finds the bare number that says how many terminals there are.
func (in *Instance) takeCount(e *entry, p *lang.Part, figures []lang.PlacedFigure) (int, []lang.PlacedFigure) {
	for i, f := range figures {
		if f.Quantity != lang.Number {
			continue
		}
		n := int(f.Value)
		if float64(n) != f.Value || n < 1 || n > lang.MaxRange {
			in.Mistakes = append(in.Mistakes, diag.Diagnostic{
				Rule: "bad-figure", Severity: diag.Fault, Place: f.Place,
				Message: fmt.Sprintf("%s counts its terminals, from 1 to %d, and %s is not such a number", e.Name, lang.MaxRange, f.Text),
			})
			return 0, figures
		}
		return n, slices.Delete(slices.Clone(figures), i, i+1)
	}
	in.Mistakes = append(in.Mistakes, diag.Diagnostic{
		Rule: "bad-figure", Severity: diag.Fault, Place: p.Kind.Place,
		Message: fmt.Sprintf("%s does not say how many terminals it has", refs(p)),
		Mend:    []string{fmt.Sprintf("give the number after the kind: `part %s %s 20`", refs(p), p.Kind.Text)},
	})
	return 0, figures
}

func refs(p *lang.Part) string {
	if len(p.Refs) == 0 {
		return "the part"
	}
	return p.Refs[0].Text
}

func noTerminals(e *entry, p *lang.Part) diag.Diagnostic {
	return diag.Diagnostic{
		Rule: "bad-kind", Severity: diag.Fault, Place: p.Kind.Place,
		Message: fmt.Sprintf("%s has no terminals", refs(p)),
		Notes:   []string{fmt.Sprintf("The ends of %s are told in the part's own block.", article(e.Name))},
		Mend:    []string{fmt.Sprintf("name its ends: `part %s %s { winding primary 0 230 }`", refs(p), p.Kind.Text)},
	}
}

// withCount gives the kind with its terminals numbered to count, and what is
// wrong with it at this count. Parts of equal count share it.
func (e *entry) withCount(count int) (*Kind, []diag.Diagnostic) {
	e.lock.Lock()
	defer e.lock.Unlock()
	if c, ok := e.counted[count]; ok {
		return c.kind, c.mistakes
	}
	var c counted
	c.kind, c.mistakes = compile(e.head(), e.layers, count)
	if e.counted == nil {
		e.counted = make(map[int]counted)
	}
	e.counted[count] = c
	return c.kind, c.mistakes
}

// withBlock gives the kind with a part's own lines on top. Kinds that the
// block is like are looked up where the part is.
func (l *Library) withBlock(e *entry, lines []lang.KindLine, count int) (*Kind, []diag.Diagnostic) {
	stack := slices.Clone(e.layers)
	var mistakes []diag.Diagnostic
	for _, w := range likeWords(lines) {
		other := l.find(lang.Fold(w.Text))
		if other == nil {
			mistakes = append(mistakes, unknownKind(w, l))
			continue
		}
		other.read()
		stack = append(stack, other.layers...)
	}
	for _, w := range declared(lines, "also") {
		mistakes = append(mistakes, diag.Diagnostic{
			Rule: "bad-kind", Severity: diag.Fault, Place: w.Place,
			Message: fmt.Sprintf("also gives a kind another name, and %s is in the block of a part", w.Text),
		})
	}
	k, more := compile(e.head(), append(stack, lines), count)
	return k, append(mistakes, more...)
}

func (e *entry) head() Kind {
	return Kind{Name: e.Name, Also: e.Also, Title: e.Title, Place: e.kind.Place}
}

// plainWords checks the words of the line against those of the kind.
func (in *Instance) plainWords(words []lang.Word) {
	for _, w := range words {
		key := lang.Fold(w.Text)
		i := slices.IndexFunc(in.Kind.Words, func(known string) bool { return lang.Fold(known) == key })
		if i >= 0 {
			in.Words = append(in.Words, in.Kind.Words[i])
			continue
		}
		in.Mistakes = append(in.Mistakes, in.strangeWord(w))
	}
}

// strangeWord tells of a word that the kind does not know.
func (in *Instance) strangeWord(w lang.Word) diag.Diagnostic {
	k := in.Kind
	m := diag.Diagnostic{Rule: "unknown-name", Severity: diag.Fault, Place: w.Place}
	switch law := lang.Fold(w.Text); {
	case w.Text[0] >= '0' && w.Text[0] <= '9':
		m.Rule = "bad-figure"
		m.Message = fmt.Sprintf("%s cannot be read as a figure", w.Text)
		return m
	case (law == "a" || law == "b" || law == "c") && k.has(Track):
		// Published lists of the letters contradict each other: they
		// differ between old European and American or Asian makers.
		m.Message = fmt.Sprintf("%s alone does not say which law the track has", w.Text)
		m.Notes = []string{"The letters A and B have opposite meanings in old European and in American or Asian marking."}
		m.Mend = []string{"write `lin`, `log` or `antilog`: at half travel a log track has 10 to 15 % of its ohms below the wiper"}
		return m
	case len(k.Words) == 0:
		m.Message = fmt.Sprintf("%s says nothing of %s", w.Text, article(k.Name))
		return m
	}
	m.Message = fmt.Sprintf("%s says nothing of %s", w.Text, article(k.Name))
	m.Nearest = nearest(w.Text, k.Words)
	m.Notes = []string{fmt.Sprintf("Words that may stand here: %s.", strings.Join(k.Words, ", "))}
	return m
}

func (k *Kind) has(t ElementType) bool {
	return slices.ContainsFunc(k.Elements, func(e Element) bool { return e.Type == t })
}
