package diagnose

import (
	"cmp"
	"math"
	"slices"

	"buzzout/netlist"
)

const (
	// oddsPair is how likely a second fault is beside a first (common practice,
	// no source).
	oddsPair = 0.3
	// mostPairs bounds the pairs that are weighed in full.
	mostPairs = 400
	// helps is by how much a fault must explain some reading better than sound
	// wiring does, as a logarithm, to be one of a pair.
	helps = 1.0
	// mostHalves is how many of the best halves are put together in all ways,
	// and mostAnyHalves how many where any will do.
	mostHalves, mostAnyHalves = 50, 120
)

// A halfKind says which halves are put together to pairs.
type halfKind uint8

const (
	// usefulHalves explain some reading better than sound wiring does.
	usefulHalves halfKind = iota
	// anyHalves touch some reading that sound wiring does not explain. Two
	// breaks in a ring open what neither of them opens alone.
	anyHalves
)

// A half is a fault that may be one of a pair: by how much it explains each
// reading better than sound wiring, where it touches it.
type half struct {
	hypothesis
	better  []float64
	touches []bool
}

// explains is how much a half explains of what sound wiring does not.
func (f *half) explains() float64 {
	sum := math.Log(f.prior)
	for _, b := range f.better {
		sum += max(b, 0)
	}
	return sum
}

// A scoredPair is a pair with the logarithm of how well it may explain the
// readings, against sound wiring.
type scoredPair struct {
	hypothesis
	score float64
}

// likelyPairs finds the pairs that may explain the readings best; the caller
// weighs them in full. Three ways lead to them: what the two foretell apart,
// for all pairs; what they foretell together, for the best halves; and what
// goes with the likeliest single fault.
func (d *Diagnosis) likelyPairs(leader int, wanted halfKind) []hypothesis {
	halves := d.halves(wanted)
	list := d.apart(halves)
	most := mostHalves
	if wanted == anyHalves {
		most = mostAnyHalves
	}
	list = append(list, d.joined(halves, most)...)
	if leader < d.basic && d.hyps[leader].first >= 0 {
		c := d.companyOf(leader)
		for _, k := range c.belief.order[:min(len(c.belief.order), mostHalves)] {
			if k > alone {
				list = append(list, scoredPair{c.hyps[k], 0})
			}
		}
	}
	var pairs []hypothesis
	known := map[[2]int]bool{}
	for _, s := range list {
		key := [2]int{min(s.first, s.second), max(s.first, s.second)}
		if !known[key] && d.compatible(s.first, s.second) {
			known[key] = true
			pairs = append(pairs, s.hypothesis)
		}
	}
	return pairs
}

// halves are the single faults that may be one of a pair.
func (d *Diagnosis) halves(wanted halfKind) []half {
	sound := make([]float64, len(d.seen))
	bad := make([]bool, len(d.seen))
	for i := range d.seen {
		o := &d.seen[i]
		sound[i] = o.weigh(&o.sound)
		bad[i] = o.isWild(d, d.hyps[soundWiring])
	}
	var halves []half
	for h := range d.hyps { // single faults, as yet
		if d.hyps[h].first < 0 {
			continue
		}
		f := half{hypothesis: d.hyps[h], better: make([]float64, len(d.seen)), touches: make([]bool, len(d.seen))}
		useful := false
		for i := range d.seen {
			o := &d.seen[i]
			at := d.foresee(o, h)
			if same(at.ohms, o.sound.ohms) || o.sound.travels() && at.ohms <= o.meter.Most {
				continue
			}
			f.touches[i] = true
			f.better[i] = o.weighRoughly(*d.forecast(o, h).f) - sound[i]
			useful = useful || f.better[i] > helps || wanted == anyHalves && bad[i]
		}
		if useful {
			halves = append(halves, f)
		}
	}
	return halves
}

// weighRoughly weighs a forecast as if it were a little vague: the values that
// two readings have in common are not known by themselves.
func (o *observation) weighRoughly(f forecast) float64 {
	f.spread = max(f.spread, vagueness)
	return o.weigh(&f)
}

// apart scores all pairs by what each half foretells by itself: a reading that
// one of the two touches is taken as that one has it, and where both do, as the
// better of the two has it.
func (d *Diagnosis) apart(halves []half) []scoredPair {
	var list []scoredPair
	least := math.Inf(-1)
	best := func() {
		slices.SortStableFunc(list, func(x, y scoredPair) int { return cmp.Compare(y.score, x.score) })
		list = list[:min(len(list), mostPairs)]
	}
	for b := range halves {
		for a := range b {
			f, g := &halves[a], &halves[b]
			score := math.Log(f.prior) + math.Log(g.prior)
			for i := range f.better {
				switch {
				case f.touches[i] && g.touches[i]:
					score += max(f.better[i], g.better[i])
				default:
					score += f.better[i] + g.better[i]
				}
			}
			if score > least {
				list = append(list, scoredPair{f.with(g.hypothesis), score})
			}
			if len(list) >= 4*mostPairs {
				best()
				least = list[mostPairs-1].score
			}
		}
	}
	best()
	return list
}

// joined scores the pairs of the best halves by what they foretell together:
// two faults at one place are something else than each of them.
func (d *Diagnosis) joined(halves []half, most int) []scoredPair {
	halves = slices.Clone(halves)
	slices.SortStableFunc(halves, func(f, g half) int { return cmp.Compare(g.explains(), f.explains()) })
	halves = halves[:min(len(halves), most)]
	var list []scoredPair
	for b := range halves {
		for a := range b {
			f, g := &halves[a], &halves[b]
			if !d.compatible(f.first, g.first) {
				continue
			}
			both := f.with(g.hypothesis)
			score := math.Log(both.prior)
			for i := range d.seen {
				o := &d.seen[i]
				switch {
				case f.touches[i] && g.touches[i]:
					score += o.weighRoughly(o.m.prepareBoth(d, both).predict(&o.pair)) - o.weigh(&o.sound)
				default:
					score += f.better[i] + g.better[i]
				}
			}
			list = append(list, scoredPair{both, score})
		}
	}
	slices.SortStableFunc(list, func(x, y scoredPair) int { return cmp.Compare(y.score, x.score) })
	return list[:min(len(list), mostPairs/4)]
}

// with puts two faults together.
func (h hypothesis) with(g hypothesis) hypothesis {
	return hypothesis{h.first, g.first, h.prior * g.prior * oddsPair}
}

// compatible says that two faults are weighed as a pair: they are not inside
// the same part, of which one replacement mends both, and not of the same joint
// or control, which can only be wrong in one way.
func (d *Diagnosis) compatible(a, b int) bool {
	f, g := d.faults[a], d.faults[b]
	if f.Piece.Nature != 0 && g.Piece.Nature != 0 && f.Piece.Part == g.Piece.Part {
		return false
	}
	shared := func(j *netlist.Joint) bool { return j != nil && (j == g.Joint || j == g.other) }
	if shared(f.Joint) || shared(f.other) {
		return false
	}
	return f.Kind != WrongSetting || g.Kind != WrongSetting || f.Control != g.Control
}
