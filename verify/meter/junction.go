package meter

import (
	"math"

	"buzzout/verify/meter/ohms"
)

// A Direction is a reading with the probes one way round, as far as
// semiconductor junctions have a part in it.
type Direction struct {
	// Junctions are those that the meter may drive on, in this direction. Some
	// meters do on their ohms ranges and some do not, so the reading is anything
	// from Driven up to that without them.
	Junctions []Junction
	// Driven is the reading with those junctions conducting, in ohms, each taken
	// as junctionOhms; the same as without them where there are none.
	Driven float64
	// Low is the least that the meter can show, with the junctions as shorts
	// and every piece at its low end.
	Low float64
}

// junctionOhms is what a meter shows for a junction that it drives on: its
// forward drop over the meter's current, some hundred ohms in the lowest
// ranges and far more in the highest (common practice, no source).
const junctionOhms = 700

// directions works out both directions of the probes.
func (n *Network) directions(pr *ohms.Probe) (forward, reversed Direction) {
	if len(n.Junctions) == 0 || n.circuit.One(pr.P, pr.Q) {
		d := Direction{Driven: pr.Ohms, Low: pr.Ohms}
		return d, d
	}
	return n.Direction(pr.P, pr.Q), n.Direction(pr.Q, pr.P)
}

// Drives are the junctions that a meter with its red probe on p and its black
// one on q may drive on, by their index in Junctions.
func (n *Network) Drives(p, q int32) []int {
	if len(n.Junctions) == 0 || n.circuit.One(p, q) {
		return nil
	}
	return n.conducting(p, q)
}

// Direction is a reading between two conductors, the red probe on p, as far as
// junctions have a part in it.
func (n *Network) Direction(p, q int32) Direction {
	on := n.Drives(p, q)
	d := Direction{Driven: n.circuit.Between(p, q)}
	for _, i := range on {
		d.Junctions = append(d.Junctions, n.Junctions[i])
	}
	low := n.atExtremes().low
	if len(on) > 0 {
		d.Driven = n.circuit.Changed(n.junctionsOn(on, junctionOhms)).Between(p, q)
		low = low.Changed(n.junctionsOn(on, 0))
	}
	d.Low = low.Between(p, q)
	return d
}

func (n *Network) junctionsOn(on []int, each float64) *ohms.Change {
	ch := &ohms.Change{}
	for _, i := range on {
		j := &n.Junctions[i]
		ch.Bridges = append(ch.Bridges, ohms.Bridge{A: n.Conductor(j.Anode), B: n.Conductor(j.Cathode), Ohms: each})
	}
	return ch
}

// conducting finds which junctions conduct with the red probe on p, starting
// from none and turning on what is driven forward and off what would conduct
// backward, until nothing changes.
func (n *Network) conducting(p, q int32) []int {
	var on []int
	turnedOff := make([]bool, len(n.Junctions))
	for range 2*len(n.Junctions) + 2 {
		c := n.circuit
		if len(on) > 0 {
			c = c.Changed(n.junctionsOn(on, junctionOhms))
		}
		v := newVoltages(c, p, q)
		before := len(on)
		kept := on[:0]
		for _, i := range on {
			j := &n.Junctions[i]
			if a, k := v.at(n.Conductor(j.Anode)), v.at(n.Conductor(j.Cathode)); a < k-v.least {
				turnedOff[i] = true
			} else {
				kept = append(kept, i)
			}
		}
		on = kept
		if len(on) < before {
			continue
		}
		more := n.driven(v, on, turnedOff)
		if len(more) == 0 {
			break
		}
		on = append(on, more...)
	}
	return on
}

// voltages are the potentials that the meter makes. Where its probes are
// apart, everything on the red side is at its voltage and everything on the
// black side at nought. What hangs on neither is afloat, and NaN.
type voltages struct {
	c     *ohms.Circuit
	p, q  int32
	pr    *ohms.Probe // nil where the probes are apart
	black float64
	least float64
}

func newVoltages(c *ohms.Circuit, p, q int32) voltages {
	v := voltages{c: c, p: p, q: q, least: 1e-9}
	if c.Joined(p, q) {
		v.pr = c.Probe(p, q)
		v.black = v.pr.Volts(q)
		v.least = 1e-9 * v.pr.Ohms
	}
	return v
}

func (v *voltages) at(point int32) float64 {
	switch {
	case v.pr == nil && v.c.Joined(point, v.p):
		return 1
	case v.pr == nil && v.c.Joined(point, v.q):
		return 0
	case v.pr != nil && v.c.Joined(point, v.p):
		return v.pr.Volts(point) - v.black
	}
	return math.NaN()
}

// mostInRow bounds the junctions that are followed one behind another through
// what is afloat: a rectifier bridge needs two.
const mostInRow = 5

// driven finds the junctions that come on next: the way of junctions from a
// higher to a lower potential, through what is afloat if need be, that has the
// greatest voltage along it.
func (n *Network) driven(v voltages, on []int, off []bool) []int {
	best, most := []int(nil), v.least
	used := make([]bool, len(n.Junctions))
	for _, i := range on {
		used[i] = true
	}
	var follow func(way []int, from float64, at int32)
	follow = func(way []int, from float64, at int32) {
		if to := v.at(at); !math.IsNaN(to) {
			if from-to > most {
				best, most = append([]int(nil), way...), from-to
			}
			return
		}
		if len(way) == mostInRow {
			return
		}
		for i := range n.Junctions {
			if used[i] || off[i] {
				continue
			}
			if a := n.Conductor(n.Junctions[i].Anode); v.c.Joined(a, at) {
				used[i] = true
				follow(append(way, i), from, n.Conductor(n.Junctions[i].Cathode))
				used[i] = false
			}
		}
	}
	for i := range n.Junctions {
		if used[i] || off[i] {
			continue
		}
		from := v.at(n.Conductor(n.Junctions[i].Anode))
		if math.IsNaN(from) {
			continue
		}
		used[i] = true
		follow([]int{i}, from, n.Conductor(n.Junctions[i].Cathode))
		used[i] = false
	}
	return best
}
