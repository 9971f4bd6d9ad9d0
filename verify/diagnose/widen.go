package diagnose

import (
	"cmp"
	"math"
	"slices"

	"buzzout/netlist"
)

// Single faults come first: pairs at once would cost many readings only to
// rule out harmless company. Where no single fault fits, leads on the
// neighbouring place are tried too, parts of any other value, and pairs.

const (
	// doubtful is the weight of a fault not on the list from which more is
	// tried.
	doubtful = 0.25
	// oddsPair is how likely a second fault is beside a first (common practice,
	// no source).
	oddsPair = 0.3
	// mostPairs bounds the pairs that are weighed in full.
	mostPairs = 400
	// helps is by how much a fault must explain some reading better than sound
	// wiring does, as a logarithm, to be one of a pair.
	helps = 1.0
)

// further are hypotheses that are listed once they are needed.
type further struct {
	listed bool
	hyps   []hypothesis
	rows   []row
}

// widen adds leads on the neighbouring place, parts that have drifted, and the
// pairs that fit best.
func (d *Diagnosis) widen() {
	if !d.further.listed {
		d.further.listed = true
		for _, f := range listFurther(d.now, d.known) {
			d.faults = append(d.faults, f)
			h := hypothesis{len(d.faults) - 1, none, f.Odds * d.perOdds}
			if r := d.foretell(h); !d.seenAs(r, nil) {
				d.further.hyps, d.further.rows = append(d.further.hyps, h), append(d.further.rows, r)
			}
		}
	}
	d.fitTurns()
	d.hyps, d.rows = append(d.hyps[:d.basic:d.basic], d.further.hyps...), append(d.rows[:d.basic:d.basic], d.further.rows...)
	// What was foreseen by other hypotheses of these numbers is of no use.
	for i := range d.seen {
		o := &d.seen[i]
		o.foreseen = o.foreseen[:min(len(o.foreseen), d.basic)]
	}
	for _, h := range d.likelyPairs() {
		d.hyps, d.rows = append(d.hyps, h), append(d.rows, d.foretell(h))
	}
}

// A half is a fault that may be one of a pair: by how much it explains each
// reading better than sound wiring, where it touches it.
type half struct {
	hypothesis
	better  []float64
	touches []bool
}

// likelyPairs finds the pairs that may explain the readings best. A reading
// that one of the two touches is taken as that one has it; where both do, as
// the better of the two has it. The best are weighed in full by the caller.
func (d *Diagnosis) likelyPairs() []hypothesis {
	sound := make([]float64, len(d.seen))
	for i := range d.seen {
		o := &d.seen[i]
		sound[i] = o.weigh(&o.sound)
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
			predicted := d.foresee(o, h).ohms
			if same(predicted, o.sound.ohms) || o.sound.travels() && predicted <= o.meter.Most {
				continue
			}
			f.touches[i] = true
			f.better[i] = o.weigh(&forecast{ohms: predicted, spread: max(o.sound.spread, 0.05)}) - sound[i]
			useful = useful || f.better[i] > helps
		}
		if useful {
			halves = append(halves, f)
		}
	}
	type scored struct {
		a, b  int
		score float64
	}
	var list []scored
	least := math.Inf(-1)
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
				list = append(list, scored{a, b, score})
			}
			if len(list) >= 4*mostPairs {
				slices.SortStableFunc(list, func(x, y scored) int { return cmp.Compare(y.score, x.score) })
				list = list[:mostPairs]
				least = list[mostPairs-1].score
			}
		}
	}
	slices.SortStableFunc(list, func(x, y scored) int { return cmp.Compare(y.score, x.score) })
	var pairs []hypothesis
	for _, s := range list[:min(len(list), mostPairs)] {
		f, g := &halves[s.a], &halves[s.b]
		if d.compatible(f.first, g.first) {
			pairs = append(pairs, hypothesis{f.first, g.first, f.prior * g.prior * oddsPair})
		}
	}
	return pairs
}

// compatible says that two faults can both be: not of the same piece, joint,
// contact or control.
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
