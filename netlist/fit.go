package netlist

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// A placing is one leg at one place.
type placing struct {
	leg, at TerminalID
	place   diag.Place
}

// fitWords is what the words of a fit fact came to.
type fitWords struct {
	absent, turned bool
	kind           *parts.Kind
	figures        []lang.Figure
	words          []string
	placings       []placing
	ok             bool
}

// fit says how a part really sits, or what it really is. Without words it is
// as planned; with words, only what they say changes.
func (w *worker) fit(s *lang.Fit) {
	for _, ref := range w.expand(s.Refs) {
		part := w.Part(ref.Text)
		if part == nil {
			w.unknownPart(ref.Text, ref.Place, w.nearestRef(ref.Text))
			continue
		}
		said := w.fitWords(part, s)
		if !said.ok {
			continue
		}
		if len(said.placings) > 0 && len(s.Refs) > 1 {
			w.mistake(diag.Diagnostic{Rule: "unclear-end", Place: said.placings[0].place,
				Message: "places can be given for one part at a time",
				Mend:    []string{"write a fit line for each part"}})
			return
		}
		w.fitPart(part, s, said)
	}
}

func (w *worker) fitPart(part *Part, s *lang.Fit, said fitWords) {
	next := Fitting{}
	if len(s.Words) > 0 {
		if before := w.fitting(part); before != nil {
			next = *before
		}
	}
	next.Fact, next.Absent = w.fact, said.absent
	if said.kind != nil || len(said.figures) > 0 || len(said.words) > 0 || said.absent {
		next.Told, next.Reason = w.fact, ""
	}
	if s.Remark != nil {
		next.Reason = s.Remark.Text
	}
	if said.kind != nil {
		next.Kind, next.Figures, next.Words = said.kind, nil, nil
	}
	if len(said.figures) > 0 {
		next.Figures = said.figures
	}
	if len(said.words) > 0 {
		next.Words = said.words
	}
	switch {
	case said.absent:
		next = Fitting{Fact: w.fact, Told: w.fact, Reason: next.Reason, Absent: true}
		w.takeLegs(part, nil)
	case len(said.placings) > 0:
		next.Turned = false
		var moved []TerminalID
		for _, p := range said.placings {
			moved = append(moved, p.leg)
		}
		w.takeLegs(part, moved)
		for _, p := range said.placings {
			w.join(Joint{Kind: Leg, A: p.leg, B: p.at, Place: p.place, Lead: -1})
		}
	default:
		if said.turned {
			next.Turned = !w.turnLegs(part)
		}
		w.putInHoles(part, next.Turned, s.Span())
	}
	next.as = fittedAs(part, &next)
	w.log.fittings = append(w.log.fittings, loggedFitting{part, next, w.fact.Index})
}

// fitting is what the bench says of a part so far.
func (w *worker) fitting(p *Part) *Fitting {
	for i := len(w.log.fittings) - 1; i >= 0; i-- {
		if f := &w.log.fittings[i]; f.part == p {
			return &f.Fitting
		}
	}
	return nil
}

// takeLegs undoes the joints that fit facts made: of the terminals given, or
// of all.
func (w *worker) takeLegs(p *Part, only []TerminalID) {
	for _, t := range p.Terminals {
		if only != nil && !slices.Contains(only, t) {
			continue
		}
		for _, i := range w.liveAt(t) {
			if j := &w.log.joints[i]; j.A == t && (j.Kind == Leg || j.Kind == Hole) {
				w.undo(i)
			}
		}
	}
}

// turnLegs turns a part whose legs are at places of their own: each leg goes to
// where the one opposite was. It reports whether there were such legs; the new
// places then say how the part sits.
func (w *worker) turnLegs(p *Part) bool {
	var legs []int
	for _, t := range p.Terminals[:len(p.Kind.Terminals)] {
		for _, i := range w.liveAt(t) {
			if j := &w.log.joints[i]; j.A == t && j.Kind == Leg {
				legs = append(legs, i)
			}
		}
	}
	for _, i := range legs {
		j := w.log.joints[i].Joint
		w.undo(i)
		j.A = p.Terminals[opposite(p.Kind, w.Terminals[j.A].Index)]
		w.join(j)
	}
	return len(legs) > 0
}

// putInHoles puts each leg that has a hole in the print into it: its own, or
// that of the leg on the other side if the part is turned. A leg that sits
// right stays; one that sits in another leg's hole is moved.
func (w *worker) putInHoles(p *Part, turned bool, place diag.Place) {
	for i, t := range p.Terminals {
		own := t
		if turned {
			own = p.Terminals[opposite(p.Kind, i)]
		}
		print := w.printOf[own]
		if print == nil || !slices.Contains(print.Legs, own) {
			continue
		}
		sits := false
		for _, j := range w.liveAt(t) {
			joint := &w.log.joints[j]
			if joint.Kind != Hole || joint.A != t {
				continue
			}
			if joint.B == print.ID {
				sits = true
			} else {
				w.undo(j)
			}
		}
		if !sits {
			w.join(Joint{Kind: Hole, A: t, B: print.ID, Place: place, Lead: -1})
		}
	}
}

// fitWords sorts the words: none, turned, a kind, figures, ends with places,
// and places by themselves.
func (w *worker) fitWords(part *Part, s *lang.Fit) fitWords {
	out := fitWords{ok: true}
	var bare, figures []lang.Word
	words := s.Words
	as := part.Kind // whose names the ends go by too
	if before := w.fitting(part); before != nil && before.Kind != nil {
		as = before.Kind
	}
	for i := 0; i < len(words); i++ {
		word := words[i]
		switch {
		case strings.EqualFold(word.Text, "none"):
			out.absent = true
			continue
		case strings.EqualFold(word.Text, "turned"):
			out.turned = true
			continue
		}
		if leg, ok := w.endOf(part, as, word); ok && i+1 < len(words) && w.isPlace(words[i+1]) {
			if at, ok := w.terminal(words[i+1], w.fact, onBench); ok {
				out.placings = append(out.placings, placing{leg, at, word.Place.To(words[i+1].Place)})
			} else {
				out.ok = false
			}
			i++
			continue
		}
		if w.isPlace(word) {
			bare = append(bare, word)
			continue
		}
		if kind, ok := w.Library.Kind(word.Text); ok && out.kind == nil {
			out.kind, as = kind, kind
			continue
		}
		figures = append(figures, word)
	}
	if len(figures) > 0 && !w.fitFigures(part, figures, &out) {
		out.ok = false
	}
	if len(bare) > 0 && !w.barePlaces(part, as, bare, &out) {
		out.ok = false
	}
	return out
}

func (w *worker) fitFigures(part *Part, words []lang.Word, out *fitWords) bool {
	figures, rest := lang.ReadFigures(words)
	for _, f := range figures {
		figure := f.Figure
		if figure.Quantity == lang.Number {
			figure.Quantity = lang.Ohms // a bare number on a part's line is ohms
		}
		out.figures = append(out.figures, figure)
	}
	kind := part.Kind
	if out.kind != nil {
		kind = out.kind
	}
	for _, r := range rest {
		if i := slices.IndexFunc(kind.Words, func(k string) bool { return strings.EqualFold(k, r.Text) }); i >= 0 {
			out.words = append(out.words, kind.Words[i])
			continue
		}
		d := diag.Diagnostic{Rule: "unknown-name", Place: r.Place,
			Message: fmt.Sprintf("%s is no place, figure or kind", r.Text),
			Notes:   []string{"After the part come the places of its legs, or what it really is: fit R5 TB1.2 TB1.24, fit R9 91k, fit C3 none."}}
		found := w.find(r.Text)
		if found.part != nil {
			d.Message, d.Notes = found.problem, found.notes
		}
		d.Nearest = found.nearest
		w.mistake(d)
		return false
	}
	return true
}

// barePlaces gives the places in the order of the kind's terminals, which is
// allowed where the ends are alike: order alone hides a reversed electrolytic.
func (w *worker) barePlaces(part *Part, as *parts.Kind, words []lang.Word, out *fitWords) bool {
	n := len(part.Kind.Terminals)
	if len(as.Terminals) != n {
		as = part.Kind
	}
	ends := make([]string, n)
	for i, t := range as.Terminals {
		ends[i] = t.Name
	}
	if len(words) != n {
		w.mistake(diag.Diagnostic{Rule: "unclear-end", Place: words[0].Place.To(words[len(words)-1].Place),
			Message: fmt.Sprintf("%s has %s, and %s given", part.Ref, count(n, "terminal"), countAre(len(words), "place")),
			Mend:    []string{"name each end before its place: " + example(part, ends, words)}})
		return false
	}
	if n > 1 && !allAlike(as) {
		w.mistake(diag.Diagnostic{Rule: "unclear-end", Place: words[0].Place.To(words[len(words)-1].Place),
			Message: fmt.Sprintf("the ends of %s are not alike: which of them sits where?", part.Ref),
			Notes:   []string{fmt.Sprintf("Its ends are %s.", parts.Listed(ends))},
			Mend:    []string{"name each end before its place: " + example(part, ends, words)}})
		return false
	}
	ok := true
	for i, word := range words {
		at, found := w.terminal(word, w.fact, onBench)
		if !found {
			ok = false
			continue
		}
		out.placings = append(out.placings, placing{part.Terminals[i], at, word.Place})
	}
	return ok
}

func count(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func countAre(n int, what string) string {
	if n == 1 {
		return count(n, what) + " is"
	}
	return count(n, what) + " are"
}

func example(part *Part, ends []string, places []lang.Word) string {
	words := []string{"fit", part.Ref}
	for i := range places {
		if i < len(ends) {
			words = append(words, ends[i], "…")
		}
	}
	return strings.Join(words, " ")
}

// endOf reads a word as an end of the part, or of the kind that does the job.
func (w *worker) endOf(part *Part, as *parts.Kind, word lang.Word) (TerminalID, bool) {
	if strings.Contains(word.Text, ".") && w.isPlace(word) {
		return NoTerminal, false
	}
	if f := w.findOn(part, part.Ref, word.Text); f.id != NoTerminal {
		return f.id, true
	}
	if ends, _ := as.Find(word.Text); len(ends) == 1 {
		if t, ok := as.TerminalIn(part.Kind, ends[0]); ok {
			return part.Terminals[t], true
		}
	}
	return NoTerminal, false
}

// isPlace says that a word names a terminal, or is of that form and begins
// with a part's reference.
func (w *worker) isPlace(word lang.Word) bool {
	ref, _, dotted := strings.Cut(word.Text, ".")
	part := w.Part(ref)
	return part != nil && (dotted || part.single()) ||
		part == nil && dotted && !isFigure(word)
}

func isFigure(word lang.Word) bool {
	_, ok := lang.ReadFigure(word.Text)
	return ok
}
