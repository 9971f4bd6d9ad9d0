package compare

// A verdict is what the comparison of one wiring comes to.
type verdict struct {
	*layout
	scene     *scene
	knots     []told  // what is wrong, knot by knot
	missing   []gap   // joints that are missing once that is put right
	unfitted  []int32 // parts that have none of their joints yet
	strangers []int32 // parts of which no net knows anything, and which are wired in
	wanted    int     // joints that the plan asks for
	done      int     // those that are there
	nodes     int     // states that the search looked at
	unproven  bool    // fewer findings might do
}

// total is how many findings the verdict comes to.
func (v *verdict) total() int {
	n := len(v.missing) + len(v.unfitted) + len(v.strangers)
	for i := range v.knots {
		n += len(v.knots[i].remedies)
	}
	return n
}

// explain compares plan and bench. Parts whose ends are alike are settled, what
// is soundly joined is taken together, what is in doubt is parted into knots,
// and the knots are untied. Several manners of settling are tried where
// something is wrong, and the account with the fewest findings is told.
func explain(w *wiring) *verdict {
	b := &bench{layout: lay(w), work: allWork}
	b.findWhole()
	best := b.attempt()
	return b.wake(best).verdict()
}

// attempt explains the bench as it is laid out, turning parts that serve
// another way round as well.
func (b *bench) attempt() *account {
	best, _ := b.settled(manner{})
	for _, m := range []manner{{inPairs: true}, {wrongly: true}, {inPairs: true, wrongly: true}} {
		if len(best.answers) == 0 || best.total < 2 || b.work <= 0 {
			break
		}
		if a, differs := b.settled(m); differs && a.total < best.total {
			best = a
		}
	}
	return best
}

// settled explains the bench once its parts are settled. It reports false,
// with no account, if the manner makes no difference.
func (b *bench) settled(m manner) (*account, bool) {
	t := b.lieOut()
	if !t.settle(m) && m != (manner{}) {
		return nil, false
	}
	a := b.judge(t)
	work := furtherWork
	for range mostFurtherTurns {
		turned := b.furtherTurn(t, a, &work)
		if turned == nil {
			break
		}
		a = turned
	}
	if m == (manner{}) {
		if turned := b.likelierTurn(t, a, &work); turned != nil {
			a = turned
		}
	}
	return a, true
}

// Bounds of all searches, in steps through joints and conductors.
const (
	allWork     = 30_000_000 // to untie knots
	furtherWork = 2_000_000  // to try turning more parts
	glanceWork  = 60_000     // for one knot in such a try
	pairWork    = 200_000    // for a pair of knots
	layWork     = 40         // what it takes to lay out and contract one conductor or joint
)

// mostFurtherTurns bounds how many parts are turned after the first settling.
const mostFurtherTurns = 8

// furtherTurn looks for one part more that serves another way round and makes
// the explanation smaller. The first settling finds nearly all of them; those
// that it misses have a part in what is wrong. It gives nil if there is none.
func (b *bench) furtherTurn(t *tally, a *account, work *int) *account {
	costly := a.costly()
	if len(costly) == 0 {
		return nil
	}
	c := contract(b.layout, make([]bool, len(b.label)))
	for _, s := range t.freeSuspects(c.suspectParts(c.frontier())) {
		if !s.touches(costly) {
			continue
		}
		if *work <= 0 {
			return nil
		}
		part, before := s.parts[0], b.chosen[s.parts[0]]
		b.relabel(t, part, s.alike)
		if b.glance(t, work) < a.total {
			if turned := b.judge(t); turned.total < a.total {
				return turned
			}
		}
		b.relabel(t, part, before)
	}
	return nil
}

// mostLikelier bounds how many parts are turned for a likelier explanation.
const mostLikelier = 4

// likelierTurn looks for a part that serves another way round and makes the
// explanation no greater but likelier: which of two like ends was written first
// is chance, and must not decide between two slips and an exchange that nobody
// would make. It gives nil if there is none.
func (b *bench) likelierTurn(t *tally, a *account, work *int) *account {
	strained := a.strained()
	if len(strained) == 0 {
		return nil
	}
	c := contract(b.layout, make([]bool, len(b.label)))
	tries := 0
	for _, s := range t.freeSuspects(c.suspectParts(c.frontier())) {
		if !s.touches(strained) {
			continue
		}
		if *work <= 0 || tries == mostLikelier {
			return nil
		}
		part, before := s.parts[0], b.chosen[s.parts[0]]
		tries++
		b.relabel(t, part, s.alike)
		if b.glance(t, work) <= a.total {
			if turned := b.judge(t); turned.total <= a.total && turned.weight() < a.weight() {
				return turned
			}
		}
		b.relabel(t, part, before)
	}
	return nil
}

// relabel lets a part serve another way round.
func (b *bench) relabel(t *tally, part, choice int32) {
	conductors, labels := b.rolesIn(part, choice, -1, nil, nil)
	t.relabel(conductors, labels)
	b.chosen[part] = choice
}

// mostWaken bounds how many parts are tried one by one that were told as a whole.
const mostWaken = 6

// wake looks whether it takes fewer actions to tell the joints of a part one by
// one that was told as a whole: its leads may all sit elsewhere.
func (b *bench) wake(best *account) *account {
	touched := make([]bool, b.labels)
	for i := range best.answers {
		for _, label := range best.answers[i].labels {
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
		if b.fewerThan(best.total) {
			if woken := b.attempt(); woken.total < best.total {
				best = woken
				continue
			}
		}
		b.asleep[i], b.strange[i] = asleep, strange
	}
	return best
}

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

// fewerThan reports whether there seem to be fewer findings than so many.
func (b *bench) fewerThan(total int) bool {
	t := b.lieOut()
	t.settle(manner{})
	work := furtherWork
	return b.glance(t, &work) < total
}
