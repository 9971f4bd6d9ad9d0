package diagnose

import "math"

// Once one fault is as good as certain it may still have company. The readings
// that led to it were chosen to tell single faults apart, and say little of
// the rest of the wiring. So what is weighed then is that fault alone against
// that fault with any second one.

// A company is a fault alone and with every second one of the list.
type company struct {
	first   int          // the fault among the hypotheses of the diagnosis
	hyps    []hypothesis // the first two as in every list, then the fault alone
	seconds []int        // by hypothesis: the second fault among those of the diagnosis
	belief  belief
	another float64 // how likely it is that there is a second fault
}

// alone is the place in a company's list of the fault by itself.
const alone = firstListed

// companyOf weighs a single fault with and without a second one.
func (d *Diagnosis) companyOf(h int) *company {
	first := d.hyps[h]
	c := &company{first: h, hyps: []hypothesis{d.hyps[soundWiring], d.hyps[offTheList], first}, seconds: []int{0, 0, 0}}
	scores := []float64{math.Inf(-1), math.Inf(-1), 0}
	foreseen := make([]forecast, len(d.seen))
	for i := range d.seen {
		o := &d.seen[i]
		foreseen[i] = o.m.prepareBoth(d, first).predict(&o.pair)
	}
	for g := firstListed; g < d.basic; g++ {
		second := d.hyps[g]
		if second.first == first.first || !d.compatible(first.first, second.first) {
			continue
		}
		both := first.with(second)
		score := math.Log(second.prior * oddsPair)
		for i := range d.seen {
			o := &d.seen[i]
			if same(d.foresee(o, g).ohms, o.sound.ohms) {
				continue // the second does not touch it
			}
			score += o.weighRoughly(o.m.prepareBoth(d, both).predict(&o.pair)) - o.weigh(&foreseen[i])
		}
		c.hyps, c.seconds, scores = append(c.hyps, both), append(c.seconds, g), append(scores, score)
	}
	c.belief = beliefOf(scores)
	c.another = 1 - c.belief.weights[alone]
	return c
}

// vagueness is the least spread, in the logarithm, that is granted to a reading
// that two faults have a part in.
const vagueness = 0.05

// joint is what two faults foretell together: where only one of them shows, as
// that one has it.
func (d *Diagnosis) joint(both hypothesis, a, b row) row {
	var list row
	p := d.now.prepareBoth(d, both)
	for len(a) > 0 || len(b) > 0 {
		switch {
		case len(b) == 0 || len(a) > 0 && a[0].place < b[0].place:
			list, a = append(list, a[0]), a[1:]
		case len(a) == 0 || b[0].place < a[0].place:
			list, b = append(list, b[0]), b[1:]
		default:
			at := &d.pairs[a[0].place]
			if bin := at.binOf(p.between(&at.pair), d.now.n.Meter.Most); bin != at.sound {
				list = append(list, foretold{a[0].place, bin})
			}
			a, b = a[1:], b[1:]
		}
	}
	return list
}

// seek is the reading that tells most about a second fault beside a first one
// that is as good as certain. It fails where a second is unlikely by now, or no
// reading can show it.
func (d *Diagnosis) seek(h int) (choice, bool) {
	if d.hyps[h].first < 0 || d.hyps[h].second != none {
		return choice{}, false
	}
	c := d.companyOf(h)
	if c.another < leastAnother {
		return choice{}, false
	}
	var at choice
	d.among(c, func() { at = d.best() })
	return at, at.place >= 0 && at.gain >= leastSought
}

const (
	// leastAnother is how likely a second fault must be to be looked for, and
	// leastSought how many bits a reading must be expected to tell of it. They
	// are less than for a first one: most second faults are unlikely, and yet
	// there.
	leastAnother = 0.001
	leastSought  = 0.002
	// likelyCompany is from which likelihood of a second fault pairs are tried.
	likelyCompany = 0.5
)

// hasCompany says that the likeliest fault explains the readings far better
// with a second one than alone.
func (d *Diagnosis) hasCompany() bool {
	h := d.belief.order[0]
	if d.belief.weights[h] < likelyCompany || d.hyps[h].first < 0 || d.hyps[h].second != none {
		return false
	}
	return d.companyOf(h).another > likelyCompany
}

// among asks something of the diagnosis as if a company were all that may be.
func (d *Diagnosis) among(c *company, ask func()) {
	hyps, rows, belief := d.hyps, d.rows, d.belief
	own := make([]row, len(c.hyps))
	own[alone] = rows[c.first]
	for _, k := range c.belief.order[:min(len(c.belief.order), heaviest)] {
		if k > alone {
			own[k] = d.joint(c.hyps[k], rows[c.first], rows[c.seconds[k]])
		}
	}
	d.hyps, d.rows, d.belief = c.hyps, own, c.belief
	defer func() { d.hyps, d.rows, d.belief = hyps, rows, belief }()
	ask()
}
