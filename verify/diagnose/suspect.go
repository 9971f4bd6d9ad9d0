package diagnose

import (
	"cmp"
	"math"
	"slices"

	"buzzout/netlist"
)

// A Suspicion is what the readings so far make of the faults.
type Suspicion struct {
	Readings int // that were weighed: all but those of volts, amperes and farads
	// Suspects are the likeliest first, with no more than a few thousandths of
	// the probability left out. One of them may be that nothing is wrong.
	Suspects []Suspect
	Unlisted float64 // probability of a fault that is not on the list
	// Pairs says that no single fault of the list fits, and that leads on the
	// neighbouring place and pairs of faults were tried as well.
	Pairs bool
	Slips []UnitSlip
	// Cleared are the parts in which every fault of the list is ruled out by
	// readings, also as a second one beside the likeliest suspect.
	Cleared       []*netlist.Part
	Unseen        []Fault    // faults of the list that no reading in this setting can show
	NotConsidered []Omission // what is not on the list
}

// A Suspect is a set of explanations that no reading at the proposed places
// can tell apart, in the present setting.
type Suspect struct {
	Probability  float64
	Explanations []Explanation // the likeliest first
	Evidence     []Evidence    // in the order of the readings
}

// An Explanation is one fault, or two, that may be what is wrong; none where
// nothing is wrong that a cold reading can show.
type Explanation struct {
	Faults      []Fault
	Probability float64
}

// Evidence is how a reading speaks for a suspect or against it.
type Evidence struct {
	Reading *netlist.Reading
	Under   float64 // ohms expected under the suspect's first explanation; +Inf over range
	Sound   float64 // ohms expected if nothing were wrong
	// Weight is in bits: by how much the reading speaks for the suspect, or
	// below nought against it, compared with sound wiring. Readings have parts
	// in common, so that weights do not quite add up.
	Weight float64
	// Wild says that the suspect explains the reading no better than a slip of
	// the probes would.
	Wild bool
}

// A UnitSlip is a reading that would be as it should with another unit: times
// Factor, which is 1000 or 1/1000.
type UnitSlip struct {
	Reading *netlist.Reading
	Factor  float64
}

// An Omission is what no list of faults in a cold circuit has on it, and why.
type Omission struct{ What, Why string }

var notConsidered = []Omission{
	{"capacitors that are open, have lost capacitance or leak a little", "an ohmmeter does not see it"},
	{"valves, but for their heaters", "everything else in them is open while they are cold"},
	{"a few turns short in a winding", "its resistance stays within its tolerance"},
	{"what comes and goes with heat, voltage or a knock", "a cold reading is taken at rest"},
	{"semiconductors that are open or tired", "only one that is a short reads otherwise for certain"},
	{"leads whose colours mean another end than the source taken says", "identify and settle look into that"},
	{"more than two faults at once", "find one, mend it, and ask again"},
}

const (
	// toldShare is how much of the probability the suspects that are told make up.
	toldShare = 0.995
	// mostSuspects and mostExplanations bound how many are told.
	mostSuspects     = 12
	mostExplanations = 12
	// ruledOut is the part of its prior weight below which a fault is ruled out,
	// and the weight below which a pair is.
	ruledOut = 0.01
)

// Evidence is the logarithm of how well the wiring, with all faults that it can
// have, foretells the readings. Under another meaning of the leads' colours it
// is another: the greater speaks for its meaning.
func (d *Diagnosis) Evidence() float64 {
	d.weigh()
	priors := 0.0
	for _, h := range d.hyps {
		priors += h.prior
	}
	return d.belief.total - math.Log(priors)
}

// Suspect ranks what may be wrong by the readings so far.
func (d *Diagnosis) Suspect() Suspicion {
	d.weigh()
	s := Suspicion{Readings: len(d.seen), Unlisted: d.belief.weights[offTheList], Pairs: len(d.hyps) > d.basic, NotConsidered: slices.Clone(notConsidered)}
	sum := 0.0
	for _, c := range d.classes() {
		if d.hyps[c.leader].first == unlisted {
			sum += c.weight
			continue
		}
		if len(s.Suspects) >= mostSuspects || sum > toldShare {
			break
		}
		sum += c.weight
		s.Suspects = append(s.Suspects, d.suspect(c))
	}
	s.Slips = d.slips()
	s.Cleared = d.cleared()
	for _, i := range d.unseen {
		s.Unseen = append(s.Unseen, *d.faults[i])
	}
	return s
}

func (d *Diagnosis) suspect(c class) Suspect {
	s := Suspect{Probability: c.weight, Evidence: d.evidence(d.hyps[c.leader])}
	for _, h := range c.members[:min(len(c.members), mostExplanations)] {
		s.Explanations = append(s.Explanations, d.explanation(h))
	}
	return s
}

func (d *Diagnosis) explanation(h int) Explanation {
	e := Explanation{Faults: []Fault{}, Probability: d.belief.weights[h]}
	for _, f := range []int{d.hyps[h].first, d.hyps[h].second} {
		if f >= 0 {
			e.Faults = append(e.Faults, d.told(f))
		}
	}
	return e
}

// evidence weighs each reading by itself.
func (d *Diagnosis) evidence(h hypothesis) []Evidence {
	list := make([]Evidence, 0, len(d.seen))
	for i := range d.seen {
		o := &d.seen[i]
		e := Evidence{Reading: o.reading, Sound: o.pair.pr.Ohms}
		f := o.m.prepareBoth(d, h).predict(&o.pair)
		e.Under = f.ohms
		e.Weight = (o.weigh(&f) - o.weigh(&o.sound)) / math.Ln2
		e.Wild = o.isWild(d, h)
		list = append(list, e)
	}
	return list
}

// slips finds readings that would be sound with another unit.
func (d *Diagnosis) slips() []UnitSlip {
	var list []UnitSlip
	for i := range d.seen {
		o := &d.seen[i]
		r := o.sound.ohms
		if !o.plain(&o.sound) || o.weigh(&o.sound) > math.Log(4*o.wildly(&o.sound)) {
			continue
		}
		for _, by := range units {
			ohms, shown := o.inUnit(by)
			if shown && math.Abs(level(ohms)-level(r)) < 3*math.Hypot(o.sound.spread, o.noise(r)) {
				list = append(list, UnitSlip{o.reading, by})
			}
		}
	}
	return list
}

// class is a set of hypotheses that cannot be told apart.
type class struct {
	leader  int // the likeliest
	members []int
	weight  float64
}

// classed bounds how many hypotheses are sorted into classes.
const classed = 400

// classes sorts the likeliest hypotheses by what can tell them apart, the
// heaviest class first: those in one have predictions that differ by no more
// than three standard deviations from the leader's at any place.
func (d *Diagnosis) classes() []class {
	var list []class
	for _, h := range d.belief.order[:min(len(d.belief.order), classed)] {
		w := d.belief.weights[h]
		i := slices.IndexFunc(list, func(c class) bool {
			return d.hyps[h].first != unlisted && d.hyps[c.leader].first != unlisted && d.alike(c.leader, h)
		})
		if i < 0 {
			list = append(list, class{leader: h, members: []int{h}, weight: w})
			continue
		}
		list[i].members = append(list[i].members, h)
		list[i].weight += w
	}
	slices.SortStableFunc(list, func(a, b class) int { return cmp.Compare(b.weight, a.weight) })
	return list
}
