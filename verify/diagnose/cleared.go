package diagnose

import (
	"math"

	"buzzout/netlist"
)

// cleared lists the parts of which every listed fault is ruled out. That one
// fault explains all readings clears no other part: a fault that no reading has
// come near to may be there as well.
func (d *Diagnosis) cleared() []*netlist.Part {
	suspected := map[*netlist.Part]bool{}
	seen := map[*netlist.Part]bool{}
	leader := d.leader()
	for _, f := range []int{leader.first, leader.second} {
		if f >= 0 {
			suspected[d.faults[f].Part] = true
		}
	}
	for h := range d.hyps[:d.basic] {
		first := d.hyps[h].first
		if first < 0 || d.faults[first].Part == nil {
			continue
		}
		p := d.faults[first].Part
		seen[p] = true
		if !suspected[p] && (d.belief.weights[h] > ruledOut*d.hyps[h].prior || d.mayBeBeside(leader, h)) {
			suspected[p] = true
		}
	}
	for _, i := range d.unseen {
		if p := d.faults[i].Part; p != nil {
			suspected[p] = true
		}
	}
	var list []*netlist.Part
	for _, p := range d.Book.Parts {
		if seen[p] && !suspected[p] {
			list = append(list, p)
		}
	}
	return list
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
		case leader.second == none:
			both := leader.with(d.hyps[h])
			sum += o.weighRoughly(o.m.prepareBoth(d, both).predict(&o.pair)) - o.weigh(&alone)
		case same(alone.ohms, o.sound.ohms):
			sum += o.weighRoughly(*d.forecast(o, h).f) - o.weigh(&o.sound)
		}
	}
	return sum > math.Log(ruledOut)
}
