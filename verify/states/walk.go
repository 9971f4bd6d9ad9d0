package states

import (
	"cmp"
	"slices"

	"buzzout/netlist"
)

// A Walk goes through settings. Between two calls of its visitor it may be
// asked what is joined.
type Walk struct {
	// At is the position of each control of the web, by Web.Controls.
	At []uint8

	sets   *sets
	small  []int32        // by conductor: its number in sets; -1 where no contact is
	order  []int          // the controls that move, those with most contacts first
	closed [][][][2]int32 // by place in the order, by position: the joins
}

// Joined says that two conductors are one in the setting that the walk is at.
// Conductors without a contact are only joined to themselves.
func (w *Walk) Joined(a, b int32) bool {
	if a == b {
		return true
	}
	a, b = w.small[a], w.small[b]
	return a >= 0 && b >= 0 && w.sets.find(a) == w.sets.find(b)
}

// Walk visits every setting of the controls given (indices in Web.Controls);
// the others stay where at has them. The visitor ends the walk by returning
// false. Settings come in an order of the walk's own, the same every time.
//
// The joins of a setting are made one control at a time and undone on the way
// back, so that a setting costs about the joins of one control.
func (w *Web) Walk(controls []int, at []uint8, visit func(*Walk) bool) {
	w.begin(controls, at).turn(0, visit)
}

func (w *Web) begin(controls []int, at []uint8) *Walk {
	walk := &Walk{At: slices.Clone(at), order: slices.Clone(controls), small: make([]int32, w.conductors)}
	for i := range walk.small {
		walk.small[i] = -1
	}
	n := int32(0)
	number := func(conductor int32) {
		if walk.small[conductor] < 0 {
			walk.small[conductor] = n
			n++
		}
	}
	byControl := make([][]*Contact, len(w.Controls))
	for i := range w.Contacts {
		c := &w.Contacts[i]
		if c.a != c.b {
			number(c.a)
			number(c.b)
			byControl[c.Control] = append(byControl[c.Control], c)
		}
	}
	walk.sets = newSets(int(n))
	turned := make([]bool, len(w.Controls))
	for _, c := range controls {
		turned[c] = true
	}
	for c, contacts := range byControl {
		if !turned[c] {
			walk.close(contacts, int(at[c]))
		}
	}
	// Those with most contacts change least often.
	slices.SortStableFunc(walk.order, func(a, b int) int { return -cmp.Compare(len(byControl[a]), len(byControl[b])) })
	walk.closed = make([][][][2]int32, len(walk.order))
	for i, c := range walk.order {
		walk.closed[i] = make([][][2]int32, w.positions(c))
		for p := range walk.closed[i] {
			for _, contact := range byControl[c] {
				if contact.At(p) {
					walk.closed[i][p] = append(walk.closed[i][p], [2]int32{walk.small[contact.a], walk.small[contact.b]})
				}
			}
		}
	}
	return walk
}

func (w *Walk) close(contacts []*Contact, position int) {
	for _, c := range contacts {
		if c.At(position) {
			w.sets.join(w.small[c.a], w.small[c.b])
		}
	}
}

func (w *Walk) turn(place int, visit func(*Walk) bool) bool {
	if place == len(w.order) {
		return visit(w)
	}
	length := len(w.sets.trail)
	for p, joins := range w.closed[place] {
		w.At[w.order[place]] = uint8(p)
		for _, j := range joins {
			w.sets.join(j[0], j[1])
		}
		if !w.turn(place+1, visit) {
			return false
		}
		w.sets.undo(length)
	}
	return true
}

// settings is the number of settings of the controls, or a number beyond
// limit if there are more.
func (w *Web) settings(controls []int, limit int) int {
	n := 1
	for _, c := range controls {
		n *= w.positions(c)
		if n > limit {
			return n
		}
	}
	return n
}

// within leaves off the last of some controls until they have no more
// settings than limit.
func (w *Web) within(controls []int, limit int) (kept []int, left []netlist.ControlRef) {
	kept = controls
	for w.settings(kept, limit) > limit {
		left = append(left, w.Controls[kept[len(kept)-1]])
		kept = kept[:len(kept)-1]
	}
	slices.Reverse(left)
	return kept, left
}

// turn goes on to the next setting of some controls, the first changing
// fastest, and says false when it has come round to where all rest.
func (w *Web) turn(at []uint8, controls []int) bool {
	for _, c := range controls {
		if at[c]++; int(at[c]) < w.positions(c) {
			return true
		}
		at[c] = 0
	}
	return false
}

// setting is where some controls stand.
func (w *Web) setting(controls []int, at []uint8) netlist.Setting {
	s := netlist.Setting{}
	for _, c := range controls {
		s[w.Controls[c]] = netlist.Position{Index: int(at[c]), Known: true}
	}
	return s
}
