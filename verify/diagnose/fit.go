package diagnose

import "math"

// Some faults have a figure of their own that only the readings tell: what a
// part has drifted to, where a pot stands.

// told is a fault as it is told: of a part that has drifted, with the value that
// the readings speak for most.
func (d *Diagnosis) told(fault int) Fault {
	f := *d.faults[fault]
	if f.Kind != WrongValue || f.Slip != Drifted || len(d.seen) == 0 {
		return f
	}
	best, most := f.Value, math.Inf(-1)
	for step := -driftSteps; step <= driftSteps; step++ {
		tried := f
		tried.Slip = 0
		tried.Value = f.Value * math.Exp(3*driftSpread*float64(step)/driftSteps)
		if fits := d.fits(&tried); fits > most {
			best, most = tried.Value, fits
		}
	}
	f.Value = best
	return f
}

const (
	// driftSteps is in how many steps, either way, a drifted value is looked for.
	driftSteps = 60
	// turnSteps is in how many steps the place of a wiper is looked for.
	turnSteps = 50
)

// fitTurns puts the wiper of every pot that may stand elsewhere where the
// readings speak for most. The odds of such a fault are low enough for one that
// may choose.
func (d *Diagnosis) fitTurns() {
	for k, h := range d.further.hyps {
		f := d.faults[h.first]
		if f.Slip != Elsewhere {
			continue
		}
		best, most := f.Share, math.Inf(-1)
		for step := 1; step < turnSteps; step++ {
			tried := *f
			tried.Share = float64(step) / turnSteps
			if fits := d.fits(&tried); fits > most {
				best, most = tried.Share, fits
			}
		}
		if best == f.Share {
			continue
		}
		f.Share = best
		for _, m := range d.views {
			m.forget(h.first)
		}
		d.further.rows[k] = d.foretell(h)
	}
}

// fits says how well a fault explains the figures that were read, each by
// itself, against one another only.
func (d *Diagnosis) fits(f *Fault) float64 {
	sum := 0.0
	prepared := map[*moment]*prepared{}
	for i := range d.seen {
		o := &d.seen[i]
		if o.sign != "" || o.stale || o.taught {
			continue
		}
		p := prepared[o.m]
		if p == nil {
			e := o.m.effect(f)
			p = o.m.view.prepare(&e)
			prepared[o.m] = p
		}
		predicted := p.between(&o.pair)
		off := level(o.ohms) - level(predicted)
		noise := math.Hypot(o.sound.spread, o.noise(predicted))
		sum -= min(off*off/(noise*noise), farthest*farthest)
	}
	return sum
}
