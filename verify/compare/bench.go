package compare

import "slices"

// A bench is a layout with those parts that are told as a whole: not fitted,
// or wired in although no net knows them.
type bench struct {
	*layout
	members []int32    // by label: conductors of it
	strange []bool     // by part: told as a stranger, its joints left out
	made    [][2]int32 // the joints as they were made
	work    int        // left to untie knots
}

// findWhole finds the parts to be told as a whole.
func (b *bench) findWhole() {
	b.members = make([]int32, b.labels)
	for _, label := range b.base {
		if label != means {
			b.members[label]++
		}
	}
	b.strange = make([]bool, len(b.parts))
	b.made = slices.Clone(b.ends)
	var seen []int32
	for i := range b.parts {
		p := &b.parts[i]
		joined, wanted, alien := 0, 0, 0
		seen = seen[:0]
		for _, point := range p.points {
			c := b.of[point]
			if slices.Contains(seen, c) {
				continue
			}
			seen = append(seen, c)
			label := b.base[c]
			if b.degree[c] > 0 {
				joined++
			}
			switch {
			case label == means:
			case b.isAlien(label):
				alien++
			case b.members[label] > 1:
				wanted++
			}
		}
		b.asleep[i] = p.whole && joined == 0 && wanted > 1
		b.strange[i] = p.whole && joined > 1 && alien == len(seen)
	}
}

// lieOut lays out labels and joints for the parts told as a whole at present,
// every part as written.
func (b *bench) lieOut() *tally {
	copy(b.label, b.base)
	copy(b.ends, b.made)
	fill(b.chosen, -1)
	for i := range b.parts {
		if b.asleep[i] {
			for _, point := range b.parts[i].points {
				b.label[b.of[point]] = means
			}
		}
	}
	for j, e := range b.ends {
		for _, point := range b.joints[j].ends {
			if part := b.part[point]; part >= 0 && b.strange[part] {
				b.ends[j] = [2]int32{e[0], e[0]} // left out
			}
		}
	}
	return newTally(b.layout, b.islands())
}

// snapshot keeps what later tries change.
func (l *layout) snapshot() *layout {
	n := *l
	n.label = slices.Clone(l.label)
	n.ends = slices.Clone(l.ends)
	n.chosen = slices.Clone(l.chosen)
	n.asleep = slices.Clone(l.asleep)
	return &n
}

// judge explains the bench with every part serving as it does now.
func (b *bench) judge(t *tally) *account {
	c, suspects := inDoubt(b.layout.snapshot(), t)
	h, p := c.untieAll(suspects, nil, mostWork, &b.work)
	unproven := false
	if p.total > p.least && p.total > h.atLeast(p.short) {
		unproven = true
		if groups := together(h.answers, p.short); len(groups) > 0 {
			joint, q := c.untieAll(suspects, groups, mostWork, &b.work)
			if q.total < p.total || q.total == q.least {
				h, p = joint, q
				unproven = p.total > p.least
			}
		}
	}
	a := &account{choice: h, suspects: suspects, strange: slices.Clone(b.strange), members: b.members, unproven: unproven}
	for i := range h.answers {
		a.unproven = a.unproven || h.answers[i].unproven
	}
	a.total = h.totalOf(p, a.strange)
	return a
}

// glance counts the findings there would be with every part serving as it does
// now, without much work; a great number if it takes more.
func (b *bench) glance(t *tally, work *int) int {
	c, suspects := inDoubt(b.layout, t)
	*work -= layWork * (len(b.label) + len(b.ends))
	h, p := c.untieAll(suspects, nil, glanceWork, work)
	for i := range h.answers {
		if len(h.answers[i].solutions) == 0 {
			return noLimit
		}
	}
	return h.totalOf(p, b.strange)
}

// inDoubt takes together what is sound, and lists the parts that may sit wrongly.
func inDoubt(l *layout, t *tally) (*contraction, []suspect) {
	c := contract(l, make([]bool, len(l.label)))
	if len(c.doubt) == 0 {
		return c, nil
	}
	frontier := c.frontier()
	suspects := t.suspects(c.suspectParts(frontier), frontier)
	if len(suspects) == 0 {
		return c, nil
	}
	open := make([]bool, len(l.label))
	for _, s := range suspects {
		for _, x := range s.conductors {
			open[x] = true
		}
	}
	return contract(l, open), suspects
}

// untieAll unties all knots, with no more than so much work each, as long as
// there is work left. With little work, some may be left tied. Joints that
// stand together in a group are untied together.
func (c *contraction) untieAll(suspects []suspect, groups [][]int32, each int, left *int) (*choice, proof) {
	t := c.tier(suspects)
	var answers []answer
	for _, joints := range c.knotJoints(suspects, groups) {
		k := t.tie(joints)
		work := max(0, min(each, *left))
		var a answer
		if each == mostWork {
			a = k.untie(work)
		} else {
			a = k.untieWithin(noLimit, work)
		}
		*left -= a.work
		answers = append(answers, a)
	}
	return c.choose(t.inPairs(answers, left))
}

// mostInPair is how many joints in doubt two knots may have to be tried together.
const mostInPair = 24

// inPairs unties two knots that touch in a net together, where that takes
// fewer actions than untying each: a ring can lead through a tag from which
// all that told its net was moved away.
func (t *tier) inPairs(answers []answer, left *int) []answer {
	for i := 0; i < len(answers); i++ {
		for j := i + 1; j < len(answers) && *left > 0; j++ {
			a, b := &answers[i], &answers[j]
			if len(a.solutions) == 0 || len(b.solutions) == 0 || a.unproven || b.unproven ||
				a.solutions[0].cost()+b.solutions[0].cost() < 3 || len(a.strands)+len(b.strands) > mostInPair ||
				!slices.ContainsFunc(a.labels, func(l int32) bool { return slices.Contains(b.labels, l) }) {
				continue
			}
			var joints []int32
			for _, s := range slices.Concat(a.strands, b.strands) {
				joints = append(joints, s.joint)
			}
			k := t.tie(joints)
			both := k.untieWithin(k.totalOf(a, b)-1, min(pairWork, *left))
			*left -= both.work
			if len(both.solutions) > 0 {
				both.nodes += a.nodes + b.nodes
				answers[i] = both
				answers = slices.Delete(answers, j, j+1)
				j = i
			}
		}
	}
	return answers
}

// totalOf is what the explanations of two knots come to in the knot of both.
func (k *knot) totalOf(a, b *answer) int {
	pieces := make([]int, len(k.labels))
	for _, local := range k.label {
		if local >= 0 {
			pieces[local]++
		}
	}
	total := 0
	for _, x := range []*answer{a, b} {
		total += x.solutions[0].cost()
		for local, n := range x.solutions[0].joins {
			pieces[slices.Index(k.labels, x.labels[local])] -= n
		}
	}
	for _, n := range pieces {
		total += max(0, n-1)
	}
	return total
}
