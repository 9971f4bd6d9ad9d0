package legend

import (
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A scene is what hangs on the leads of the part at one moment.
type scene struct {
	step   int
	probes float64
	of     []int32 // conductor of each terminal
	leads  []int32 // conductor of each lead
	free   bool    // nothing electrical of another part is on any of them
	beside []link
}

// A link is something of another part between two conductors, of so many ohms
// at least; nought where nobody can say.
type link struct {
	a, b int32
	ohms float64
}

// look draws the bench as it was at a reading.
func (r *reader) look(reading *netlist.Reading) *scene {
	if bare := len(reading.With)+len(reading.Joined) == 0; r.at != nil && bare && !r.changed(r.at.step, reading.Step) {
		return r.at
	}
	bench := r.book.BenchAt(reading.Step)
	setting := bench.Setting.With(reading.With)
	// What the leads are is the question, so that nothing is taken for granted
	// of it.
	h := bench.Built(netlist.Meaning{}, setting)
	s := &scene{step: reading.Step, probes: bench.Probes, of: h.Islands().Of}
	for _, t := range r.leads {
		s.leads = append(s.leads, s.of[t])
	}
	s.free = r.hangFree(s)
	s.hang(bench, r.part, setting)
	if len(reading.With)+len(reading.Joined) == 0 {
		r.at = s
	}
	return s
}

// hang lists what stands between conductors by way of other parts.
func (s *scene) hang(bench *netlist.Bench, except *netlist.Part, setting netlist.Setting) {
	for _, p := range bench.Book.Parts {
		as := bench.Fitted(p)
		if p == except || as.Absent || !p.Seated(setting) {
			continue
		}
		s.hangElements(p, &as)
		for _, w := range as.Kind.Windings {
			s.hangBetween(p, w.Ends, 0)
		}
		// Which ends the flying leads of another part are does not matter:
		// there is a way from each to each, for all that is known.
		var flying []netlist.TerminalID
		for _, t := range p.Terminals[len(as.Kind.Terminals):] {
			if bench.Book.Terminals[t].Lead {
				flying = append(flying, t)
			}
		}
		for i := 1; i < len(flying); i++ {
			if x, y := s.of[flying[0]], s.of[flying[i]]; x != y {
				s.beside = append(s.beside, link{x, y, 0})
			}
		}
	}
}

// hangElements lists what stands between the ends of a part's elements.
func (s *scene) hangElements(p *netlist.Part, as *netlist.Fitted) {
	elements := as.Kind.Elements
	cold := slices.ContainsFunc(elements, func(e parts.Element) bool { return e.Type == parts.Heater })
	for i := range elements {
		e := &elements[i]
		switch {
		case e.Type == parts.Capacitance, e.Type == parts.Triode, e.Type == parts.Pentode:
			// nothing to a meter's direct current
		case e.Type == parts.Diode && cold:
			// of a valve: without its heater nothing flows
		case e.Type == parts.Resistance:
			s.hangBetween(p, e.Ends, least(as.Values[i]))
		case e.Type == parts.Coil && e.Nominal:
			// The wire of a voice coil has more than half of its impedance
			// (common practice, no source).
			s.hangBetween(p, e.Ends, least(as.Values[i])/2)
		default:
			s.hangBetween(p, e.Ends, 0)
		}
	}
}

// hangBetween lists so many ohms at the least between every two ends of a part.
func (s *scene) hangBetween(p *netlist.Part, ends []int, ohms float64) {
	for i, a := range ends {
		for _, b := range ends[:i] {
			if x, y := s.of[p.Terminals[a]], s.of[p.Terminals[b]]; x != y {
				s.beside = append(s.beside, link{x, y, ohms})
			}
		}
	}
}

// together groups the leads that are one as far as a reading of so many ohms
// can tell: on one conductor, or linked by what other parts put between.
// around is the least that all that is left can read from some leads to others.
func (s *scene) together(most float64, red, black int32) (group map[int32]int32, around float64) {
	group = map[int32]int32{}
	var find func(x int32) int32
	find = func(x int32) int32 {
		up, ok := group[x]
		if !ok || up == x {
			return x
		}
		root := find(up)
		group[x] = root
		return root
	}
	for _, l := range s.beside {
		if l.ohms <= most {
			a, b := find(l.a), find(l.b)
			group[max(a, b)] = min(a, b)
		}
	}
	held := map[int32]bool{}
	for _, c := range s.leads {
		group[c] = find(c)
		held[group[c]] = true
	}
	group[red], group[black] = find(red), find(black)
	var left []link
	for _, l := range s.beside {
		if l.a, l.b = find(l.a), find(l.b); l.ohms > most && l.a != l.b {
			left = append(left, l)
		}
	}
	siemens := map[int32]float64{}
	for _, l := range leading(left, held) {
		siemens[l.a] += 1 / l.ohms
		siemens[l.b] += 1 / l.ohms
	}
	// What does not go through the part comes out at some of its leads and in
	// at others. Whatever those are, one side is without the group that leads
	// away best.
	var all, largest float64
	for _, c := range s.distinct(group) {
		all += siemens[c]
		largest = max(largest, siemens[c])
	}
	return group, 1 / (all - largest)
}

// leading drops the links that lead nowhere: to a conductor that no lead is on
// and that nothing leads on from.
func leading(links []link, held map[int32]bool) []link {
	for {
		only := map[int32]int32{} // the one neighbour; its own number where there are several
		for _, l := range links {
			for _, end := range [2][2]int32{{l.a, l.b}, {l.b, l.a}} {
				if other, ok := only[end[0]]; ok && other != end[1] {
					only[end[0]] = end[0]
				} else if !ok {
					only[end[0]] = end[1]
				}
			}
		}
		blind := func(c int32) bool { return !held[c] && only[c] != c }
		kept := slices.DeleteFunc(slices.Clone(links), func(l link) bool { return blind(l.a) || blind(l.b) })
		if len(kept) == len(links) {
			return links
		}
		links = kept
	}
}

// distinct are the groups that leads are in, in the order of the leads.
func (s *scene) distinct(group map[int32]int32) []int32 {
	var list []int32
	for _, c := range s.leads {
		if !slices.Contains(list, group[c]) {
			list = append(list, group[c])
		}
	}
	return list
}

// clips are the groups of more than one lead.
func (s *scene) clips(group map[int32]int32) [][]int {
	var list [][]int
	for _, g := range s.distinct(group) {
		if leads := s.on(group, g); len(leads) > 1 {
			list = append(list, leads)
		}
	}
	return list
}

func (s *scene) on(group map[int32]int32, g int32) []int {
	var leads []int
	for i, c := range s.leads {
		if group[c] == g {
			leads = append(leads, i)
		}
	}
	return leads
}

// hangFree says that no lead is on a conductor with a part that does
// something: tags, posts and clips do nothing.
func (r *reader) hangFree(s *scene) bool {
	for t := range r.book.Terminals {
		if term := &r.book.Terminals[t]; loads(term, r.part) && slices.Contains(s.leads, s.of[t]) {
			return false
		}
	}
	return true
}

// loads says that a terminal is one of something electrical beside the part.
func loads(term *netlist.Terminal, beside *netlist.Part) bool {
	return term.Part != nil && term.Part != beside && (term.Lead || len(term.Part.Kind.Elements) > 0 || len(term.Part.Kind.Windings) > 0)
}

// wiredOf are the leads that something electrical of another part is on as the
// bench is now.
func wiredOf(book *netlist.Book, part *netlist.Part, leads []netlist.TerminalID) []netlist.TerminalID {
	bench := book.Bench()
	of := bench.Built(netlist.Meaning{}, bench.Setting).Islands().Of
	loaded := map[int32]bool{}
	for t := range book.Terminals {
		if loads(&book.Terminals[t], part) {
			loaded[of[t]] = true
		}
	}
	var list []netlist.TerminalID
	for _, lead := range leads {
		if loaded[of[lead]] {
			list = append(list, lead)
		}
	}
	return list
}

// least is the least that a resistance with a figure can be, in ohms, a tenth
// below it: parts are sold to 10 % and better, but for old ones (common practice,
// no source). Nought where it has no figure.
func least(f lang.Figure) float64 {
	if f.Quantity != lang.Ohms {
		return 0
	}
	return f.Value * 0.9
}
