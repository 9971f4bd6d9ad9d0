package compare

import "slices"

// Each knot is untied as if all missing joints of a net were there for it to
// make up for. Where several knots made up for the same ones, which of their
// explanations goes with which is settled here.

// A choice is one explanation for each knot.
type choice struct {
	*contraction
	answers []answer
	chosen  []int
	joins   []int // by label: joints of the net that the chosen explanations keep or make
}

// A proof tells how sure a choice is.
type proof struct {
	total int     // findings and missing joints in the knots' nets
	least int     // there cannot be fewer
	short []int32 // labels for which the knots made up for more joints than are missing
}

// choose picks explanations that together are smallest, as far as turning one
// knot after another gets.
func (c *contraction) choose(answers []answer) (*choice, proof) {
	h := &choice{c, answers, make([]int, len(answers)), make([]int, c.labels)}
	var p proof
	touched := make([]bool, c.labels)
	for k := range answers {
		a := &answers[k]
		for _, label := range a.labels {
			touched[label] = true
		}
		if len(a.solutions) > 0 {
			h.count(k, 0, 1)
			p.least += a.solutions[0].cost()
		}
	}
	for label, yes := range touched {
		if !yes {
			continue
		}
		room := int(c.lumps[label]) - 1
		p.least += room - h.joins[label]
		if h.joins[label] > room {
			p.short = append(p.short, int32(label))
		}
	}
	if len(p.short) > 0 {
		h.descend()
	}
	for k := range answers {
		if a := &answers[k]; len(a.solutions) > 0 {
			p.total += a.solutions[h.chosen[k]].cost()
		}
	}
	for label, yes := range touched {
		if yes {
			p.total += h.lack(int32(label), h.joins[label])
		}
	}
	return h, p
}

// count counts an explanation's joins in or out.
func (h *choice) count(knot, solution, by int) {
	a := &h.answers[knot]
	for local, n := range a.solutions[solution].joins {
		h.joins[a.labels[local]] += by * n
	}
}

// lack is how many joints a net lacks if the knots join so many.
func (h *choice) lack(label int32, joins int) int {
	return max(0, int(h.lumps[label])-1-joins)
}

// change is how much greater all becomes with another explanation of a knot.
func (h *choice) change(knot, other int) int {
	a := &h.answers[knot]
	now, then := &a.solutions[h.chosen[knot]], &a.solutions[other]
	change := then.cost() - now.cost()
	for local, label := range a.labels {
		j := h.joins[label]
		change += h.lack(label, j-now.joins[local]+then.joins[local]) - h.lack(label, j)
	}
	return change
}

// descend changes the explanation of one knot at a time while that makes all
// of it smaller.
func (h *choice) descend() {
	for range mostSweeps {
		moved := false
		for k := range h.answers {
			best, at := 0, -1
			for other := range h.answers[k].solutions {
				if n := h.change(k, other); n < best {
					best, at = n, other
				}
			}
			if at >= 0 {
				h.count(k, h.chosen[k], -1)
				h.chosen[k] = at
				h.count(k, at, 1)
				moved = true
			}
		}
		if !moved {
			return
		}
	}
}

// rivals lists the first few explanations of a knot that are as small as the
// chosen one.
func (h *choice) rivals(knot int) []int {
	var list []int
	for other := range h.answers[knot].solutions {
		if other == h.chosen[knot] || h.change(knot, other) != 0 {
			continue
		}
		if len(list) == mostTold-1 {
			break
		}
		list = append(list, other)
	}
	return list
}

// atLeast is a lower bound where knots compete for missing joints of some
// labels: each knot is untied as if nothing were ever missing there.
func (h *choice) atLeast(short []int32) int {
	joins := make([]int, h.labels)
	touched := make([]bool, h.labels)
	least := 0
	for i := range h.answers {
		a := &h.answers[i]
		if len(a.solutions) == 0 || a.unproven {
			return 0
		}
		sol := &a.solutions[0]
		if slices.ContainsFunc(a.labels, func(l int32) bool { return slices.Contains(short, l) }) {
			k := *a.knot
			k.waived = make([]bool, len(k.labels))
			for local, label := range k.labels {
				k.waived[local] = slices.Contains(short, label)
			}
			b := k.untieWithin(noLimit, mostWork)
			if b.unproven {
				return 0
			}
			sol = &b.solutions[0]
		}
		least += sol.cost()
		for local, label := range a.labels {
			touched[label] = true
			joins[label] += sol.joins[local]
		}
	}
	for label, yes := range touched {
		if yes && !slices.Contains(short, int32(label)) {
			least += int(h.lumps[label]) - 1 - joins[label]
		}
	}
	return least
}

// Bounds on knots that are untied together because they compete.
const (
	mostTogether = 40 // joints in doubt
)

// together unites the knots that compete for missing joints of these labels,
// if they are small enough to be untied as one; it reports whether any were.
// The result is lists of joints in doubt that belong together.
func together(answers []answer, short []int32) (groups [][]int32) {
	for _, label := range short {
		var joints []int32
		n := 0
		for i := range answers {
			if !slices.Contains(answers[i].labels, label) {
				continue
			}
			n++
			for _, s := range answers[i].strands {
				joints = append(joints, s.joint)
			}
		}
		if n > 1 && len(joints) <= mostTogether {
			groups = append(groups, joints)
		}
	}
	return groups
}
