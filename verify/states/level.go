package states

import (
	"math"
	"math/cmplx"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// Tone is the frequency, in hertz, at which levels are worked out: the middle
// of what a guitar plays, where coupling capacitors pass and small ones do not.
const Tone = 1000

// half is where a track that nobody has set is taken to be.
var half = netlist.Position{Turn: 0.5}

// What a part without a figure is taken for, in ohms and farads: something
// usual around an input (common practice, no source).
const (
	usualOhms   = 100e3
	usualTrack  = 500e3
	usualFarads = 100e-9
)

// A passive is a two-ended thing that lets signal through, between conductors.
type passive struct {
	a, b       int32
	admittance complex128 // siemens at Tone; not used where short is set
	short      bool       // no resistance at all: a wiper at its stop
	bare       bool       // nobody says how much it has, and something usual is taken
	unset      bool       // a piece of a track that nobody has set, taken at half its travel
	part       *netlist.Part
	ends       [2]netlist.TerminalID
}

// passives are the resistances, capacitances, tracks, fuses and lamps of the
// parts that are in their places, between terminals.
func passives(h *netlist.Harness, s netlist.Setting) []passive {
	var list []passive
	for p, as := range h.There() {
		if !p.Seated(s) {
			continue
		}
		for i := range as.Kind.Elements {
			e := &as.Kind.Elements[i]
			value := as.Values[i].Value
			bare := value <= 0
			between := func(from, to int) passive {
				ends := [2]netlist.TerminalID{p.Terminals[e.Ends[from]], p.Terminals[e.Ends[to]]}
				return passive{a: int32(ends[0]), b: int32(ends[1]), part: p, ends: ends, bare: bare && e.Type != parts.Fuse && e.Type != parts.Lamp}
			}
			switch e.Type {
			case parts.Resistance:
				list = append(list, between(0, 1).of(figure(value, usualOhms)))
			case parts.Capacitance:
				one := between(0, 1)
				one.admittance = complex(0, 2*math.Pi*Tone*figure(value, usualFarads))
				list = append(list, one)
			case parts.Fuse, parts.Lamp:
				one := between(0, 1)
				one.short = true
				list = append(list, one)
			case parts.Track:
				at := half
				if e.By >= 0 {
					if set := s.PositionOf(netlist.ControlRef{Part: p, Control: e.By}); set.Known {
						at = set
					}
				}
				ohms, below := figure(value, usualTrack), as.Law().Below(at.Turn)
				lower, upper := between(0, 1).of(ohms*below), between(1, 2).of(ohms*(1-below))
				lower.unset, upper.unset = !at.Known, !at.Known
				list = append(list, lower, upper)
			}
		}
	}
	return list
}

// figure is a value, or what is usual where nobody says.
func figure(value, usual float64) float64 {
	if value <= 0 {
		return usual
	}
	return value
}

// of gives a piece of a track its resistance in ohms.
func (p passive) of(ohms float64) passive {
	if ohms <= 0 {
		p.short = true
	} else {
		p.admittance = complex(1/ohms, 0)
	}
	return p
}

// A feeder is a source of signal: its conductor is held at a voltage.
type feeder struct {
	conductor int32
	volts     complex128
}

// voltageAt solves the network of passives between conductors by node
// voltages and gives the voltage of one conductor, with the feeders and earth
// (held at zero) as they are. joined says which conductors are one. A
// conductor that nothing holds is at zero.
//
// Feeders that are joined straight are taken as sources alike, which pull
// each other to their mean.
func voltageAt(list []passive, joined *sets, feeders []feeder, earth []int32, at int32) complex128 {
	s := joined
	length := len(s.trail)
	defer s.undo(length)
	for _, p := range list {
		if p.short {
			s.join(p.a, p.b)
		}
	}
	const free = -1
	held := make([]complex128, len(s.up)) // by root, where number is not free
	number := make([]int32, len(s.up))    // by root: in the equations, counted from 1; 0 unseen; free - i: held
	feeding := make([]int, len(s.up))
	for _, f := range feeders {
		root := s.find(f.conductor)
		feeding[root]++
		held[root] += (f.volts - held[root]) / complex(float64(feeding[root]), 0)
		number[root] = free
	}
	for _, e := range earth {
		root := s.find(e)
		held[root], number[root] = 0, free
	}
	want := s.find(at)
	if number[want] == free {
		return held[want]
	}
	// Only what hangs together with the wanted conductor is solved.
	ends := make([][2]int32, len(list))
	around := make([][]int32, len(s.up))
	for i, p := range list {
		a, b := s.find(p.a), s.find(p.b)
		ends[i] = [2]int32{a, b}
		if !p.short && a != b {
			around[a] = append(around[a], int32(i))
			around[b] = append(around[b], int32(i))
		}
	}
	number[want] = 1
	nodes := []int32{want}
	fed := false
	for i := 0; i < len(nodes); i++ {
		for _, k := range around[nodes[i]] {
			other := ends[k][0] + ends[k][1] - nodes[i]
			switch number[other] {
			case free:
				fed = fed || held[other] != 0
			case 0:
				nodes = append(nodes, other)
				number[other] = int32(len(nodes))
			}
		}
	}
	if !fed {
		return 0
	}
	n := len(nodes)
	cells := make([]complex128, n*(n+1))
	m := make([][]complex128, n)
	for i := range m {
		m[i] = cells[i*(n+1) : (i+1)*(n+1)]
	}
	for i, x := range nodes {
		for _, k := range around[x] {
			y := list[k].admittance
			other := ends[k][0] + ends[k][1] - x
			m[i][i] += y
			if number[other] == free {
				m[i][n] += y * held[other]
			} else {
				m[i][number[other]-1] -= y
			}
		}
	}
	return solveFirst(m)
}

// solveFirst eliminates a square system with its right side in the last
// column, pivoting by size, and gives the first unknown.
func solveFirst(m [][]complex128) complex128 {
	n := len(m)
	for col := n - 1; col > 0; col-- {
		pivot := col
		for row := range col {
			if cmplx.Abs(m[row][col]) > cmplx.Abs(m[pivot][col]) {
				pivot = row
			}
		}
		if m[pivot][col] == 0 {
			continue
		}
		m[col], m[pivot] = m[pivot], m[col]
		for row := range col {
			f := m[row][col] / m[col][col]
			if f == 0 {
				continue
			}
			for k := range col {
				m[row][k] -= f * m[col][k]
			}
			m[row][n] -= f * m[col][n]
		}
	}
	if m[0][0] == 0 {
		return 0
	}
	return m[0][n] / m[0][0]
}
