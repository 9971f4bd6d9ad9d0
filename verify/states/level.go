package states

import (
	"math"
	"math/cmplx"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// Tone is the frequency, in hertz, at which levels are worked out: the middle
// of what a guitar plays, where coupling capacitors pass and small ones do not.
const Tone = 1000

// A passive is a two-ended thing that lets signal through, between conductors.
type passive struct {
	a, b       int32
	admittance complex128 // siemens at Tone; not used where short is set
	short      bool       // no resistance at all: a wiper at its stop
	part       *netlist.Part
}

// passives are the resistances, capacitances, tracks, fuses and lamps of the
// parts that are in their places. unknown are the parts that have no figure,
// or whose track nobody has set; a track is then taken at half its travel.
//
// The wiper of a log track at half its travel has 12.5 % of the track below
// it, an antilog one 87.5 %: the middle of the 10 to 15 % and 85 to 90 % of
// the reference table of pot laws (POTBANZ, POTFORUM, POTPEC).
func passives(h *netlist.Harness, s netlist.Setting) (list []passive, unknown []*netlist.Part) {
	for _, p := range h.Book.Parts {
		if !p.Seated(s) {
			continue
		}
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			value := 0.0
			if i < len(p.Values) && p.Values[i].Text != "" {
				value = p.Values[i].Value
			}
			end := func(n int) int32 { return int32(p.Terminals[e.Ends[n]]) }
			switch e.Type {
			case parts.Resistance, parts.Capacitance:
				if value <= 0 {
					unknown = append(unknown, p)
					continue
				}
				y := complex(1/value, 0)
				if e.Type == parts.Capacitance {
					y = complex(0, 2*math.Pi*Tone*value)
				}
				list = append(list, passive{a: end(0), b: end(1), admittance: y, part: p})
			case parts.Fuse, parts.Lamp:
				list = append(list, passive{a: end(0), b: end(1), short: true, part: p})
			case parts.Track:
				if value <= 0 {
					unknown = append(unknown, p)
					continue
				}
				below, known := trackBelow(p, e, s)
				if !known {
					unknown = append(unknown, p)
				}
				list = append(list, track(end(0), end(1), value*below, p), track(end(1), end(2), value*(1-below), p))
			}
		}
	}
	return list, unknown
}

func track(a, b int32, ohms float64, p *netlist.Part) passive {
	if ohms <= 0 {
		return passive{a: a, b: b, short: true, part: p}
	}
	return passive{a: a, b: b, admittance: complex(1/ohms, 0), part: p}
}

// trackBelow is the share of a track between its anticlockwise end and the
// wiper, 0 to 1.
func trackBelow(p *netlist.Part, e *parts.Element, s netlist.Setting) (below float64, known bool) {
	turn := 0.5
	if e.By >= 0 {
		if at := s.PositionOf(netlist.ControlRef{Part: p, Control: e.By}); at.Known {
			turn, known = at.Turn, true
		}
	}
	atHalf := 0.5
	for _, w := range p.Words {
		switch lang.Fold(w) {
		case "log":
			atHalf = 0.125
		case "antilog":
			atHalf = 0.875
		}
	}
	// Two straight pieces that meet at half the travel: how log tracks are made
	// (common practice, no source).
	if turn <= 0.5 {
		return turn * 2 * atHalf, known
	}
	return atHalf + (turn-0.5)*2*(1-atHalf), known
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
func voltageAt(list []passive, joined *sets, feeders []feeder, earth []int32, at int32) complex128 {
	s := joined
	length := len(s.trail)
	defer func() { s.undo(length) }()
	for _, p := range list {
		if p.short {
			s.join(p.a, p.b)
		}
	}
	held := map[int32]complex128{}
	for _, f := range feeders {
		held[s.find(f.conductor)] = f.volts
	}
	for _, e := range earth {
		held[s.find(e)] = 0
	}
	want := s.find(at)
	if v, ok := held[want]; ok {
		return v
	}
	// Only what hangs together with the wanted conductor is solved.
	at2 := map[int32][]int{}
	for i, p := range list {
		if a, b := s.find(p.a), s.find(p.b); !p.short && a != b {
			at2[a] = append(at2[a], i)
			at2[b] = append(at2[b], i)
		}
	}
	number := map[int32]int{want: 0}
	nodes := []int32{want}
	fed := false
	for i := 0; i < len(nodes); i++ {
		for _, k := range at2[nodes[i]] {
			other := s.find(list[k].a)
			if other == nodes[i] {
				other = s.find(list[k].b)
			}
			if v, ok := held[other]; ok {
				fed = fed || v != 0
				continue
			}
			if _, ok := number[other]; !ok {
				number[other] = len(nodes)
				nodes = append(nodes, other)
			}
		}
	}
	if !fed {
		return 0
	}
	n := len(nodes)
	m := make([][]complex128, n)
	for i := range m {
		m[i] = make([]complex128, n+1)
	}
	for i, x := range nodes {
		for _, k := range at2[x] {
			y := list[k].admittance
			other := s.find(list[k].a)
			if other == x {
				other = s.find(list[k].b)
			}
			m[i][i] += y
			if v, ok := held[other]; ok {
				m[i][n] += y * v
			} else {
				m[i][number[other]] -= y
			}
		}
	}
	return solveFirst(m)
}

// solveFirst eliminates a square system with its right side in the last
// column, pivoting by size, and gives the first unknown.
func solveFirst(m [][]complex128) complex128 {
	n := len(m)
	for col := n - 1; col >= 0; col-- {
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
			for k := range m[row] {
				m[row][k] -= f * m[col][k]
			}
		}
	}
	if m[0][0] == 0 {
		return 0
	}
	return m[0][n] / m[0][0]
}
