package parts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// layers are the lines that make a kind, from what is taken over with "like"
// (first) to the kind's own or the part's own block (last). A line of a later
// layer replaces what an earlier one says of the same thing.
type layers [][]lang.KindLine

// A draft is a kind while its lines are read. Everything in it knows the layer
// that it came in, so that a later layer may replace it.
type draft struct {
	name  string // the kind, as messages call it
	count int    // what n stands for; 0 while nobody has said
	layer int    // the layer being read
	last  int    // the top layer: mistakes of the others were told where those were made

	kind      Kind
	names     map[string]name // by folded terminal name and alias
	terminals []draftTerminal
	rings     []layered[[]int]
	rows      []layered[[]int]
	windings  []layered[Winding]
	elements  []layered[Element]
	controls  []layered[Control]
	contacts  []layered[Contact]
	alike     []layered[Alike]
	between   []layered[Between]
	limits    []layered[Limit]
	origins   []layered[Origin]
	gone      int // terminals that a later layer has taken away

	mistakes []diag.Diagnostic
	unknown  map[string]int // folded name that was told as unknown: index in mistakes
}

// layered is a thing with the layer and the place that it came from.
type layered[T any] struct {
	what  T
	layer int
	place diag.Place
}

type draftTerminal struct {
	Terminal
	layer     int
	place     diag.Place
	tied      int // layer of its tie or empty line
	tiedPlace diag.Place
	gone      bool
}

// A name is what a folded word stands for.
type name struct {
	terminal int
	alias    bool
	layer    int
	place    diag.Place
}

// compile reads the layers of a kind. count is what n stands for, or 0 if no
// part has said it yet: then the terminals 1 to n are left out. The mistakes
// are those of the top layer.
func compile(kind Kind, lines layers, count int) (*Kind, []diag.Diagnostic) {
	d := &draft{
		name: kind.Name, count: count, last: len(lines) - 1,
		kind:  Kind{Name: kind.Name, Also: kind.Also, Title: kind.Title, Place: kind.Place, Seat: -1},
		names: make(map[string]name),
	}
	for i, layer := range lines {
		d.layer = i
		// Lines may stand in any order: what declares names is read before
		// what uses them.
		for _, line := range layer {
			d.declare(line)
		}
		for _, line := range layer {
			d.mark(line)
		}
		for _, line := range layer {
			d.use(line)
		}
	}
	return d.finish(), d.mistakes
}

// tell keeps a mistake, unless it is in a layer below.
func (d *draft) tell(m diag.Diagnostic) {
	if d.layer == d.last {
		if m.Severity == 0 {
			m.Severity = diag.Fault
		}
		d.mistakes = append(d.mistakes, m)
	}
}

func (d *draft) bad(place diag.Place, mend string, format string, words ...any) {
	m := diag.Diagnostic{Rule: "bad-kind", Place: place, Message: fmt.Sprintf(format, words...)}
	if mend != "" {
		m.Mend = []string{mend}
	}
	d.tell(m)
}

// twice tells that a name is given a second time within one layer.
func (d *draft) twice(at, other diag.Place, format string, words ...any) {
	m := diag.Diagnostic{Rule: "same-name-twice", Place: at, Message: fmt.Sprintf(format, words...)}
	if other.Known() {
		m.Also = []diag.Note{{Place: other, Text: "it stands here as well"}}
	}
	d.tell(m)
}

// missing tells that nothing has this name. A name that is missing on several
// lines is one mistake with several places.
func (d *draft) missing(owner, sort string, w lang.Word, known []string) {
	if d.layer != d.last {
		return
	}
	key := owner + " " + sort + " " + lang.Fold(w.Text)
	if i, told := d.unknown[key]; told {
		d.mistakes[i].Also = append(d.mistakes[i].Also, diag.Note{Place: w.Place, Text: "and here"})
		return
	}
	if d.unknown == nil {
		d.unknown = make(map[string]int)
	}
	d.unknown[key] = len(d.mistakes)
	m := diag.Diagnostic{
		Rule: "unknown-name", Place: w.Place,
		Message: fmt.Sprintf("%s has no %s %s", owner, sort, w.Text),
		Nearest: nearest(w.Text, known),
	}
	switch {
	case len(known) == 0:
		m.Notes = []string{fmt.Sprintf("No %s is declared.", sort)}
	case len(known) <= 12:
		m.Notes = []string{fmt.Sprintf("What it has: %s.", strings.Join(known, ", "))}
	}
	d.tell(m)
}

// expand writes out ranges, after putting the count in the place of n. While
// nobody has said the count, a range to n is no words at all.
func (d *draft) expand(words []lang.Word) []lang.Word {
	plain := true
	for _, w := range words {
		if strings.Contains(w.Text, "..") {
			plain = false
			break
		}
	}
	if plain {
		return words
	}
	var out []lang.Word
	for _, w := range words {
		if from, ok := toCount(w.Text); ok {
			d.kind.Counts = true
			switch {
			case d.count == 0:
				continue
			case from == strconv.Itoa(d.count):
				w.Text = from
			default:
				w.Text = from + ".." + strconv.Itoa(d.count)
			}
		}
		names, _, problem := lang.Expand(w)
		if problem != "" {
			d.tell(diag.Diagnostic{Rule: "bad-range", Place: w.Place, Message: problem})
		}
		for _, n := range names {
			out = append(out, lang.Word{Text: n, Place: w.Place})
		}
	}
	return out
}

// toCount gives what stands before "..n", if the word ends so.
func toCount(text string) (from string, ok bool) {
	head, tail, found := strings.Cut(strings.Replace(text, "…", "..", 1), "..")
	if !found || head == "" {
		return "", false
	}
	tail = strings.TrimPrefix(tail, ".")
	return head, tail == "n" || tail == "N"
}

// terminal finds the terminal that a word names, and tells if there is none.
// In a kind with terminals named at will, a new name is a new terminal.
func (d *draft) terminal(w lang.Word) (int, bool) {
	if n, ok := d.names[lang.Fold(w.Text)]; ok {
		return n.terminal, true
	}
	if d.kind.Any {
		d.declareTerminal(w)
		n, ok := d.names[lang.Fold(w.Text)]
		return n.terminal, ok
	}
	if d.kind.Counts && d.count == 0 && endsInNumber(w.Text) {
		return 0, false // nobody knows yet how far the numbers go
	}
	d.missing(d.name, "terminal", w, d.terminalNames())
	return 0, false
}

// ends finds several terminals. All words are looked up, so that each unknown
// name is told.
func (d *draft) ends(words []lang.Word) (ends []int, ok bool) {
	ends, ok = make([]int, 0, len(words)), true
	for _, w := range words {
		t, found := d.terminal(w)
		if !found {
			ok = false
			continue
		}
		ends = append(ends, t)
	}
	return ends, ok
}

func (d *draft) terminalNames() []string {
	var list []string
	for i := range d.terminals {
		if !d.terminals[i].gone {
			list = append(list, d.terminals[i].Name)
		}
	}
	return list
}

func nearest(name string, among []string) string {
	found, _ := lang.Nearest(name, among)
	return found
}

func endsInNumber(text string) bool {
	last := text[len(text)-1]
	return '0' <= last && last <= '9'
}

// sameSet reports whether two lists hold the same terminals in any order.
func sameSet(a, b []int) bool {
	if len(a) != len(b) {
		return false
	}
	if len(a) == 2 {
		return a[0] == b[0] && a[1] == b[1] || a[0] == b[1] && a[1] == b[0]
	}
	x, y := slices.Clone(a), slices.Clone(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// put adds a thing. If same finds one of an earlier layer, the new one takes
// its place in the order, and any others like it go.
func put[T any](list []layered[T], l layered[T], same func(T) bool) []layered[T] {
	at := -1
	kept := list[:0]
	for _, other := range list {
		switch {
		case other.layer == l.layer || !same(other.what):
			kept = append(kept, other)
		case at < 0:
			at = len(kept)
			kept = append(kept, l)
		}
	}
	if at < 0 {
		kept = append(kept, l)
	}
	return kept
}

// finish takes out what is gone and hands over the kind.
func (d *draft) finish() *Kind {
	k := &d.kind
	number := make([]int, len(d.terminals)) // from draft to kind; -1 for what is gone
	k.Terminals = make([]Terminal, 0, len(d.terminals)-d.gone)
	for i := range d.terminals {
		if d.terminals[i].gone {
			number[i] = -1
			continue
		}
		number[i] = len(k.Terminals)
		k.Terminals = append(k.Terminals, d.terminals[i].Terminal)
	}
	keep := func(lists ...[]int) bool {
		for _, list := range lists {
			for i, t := range list {
				if t = number[t]; t < 0 {
					return false
				}
				list[i] = t
			}
		}
		return true
	}
	k.Rings = finished(d.rings, func(r *[]int) bool { return keep(*r) })
	k.Rows = finished(d.rows, func(r *[]int) bool { return keep(*r) })
	k.Windings = finished(d.windings, func(w *Winding) bool { return keep(w.Ends) })
	k.Elements = finished(d.elements, func(e *Element) bool { return keep(e.Ends) })
	k.Controls = finished(d.controls, func(*Control) bool { return true })
	k.Contacts = finished(d.contacts, func(c *Contact) bool {
		c.A, c.B = number[c.A], number[c.B]
		return c.A >= 0 && c.B >= 0
	})
	k.Alike = finished(d.alike, func(a *Alike) bool { return keep(a.These, a.Those) })
	k.Between = finished(d.between, func(b *Between) bool {
		b.From, b.To = number[b.From], number[b.To]
		return b.From >= 0 && b.To >= 0
	})
	k.Limits = finished(d.limits, func(*Limit) bool { return true })
	k.Origins = finished(d.origins, func(*Origin) bool { return true })
	joined := k.Joined[:0]
	for _, group := range k.Joined {
		if keep(group) {
			joined = append(joined, group)
		}
	}
	k.Joined = joined
	k.index()
	return k
}

func finished[T any](list []layered[T], keep func(*T) bool) []T {
	if len(list) == 0 {
		return nil
	}
	out := make([]T, 0, len(list))
	for i := range list {
		if keep(&list[i].what) {
			out = append(out, list[i].what)
		}
	}
	return out
}
