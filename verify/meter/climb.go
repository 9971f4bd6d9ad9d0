package meter

import (
	"math"
	"slices"

	"buzzout/verify/meter/ohms"
)

// A Climb is a capacitor that the meter charges while the reading rises.
type Climb struct {
	Capacitor
	From    float64 // ohms at the start, with the capacitor as good as a short
	Seconds float64 // until the reading stands, five time constants; +Inf: it goes on until over range
}

const (
	// slow is from which a reading is seen to climb, in seconds to stand still.
	slow = 1.0
	// leastClimb is how much of the reading must be missing at the start.
	leastClimb = 0.05
)

// Climbs says that a reading climbs while a capacitor charges.
func (n *Network) Climbs(pr *ohms.Probe) bool { return len(n.climbs(pr)) > 0 }

// climbs finds the capacitors that make a reading climb. The meter drives a
// current through the circuit and so does not load the capacitor itself: it
// charges through what lies across it. Where nothing does, the meter charges
// it until the display is over range.
func (n *Network) climbs(pr *ohms.Probe) []Climb {
	if n.circuit.One(pr.P, pr.Q) {
		return nil
	}
	var list []Climb
	for i := range n.Capacitors {
		c := &n.Capacitors[i]
		x, y := n.Conductor(c.A), n.Conductor(c.B)
		if c.Farads <= 0 || x == y {
			continue
		}
		across := n.circuit.Between(x, y)
		switch {
		case n.circuit.Joined(pr.P, pr.Q) && n.circuit.Joined(x, y):
			if w := pr.Volts(x) - pr.Volts(y); w*w < leastClimb*across*pr.Ohms {
				continue
			}
		case !n.circuit.Joined(pr.P, pr.Q) && !n.circuit.Joined(x, y):
			across = math.Inf(1)
		default:
			continue
		}
		start := n.shorted(i).Between(pr, pr.P, pr.Q)
		if math.IsInf(start, 1) {
			continue
		}
		climb := Climb{Capacitor: *c, From: start, Seconds: 5 * across * c.Farads}
		seen := climb.Seconds
		if math.IsInf(across, 1) {
			// Over range comes after about one time constant of the meter's
			// highest range with the capacitor.
			seen = n.Meter.Most * c.Farads
		}
		if seen >= slow {
			list = append(list, climb)
		}
	}
	slices.SortStableFunc(list, func(a, b Climb) int {
		switch {
		case a.Seconds > b.Seconds:
			return -1
		case a.Seconds < b.Seconds:
			return 1
		}
		return 0
	})
	return list
}

// shorted is the network with a capacitor, by its index, as good as a short.
func (n *Network) shorted(capacitor int) *ohms.Update {
	if n.charging == nil {
		n.charging = make([]*ohms.Update, len(n.Capacitors))
	}
	if n.charging[capacitor] == nil {
		c := &n.Capacitors[capacitor]
		n.charging[capacitor] = n.circuit.Update(&ohms.Change{Bridges: []ohms.Bridge{{A: n.Conductor(c.A), B: n.Conductor(c.B)}}})
	}
	return n.charging[capacitor]
}
