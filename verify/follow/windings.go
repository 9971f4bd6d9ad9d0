package follow

import (
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// plainTurns is what a winding of which nothing is known is taken to have,
// counted so that its square is the ohms it is made for: 10 k.
const plainTurns = 100

// copper is what the resistance of a winding is of its load where nobody has
// measured it: next to nothing, so that signs and ratios come out as ideal.
const copper = 1e-4

// magnetising is what the core itself takes, of a load as large as the
// winding is made for. 25 times the load is usual in the middle of what a
// guitar plays (from memory).
const magnetising = 0.04

// A section is the part of a winding between two neighbouring ends.
type section struct {
	a, b  netlist.TerminalID
	turns float64 // counted from a to b
	g     float64 // siemens of its wire
}

// A core is what all windings of one part share.
type core struct {
	part     *netlist.Part
	sections []section
	node     int
}

// coreOf gives the windings of what is in a part's place as sections. Turns are known by the square
// root of a load, else by volts, else by the ohms of a loudspeaker that lies
// across the winding. A winding of which none of that is known has a tenth of
// the largest that is known, as a winding for feedback has (common practice,
// no source); where nothing is known at all, every winding has as many. across
// gives the ohms of the loudspeaker between two terminals, 0 for none.
func coreOf(p *netlist.Part, k *parts.Kind, across func(a, b netlist.TerminalID) float64) core {
	c := core{part: p}
	verb := "volts"
	for i := range k.Between {
		if k.Between[i].Verb == "load" {
			verb = "load"
		}
	}
	known := make([][]float64, len(k.Windings))
	unknown := 0.0
	for i, w := range k.Windings {
		if known[i] = places(k, w, verb); known[i] == nil {
			if turns := spokenFor(p, w, across); turns > 0 {
				known[i] = evenly(len(w.Ends), turns)
			}
		} else {
			unknown = max(unknown, (known[i][len(w.Ends)-1]-known[i][0])/10)
		}
	}
	if unknown == 0 {
		unknown = plainTurns
	}
	for i, w := range k.Windings {
		at := known[i]
		if at == nil {
			at = evenly(len(w.Ends), unknown)
		}
		for i := 1; i < len(w.Ends); i++ {
			turns := at[i] - at[i-1]
			s := section{a: p.Terminals[w.Ends[i-1]], b: p.Terminals[w.Ends[i]], turns: turns}
			s.g = 1 / (copper * turns * turns)
			if ohms := wire(k, w.Ends[i-1], w.Ends[i]); ohms > 0 {
				s.g = 1 / ohms
			}
			c.sections = append(c.sections, s)
		}
	}
	return c
}

// spokenFor is the turns of a winding by the loudspeaker across it, 0 if there
// is none.
func spokenFor(p *netlist.Part, w parts.Winding, across func(a, b netlist.TerminalID) float64) float64 {
	for i := range w.Ends {
		for k := i + 1; k < len(w.Ends); k++ {
			if ohms := across(p.Terminals[w.Ends[i]], p.Terminals[w.Ends[k]]); ohms > 0 {
				// The loudspeaker has its share of the winding; the rest is even.
				return math.Sqrt(ohms) * float64(len(w.Ends)-1) / float64(k-i)
			}
		}
	}
	return 0
}

func evenly(ends int, total float64) []float64 {
	at := make([]float64, ends)
	for i := range at {
		at[i] = total * float64(i) / float64(ends-1)
	}
	return at
}

// wire is the ohms of the wire between two ends, 0 where nobody says.
func wire(k *parts.Kind, a, b int) float64 {
	for i := range k.Between {
		w := &k.Between[i]
		if w.Verb != "dcr" || !(w.From == a && w.To == b || w.From == b && w.To == a) {
			continue
		}
		for _, f := range w.Figures {
			if f.Quantity == lang.Ohms {
				return f.Value
			}
		}
	}
	return 0
}

// places counts the turns at each end of a winding from what stands between
// its ends: rising, in the order in which the winding lists them. It is nil
// where nothing is told of the winding, or what is told contradicts itself.
func places(k *parts.Kind, w parts.Winding, verb string) []float64 {
	n := len(w.Ends)
	at := make([]float64, n)
	known := make([]bool, n)
	index := func(end int) int {
		for i, e := range w.Ends {
			if e == end {
				return i
			}
		}
		return -1
	}
	for changed := true; changed; {
		changed = false
		for i := range k.Between {
			b := &k.Between[i]
			from, to := index(b.From), index(b.To)
			turns := turnsBetween(b)
			if b.Verb != verb || from < 0 || to < 0 || turns <= 0 {
				continue
			}
			if from > to {
				from, to = to, from
			}
			anchored := false
			for _, x := range known {
				anchored = anchored || x
			}
			switch {
			case !anchored:
				known[from], known[to] = true, true
				at[from], at[to] = 0, turns
				changed = true
			case known[from] && !known[to]:
				known[to], at[to] = true, at[from]+turns
				changed = true
			case known[to] && !known[from]:
				known[from], at[from] = true, at[to]-turns
				changed = true
			}
		}
	}
	return fillIn(at, known)
}

func turnsBetween(b *parts.Between) float64 {
	for _, f := range b.Figures {
		switch {
		case b.Verb == "load" && f.Quantity == lang.Ohms && f.Value > 0:
			return math.Sqrt(f.Value)
		case b.Verb == "volts" && f.Quantity == lang.Volts:
			return f.Value
		}
	}
	return 0
}

// fillIn spreads ends of which nothing is known evenly between those that are
// known; those beyond go on in steps of the mean.
func fillIn(at []float64, known []bool) []float64 {
	first, last := -1, -1
	for i, k := range known {
		if k {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 || first == last {
		return nil
	}
	step := (at[last] - at[first]) / float64(last-first)
	before := first
	for i := range at {
		switch {
		case known[i]:
			for k := before + 1; k < i && i > first; k++ {
				at[k] = at[before] + (at[i]-at[before])*float64(k-before)/float64(i-before)
			}
			before = i
		case i < first:
			at[i] = at[first] - step*float64(first-i)
		case i > last:
			at[i] = at[last] + step*float64(i-last)
		}
	}
	for i := 1; i < len(at); i++ {
		if at[i] <= at[i-1] {
			return nil
		}
	}
	return at
}

// starts are the ends at which the windings that a step leads in by and out by
// are taken to start: the first ones of their lines.
func (n *network) starts(s *Step) []netlist.TerminalID {
	var list []netlist.TerminalID
	for _, w := range n.kindOf(s.Part).Windings {
		on := func(t netlist.TerminalID) bool {
			return slices.ContainsFunc(w.Ends, func(e int) bool { return s.Part.Terminals[e] == t })
		}
		if on(s.In) || on(s.Out) {
			list = append(list, s.Part.Terminals[w.Ends[0]])
		}
	}
	return list
}
