package diagnose

import (
	"math"

	"buzzout/netlist"
	"buzzout/verify/meter"
)

// Of some pieces nobody tells the ohms: a winding without a dcr line, a fuse, a
// heater. They are known by decades only. The first reading straight across
// one is taken for its value, as one would at the bench, and is no evidence of
// anything else.

// A learning is the value of a piece as a reading gave it.
type learning struct {
	reading     *netlist.Reading
	ohms, slack float64
}

// vague is from which spread on, in the logarithm, a value is learnt.
const vague = linear

// learn takes a reading for the value of a piece, if it is straight across one
// that is known vaguely, and within what such a piece may have.
func (d *Diagnosis) learn(o *observation) bool {
	if o.sign != "" || math.IsInf(o.pair.pr.Ohms, 1) || !math.IsInf(o.driven, 1) {
		return false
	}
	n := o.m.n
	for i := range n.Pieces {
		p := &n.Pieces[i]
		if p.Out || p.Basis == meter.Stated || p.Basis == meter.Measured || p.Spread < vague || o.pair.pr.Share(i) < 0.9 {
			continue
		}
		if o.ohms < p.Low/2-o.meter.Slack(o.ohms) || o.ohms > p.High*2 {
			continue
		}
		key := keyOf(p)
		if _, known := d.learnt[key]; known {
			continue
		}
		d.learnt[key] = learning{o.reading, o.ohms, o.meter.Slack(o.ohms)}
		return true
	}
	return false
}

// teach gives a network what was learnt.
func (d *Diagnosis) teach(n *meter.Network) {
	if len(d.learnt) == 0 {
		return
	}
	for i := range n.Pieces {
		if l, ok := d.learnt[keyOf(&n.Pieces[i])]; ok {
			n.Take(i, l.ohms, l.slack)
		}
	}
}

// taught says that a reading gave the value of a piece.
func (d *Diagnosis) taught(r *netlist.Reading) bool {
	for _, l := range d.learnt {
		if l.reading == r {
			return true
		}
	}
	return false
}

// weighTaught weighs a reading that taught a value: it only speaks against what
// would make it over range, or another one by decades.
func (o *observation) weighTaught(predicted float64) float64 {
	if predicted > o.meter.Most {
		return math.Log(never)
	}
	return math.Log((1-wild)*normal(level(o.ohms), level(predicted), 1.5) + wild/span)
}
