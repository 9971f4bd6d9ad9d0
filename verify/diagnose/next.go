package diagnose

import (
	"cmp"
	"math"
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter"
)

// A Step is what to do next.
type Step struct {
	Done Done
	// Red and Black are where to put the probes, where there is something to
	// learn; NoTerminal where there is not.
	Red, Black netlist.TerminalID
	Gain       float64           // bits that the reading is expected to tell
	Expected   meter.Expectation // the reading of sound wiring, with its cautions
	Outcomes   []Outcome         // what it may say, the likeliest first
	Confirms   bool              // the likeliest suspect is as good as certain: this reading is to bear it out
	Mains      bool              // a probe goes where the mains comes: the plug has to be out
	// Top is the likeliest suspect so far.
	Top Suspect
	// Unset are pots of which nobody told where they stand. Set to a stop, they
	// would blur fewer readings.
	Unset []netlist.ControlRef
}

// Done says why no reading is proposed.
type Done uint8

// The reasons.
const (
	NotDone     Done = iota
	Settled          // one suspect is as good as certain
	NothingMore      // no reading in this setting tells enough more
)

// An Outcome is what the reading may say, and what it would mean.
type Outcome struct {
	Low, High float64 // ohms, leads not included; both +Inf for over range
	Share     float64 // how likely it is, by the belief so far
	Means     []Explanation
}

// WhereNext proposes the next reading.
func (d *Diagnosis) WhereNext() Step {
	d.weigh()
	top := d.classes()[0]
	s := Step{Red: netlist.NoTerminal, Black: netlist.NoTerminal, Unset: d.unset()}
	if d.hyps[top.leader].first != unlisted {
		s.Top = d.suspect(top)
	}
	at, done := d.decide(top)
	s.Done = done
	if done != NotDone {
		return s
	}
	p := &d.pairs[at.place]
	s.Red, s.Black, s.Gain, s.Confirms = p.red, p.black, at.gain, at.confirms
	s.Expected = d.now.n.Expect(p.red, p.black)
	s.Mains = d.mains[p.pr.P] || d.mains[p.pr.Q]
	s.Outcomes = d.outcomes(at.place)
	return s
}

// unset lists the pots of which nobody told where they stand.
func (d *Diagnosis) unset() []netlist.ControlRef {
	var list []netlist.ControlRef
	for i := range d.now.n.Tracks {
		if t := &d.now.n.Tracks[i]; t.Controlled && !t.Set && !slices.Contains(list, t.Control) {
			list = append(list, t.Control)
		}
	}
	return list
}

// outcomes gathers what the likeliest hypotheses foretell at a place: levels
// nearer to each other than two bins are one outcome.
func (d *Diagnosis) outcomes(place int) []Outcome {
	type told struct {
		bin float32
		h   int
	}
	var list []told
	for _, h := range d.belief.order[:min(len(d.belief.order), heaviest)] {
		if d.hyps[h].first != unlisted {
			list = append(list, told{d.rows[h].at(place, d.pairs[place].sound), h})
		}
	}
	slices.SortStableFunc(list, func(a, b told) int { return cmp.Compare(a.bin, b.bin) })
	var outcomes []Outcome
	for i := 0; i < len(list); {
		j := i + 1
		for j < len(list) && list[j].bin-list[j-1].bin < 2 {
			j++
		}
		o := Outcome{Low: d.ohmsAt(place, list[i].bin), High: d.ohmsAt(place, list[j-1].bin)}
		members := make([]int, 0, j-i)
		for _, t := range list[i:j] {
			o.Share += d.belief.weights[t.h]
			members = append(members, t.h)
		}
		slices.SortStableFunc(members, func(a, b int) int { return cmp.Compare(d.belief.weights[b], d.belief.weights[a]) })
		for _, h := range members[:min(len(members), 3)] {
			o.Means = append(o.Means, d.explanation(h))
		}
		if o.Share >= leastOutcome {
			outcomes = append(outcomes, o)
		}
		i = j
	}
	slices.SortStableFunc(outcomes, func(a, b Outcome) int { return cmp.Compare(b.Share, a.Share) })
	return outcomes
}

// leastOutcome is how likely an outcome must be to be told.
const leastOutcome = 0.002

// ohmsAt is the reading in the middle of a bin.
func (d *Diagnosis) ohmsAt(place int, bin float32) float64 {
	if bin >= overRange {
		return math.Inf(1)
	}
	return max(0, math.Exp(float64(bin-1)*2*d.pairs[place].noise+level(0))-floor)
}
