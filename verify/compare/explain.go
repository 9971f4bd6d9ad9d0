package compare

import "slices"

// A verdict is what the comparison of one wiring comes to.
type verdict struct {
	*layout
	scene     *scene
	knots     []told   // what is wrong, knot by knot
	missing   []gap    // joints that are missing once that is put right
	unfitted  []int32  // parts that have none of their joints yet
	strangers []int32  // parts of which no net knows anything, and which are wired in
	dangling  []dangle // ends of joints on which nothing of the plan is, and that no net misses
	idle      []int32  // conductors that no net knows, joined to nothing of the plan
	wanted    int      // joints that the plan asks for
	done      int      // those that are there
	nodes     int      // states that the search looked at
	unproven  bool     // fewer findings might do
}

// total is how many findings the verdict comes to.
func (v *verdict) total() int {
	n := len(v.missing) + len(v.unfitted) + len(v.strangers)
	for i := range v.knots {
		n += len(v.knots[i].remedies)
	}
	return n
}

// explain compares plan and bench.
func explain(w *wiring) *verdict {
	l := lay(w)
	b := &bench{layout: l, work: allWork}
	b.findWhole()
	best := b.attempt()
	best = b.wake(best)
	return best
}

// A bench is a layout with those parts that are told as a whole: not fitted,
// or wired in although no net knows them.
type bench struct {
	*layout
	members  []int32    // by label: conductors of it
	sleepers []int      // by label: conductors of it on parts told as not fitted
	strange  []bool     // by part: told as a stranger, its joints left out
	made     [][2]int32 // the joints as they were made
	work     int        // left to untie knots
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
	for i := range b.parts {
		p := &b.parts[i]
		joined, wanted, alien := 0, 0, 0
		var seen []int32
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

// attempt explains the bench as it is laid out, turning parts that serve
// another way round as well.
func (b *bench) attempt() *verdict {
	best, _ := b.settled(manner{})
	for _, m := range []manner{{inPairs: true}, {wrongly: true}, {inPairs: true, wrongly: true}} {
		if len(best.knots) == 0 {
			break
		}
		if v, differs := b.settled(m); differs && v.total() < best.total() {
			best = v
		}
	}
	return best
}

// settled explains the bench once its parts are settled. It reports false,
// with no verdict, if the manner makes no difference.
func (b *bench) settled(m manner) (*verdict, bool) {
	b.reset()
	t := newTally(b.layout, b.islands())
	if !t.settle(m) && m != (manner{}) {
		return nil, false
	}
	v := b.judge(t)
	further := furtherWork
	for range mostFurtherTurns {
		turned := b.furtherTurn(t, v, &further)
		if turned == nil {
			break
		}
		v = turned
	}
	return v, true
}

// mostFurtherTurns bounds how many parts are turned after the first settling.
const mostFurtherTurns = 8

// Bounds of all searches, in steps through joints and conductors.
const (
	allWork     = 60_000_000 // to untie knots
	furtherWork = 6_000_000  // to try turning more parts
	glanceWork  = 60_000     // for one knot in such a try
	pairWork    = 200_000    // for a pair of knots
)

// reset lays out labels and joints for the parts told as a whole at present.
func (b *bench) reset() {
	copy(b.label, b.base)
	copy(b.ends, b.made)
	for i := range b.chosen {
		b.chosen[i] = -1
	}
	b.sleepers = make([]int, b.labels)
	for i := range b.parts {
		if !b.asleep[i] {
			continue
		}
		for _, point := range b.parts[i].points {
			if c := b.of[point]; b.label[c] != means {
				b.sleepers[b.label[c]]++
				b.label[c] = means
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
}

// judge explains the bench with every part serving as it does now.
func (b *bench) judge(t *tally) *verdict {
	c, suspects := b.inDoubt(t)
	h, p := c.untieAll(suspects, nil, mostWork, &b.work)
	unproven := false
	if p.total > p.least && p.total > h.atLeast(p.short) {
		unproven = true
		if groups := together(h.answers, p.short); len(groups) > 0 {
			if joint, q := c.untieAll(suspects, groups, mostWork, &b.work); q.total < p.total || q.total == q.least {
				h, p = joint, q
				unproven = p.total > p.least
			}
		}
	}
	v := b.assemble(h, suspects)
	v.unproven = v.unproven || unproven
	return v
}

// glance counts the findings there would be with every part serving as it does
// now, without much work; a great number if it takes more.
func (b *bench) glance(t *tally, work *int) int {
	c, suspects := b.inDoubt(t)
	*work -= 40 * (len(b.label) + len(b.ends)) // what taking together takes
	h, p := c.untieAll(suspects, nil, glanceWork, work)
	touched := make([]bool, b.labels)
	for i := range h.answers {
		if len(h.answers[i].solutions) == 0 {
			return noLimit
		}
		for _, label := range h.answers[i].labels {
			touched[label] = true
		}
	}
	total := p.total
	for label, n := range c.lumps {
		if !touched[label] {
			total += max(0, int(n)-1)
		}
	}
	for i := range b.parts {
		if b.asleep[i] || b.strange[i] {
			total++
		}
	}
	return total
}

// inDoubt takes together what is sound, and lists the parts that may sit wrongly.
func (b *bench) inDoubt(t *tally) (*contraction, []suspect) {
	c := contract(b.layout, make([]bool, len(b.label)))
	if len(c.doubt) == 0 {
		return c, nil
	}
	frontier := c.frontier()
	suspects := t.suspects(c.suspectParts(frontier), frontier)
	if len(suspects) > 0 {
		c = contract(b.layout, openOf(b.layout, suspects))
	}
	return c, suspects
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
	answers = c.inPairs(t, answers, left)
	return c.choose(answers)
}

// inPairs unties two knots that touch in a net together, where that takes
// fewer actions than untying each: a ring can lead through a tag from which
// all that told its net was moved away.
func (c *contraction) inPairs(t *tier, answers []answer, left *int) []answer {
	for i := 0; i < len(answers); i++ {
		for j := i + 1; j < len(answers); j++ {
			a, b := &answers[i], &answers[j]
			if len(a.solutions) == 0 || len(b.solutions) == 0 || a.unproven || b.unproven ||
				a.solutions[0].cost()+b.solutions[0].cost() < 3 || len(a.strands)+len(b.strands) > mostInPair ||
				!slices.ContainsFunc(a.labels, func(l int32) bool { return slices.Contains(b.labels, l) }) {
				continue
			}
			if *left <= 0 {
				return answers
			}
			var joints []int32
			for _, s := range slices.Concat(a.strands, b.strands) {
				joints = append(joints, s.joint)
			}
			k := t.tie(joints)
			limit := k.totalOf(a, b) - 1
			both := k.untieWithin(limit, min(pairWork, *left))
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

// mostInPair is how many joints in doubt two knots may have to be tried together.
const mostInPair = 24

// totalOf is what the explanations of two knots come to in the knot of both.
func (k *knot) totalOf(a, b *answer) int {
	pieces := make(map[int32]int)
	for _, local := range k.label {
		if local >= 0 {
			pieces[k.labels[local]]++
		}
	}
	total := 0
	for _, x := range []*answer{a, b} {
		total += x.solutions[0].cost()
		for local, n := range x.solutions[0].joins {
			pieces[x.labels[local]] -= n
		}
	}
	for _, n := range pieces {
		total += max(0, n-1)
	}
	return total
}

// openOf marks the conductors of suspects.
func openOf(l *layout, suspects []suspect) []bool {
	open := make([]bool, len(l.label))
	for _, s := range suspects {
		for _, x := range s.conductors {
			open[x] = true
		}
	}
	return open
}

// furtherTurn looks for one part more that serves another way round and makes
// the explanation smaller. The first settling finds nearly all of them; those
// that it misses have a part in what is wrong. It gives nil if there is none.
func (b *bench) furtherTurn(t *tally, v *verdict, work *int) *verdict {
	costly := v.costly()
	if len(costly) == 0 {
		return nil
	}
	c := contract(b.layout, make([]bool, len(b.label)))
	for _, s := range t.freeSuspects(c.suspectParts(c.frontier())) {
		if !slices.ContainsFunc(s.conductors, func(x int32) bool { return costly[x] }) {
			continue
		}
		if *work <= 0 {
			return nil
		}
		part, before := s.parts[0], b.chosen[s.parts[0]]
		b.relabel(t, part, s.alike)
		if b.glance(t, work) < v.total() {
			if turned := b.judge(t); turned.total() < v.total() {
				return turned
			}
		}
		b.relabel(t, part, before)
	}
	return nil
}

// costly marks the conductors in knots that come to more than one finding. One
// finding cannot be saved by turning a part: plan and bench would then agree,
// and settling has not missed that.
func (v *verdict) costly() map[int32]bool {
	costly := make(map[int32]bool)
	for i := range v.knots {
		k := &v.knots[i]
		missing := slices.ContainsFunc(v.missing, func(g gap) bool {
			return slices.Contains(k.answer.labels, g.label)
		})
		if len(k.remedies) < 2 && !missing {
			continue
		}
		for _, s := range k.answer.strands {
			for _, x := range v.ends[s.joint] {
				costly[x] = true
			}
		}
	}
	return costly
}

// relabel lets a part serve another way round.
func (b *bench) relabel(t *tally, part, choice int32) {
	conductors, labels := b.rolesIn(part, choice, -1, nil, nil)
	t.relabel(conductors, labels)
	b.chosen[part] = choice
}

// wake looks whether it takes fewer actions to tell the joints of a part one by
// one that was told as a whole: its leads may all sit elsewhere.
func (b *bench) wake(v *verdict) *verdict {
	touched := make([]bool, b.labels)
	for i := range v.knots {
		for _, label := range v.knots[i].answer.labels {
			touched[label] = true
		}
	}
	tries := 0
	for i := range b.parts {
		if !b.asleep[i] && !b.strange[i] || tries == mostWaken {
			continue
		}
		if b.asleep[i] && !b.allTouched(i, touched) {
			continue
		}
		tries++
		asleep, strange := b.asleep[i], b.strange[i]
		b.asleep[i], b.strange[i] = false, false
		if woken := b.attempt(); woken.total() < v.total() {
			v = woken
			continue
		}
		b.asleep[i], b.strange[i] = asleep, strange
	}
	return v
}

// mostWaken bounds how many parts are tried so.
const mostWaken = 6

// allTouched reports whether all nets of a part have something wrong in them.
func (b *bench) allTouched(part int, touched []bool) bool {
	for _, point := range b.parts[part].points {
		label := b.base[b.of[point]]
		if label != means && !b.isAlien(label) && b.members[label] > 1 && !touched[label] {
			return false
		}
	}
	return true
}
