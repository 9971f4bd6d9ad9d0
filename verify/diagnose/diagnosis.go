package diagnose

import (
	"maps"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
	"buzzout/verify/meter"
)

// A Case is what a diagnosis is made of.
type Case struct {
	Book    *netlist.Book
	Meaning netlist.Meaning
	// Planned says that the wiring is taken as drawn and not as the notebook
	// tells that it was built.
	Planned bool
	// Found are findings of comparison: what was found about a terminal raises
	// the odds of faults there.
	Found []verify.Finding
}

// A Diagnosis weighs faults by readings. It is not for several at a time.
type Diagnosis struct {
	Case
	bench    *netlist.Bench
	now      *moment // the wiring as it is, where the next reading is taken; the first of views
	views    []*moment
	known    map[netlist.TerminalID]bool // comparison has found something there
	faults   []*Fault
	hyps     []hypothesis
	seen     []observation
	readings []*netlist.Reading // all that were given
	learnt   map[pieceKey]learning
	// In the present wiring and setting: how often pairs of terminals were read,
	// and for pairs of conductors the place of a reading.
	asked   map[[2]netlist.TerminalID]int
	between map[[2]int32]int

	mains   map[int32]bool // conductors to which the mains comes
	placeOf map[[2]netlist.TerminalID]int
	pairs   []place // readings that may be proposed
	rows    []row   // by hypothesis: what it predicts for the pairs
	unseen  []int   // faults that no reading can show

	basic   int     // so many hypotheses are always weighed; those of further and pairs come after them
	further further // leads on the neighbouring place, and drifted parts
	perOdds float64 // prior of a fault of odds one
	belief  belief
}

// A moment is a view with what each fault makes of it.
type moment struct {
	*view
	bench    *netlist.Bench
	fixed    netlist.Setting
	prepared []*prepared // by fault; nil until asked for
	sound    *prepared   // without a fault
	both     map[[2]int]*prepared
}

// A hypothesis is no fault, one or two of the list, or one that is not on it.
type hypothesis struct {
	first, second int // indices of faults, or one of those below
	prior         float64
}

const (
	none     = -1 // no fault, or no second one
	unlisted = -2
)

// Places in every list of hypotheses.
const (
	soundWiring = iota
	offTheList
	firstListed // from here on there are faults
)

// New lists the faults that the wiring can have.
func New(c Case) *Diagnosis {
	d := &Diagnosis{Case: c, bench: c.Book.Bench(), known: map[netlist.TerminalID]bool{}, learnt: map[pieceKey]learning{}}
	for _, f := range c.Found {
		if f.ToDo || f.Severity > diag.Caution {
			continue // a lead of another colour says nothing of its joints
		}
		for _, t := range f.Terminals {
			d.known[t] = true
		}
	}
	d.draw()
	return d
}

// draw makes the network as it is now, and all hypotheses about it.
func (d *Diagnosis) draw() {
	d.views, d.seen, d.belief = nil, nil, belief{}
	d.hyps, d.rows, d.unseen, d.pairs, d.further = nil, nil, nil, nil, further{}
	d.asked, d.between = map[[2]netlist.TerminalID]int{}, map[[2]int32]int{}
	d.now = d.moment(d.bench, d.bench.Setting, nil)
	d.faults = listFaults(d.now.view, d.known)
	d.places()
	d.hypotheses()
}

// hypotheses makes one of every fault that a reading can show. What no reading
// can show is as good as nothing wrong, and is kept apart.
func (d *Diagnosis) hypotheses() {
	total := 0.0
	for _, f := range d.faults {
		total += f.Odds
	}
	d.perOdds = (1 - oddsNothing - oddsUnlisted) / max(total, 1e-9)
	d.hyps = append(d.hyps, hypothesis{none, none, oddsNothing}, hypothesis{unlisted, none, oddsUnlisted})
	d.rows = append(d.rows, nil, nil)
	for i, f := range d.faults {
		h := hypothesis{i, none, f.Odds * d.perOdds}
		r := d.foretell(h)
		if d.seenAs(r, nil) {
			d.unseen = append(d.unseen, i)
			continue
		}
		d.hyps = append(d.hyps, h)
		d.rows = append(d.rows, r)
	}
	d.basic = len(d.hyps)
}

// moment finds or draws the view of a bench in a setting.
func (d *Diagnosis) moment(b *netlist.Bench, s netlist.Setting, fixed netlist.Setting) *moment {
	for _, m := range d.views {
		if sameBench(m.bench, b) && maps.Equal(m.setting, s.With(fixed)) && maps.Equal(m.fixed, fixed) {
			return m
		}
	}
	var n *meter.Network
	if d.Planned {
		n = meter.Planned(d.Book, d.Meaning, s.With(fixed))
	} else {
		n = meter.Built(b, d.Meaning, fixed)
	}
	d.teach(n)
	m := &moment{view: newView(n, fixed), bench: b, fixed: fixed}
	m.sound = &prepared{v: m.view, none: true}
	d.views = append(d.views, m)
	return m
}

// sameBench says that nothing was soldered or fitted between two moments.
func sameBench(a, b *netlist.Bench) bool { return a == b || meter.SameWork(a, b) }

// prepare puts a fault of the list into a moment.
func (m *moment) prepare(d *Diagnosis, fault int) *prepared {
	if more := len(d.faults) - len(m.prepared); more > 0 {
		m.prepared = append(m.prepared, make([]*prepared, more)...)
	}
	if m.prepared[fault] == nil {
		e := m.effect(d.faults[fault])
		m.prepared[fault] = m.view.prepare(&e)
	}
	return m.prepared[fault]
}

// forget drops what was prepared for a fault, since it has changed.
func (m *moment) forget(fault int) {
	if fault < len(m.prepared) {
		m.prepared[fault] = nil
	}
	for key := range m.both {
		if key[0] == fault || key[1] == fault {
			delete(m.both, key)
		}
	}
}

// prepareBoth puts one or two faults into a moment.
func (m *moment) prepareBoth(d *Diagnosis, h hypothesis) *prepared {
	switch {
	case h.first < 0:
		return m.sound
	case h.second < 0:
		return m.prepare(d, h.first)
	}
	key := [2]int{h.first, h.second}
	if p := m.both[key]; p != nil {
		return p
	}
	if m.both == nil || len(m.both) > 4*mostPairs {
		m.both = map[[2]int]*prepared{}
	}
	e, other := m.effect(d.faults[h.first]), m.effect(d.faults[h.second])
	e.add(&other)
	m.both[key] = m.view.prepare(&e)
	return m.both[key]
}

// Read takes readings into account, in the order in which they come. Those of
// volts, amperes and farads are passed over: they are not read cold.
func (d *Diagnosis) Read(readings ...*netlist.Reading) {
	for _, r := range readings {
		d.readings = append(d.readings, r)
		if !d.observe(r) {
			d.readAgain()
		}
	}
}

// readAgain draws all anew with what readings have told of values. One of them
// may tell another value by that, and all is drawn once more: each round tells
// the value of a piece of which nobody knew it, so that there is an end.
func (d *Diagnosis) readAgain() {
	taught := func(r *netlist.Reading) bool { return !d.observe(r) }
	for again := true; again; {
		d.draw()
		again = slices.ContainsFunc(d.readings, taught)
	}
}

// observe puts a reading into its view. It is false where the reading taught
// the value of a piece that was not known.
func (d *Diagnosis) observe(r *netlist.Reading) bool {
	b := d.Book.BenchAt(r.Step)
	if r.Step >= len(d.Book.Facts) {
		b = d.bench
	}
	m := d.moment(b, b.Setting, r.With)
	instrument := meter.Handheld()
	if b.Probes > 0 {
		instrument.Probes, instrument.Told = b.Probes, true
	}
	o, ok := observe(r, m, instrument)
	if !ok {
		return true
	}
	if d.learn(&o) {
		return false
	}
	o.taught = d.taught(r)
	o.stale = !sameBench(b, d.bench)
	o.rough = o.firstLook(o.sound.ohms)
	d.seen = append(d.seen, o)
	d.belief = belief{}
	if o.m == d.now {
		d.asked[o.pair.terminals()]++
		if place, ok := d.placeNear(&o.pair); ok {
			d.between[o.pair.conductors()] = place
		}
	}
	return true
}

// placeNear is the place that a reading stands for: its own, or the nearest
// between the same two conductors, since another point of the chassis says the
// same again.
func (d *Diagnosis) placeNear(at *pair) (place int, ok bool) {
	if place, ok = d.placeOf[at.terminals()]; ok {
		return place, true
	}
	for i := range d.pairs {
		p := &d.pairs[i]
		if p.conductors() != at.conductors() {
			continue
		}
		if p.red == at.red || p.black == at.red || p.red == at.black || p.black == at.black {
			return i, true
		}
		if !ok {
			place, ok = i, true
		}
	}
	return place, ok
}
