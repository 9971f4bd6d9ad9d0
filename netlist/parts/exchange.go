package parts

import (
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// An Exchange is a way to use a part's ends for one another. Perm[i] is the
// terminal that can do what terminal i does.
type Exchange struct {
	Perm  []int
	But   Consequence
	Place diag.Place // the alike line; nowhere for a winding's two ends
}

// Exchanges gives the exchanges that a part's figures allow, one for each
// alike line and one for each untapped winding that no line speaks of; any of
// them may follow any other. values are the figures of the elements, as in
// [Instance]. A line counts only if it carries every element onto one with
// the same figures: the 32 µF sections of a can onto one another, never onto
// the 16 µF one.
func (k *Kind) Exchanges(values []lang.Figure) []Exchange {
	var list []Exchange
	conductor := k.conductors()
	for i := range k.Alike {
		a := &k.Alike[i]
		perm := k.still()
		for n := range a.These {
			perm[a.These[n]], perm[a.Those[n]] = a.Those[n], a.These[n]
		}
		if k.carries(perm, values, conductor) {
			list = append(list, Exchange{perm, a.But, a.Place})
		}
	}
	for i := range k.Windings {
		ends := k.Windings[i].Ends
		if len(ends) != 2 || k.speaksOf(ends) {
			continue
		}
		perm := k.still()
		perm[ends[0]], perm[ends[1]] = ends[1], ends[0]
		if k.carries(perm, values, conductor) {
			list = append(list, Exchange{Perm: perm, But: Phase})
		}
	}
	return list
}

func (k *Kind) still() []int {
	perm := make([]int, len(k.Terminals))
	for i := range perm {
		perm[i] = i
	}
	return perm
}

// speaksOf reports whether an alike line is about these two ends and no others.
func (k *Kind) speaksOf(ends []int) bool {
	return slices.ContainsFunc(k.Alike, func(a Alike) bool {
		return sameSet(slices.Concat(a.These, a.Those), ends)
	})
}

// conductors gives for each terminal the first of those that are one conductor
// with it inside the part.
func (k *Kind) conductors() []int {
	first := k.still()
	for _, group := range k.Joined {
		for _, t := range group[1:] {
			old, with := first[t], first[group[0]]
			for i := range first {
				if first[i] == max(old, with) {
					first[i] = min(old, with)
				}
			}
		}
	}
	return first
}

// carries reports whether the permutation takes every element onto one of its
// own sort with the same figures, at the same conductors.
func (k *Kind) carries(perm []int, values []lang.Figure, conductor []int) bool {
	taken := make([]bool, len(k.Elements))
	var moved, there [5]int
	for i := range k.Elements {
		e := &k.Elements[i]
		ends := moved[:len(e.Ends)]
		for n, t := range e.Ends {
			ends[n] = conductor[perm[t]]
		}
		found := false
		for j := range k.Elements {
			if taken[j] || !k.elementsAlike(i, j, values) {
				continue
			}
			other := there[:len(e.Ends)]
			for n, t := range k.Elements[j].Ends {
				other[n] = conductor[t]
			}
			if sameEnds(e, ends, other) {
				taken[j], found = true, true
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}

func (k *Kind) elementsAlike(i, j int, values []lang.Figure) bool {
	if i == j {
		return true
	}
	a, b := &k.Elements[i], &k.Elements[j]
	if a.Type != b.Type || a.Polar != b.Polar || a.Nominal != b.Nominal || a.By != b.By || a.Moves != b.Moves || len(a.Ends) != len(b.Ends) || !slices.EqualFunc(a.Figures, b.Figures, sameFigure) {
		return false
	}
	return max(i, j) >= len(values) || sameFigure(values[i], values[j])
}

func sameFigure(a, b lang.Figure) bool { return a.Value == b.Value && a.Quantity == b.Quantity }

// sameEnds compares ends as the element's type has it: in order where they
// have names, either way round where they have none.
func sameEnds(e *Element, a, b []int) bool {
	switch e.Type {
	case Resistance, Heater, Lamp, Fuse, Coil:
		return sameSet(a, b)
	case Capacitance:
		return slices.Equal(a, b) || !e.Polar && sameSet(a, b)
	}
	return slices.Equal(a, b)
}

// A TurnSort is a way in which a whole part or connector gets wired askew.
type TurnSort uint8

// The sorts of turn.
const (
	Reversed TurnSort = iota // the whole part the other way round
	Shifted                  // all wires off by the same number of places
	Mirrored                 // counted from the wrong side, and perhaps shifted as well
)

// A Turn is one such way. Perm[i] is the terminal that got what belongs at
// terminal i; -1 where it fell off the end of a row.
type Turn struct {
	Sort TurnSort
	By   int // places, for Shifted and Mirrored; negative the other way
	Perm []int
}

// Turns gives every way in which the whole part may have been wired askew,
// from the order of its terminals: a part with two terminals or with rows the
// other way round, rows and rings shifted, rings counted the wrong way round.
// Whether a turn changes anything is not looked at.
func (k *Kind) Turns() []Turn {
	var list []Turn
	if len(k.Terminals) == 2 && len(k.Rows) == 0 && len(k.Rings) == 0 && !k.Any {
		list = append(list, Turn{Sort: Reversed, Perm: []int{1, 0}})
	}
	if len(k.Rows) > 0 {
		list = append(list, k.rowTurns()...)
	}
	for _, ring := range k.Rings {
		list = append(list, k.ringTurns(ring)...)
	}
	return list
}

// rowTurns turns all rows at once: each end for end, half a turn of two equal
// rows, and each shifted along.
func (k *Kind) rowTurns() []Turn {
	turned := k.still()
	longest := 0
	for _, row := range k.Rows {
		for i, t := range row {
			turned[t] = row[len(row)-1-i]
		}
		longest = max(longest, len(row))
	}
	list := []Turn{{Sort: Reversed, Perm: turned}}
	if len(k.Rows) == 2 && len(k.Rows[0]) == len(k.Rows[1]) {
		half := k.still()
		a, b := k.Rows[0], k.Rows[1]
		for i := range a {
			half[a[i]] = b[len(b)-1-i]
			half[b[i]] = a[len(a)-1-i]
		}
		list = append(list, Turn{Sort: Reversed, Perm: half})
	}
	for by := 1; by < longest; by++ {
		for _, step := range []int{by, -by} {
			perm := k.still()
			for _, row := range k.Rows {
				for i, t := range row {
					perm[t] = -1
					if to := i + step; to >= 0 && to < len(row) {
						perm[t] = row[to]
					}
				}
			}
			list = append(list, Turn{Sort: Shifted, By: step, Perm: perm})
		}
	}
	return list
}

func (k *Kind) ringTurns(ring []int) []Turn {
	n := len(ring)
	var list []Turn
	for by := 1; by < n; by++ {
		perm := k.still()
		for i, t := range ring {
			perm[t] = ring[(i+by)%n]
		}
		list = append(list, Turn{Sort: Shifted, By: by, Perm: perm})
	}
	// Counted anticlockwise from the gap, pin 1 is taken for the last pin.
	for by := range n {
		perm := k.still()
		for i, t := range ring {
			perm[t] = ring[(2*n-1-i+by)%n]
		}
		list = append(list, Turn{Sort: Mirrored, By: by, Perm: perm})
	}
	return list
}
