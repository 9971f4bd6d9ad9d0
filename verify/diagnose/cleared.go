package diagnose

import (
	"math"

	"buzzout/netlist"
)

// cleared lists the parts of which every listed fault is ruled out. That one
// fault explains all readings clears no other part: a fault that no reading has
// come near to may be there as well.
func (d *Diagnosis) cleared() []*netlist.Part {
	listed, suspected := map[*netlist.Part]bool{}, map[*netlist.Part]bool{}
	leader := d.leader()
	for _, f := range []int{leader.first, leader.second} {
		if f >= 0 {
			suspected[d.faults[f].Part] = true
		}
	}
	for h := range d.hyps {
		possible := d.possible(h)
		for _, f := range []int{d.hyps[h].first, d.hyps[h].second} {
			if f < 0 || d.faults[f].Part == nil {
				continue
			}
			p := d.faults[f].Part
			listed[p] = true
			suspected[p] = suspected[p] || possible || h < d.basic && d.mayBeBeside(leader, h)
		}
	}
	for _, i := range d.unseen {
		if p := d.faults[i].Part; p != nil {
			suspected[p] = true
		}
	}
	var list []*netlist.Part
	for _, p := range d.Book.Parts {
		if listed[p] && !suspected[p] {
			list = append(list, p)
		}
	}
	return list
}

// possible says that a hypothesis is not ruled out beside the others of the
// list: what speaks for a fault that is on no list clears nothing. A pair keeps
// much of its prior weight by either half alone, and accuses both only where it
// is likely itself.
func (d *Diagnosis) possible(h int) bool {
	least := ruledOut * (1 - d.belief.weights[offTheList])
	if d.hyps[h].second == none {
		least *= d.hyps[h].prior
	}
	return d.belief.weights[h] > least
}

// mayBeBeside says that the readings leave room for a single fault as one more
// beside the likeliest. Beside two, a reading in which those have a part says
// nothing of a third.
func (d *Diagnosis) mayBeBeside(leader hypothesis, h int) bool {
	if leader.first < 0 || !d.compatible(leader.first, d.hyps[h].first) {
		return false // it stands or falls by itself
	}
	sum := 0.0
	for i := range d.seen {
		o := &d.seen[i]
		if same(d.foresee(o, h).ohms, o.sound.ohms) {
			continue
		}
		alone := o.m.prepareBoth(d, leader).predict(&o.pair)
		switch {
		case same(alone.ohms, o.sound.ohms):
			sum += o.weigh(d.forecast(o, h).f) - o.weigh(&o.sound)
		case leader.second == none:
			both := leader.with(d.hyps[h])
			sum += o.weighRoughly(o.m.prepareBoth(d, both).predict(&o.pair)) - o.weigh(&alone)
		}
	}
	return sum > math.Log(ruledOut)
}
