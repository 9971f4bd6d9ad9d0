package parts

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// declare reads the lines that make names: terminals, ring, winding, control
// and socketed.
func (d *draft) declare(line lang.KindLine) {
	l, ok := line.(*lang.Declare)
	if !ok {
		return
	}
	switch l.Verb() {
	case "terminals":
		d.declareTerminals(l)
	case "ring":
		d.declareRing(l)
	case "winding":
		d.declareWinding(l)
	case "control":
		d.declareControl(l)
	case "socketed":
		d.declareSeat(l)
	}
}

// mark reads the lines that say something of terminals: call, tie, empty,
// joined, row and words.
func (d *draft) mark(line lang.KindLine) {
	l, ok := line.(*lang.Declare)
	if !ok {
		return
	}
	switch l.Verb() {
	case "call":
		d.call(l)
	case "tie":
		d.tie(l)
	case "empty":
		d.empty(l)
	case "joined":
		d.joined(l)
	case "row":
		if row, ok := d.ends(d.expand(l.Words)); ok {
			d.noneTwice(l.Words, row)
			d.rows = putOrder(d.rows, layered[[]int]{row, d.layer, l.Span()})
		}
	case "words":
		for _, w := range l.Words {
			if !slices.ContainsFunc(d.kind.Words, func(other string) bool { return lang.Fold(other) == lang.Fold(w.Text) }) {
				d.kind.Words = append(d.kind.Words, w.Text)
			}
		}
	}
}

func (d *draft) declareTerminals(l *lang.Declare) {
	for _, w := range d.expand(l.Words) {
		if lang.Fold(w.Text) == "any" {
			d.kind.Any = true
			continue
		}
		d.declareTerminal(w)
	}
}

// declareTerminal makes a terminal. One that an earlier layer made is said
// again without harm; an alias of an earlier layer gives way.
func (d *draft) declareTerminal(w lang.Word) {
	key := lang.Fold(w.Text)
	other, known := d.names[key]
	switch {
	case key == "none" || strings.Contains(w.Text, "."):
		d.bad(w.Place, "", "a terminal cannot be called %s", w.Text)
		return
	case known && !other.alias:
		if other.layer == d.layer {
			d.twice(w.Place, other.place, "%s has two terminals %s", d.name, w.Text)
		}
		return
	case known && other.layer == d.layer:
		d.twice(w.Place, other.place, "%s is already another name of terminal %s", w.Text, d.terminals[other.terminal].Name)
		return
	case known:
		d.dropAlias(other.terminal, key)
	}
	d.names[key] = name{terminal: len(d.terminals), layer: d.layer, place: w.Place}
	d.terminals = append(d.terminals, draftTerminal{Terminal: Terminal{Name: w.Text}, layer: d.layer, place: w.Place})
}

func (d *draft) dropAlias(terminal int, key string) {
	t := &d.terminals[terminal]
	t.Aliases = slices.DeleteFunc(t.Aliases, func(a string) bool { return lang.Fold(a) == key })
	delete(d.names, key)
}

// ensure declares the words that are not terminals yet and finds them all.
func (d *draft) ensure(words []lang.Word) ([]int, bool) {
	for _, w := range words {
		if _, known := d.names[lang.Fold(w.Text)]; !known {
			d.declareTerminal(w)
		}
	}
	return d.ends(words)
}

// noneTwice tells if a terminal stands twice in a line.
func (d *draft) noneTwice(words []lang.Word, ends []int) bool {
	for i, t := range ends {
		if slices.Contains(ends[:i], t) {
			place := words[min(i, len(words)-1)].Place
			d.twice(place, diag.Place{}, "%s stands twice in this line", d.terminals[t].Name)
			return false
		}
	}
	return true
}

func (d *draft) declareRing(l *lang.Declare) {
	words := d.expand(l.Words)
	ring, ok := d.ensure(words)
	if ok && d.noneTwice(words, ring) {
		d.rings = putOrder(d.rings, layered[[]int]{ring, d.layer, l.Span()})
	}
}

// putOrder adds a ring or row in the place of those of an earlier layer that
// have a terminal in common with it.
func putOrder(list []layered[[]int], l layered[[]int]) []layered[[]int] {
	return put(list, l, func(other []int) bool {
		return slices.ContainsFunc(other, func(t int) bool { return slices.Contains(l.what, t) })
	})
}

// declareWinding makes a coil and its ends. A winding of the same name of an
// earlier layer goes, with those of its ends that the new one does not have.
func (d *draft) declareWinding(l *lang.Declare) {
	words := d.expand(l.Words)
	if len(words) < 3 {
		d.bad(l.Span(), "give the winding a name and its ends in order: `winding primary anode ht`", "a winding needs a name and at least two ends")
		return
	}
	title, words := words[0], words[1:]
	for i := range d.windings {
		w := &d.windings[i]
		if lang.Fold(w.what.Name) != lang.Fold(title.Text) {
			continue
		}
		if w.layer == d.layer {
			d.twice(title.Place, w.place, "%s has two windings %s", d.name, title.Text)
			return
		}
		for _, t := range w.what.Ends {
			said := func(w lang.Word) bool { return lang.Fold(w.Text) == lang.Fold(d.terminals[t].Name) }
			if !slices.ContainsFunc(words, said) {
				d.remove(t)
			}
		}
	}
	ends, ok := d.ensure(words)
	if !ok || !d.noneTwice(words, ends) {
		return
	}
	for _, other := range d.windings {
		if lang.Fold(other.what.Name) == lang.Fold(title.Text) {
			continue
		}
		for i, t := range ends {
			if slices.Contains(other.what.Ends, t) {
				d.twice(words[i].Place, other.place, "the windings %s and %s both have an end %s", other.what.Name, title.Text, words[i].Text)
				return
			}
		}
	}
	d.windings = put(d.windings, layered[Winding]{Winding{title.Text, ends}, d.layer, title.Place}, func(w Winding) bool {
		return lang.Fold(w.Name) == lang.Fold(title.Text)
	})
}

// remove takes a terminal of an earlier layer away; what stands on it goes
// when the draft is finished.
func (d *draft) remove(t int) {
	gone := &d.terminals[t]
	if gone.gone {
		return
	}
	gone.gone = true
	d.gone++
	delete(d.names, lang.Fold(gone.Name))
	for _, a := range gone.Aliases {
		delete(d.names, lang.Fold(a))
	}
}

func (d *draft) call(l *lang.Declare) {
	words := d.expand(l.Words)
	if len(words) < 2 {
		if len(words) == 1 {
			d.bad(l.Span(), "say what else the terminal is called: `call + plus positive`", "call needs a terminal and at least one other name")
		}
		return
	}
	t, ok := d.terminal(words[0])
	if !ok {
		return
	}
	for _, w := range words[1:] {
		key := lang.Fold(w.Text)
		other, known := d.names[key]
		switch {
		case known && other.terminal == t:
			continue
		case known && other.alias && other.layer < d.layer:
			d.dropAlias(other.terminal, key)
		case known:
			d.twice(w.Place, other.place, "%s already names terminal %s", w.Text, d.terminals[other.terminal].Name)
			continue
		case strings.Contains(w.Text, "."):
			d.bad(w.Place, "", "a terminal cannot be called %s", w.Text)
			continue
		}
		d.names[key] = name{terminal: t, alias: true, layer: d.layer, place: w.Place}
		d.terminals[t].Aliases = append(d.terminals[t].Aliases, w.Text)
	}
}

func (d *draft) tie(l *lang.Declare) {
	for _, w := range d.expand(l.Words) {
		if t, ok := d.terminal(w); ok {
			at := &d.terminals[t]
			if at.Empty != "" && at.tied == d.layer {
				d.bad(w.Place, "", "terminal %s cannot be both a tie and empty", at.Name)
				continue
			}
			at.Tie, at.Empty, at.tied, at.tiedPlace = true, "", d.layer, w.Place
		}
	}
}

func (d *draft) empty(l *lang.Declare) {
	why := "nothing may be soldered here"
	if l.Remark != nil && l.Remark.Text != "" {
		why = l.Remark.Text
	}
	for _, w := range d.expand(l.Words) {
		if t, ok := d.terminal(w); ok {
			at := &d.terminals[t]
			if at.Tie && at.tied == d.layer {
				d.bad(w.Place, "", "terminal %s cannot be both a tie and empty", at.Name)
				continue
			}
			at.Tie, at.Empty, at.tied, at.tiedPlace = false, why, d.layer, w.Place
		}
	}
}

func (d *draft) joined(l *lang.Declare) {
	if len(l.Words) == 1 && lang.Fold(l.Words[0].Text) == "any" {
		if !d.kind.Any {
			d.bad(l.Span(), "say `terminals any` as well", "joined any is for a kind whose terminals are named at will")
			return
		}
		d.kind.JoinedAny = true
		return
	}
	words := d.expand(l.Words)
	group, ok := d.ends(words)
	switch {
	case !ok || !d.noneTwice(words, group):
	case len(group) < 2 && !d.kind.Counts:
		d.bad(l.Span(), "", "joined needs at least two terminals")
	case len(group) >= 2:
		d.kind.Joined = append(d.kind.Joined, group)
	}
}

// element ends may not be where an empty or tie line of the same layer says
// that there is none; one of an earlier layer gives way.
func (d *draft) occupy(words []lang.Word, ends []int, verb string) bool {
	for i, t := range ends {
		at := &d.terminals[t]
		if !at.Tie && at.Empty == "" {
			continue
		}
		if at.tied < d.layer {
			at.Tie, at.Empty = false, ""
			continue
		}
		what := "a tie, where no element stands"
		if at.Empty != "" {
			what = "empty"
		}
		d.tell(diag.Diagnostic{
			Rule: "bad-kind", Place: words[i].Place,
			Message: fmt.Sprintf("terminal %s is %s, and the %s ends on it", at.Name, what, verb),
			Also:    []diag.Note{{Place: at.tiedPlace, Text: "said here"}},
		})
		return false
	}
	return true
}
