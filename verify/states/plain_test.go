package states

import (
	"fmt"
	"math"
	"slices"

	"buzzout/netlist"
)

// Plain searches that share nothing with webs, walks, networks and harnesses:
// what the fast ways are held to.

// spread finds what is one conductor by painting: every terminal has its own
// colour, and whatever joins two gives both the lower, until nothing changes.
// It shares no code with webs, walks and harnesses.
func spread(b *netlist.Book, s netlist.Setting) []int {
	colour := make([]int, len(b.Terminals))
	for i := range colour {
		colour[i] = i
	}
	for changed := true; changed; {
		changed = false
		same := func(x, y netlist.TerminalID) {
			if low := min(colour[x], colour[y]); colour[x] != low || colour[y] != low {
				colour[x], colour[y] = low, low
				changed = true
			}
		}
		for _, net := range b.Nets {
			for _, m := range net.Members {
				same(net.Members[0].Terminal, m.Terminal)
			}
		}
		for _, p := range b.Parts {
			for _, k := range p.Kind.Contacts {
				at := s[netlist.ControlRef{Part: p, Control: k.Control}].Index
				if slices.Contains(k.Positions, at) {
					same(p.Terminals[k.A], p.Terminals[k.B])
				}
			}
			for i := range p.Kind.Controls {
				if plug := s[netlist.ControlRef{Part: p, Control: i}].Plug; plug != nil {
					for n, t := range p.Kind.Terminals {
						for m, other := range plug.Kind.Terminals {
							if t.Name == other.Name {
								same(p.Terminals[n], plug.Terminals[m])
							}
						}
					}
				}
			}
		}
	}
	return colour
}

// wholeLevel solves the whole book for one input at 1 by relaxation: every
// conductor that is not held takes the mean of its neighbours, weighted by
// conductance, until nothing moves. Capacitors count as joined, which at the
// tone of the levels they nearly are; tracks are where they are set.
func wholeLevel(b *netlist.Book, s netlist.Setting, inputs []Input, of int, grid netlist.TerminalID) float64 {
	colour := spread(b, s)
	type tie struct {
		a, b    int
		siemens float64
	}
	var ties []tie
	volts := map[int]float64{}
	held := map[int]bool{}
	sources := map[int][]float64{}
	for i, in := range inputs {
		if s[in.Plug].Index != 0 {
			v := 0.0
			if i == of {
				v = 1
			}
			sources[colour[in.Tip]] = append(sources[colour[in.Tip]], v)
		}
	}
	for at, list := range sources {
		sum := 0.0
		for _, v := range list {
			sum += v
		}
		volts[at], held[at] = sum/float64(len(list)), true
	}
	hold := func(t netlist.TerminalID) { volts[colour[t]], held[colour[t]] = 0, true }
	for _, p := range b.Parts {
		for i, e := range p.Kind.Elements {
			end := func(n int) int { return colour[p.Terminals[e.Ends[n]]] }
			switch word := fmt.Sprint(e.Type); word {
			case "resistance":
				ties = append(ties, tie{end(0), end(1), 1 / p.Values[i].Value})
			case "capacitance":
				ties = append(ties, tie{end(0), end(1), 1})
			case "track":
				below := s[netlist.ControlRef{Part: p, Control: e.By}].Turn
				if slices.Contains(p.Words, "log") {
					below /= 4 // half of the travel: an eighth
				}
				ties = append(ties, tie{end(0), end(1), 1 / (below * p.Values[i].Value)}, tie{end(1), end(2), 1 / ((1 - below) * p.Values[i].Value)})
			case "triode", "pentode":
				for n, role := range e.Type.Roles() {
					if role != "grid" && n < len(e.Ends) {
						hold(p.Terminals[e.Ends[n]])
					}
				}
			}
		}
	}
	for _, in := range inputs {
		hold(in.Sleeve)
	}
	for range 20000 {
		moved := 0.0
		for at := range b.Terminals {
			if held[at] || colour[at] != at {
				continue
			}
			sum, weight := 0.0, 0.0
			for _, t := range ties {
				if t.a == t.b {
					continue
				}
				if t.a == at {
					sum, weight = sum+t.siemens*volts[t.b], weight+t.siemens
				} else if t.b == at {
					sum, weight = sum+t.siemens*volts[t.a], weight+t.siemens
				}
			}
			if weight > 0 {
				moved = max(moved, math.Abs(sum/weight-volts[at]))
				volts[at] = sum / weight
			}
		}
		if moved < 1e-9 {
			break
		}
	}
	return volts[colour[grid]]
}
