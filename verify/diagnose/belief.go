package diagnose

import (
	"cmp"
	"math"
	"slices"

	"buzzout/netlist"
)

// belief is how likely each hypothesis is by the readings so far.
type belief struct {
	weights []float64 // by hypothesis; they add up to one
	order   []int     // hypotheses, the likeliest first, those with any weight
	total   float64   // the logarithm of all priors times likelihoods
}

// negligible is the weight below which a hypothesis is not thought of.
const negligible = 1e-9

// beliefOf makes a belief of the logarithms of priors times likelihoods.
func beliefOf(scores []float64) belief {
	top := slices.Max(scores)
	b := belief{weights: make([]float64, len(scores))}
	sum := 0.0
	for h, s := range scores {
		b.weights[h] = math.Exp(s - top)
		sum += b.weights[h]
	}
	b.total = top + math.Log(sum)
	for h := range scores {
		b.weights[h] /= sum
		if b.weights[h] > negligible {
			b.order = append(b.order, h)
		}
	}
	slices.SortStableFunc(b.order, func(x, y int) int { return cmp.Compare(b.weights[y], b.weights[x]) })
	return b
}

// dismissed is how much less likely, as a logarithm, a hypothesis may be by a
// first look before it is looked at no further.
const dismissed = 25

// broad is the spread that is granted in a first look, in the logarithm.
const broad = 0.3

// weigh works out the belief: by single faults, and where none fits, by more.
func (d *Diagnosis) weigh() {
	if d.belief.weights != nil {
		return
	}
	d.hyps, d.rows = d.hyps[:d.basic], d.rows[:d.basic]
	d.weighAll()
	if d.belief.weights[offTheList] > doubtful || d.leavesWild() || d.hasCompany() {
		d.widen(usefulHalves)
		d.weighAll()
		if d.belief.weights[offTheList] > doubtful || d.leavesWild() {
			d.widen(anyHalves)
			d.weighAll()
		}
	}
}

// leavesWild says that the likeliest hypothesis explains some reading no better
// than a slip of the probes would.
func (d *Diagnosis) leavesWild() bool {
	return len(d.unexplained(d.leader())) > 0
}

// mostUnexplained is from how many readings that a hypothesis takes for slips
// of the probes it does not settle the matter, however likely it is beside the
// others: something else must be wrong as well, or instead.
const mostUnexplained = 2

// unexplained are the readings that a hypothesis explains no better than a slip
// of the probes would.
func (d *Diagnosis) unexplained(h hypothesis) []*netlist.Reading {
	var list []*netlist.Reading
	for i := range d.seen {
		if d.seen[i].isWild(d, h) {
			list = append(list, d.seen[i].reading)
		}
	}
	return list
}

// leader is the likeliest hypothesis that is on the list.
func (d *Diagnosis) leader() hypothesis {
	for _, h := range d.belief.order {
		if d.hyps[h].first != unlisted {
			return d.hyps[h]
		}
	}
	return d.hyps[soundWiring]
}

func (d *Diagnosis) weighAll() {
	n := len(d.hyps)
	rough := make([]float64, n)
	best := math.Inf(-1)
	for h := range d.hyps {
		rough[h] = d.firstLook(h)
		best = max(best, rough[h])
	}
	scores := make([]float64, n)
	sound := d.soundTogether()
	for h := range d.hyps {
		scores[h] = math.Inf(-1)
		if rough[h] >= best-dismissed {
			scores[h] = math.Log(d.hyps[h].prior) + d.likelihood(h, sound)
		}
	}
	d.belief = beliefOf(scores)
}

// firstLook weighs a forecast with a broad spread. A figure that depends on an
// unset control says nothing in a first look.
func (o *observation) firstLook(predicted float64) float64 {
	if o.sound.travels() && predicted <= o.meter.Most {
		return 0
	}
	return o.weigh(&forecast{ohms: predicted, spread: broad})
}

// firstLook is the logarithm of prior and likelihood with a broad spread.
func (d *Diagnosis) firstLook(h int) float64 {
	sum := math.Log(d.hyps[h].prior)
	for i := range d.seen {
		o := &d.seen[i]
		if d.hyps[h].first == unlisted {
			sum += o.loose(&forecast{ohms: o.sound.ohms, spread: broad, low: o.sound.low, high: o.sound.high})
		} else {
			sum += d.foresee(o, h).rough
		}
	}
	return sum
}
