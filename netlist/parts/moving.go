package parts

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
)

// maxPositions is how many positions a control may have: sets of positions are
// kept as the bits of a word. No switch of the trade comes near it.
const maxPositions = 64

// declareControl makes something to turn, push or plug. A control of the same
// name of an earlier layer gets the new positions, in order.
func (d *draft) declareControl(l *lang.Declare) {
	if len(l.Words) < 2 {
		d.bad(l.Span(), "name them in order, the one where it rests first: `control lever off on`", "a control needs a name and its positions")
		return
	}
	title := l.Words[0]
	control := Control{Name: title.Text}
	if len(l.Words) == 2 && isWholeTurn(l.Words[1].Text) {
		control.Turns = true
	} else {
		words := d.expand(l.Words[1:])
		for i, w := range words {
			for _, other := range words[:i] {
				if lang.Fold(other.Text) == lang.Fold(w.Text) {
					d.twice(w.Place, other.Place, "%s has two positions %s", title.Text, w.Text)
					return
				}
			}
			control.Positions = append(control.Positions, w.Text)
		}
		if len(control.Positions) < 2 {
			d.bad(l.Span(), "", "%s needs at least two positions", title.Text)
			return
		}
		if len(control.Positions) > maxPositions {
			d.bad(l.Span(), "", "%s has %d positions: there may be %d", title.Text, len(control.Positions), maxPositions)
			return
		}
	}
	d.setControl(layered[Control]{control, d.layer, l.Span()})
}

// isWholeTurn reports whether the word is the range of something that turns.
func isWholeTurn(text string) bool {
	from, to, ok := strings.Cut(text, "..")
	return ok && from == "0%" && strings.TrimPrefix(to, ".") == "100%"
}

// declareSeat makes the control of what can be pulled out of its holder.
func (d *draft) declareSeat(l *lang.Declare) {
	in := func(w lang.Word) bool { return lang.Fold(w.Text) == "in" }
	out := func(w lang.Word) bool { return lang.Fold(w.Text) == "out" }
	if len(l.Words) != 2 || !slices.ContainsFunc(l.Words, in) || !slices.ContainsFunc(l.Words, out) {
		d.bad(l.Span(), "say `socketed out in` or `socketed in out`: the first is where it rests", "socketed has the positions out and in")
		return
	}
	control := Control{Name: "seat", Positions: []string{lang.Fold(l.Words[0].Text), lang.Fold(l.Words[1].Text)}}
	if i := d.findControl("seat"); i >= 0 && d.kind.Seat == i && d.controls[i].layer < d.layer {
		// Seat positions keep their names in whatever order, so that nothing
		// that refers to them needs to be told again.
		d.controls[i] = layered[Control]{control, d.layer, l.Span()}
		return
	}
	d.setControl(layered[Control]{control, d.layer, l.Span()})
	d.kind.Seat = d.findControl("seat")
}

func (d *draft) findControl(title string) int {
	key := lang.Fold(title)
	return slices.IndexFunc(d.controls, func(c layered[Control]) bool { return lang.Fold(c.what.Name) == key })
}

func (d *draft) controlNames() []string {
	var list []string
	for _, c := range d.controls {
		list = append(list, c.what.Name)
	}
	return list
}

// setControl adds a control, or gives one of an earlier layer new positions.
// As many as before are new names for the old ones; otherwise each old name
// that is in use must be among the new ones.
func (d *draft) setControl(l layered[Control]) {
	i := d.findControl(l.what.Name)
	if i < 0 {
		d.controls = append(d.controls, l)
		return
	}
	old := d.controls[i]
	if old.layer == d.layer {
		d.twice(l.place, old.place, "%s has two controls %s", d.name, l.what.Name)
		return
	}
	if old.what.Turns != l.what.Turns {
		d.bad(l.place, "", "%s of %s %s", old.what.Name, d.name, turnsOrSteps(old.what.Turns))
		return
	}
	if len(old.what.Positions) == len(l.what.Positions) {
		d.controls[i] = l
		return
	}
	moved := make([]int, len(old.what.Positions)) // from old position to new
	for p, title := range old.what.Positions {
		moved[p] = findPosition(l.what, title)
	}
	for _, c := range d.contacts {
		if c.what.Control != i {
			continue
		}
		for _, p := range c.what.Positions {
			if moved[p] < 0 {
				d.bad(l.place, fmt.Sprintf("name all %d, in the order of %s", len(moved), strings.Join(old.what.Positions, " ")),
					"%s has %d positions in %s, and %d are named", old.what.Name, len(moved), article(d.name), len(l.what.Positions))
				return
			}
		}
	}
	for n := range d.contacts {
		if c := &d.contacts[n].what; c.Control == i {
			for p := range c.Positions {
				c.Positions[p] = moved[c.Positions[p]]
			}
			slices.Sort(c.Positions)
		}
	}
	d.controls[i] = l
}

func turnsOrSteps(turns bool) string {
	if turns {
		return "turns from 0 % to 100 %: it has no positions to name"
	}
	return "has positions: it does not turn from 0 % to 100 %"
}

func findPosition(c Control, title string) int {
	key := lang.Fold(title)
	return slices.IndexFunc(c.Positions, func(p string) bool { return lang.Fold(p) == key })
}

// stepping finds a control that goes from position to position.
func (d *draft) stepping(w lang.Word) (int, bool) {
	i := d.findControl(w.Text)
	if i < 0 {
		d.missing(d.name, "control", w, d.controlNames())
		return 0, false
	}
	if d.controls[i].what.Turns {
		d.bad(w.Place, "", "%s turns from 0 %% to 100 %%: a contact needs a control with positions", d.controls[i].what.Name)
		return 0, false
	}
	return i, true
}

// contact reads a pair that is closed in the positions named.
func (d *draft) contact(l *lang.Contact) {
	ends, ok := d.ends([]lang.Word{l.From, l.To})
	control, known := d.stepping(l.Control)
	if !ok || !known || !d.noneTwice([]lang.Word{l.From, l.To}, ends) {
		return
	}
	var closed []int
	for _, w := range d.expand(l.Positions) {
		p := findPosition(d.controls[control].what, w.Text)
		if p < 0 {
			d.missing(d.controls[control].what.Name, "position", w, d.controls[control].what.Positions)
			return
		}
		if !slices.Contains(closed, p) {
			closed = append(closed, p)
		}
	}
	if len(closed) == 0 {
		d.bad(l.Span(), "name them: `contact tip break when plug out`", "a contact needs a position in which it is closed")
		return
	}
	slices.Sort(closed)
	c := Contact{ends[0], ends[1], control, closed, l.Span()}
	d.contacts = put(d.contacts, layered[Contact]{c, d.layer, l.Span()}, func(other Contact) bool {
		return other.Control == control && sameSet([]int{other.A, other.B}, ends)
	})
}

// pole reads a common and one way for each position, and makes a contact of
// each way.
func (d *draft) pole(l *lang.Pole) {
	words := d.expand(l.Ways)
	common, ok := d.terminal(l.Common)
	control, known := d.stepping(l.By)
	ways := make([]int, len(words))
	for i, w := range words {
		if lang.Fold(w.Text) == "none" {
			ways[i] = -1
			continue
		}
		t, found := d.terminal(w)
		if found && ok && t == common {
			d.bad(w.Place, "", "%s is the common of this pole and cannot be one of its ways", w.Text)
			ok = false
		}
		ways[i], ok = t, ok && found
	}
	if !ok || !known {
		return
	}
	positions := d.controls[control].what.Positions
	if len(ways) != len(positions) {
		d.bad(l.Span(), fmt.Sprintf("give one way for each of %s, and `none` for a position without", strings.Join(positions, " ")),
			"this pole has %d %s and %s has %d positions", len(ways), plural(len(ways), "way"), d.controls[control].what.Name, len(positions))
		return
	}
	// A pole of an earlier layer with this common is replaced as a whole.
	d.contacts = slices.DeleteFunc(d.contacts, func(c layered[Contact]) bool {
		return c.layer < d.layer && c.what.Control == control && (c.what.A == common || c.what.B == common)
	})
	for p, t := range ways {
		if t < 0 || slices.Contains(ways[:p], t) {
			continue
		}
		c := Contact{A: common, B: t, Control: control, Place: l.Span()}
		for q := p; q < len(ways); q++ {
			if ways[q] == t {
				c.Positions = append(c.Positions, q)
			}
		}
		d.contacts = append(d.contacts, layered[Contact]{c, d.layer, l.Span()})
	}
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}
