package diagnose

import (
	"math"
	"math/rand/v2"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/verify/meter"
	"buzzout/verify/meter/ohms"
)

// A chassis is an amplifier on the bench with a fault in it: parts drawn
// within their tolerances, wipers where they may be, and a meter that errs.
type chassis struct {
	d      *Diagnosis
	n      *meter.Network // as it was before anything was learnt of it
	m      *moment
	r      *rand.Rand
	values []float64 // of the pieces, before the fault
	p      *prepared // the fault in the nominal network, for its terminals
	faulty *ohms.Circuit
	drives bool // the meter drives junctions on
	taken  int
}

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 1)) }

func newChassis(d *Diagnosis, r *rand.Rand, h hypothesis) *chassis {
	n := d.now.n
	c := &chassis{d: d, n: n, m: d.now, r: r, drives: r.IntN(2) == 0}
	c.values = make([]float64, len(n.Pieces))
	for i := range n.Pieces {
		p := &n.Pieces[i]
		switch {
		case p.Out:
			c.values[i] = math.Inf(1)
		case p.Tolerance > 0 || p.High == p.Low:
			c.values[i] = p.Low + r.Float64()*(p.High-p.Low)
		default:
			c.values[i] = p.Low * math.Exp(r.Float64()*math.Log(p.High/p.Low))
		}
	}
	turned := map[netlist.ControlRef]float64{}
	for i := range n.Tracks {
		t := &n.Tracks[i]
		if n.Pieces[t.Below].Out {
			continue
		}
		x, known := turned[t.Control]
		if !known || !t.Controlled {
			x = r.Float64()
			turned[t.Control] = x
		}
		share := t.ShareLow + x*(t.ShareHigh-t.ShareLow)
		whole := t.Low + r.Float64()*(t.High-t.Low)
		c.values[t.Below], c.values[t.Above] = share*whole, (1-share)*whole
	}
	c.put(h)
	return c
}

// put makes a fault in the chassis, in the place of the one before.
func (c *chassis) put(h hypothesis) {
	n := c.n
	c.p = c.m.prepareBoth(c.d, h)
	ch := c.p.change
	ch.Values = append([]ohms.Value(nil), ch.Values...)
	for i, v := range ch.Values {
		nominal, own := n.Pieces[v.Branch].Ohms, c.values[v.Branch]
		if v.Ohms != 0 && !math.IsInf(v.Ohms, 1) && nominal > 0 && !math.IsInf(own, 1) {
			ch.Values[i].Ohms = v.Ohms * own / nominal // the wrong part has its own tolerance
		}
	}
	c.faulty = c.m.c.WithOhms(c.values).Changed(&ch)
}

// take reads a pair: what the meter shows, as the notebook would have it.
func (c *chassis) take(red, black netlist.TerminalID) *netlist.Reading {
	c.taken++
	n := c.n
	x, y := c.p.point(red), c.p.point(black)
	r := c.faulty.Between(x, y)
	if on := n.Drives(n.Conductor(red), n.Conductor(black)); c.drives && len(on) > 0 {
		ch := &ohms.Change{}
		for _, i := range on {
			j := n.Junctions[i]
			ch.Bridges = append(ch.Bridges, ohms.Bridge{A: c.p.point(j.Anode), B: c.p.point(j.Cathode), Ohms: 700})
		}
		r = c.faulty.Changed(ch).Between(x, y)
	}
	return c.reading(red, black, r)
}

// reading is what the meter shows of so many ohms: half a per cent of error,
// some hundredths of an ohm at the probes, and whole counts.
func (c *chassis) reading(red, black netlist.TerminalID, r float64) *netlist.Reading {
	reading := &netlist.Reading{Red: red, Black: black, Step: len(c.d.Book.Facts), With: netlist.Setting{}}
	shown := c.n.Meter.Shows(r*(1+0.005*c.r.NormFloat64()) + math.Abs(0.05*c.r.NormFloat64()))
	if math.IsInf(shown, 1) {
		reading.Sign = "open"
		return reading
	}
	reading.Value = lang.Figure{Value: shown, Quantity: lang.Ohms}
	return reading
}

// partByPart measures each part across its ends, in the order of the parts,
// until the part at fault reads what it cannot read within its tolerance: how
// a builder goes about it without help, who looks at each part that stands out
// and goes on if there is nothing wrong with it. It gives the readings taken,
// all of them where the fault never stands out, and whether it did.
func (c *chassis) partByPart(f *Fault) (readings, found int) {
	n := c.n
	before := c.taken
	defer func() { c.taken = before }()
	c.taken = 0
	for i := range n.Pieces {
		p := &n.Pieces[i]
		if p.Out {
			continue
		}
		if j := n.Judge(c.take(p.A, p.B)); j.Verdict == meter.Within {
			continue
		}
		concerned := f.Part == p.Part
		for _, t := range f.Terminals() {
			concerned = concerned || n.Book.Terminals[t].Part == p.Part
		}
		if concerned {
			return c.taken, 1
		}
	}
	return c.taken, 0
}
