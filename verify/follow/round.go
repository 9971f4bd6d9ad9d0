package follow

import "slices"

// A circle is the loop between two stages, as what its size is worked out of.
type circle struct {
	late, early []int // the valves of the two stages
	// order are all valves that are reached, and back what of their drives
	// comes from later stages: this loop's in own, that of all loops in all.
	order    []int
	own, all map[[2]int]bool // by receiver and giver
}

// circle gives one of the loops between two stages. What gets from its late
// stage to a stage in between counts as its own, unless it is a loop that is
// told by itself: it leaks through the early valve, as what is brought back to
// a cathode does, and is part of what comes round.
func (t *trail) circle(groups [][]returning, which int) circle {
	c := circle{order: t.order, own: map[[2]int]bool{}, all: map[[2]int]bool{}}
	late, early := t.depth[groups[which][0].late], t.depth[groups[which][0].early]
	for _, j := range t.onWay() {
		if t.depth[j] == late {
			c.late = append(c.late, j)
		}
		if t.depth[j] == early {
			c.early = append(c.early, j)
		}
	}
	others := map[[2]int]bool{}
	for i, g := range groups {
		for _, r := range g {
			if i != which {
				others[[2]int{r.early, r.late}] = true
			}
		}
	}
	for _, i := range t.order {
		for _, j := range t.order {
			if t.depth[i] >= t.depth[j] {
				continue
			}
			pair := [2]int{i, j}
			c.all[pair] = true
			if t.depth[j] == late && t.depth[i] >= early && !others[pair] {
				c.own[pair] = true
			}
		}
	}
	return c
}

// round is what comes round the loop that both stages are in, of 1: one less
// what the return differences of the whole, without the one, without the other
// and without both leave of it. Another loop that howls, or one that leaks past
// an early valve, turns the sign of that over; then it is what comes round with
// no other loop closed. Within a stage it is what comes back at the electrode
// in question.
func (t *trail) round(group []returning, c circle) float64 {
	if t.isLocal(group[0]) {
		sum := 0.0
		for _, r := range group {
			sum = min(sum, r.weight)
			if r.weight > 0 && sum == 0 {
				sum = r.weight
			}
		}
		return sum
	}
	together, alone := t.together(c), t.alone(c)
	if together*alone < 0 {
		return alone
	}
	return together
}

// together is what comes round with all other loops closed.
func (t *trail) together(c circle) float64 {
	var all, noLate, noEarly, neither []int
	for i := range t.valves {
		inLate, inEarly := slices.Contains(c.late, i), slices.Contains(c.early, i)
		all = append(all, i)
		if !inLate {
			noLate = append(noLate, i)
		}
		if !inEarly {
			noEarly = append(noEarly, i)
		}
		if !inLate && !inEarly {
			neither = append(neither, i)
		}
	}
	w := t.w
	return finite(real(1 - difference(w, all)*difference(w, neither)/(difference(w, noLate)*difference(w, noEarly))))
}

// alone is what comes round with every other loop between stages cut.
func (t *trail) alone(c circle) float64 {
	only := func(keep map[[2]int]bool) complex128 {
		w := make([][]complex128, len(t.w))
		for i := range w {
			w[i] = slices.Clone(t.w[i])
			for j := range w[i] {
				if pair := [2]int{i, j}; c.all[pair] && !keep[pair] {
					w[i][j] = 0
				}
			}
		}
		return difference(w, c.order)
	}
	return finite(real(1 - only(c.own)/only(nil)))
}

// roundLike weighs a loop that another trail of the same valves found.
func (t *trail) roundLike(group []returning, c circle) float64 {
	if !t.isLocal(group[0]) {
		return t.round(group, c)
	}
	var here []returning
	for _, r := range group {
		if mine, ok := t.returning(r.late, r.early, true); ok {
			here = append(here, mine)
		}
	}
	if len(here) == 0 {
		return 0
	}
	return t.round(here, c)
}
