package diagnose

import (
	"math"

	"buzzout/netlist"
)

// A place is a pair of terminals where a reading may be proposed.
type place struct {
	pair
	noise float64 // standard deviation of the sound reading, in the logarithm: parts and meter
	toll  float64 // what part of the information it is not worth taking for its awkwardness
	sound float32 // what sound wiring reads there, in bins
}

// What part of its information a reading loses for being awkward. The black
// probe is a clip on ground; where it has to be moved the other hand is needed
// too (common practice, no source).
const (
	tollAwkward = 0.04 // for each degree of a terminal's awkwardness
	tollMoved   = 0.10 // black probe not on ground
	tollMains   = 0.40 // where the mains comes, though the plug is out
	tollCharged = 0.10 // a reservoir to be discharged first
	tollDriven  = 0.60 // a junction that the meter may or may not drive
	tollClimbs  = 0.15 // it has to settle
	tollUnset   = 0.80 // it depends on a pot that nobody has set
)

// reach is how many places further on in the walk the black probe may go, when
// it is not on ground.
const reach = 5

// places lists the readings that may be proposed: from ground to every
// terminal where a probe can be held, across every part, and between terminals
// that follow each other in a walk round the chassis, so that two things are
// read at once.
func (d *Diagnosis) places() {
	n := d.now.n
	seen := map[[2]netlist.TerminalID]bool{}
	d.placeOf = map[[2]netlist.TerminalID]int{}
	add := func(red, black netlist.TerminalID) {
		if red == black || seen[[2]netlist.TerminalID{red, black}] || seen[[2]netlist.TerminalID{black, red}] {
			return
		}
		seen[[2]netlist.TerminalID{red, black}] = true
		p := d.place(red, black)
		d.placeOf[p.terminals()] = len(d.pairs)
		d.pairs = append(d.pairs, p)
	}
	ground := n.Ground()
	held := d.held()
	d.mains = map[int32]bool{}
	easy := map[int32]netlist.TerminalID{}
	for _, c := range n.Conductors() {
		d.mains[c.Number] = c.Mains
		easy[c.Number] = c.Probe
	}
	for i := range n.Pieces { // what is joined to nothing yet is its own place
		for _, t := range []netlist.TerminalID{n.Pieces[i].A, n.Pieces[i].B} {
			if _, known := easy[n.Conductor(t)]; !known {
				easy[n.Conductor(t)] = t
			}
		}
	}
	if ground != netlist.NoTerminal {
		for _, t := range held {
			add(t, ground)
		}
	}
	for i := range n.Pieces {
		if p := &n.Pieces[i]; !p.Out {
			add(easy[n.Conductor(p.A)], easy[n.Conductor(p.B)])
			add(p.A, p.B) // on its own legs, past the joints
		}
	}
	var inner []netlist.TerminalID // held, and not on ground
	for _, t := range held {
		if ground == netlist.NoTerminal || n.Conductor(t) != n.Conductor(ground) {
			inner = append(inner, t)
		}
	}
	for i, t := range inner {
		for _, other := range inner[i+1 : min(len(inner), i+1+reach)] {
			add(t, other)
		}
	}
}

// held are the terminals on which a probe can be held, in the order of the
// parts: all that carry something, but for prints and the legs of what no
// ohmmeter sees.
func (d *Diagnosis) held() []netlist.TerminalID {
	n := d.now.n
	visible := map[*netlist.Part]bool{}
	for i := range n.Pieces {
		visible[n.Pieces[i].Part] = true
	}
	islands := n.Harness.Islands()
	var list []netlist.TerminalID
	for i := range n.Book.Terminals {
		t := netlist.TerminalID(i)
		term := &n.Book.Terminals[i]
		if term.Print != nil || term.Lead || len(islands.Members(islands.Of[t])) < 2 {
			continue
		}
		k := term.Part.Kind
		if n.Awkward(t) >= 3 && !visible[term.Part] {
			continue
		}
		if len(k.Windings) > 0 && len(n.PiecesAt(t)) == 0 {
			continue
		}
		list = append(list, t)
	}
	return list
}

// place is a pair with what it costs; the probes are put the way round in
// which no junction conducts, if there is one.
func (d *Diagnosis) place(red, black netlist.TerminalID) place {
	n := d.now.n
	p := place{pair: d.now.pair(red, black)}
	ground := n.Ground()
	onGround := func(t netlist.TerminalID) bool {
		return ground != netlist.NoTerminal && n.Conductor(t) == n.Conductor(ground)
	}
	driven := n.Drives(p.pr.P, p.pr.Q)
	if len(driven) > 0 && len(n.Drives(p.pr.Q, p.pr.P)) == 0 {
		p.pair = d.now.pair(black, red)
		driven = nil
	}
	worth := 1.0
	less := func(toll float64) { worth *= 1 - toll }
	less(min(0.3, tollAwkward*float64(n.Awkward(red)+n.Awkward(black))))
	if !onGround(red) && !onGround(black) {
		less(tollMoved)
	}
	if len(driven) > 0 {
		less(tollDriven)
	}
	if d.mains[p.pr.P] || d.mains[p.pr.Q] {
		less(tollMains)
	}
	if n.Charged(p.pr.P) || n.Charged(p.pr.Q) {
		less(tollCharged)
	}
	if n.Climbs(p.pr) {
		less(tollClimbs)
	}
	if d.now.measure(&p) {
		less(tollUnset)
	}
	p.toll = 1 - worth
	return p
}

// measure works out what sound wiring reads at a place at this moment, and how
// sure that is; unset says that a control that nobody has set has a part in it.
func (m *moment) measure(p *place) (unset bool) {
	sound := m.sound.predict(&p.pair)
	p.noise = 0.05
	if !math.IsInf(sound.ohms, 1) {
		p.noise = math.Hypot(sound.spread, m.n.Meter.Slack(sound.ohms)/2/(sound.ohms+floor))
	}
	p.noise = max(p.noise, 0.015)
	p.sound = p.binOf(sound.ohms, m.n.Meter.Most)
	return sound.travels()
}

// A row is what a hypothesis predicts at the places where it differs from
// sound wiring, in rising order of the places.
type row []foretold

// foretold is a level at a place, counted in bins of two standard deviations
// there; overRange above all figures.
type foretold struct {
	place int32
	bin   float32
}

const overRange = float32(1e6)

// binsApart is how many bins lie between two levels that a reading can tell
// apart: three standard deviations.
const binsApart = 1.5

// binOf counts a reading in bins.
func (p *place) binOf(ohms, most float64) float32 {
	if ohms > most {
		return overRange
	}
	return float32((level(ohms)-level(0))/(2*p.noise)) + 1
}

// ohmsAt is the reading in the middle of a bin.
func (p *place) ohmsAt(bin float32) float64 {
	if bin >= overRange {
		return math.Inf(1)
	}
	return max(0, math.Exp(float64(bin-1)*2*p.noise+level(0))-floor)
}

// foretell works out what a hypothesis predicts.
func (d *Diagnosis) foretell(h hypothesis) row {
	p := d.now.prepareBoth(d, h)
	if p.none {
		return nil
	}
	var r row
	most := d.now.n.Meter.Most
	p.update.Spread()
	for i := range d.pairs {
		at := &d.pairs[i]
		if !p.touches(&at.pair) {
			continue
		}
		if bin := at.binOf(p.between(&at.pair), most); bin != at.sound {
			r = append(r, foretold{int32(i), bin})
		}
	}
	return r
}

// alike says that two hypotheses cannot be told apart.
func (d *Diagnosis) alike(g, h int) bool { return d.seenAs(d.rows[g], d.rows[h]) }

// seenAs says that two predictions are within three standard deviations
// everywhere.
func (d *Diagnosis) seenAs(a, b row) bool {
	for len(a) > 0 || len(b) > 0 {
		var x, y float32
		switch {
		case len(b) == 0 || len(a) > 0 && a[0].place < b[0].place:
			x, y = a[0].bin, d.pairs[a[0].place].sound
			a = a[1:]
		case len(a) == 0 || b[0].place < a[0].place:
			x, y = d.pairs[b[0].place].sound, b[0].bin
			b = b[1:]
		default:
			x, y = a[0].bin, b[0].bin
			a, b = a[1:], b[1:]
		}
		if x-y > binsApart || y-x > binsApart {
			return false
		}
	}
	return true
}
