package legend

// mostCompared bounds the hypotheses that are compared two by two.
const mostCompared = 40

// best is the reading that parts the most hypotheses, two by two.
func (p *picture) best(asks []ask, hyps []hypothesis, open []bool) (ask, bool) {
	hyps = hyps[:min(len(hyps), mostCompared)]
	bestAsk, best := ask{}, 0
	for _, a := range asks {
		shows := make([]band, len(hyps))
		for i := range hyps {
			shows[i] = p.shows(&hyps[i], &a)
		}
		parted := 0
		for i := range hyps {
			for k := range i {
				if !shows[i].meets(shows[k]) && differ(&hyps[i], &hyps[k], open) {
					parted++
				}
			}
		}
		if parted > best {
			bestAsk, best = a, parted
		}
	}
	return bestAsk, best > 0
}

func differ(a, b *hypothesis, open []bool) bool {
	for lead, end := range a.ends {
		if open[lead] && b.ends[lead] != end {
			return true
		}
	}
	return false
}

// shows is the band of what the meter would show under a hypothesis.
func (p *picture) shows(h *hypothesis, a *ask) band {
	if a.sort == through {
		is := p.rowUnder(h, a.red, a.black, func(o *order) *web { return o.ohms })
		return is.wider(p.meter.Contact + p.meter.Digit)
	}
	supply := p.supply()
	if !a.clipped {
		return p.asRead(p.predict(h, a.red, a.black, supply))
	}
	x, y := a.clip[0], a.clip[1]
	d, o := p.predict(h, x, a.red, supply), p.predict(h, y, a.black, supply)
	d = d.meet(p.closely(x, a.red, supply))
	ex, eu, ey, ev := h.ends[x], h.ends[a.red], h.ends[y], h.ends[a.black]
	if ex < 0 || eu < 0 || ey < 0 || ev < 0 || p.lay.free[p.lay.of[ex]] || p.lay.free[p.lay.of[ey]] {
		return anything
	}
	if (p.lay.at[eu] > p.lay.at[ex]) == (p.lay.at[ev] > p.lay.at[ey]) {
		return p.asRead(band{max(0, d.lo-o.hi, o.lo-d.hi), max(d.hi-o.lo, o.hi-d.lo)})
	}
	return p.asRead(band{d.lo + o.lo, d.hi + o.hi})
}

// asRead widens a band by what the meter most likely makes of it.
func (p *picture) asRead(b band) band {
	return b.wider(p.meter.VoltsDigits*smallVolts + p.meter.SameRange*b.middle()/2)
}
