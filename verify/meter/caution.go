package meter

import (
	"math"
	"slices"

	"buzzout/netlist"
)

// Touchable is the direct voltage, in volts, up to which a charge is not
// counted as dangerous here: class ES1 of IEC 62368-1, Table 4 (read in a
// translation).
const Touchable = 60

// A Caution is a capacitor that may hold a dangerous charge where a probe
// goes: it has to be discharged first, and that has to be verified with the
// meter on volts. An ohmmeter on a charged capacitor is destroyed, and whoever
// holds the probes is in danger.
type Caution struct {
	Capacitor
	At netlist.TerminalID // the terminal that was asked for
	// Bleed is what lies across the capacitor, in ohms; +Inf: nothing
	// discharges it. Seconds is how long that takes from its rated voltage down
	// to Touchable, +Inf for ever.
	Bleed, Seconds float64
}

const (
	// large is from which a capacitor counts as a reservoir, in farads: what
	// IEC 62368-1, Table 5, lets hold 60 V and no more is 300 nF and above.
	large = 300e-9
	// closeOhms is how many ohms away a charge still counts as being there: a hand
	// tool for discharging has 10 to 20 kilohm.
	closeOhms = 20e3
)

// cautions lists the reservoirs whose charge is near one of the terminals.
func (n *Network) cautions(terminals ...netlist.TerminalID) []Caution {
	var list []Caution
	for i := range n.Capacitors {
		at := slices.IndexFunc(terminals, func(t netlist.TerminalID) bool { return n.met(i, n.Conductor(t)) })
		if at < 0 {
			continue
		}
		c := &n.Capacitors[i]
		bleed := n.circuit.Between(n.Conductor(c.A), n.Conductor(c.B))
		list = append(list, Caution{Capacitor: *c, At: terminals[at], Bleed: bleed, Seconds: discharge(bleed, c.Farads, c.Volts)})
	}
	slices.SortStableFunc(list, func(a, b Caution) int { return a.Part.Index - b.Part.Index })
	return list
}

// Charged says that a reservoir's charge may be met on a conductor.
func (n *Network) Charged(conductor int32) bool {
	for i := range n.Capacitors {
		if n.met(i, conductor) {
			return true
		}
	}
	return false
}

// met says that the charge of a capacitor, by its index, is dangerous and may
// be met on a conductor.
func (n *Network) met(capacitor int, at int32) bool {
	c := &n.Capacitors[capacitor]
	x, y := n.Conductor(c.A), n.Conductor(c.B)
	if c.Volts <= Touchable || c.Farads < large || x == y {
		return false
	}
	if n.charge == nil {
		n.charge = make([]func(int32) float64, len(n.Capacitors))
	}
	if n.charge[capacitor] == nil {
		n.charge[capacitor] = n.charged(x, y)
	}
	return math.Abs(n.charge[capacitor](at))*c.Volts > Touchable &&
		(n.circuit.Between(at, x) <= closeOhms || n.circuit.Between(at, y) <= closeOhms)
}

// charged gives, for every conductor, what part of a capacitor's voltage
// stands on it against ground; where ground has no way to the capacitor,
// against its minus.
func (n *Network) charged(x, y int32) func(int32) float64 {
	volt := func(at int32) float64 {
		if n.circuit.Joined(at, x) {
			return 1
		}
		return 0
	}
	if n.circuit.Joined(x, y) && !n.circuit.One(x, y) {
		pr := n.circuit.Probe(x, y)
		volt = func(at int32) float64 {
			if !n.circuit.Joined(at, x) {
				return 0
			}
			return (pr.Volts(at) - pr.Volts(y)) / pr.Ohms
		}
	}
	zero := 0.0
	if g := n.Ground(); g != netlist.NoTerminal && (n.circuit.Joined(n.Conductor(g), x) || n.circuit.Joined(n.Conductor(g), y)) {
		zero = volt(n.Conductor(g))
	}
	return func(at int32) float64 {
		if !n.circuit.Joined(at, x) && !n.circuit.Joined(at, y) {
			return 0
		}
		return volt(at) - zero
	}
}

// discharge is how long a capacitor takes from its voltage down to Touchable,
// in seconds.
func discharge(ohms, farads, volts float64) float64 {
	if volts <= Touchable {
		return 0
	}
	return ohms * farads * math.Log(volts/Touchable)
}
