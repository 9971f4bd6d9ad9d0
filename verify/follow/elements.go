package follow

import (
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A valve is one system of a bottle that is in its holder.
type valve struct {
	part    *netlist.Part
	element int
	anode, grid, cathode, screen,
	suppressor netlist.TerminalID
	figures Figures
}

// A link lets signal from one conductor to another without a valve.
type link struct {
	a, b    netlist.TerminalID
	y       complex128 // siemens at Tone
	part    *netlist.Part
	element int
	direct  bool // direct current passes as well
}

// straight is the conductance of what is no resistance to speak of: a fuse, a
// lamp, a wiper at its stop.
const straight = 1

// still is the conductance of a supply that gives a steady voltage and does
// not lie on earth with one end; one that does holds still altogether.
const still = 1e4

// lit is the conductance of a diode that carries a valve's current, as one in
// its cathode does in the place of a resistor: some ten ohms (common practice,
// no source).
const lit = 0.1

// What a part without a figure is taken for. Only signs hang on it.
const (
	usualOhms        = 100e3
	usualTrack       = 500e3
	usualFarads      = 100e-9
	usualPolarFarads = 25e-6
	usualLoudspeaker = 8
)

func (l *link) kind(n *network) *parts.Element { return &n.kindOf(l.part).Elements[l.element] }

// kindOf is what really sits in the part's place.
func (n *network) kindOf(p *netlist.Part) *parts.Kind { return n.h.Fitted(p).Kind }

// take adds what a part puts between conductors.
func (n *network) take(p *netlist.Part, as *netlist.Fitted) {
	k := as.Kind
	seated := p.Seated(n.setting)
	if len(k.Elements) == 0 && len(k.Windings) == 0 {
		if isSupply(p) {
			n.links = append(n.links, link{a: p.Terminals[0], b: p.Terminals[1], y: still, part: p, element: -1})
		}
		return
	}
	for i := range k.Elements {
		e := &k.Elements[i]
		end := func(x int) netlist.TerminalID { return p.Terminals[e.Ends[x]] }
		if e.Type == parts.Triode || e.Type == parts.Pentode {
			if seated {
				n.takeValve(p, i, e)
			} else if !slices.Contains(n.out, p) {
				n.out = append(n.out, p)
			}
			continue
		}
		if !seated {
			continue
		}
		value := as.Values[i].Value
		add := func(a, b netlist.TerminalID, y complex128, direct bool) {
			n.links = append(n.links, link{a: a, b: b, y: y, part: p, element: i, direct: direct})
		}
		switch e.Type {
		case parts.Resistance:
			add(end(0), end(1), conductance(n.figure(p, value, usualOhms)), true)
		case parts.Capacitance:
			usual := usualFarads
			if e.Polar {
				usual = usualPolarFarads
			}
			add(end(0), end(1), complex(0, 2*math.Pi*Tone*n.figure(p, value, usual)), false)
		case parts.Track:
			ohms := n.figure(p, value, usualTrack)
			turn, known := n.turnOf(p, i)
			if !known {
				n.unset = append(n.unset, p)
			}
			below := as.Law().Below(turn)
			add(end(0), end(1), conductance(ohms*below), true)
			add(end(1), end(2), conductance(ohms*(1-below)), true)
		case parts.Coil:
			add(end(0), end(1), n.coil(as, i), true)
		case parts.Diode:
			n.diodes = append(n.diodes, link{a: end(0), b: end(1), y: lit, part: p, element: i, direct: true})
		case parts.Fuse, parts.Lamp:
			add(end(0), end(1), straight, true)
		}
	}
	if len(k.Windings) > 0 {
		n.cores = append(n.cores, coreOf(p, k, n.loudspeakerAcross))
	}
}

func conductance(ohms float64) complex128 {
	return complex(min(1/ohms, straight), 0)
}

func (n *network) figure(p *netlist.Part, value, usual float64) float64 {
	if value > 0 {
		return value
	}
	if !slices.Contains(n.bare, p) {
		n.bare = append(n.bare, p)
	}
	return usual
}

// coil is a loudspeaker with its impedance, or a choke with its henries and
// its wire. One of which nothing is known is a few turns of wire, as a bead.
func (n *network) coil(as *netlist.Fitted, element int) complex128 {
	z := complex128(0)
	switch v := as.Values[element]; {
	case v.Text == "":
	case v.Quantity == lang.Henries:
		z = complex(0, 2*math.Pi*Tone*v.Value)
	case v.Quantity == lang.Ohms:
		z = complex(v.Value, 0)
	}
	if w, ok := as.Kind.WireOhms(element, as.Figures); ok && imag(z) != 0 {
		z += complex(w.Value, 0)
	}
	if z == 0 && as.Kind.Elements[element].Nominal {
		z = usualLoudspeaker
	}
	if abs(z) < 1/straight {
		return straight
	}
	return 1 / z
}

func (n *network) takeValve(p *netlist.Part, element int, e *parts.Element) {
	v := valve{part: p, element: element, screen: netlist.NoTerminal, suppressor: netlist.NoTerminal, figures: figuresOf(n.kindOf(p), e.Type)}
	for i, role := range e.Type.Roles() {
		if i >= len(e.Ends) {
			break
		}
		t := p.Terminals[e.Ends[i]]
		switch role {
		case "anode":
			v.anode = t
		case "grid":
			v.grid = t
		case "cathode":
			v.cathode = t
		case "screen":
			v.screen = t
		case "suppressor":
			v.suppressor = t
		}
	}
	n.valves = append(n.valves, v)
	n.links = append(n.links, link{a: v.anode, b: v.cathode, y: complex(1/v.figures.Anode, 0), part: p, element: element})
}

// isSupply says that a part of two terminals with nothing in it gives a steady
// voltage: to a signal its two ends are one.
func isSupply(p *netlist.Part) bool {
	k := p.Kind
	if len(k.Terminals) != 2 || len(k.Controls) > 0 || len(k.Joined) > 0 {
		return false
	}
	plus, _ := k.Find("positive")
	minus, _ := k.Find("negative")
	return len(plus) == 1 && len(minus) == 1
}

// light lets those diodes conduct that lie at a cathode: of the others a signal
// is not told, since none is known to carry a current.
func (n *network) light() {
	for _, d := range n.diodes {
		if slices.ContainsFunc(n.valves, func(v valve) bool { return n.same(v.cathode, d.a) || n.same(v.cathode, d.b) }) && !n.same(d.a, d.b) {
			n.links = append(n.links, d)
		}
	}
}
