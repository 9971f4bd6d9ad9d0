package diagnose

import (
	"math"
	"slices"

	"buzzout/verify/meter"
	"buzzout/verify/meter/ohms"
)

// Where nobody has set a pot, a reading that depends on it may be anything
// that its travel allows. It speaks against what cannot bring it about at any
// turn, and accuses nothing that a turn of the pot explains.

// swung is a fault, or none, with an unset control at one end of its travel.
func (p *prepared) swung(swing, end int) *prepared {
	if p.turned == nil {
		p.turned = make([][2]*prepared, len(p.v.swings))
	}
	at := &p.turned[swing][end]
	if *at == nil {
		*at = &prepared{v: p.v, sides: p.sides, change: ohms.Change{Bridges: p.change.Bridges, Cuts: p.change.Cuts}}
		(*at).change.Values = slices.Clone(p.change.Values)
		for _, v := range p.v.n.Swung(p.v.swings[swing], float64(end)) {
			if !slices.ContainsFunc(p.change.Values, func(own ohms.Value) bool { return own.Branch == v.Branch }) {
				(*at).change.Values = append((*at).change.Values, v)
			}
		}
		(*at).update.Prepare(p.v.c, &(*at).change)
	}
	return *at
}

// swing takes unset controls out of the factors of a forecast, and puts in
// their whole travel: each as far as either end of it takes the reading.
func (f *forecast) swing(p *prepared, at *pair, currents []float64) {
	f.low, f.high = level(f.ohms), level(f.ohms)
	for i := range p.v.swings {
		if !moves(p.v.n, p.v.swings[i], currents) {
			continue
		}
		for end := range 2 {
			there := level(p.swung(i, end).between(at))
			f.low, f.high = min(f.low, there), max(f.high, there)
		}
		f.factors = slices.DeleteFunc(f.factors, func(x meter.Factor) bool {
			return slices.ContainsFunc(p.v.swings[i].Tracks, func(k int) bool { return x.Number == p.v.n.Tracks[k].Above })
		})
	}
	if f.high-f.low < leastTravel {
		f.high = f.low
	}
}

// leastTravel is how far, in the logarithm, an unset control must take a
// reading to be worth a thought: less than the meter's own error.
const leastTravel = 0.01

// moves says that a reading with these currents depends on where the wipers of
// a swing are.
func moves(n *meter.Network, s meter.Swing, currents []float64) bool {
	return slices.ContainsFunc(s.Tracks, func(k int) bool {
		t := &n.Tracks[k]
		return math.Abs(currents[t.Below]-currents[t.Above]) > 1e-9
	})
}
