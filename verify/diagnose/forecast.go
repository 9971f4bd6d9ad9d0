package diagnose

import (
	"math"

	"buzzout/verify/meter"
)

// A forecast is what a reading should be, and what makes that uncertain.
type forecast struct {
	ohms    float64
	factors []meter.Factor // what parts within their tolerances do to it
	spread  float64        // of all factors, in the logarithm
	// low and high are the levels between which controls that nobody has set
	// may bring it; alike where there are none.
	low, high float64
}

// travels says that the reading depends on a control that nobody has set.
func (f *forecast) travels() bool { return f.high > f.low }

// density is that of a level with so great a deviation by parts and meter. What
// depends on a control that nobody has set may be anything that its travel
// allows: half of the density is even in the logarithm there and half even in
// ohms, for tapers are anything between.
func (f *forecast) density(at, sd float64) float64 {
	if !f.travels() {
		return normal(at, level(f.ohms), sd)
	}
	within := normalAbove(at, f.low, sd) - normalAbove(at, f.high, sd)
	return within * (0.5/(f.high-f.low) + 0.5*math.Exp(min(at, f.high))/(math.Exp(f.high)-math.Exp(f.low)))
}

// allows is 1 for a level that the forecast allows, at whatever turn of the
// controls that nobody has set, and falls to 0 beyond two deviations of that.
func (f *forecast) allows(at, sd float64) float64 {
	beyond := max(f.low-at, at-f.high)/sd - 2
	if beyond <= 0 {
		return 1
	}
	return math.Exp(-beyond * beyond / 2)
}

// predict is the forecast of a pair under a fault.
func (p *prepared) predict(at *pair) forecast {
	n := p.v.n
	currents := make([]float64, len(n.Pieces))
	ohms := p.currents(at, currents)
	f := forecast{ohms: ohms, factors: n.Factors(nil, ohms, currents)}
	// A piece of another value counts with that value, and one that has drifted
	// with the spread of that.
	for _, v := range p.change.Values {
		piece := &n.Pieces[v.Branch]
		if math.IsInf(v.Ohms, 1) || v.Ohms == 0 || piece.Ohms <= 0 {
			continue
		}
		for i := range f.factors {
			if x := &f.factors[i]; x.Number == int(v.Branch) {
				x.Effect *= v.Ohms / piece.Ohms
				if p.drift && piece.Spread > 0 && piece.Nature != meter.TrackAbove {
					x.Effect *= driftSpread / piece.Spread
				}
			}
		}
	}
	f.swing(p, at, currents)
	for _, x := range f.factors {
		f.spread = math.Hypot(f.spread, x.Effect)
	}
	return f
}
