package diagnose

import (
	"cmp"
	"slices"
)

// An Outcome is what a reading may say, and what it would mean.
type Outcome struct {
	Low, High float64 // ohms, leads not included; both +Inf for over range
	Share     float64 // how likely it is, by the belief so far
	Sound     bool    // it is what the reading should be
	Means     []Explanation
}

// A foresaid is what a hypothesis foretells at one place.
type foresaid struct {
	bin        float32
	hypothesis int
}

// toldAt is what the likeliest hypotheses foretell at a place.
func (d *Diagnosis) toldAt(place int) []foresaid {
	var list []foresaid
	for _, h := range d.belief.order[:min(len(d.belief.order), heaviest)] {
		if d.hyps[h].first != unlisted {
			list = append(list, foresaid{d.rows[h].at(place, d.pairs[place].sound), h})
		}
	}
	return list
}

const (
	// mostBins is across how many bins one outcome goes at the most: six standard
	// deviations.
	mostBins = 3
	// leastOutcome is how likely an outcome must be to be told.
	leastOutcome = 0.002
	// mostMeanings bounds how many explanations of an outcome are told.
	mostMeanings = 3
)

// outcomes gathers what hypotheses foretell at a place by what the meter can
// tell apart, the likeliest first.
func (d *Diagnosis) outcomes(p *place, list []foresaid) []Outcome {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b foresaid) int { return cmp.Compare(a.bin, b.bin) })
	var outcomes []Outcome
	for i := 0; i < len(list); {
		j := i + 1
		for j < len(list) && list[j].bin-list[j-1].bin < binsApart && list[j].bin-list[i].bin < mostBins {
			j++
		}
		if o := d.outcome(p, list[i:j]); o.Share >= leastOutcome {
			outcomes = append(outcomes, o)
		}
		i = j
	}
	slices.SortStableFunc(outcomes, func(a, b Outcome) int { return cmp.Compare(b.Share, a.Share) })
	return outcomes
}

func (d *Diagnosis) outcome(p *place, list []foresaid) Outcome {
	low, high := list[0].bin, list[len(list)-1].bin
	o := Outcome{Low: p.ohmsAt(low), High: p.ohmsAt(high), Sound: low <= p.sound && p.sound <= high}
	members := make([]int, 0, len(list))
	for _, t := range list {
		o.Share += d.belief.weights[t.hypothesis]
		members = append(members, t.hypothesis)
	}
	slices.SortStableFunc(members, func(a, b int) int { return cmp.Compare(d.belief.weights[b], d.belief.weights[a]) })
	for _, h := range members[:min(len(members), mostMeanings)] {
		o.Means = append(o.Means, d.explanation(h))
	}
	return o
}
