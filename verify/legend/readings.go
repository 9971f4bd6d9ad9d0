package legend

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// SetAside is a reading at the leads of a part that says nothing of them, and why.
type SetAside struct {
	Reading *netlist.Reading
	Why     string // a sentence without a full stop
}

// Ohms from which on no winding is thought to read so much, and from which on
// there is no wire at all; what lies between is leakage or a circuit.
const (
	mostWire  = 50e3
	leastOpen = 1e6
)

// mostBeeped is what a beeper may call wire: makers differ, from 30 to some
// 100 Ω (common practice, no source). Silence says nothing, since a
// high-tension winding reads more than that.
const mostBeeped = 100

// lightLoad is what may hang on a winding, in ohms, without its volts
// changing as far as a meter could tell.
const lightLoad = 1000

// leadsOf are the flying leads of a part.
func leadsOf(b *netlist.Book, p *netlist.Part) []netlist.TerminalID {
	var list []netlist.TerminalID
	for _, t := range p.Terminals {
		if b.Terminals[t].Lead {
			list = append(list, t)
		}
	}
	return list
}

// A reader turns readings of a notebook into measures.
type reader struct {
	book     *netlist.Book
	part     *netlist.Part
	meter    Meter
	leads    []netlist.TerminalID
	measures []measure
	aside    []SetAside
	near     []bool

	// The bench is looked at anew only when something happened there.
	at      *scene
	steps   []int // facts of the bench, rising
	anchor  [2]int
	anchors float64
	supply  int
}

// A scene is what hangs on the leads of the part at one moment.
type scene struct {
	step   int
	probes float64
	of     []int32 // conductor of each terminal
	leads  []int32 // conductor of each lead
	beside []link
}

// A link is something of another part between two conductors, of so many ohms
// at least; nought where nobody can say.
type link struct {
	a, b int32
	ohms float64
}

// read gives the readings at the leads of a part, up to a step, as measures.
func read(b *netlist.Book, p *netlist.Part, meter Meter, until int) ([]netlist.TerminalID, []measure, []SetAside) {
	r := &reader{book: b, part: p, meter: meter, leads: leadsOf(b, p), supply: -1}
	if len(r.leads) == 0 {
		return nil, nil, nil
	}
	r.near = r.reached()
	for _, f := range b.Facts {
		switch f.Statement.Verb() {
		case "solder", "bolt", "unsolder", "lead", "fit", "set":
			r.steps = append(r.steps, f.Index)
		}
	}
	for _, reading := range b.Readings {
		if reading.Step < until {
			r.take(reading)
		}
	}
	return r.leads, r.measures, r.aside
}

// changed says that something happened at the bench between two steps.
func (r *reader) changed(from, to int) bool {
	i, _ := slices.BinarySearch(r.steps, from)
	k, _ := slices.BinarySearch(r.steps, to)
	return i != k
}

// look draws the bench as it was at a reading.
func (r *reader) look(reading *netlist.Reading) *scene {
	if r.at != nil && len(reading.With) == 0 && !r.changed(r.at.step, reading.Step) {
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
	s.hang(bench, r.part, setting)
	if len(reading.With) == 0 {
		r.at = s
	}
	return s
}

// hang lists what stands between conductors by way of other parts.
func (s *scene) hang(bench *netlist.Bench, except *netlist.Part, setting netlist.Setting) {
	add := func(p *netlist.Part, ends []int, ohms float64) {
		for i, a := range ends {
			for _, b := range ends[:i] {
				if x, y := s.of[p.Terminals[a]], s.of[p.Terminals[b]]; x != y {
					s.beside = append(s.beside, link{x, y, ohms})
				}
			}
		}
	}
	for _, p := range bench.Book.Parts {
		fitting := bench.Fittings[p]
		if p == except || fitting != nil && fitting.Absent || !p.Seated(setting) {
			continue
		}
		k := p.Kind
		cold := slices.ContainsFunc(k.Elements, func(e parts.Element) bool { return e.Type == parts.Heater })
		for i := range k.Elements {
			e := &k.Elements[i]
			switch {
			case e.Type == parts.Capacitance, e.Type == parts.Triode, e.Type == parts.Pentode:
				// nothing to a meter's direct current
			case e.Type == parts.Diode && cold:
				// of a valve: without its heater nothing flows
			case e.Type == parts.Resistance:
				add(p, e.Ends, valueOf(p, fitting, i))
			case e.Type == parts.Coil && e.Nominal:
				// The wire of a voice coil has more than half of its impedance
				// (common practice, no source).
				add(p, e.Ends, valueOf(p, fitting, i)/2)
			default:
				add(p, e.Ends, 0)
			}
		}
		for _, w := range k.Windings {
			add(p, w.Ends, 0)
		}
		// Which ends the flying leads of another part are does not matter:
		// there is a way from each to each, for all that is known.
		var flying []netlist.TerminalID
		for _, t := range p.Terminals[len(k.Terminals):] {
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

// linked says that some group holds leads on more than one conductor.
func (s *scene) linked(group map[int32]int32) bool {
	for i, c := range s.leads {
		for _, d := range s.leads[:i] {
			if c != d && group[c] == group[d] {
				return true
			}
		}
	}
	return false
}

// valueOf is the least that a part's element can be, a tenth below its
// figure; nought where there is none.
func valueOf(p *netlist.Part, fitting *netlist.Fitting, element int) float64 {
	value := 0.0
	if element < len(p.Values) && p.Values[element].Quantity == lang.Ohms {
		value = p.Values[element].Value
	}
	if fitting != nil {
		if fitting.Kind != nil {
			return 0
		}
		for _, f := range fitting.Figures {
			if f.Quantity == lang.Ohms || f.Quantity == lang.Number {
				value = min(value, f.Value)
			}
		}
	}
	return value * 0.9
}

func (r *reader) take(reading *netlist.Reading) {
	q := reading.Value.Quantity
	if reading.Sign == "" && q != lang.Ohms && q != lang.Volts || !r.near[reading.Red] || !r.near[reading.Black] {
		return
	}
	s := r.look(reading)
	m := measure{value: reading.Value.Value, from: reading, supply: inOhms}
	red, black := s.of[reading.Red], s.of[reading.Black]
	most := 0.0
	switch {
	case q == lang.Volts:
		m.sort, most = span, lightLoad
	case reading.Sign == "" && m.value < leastOpen:
		added := band{0, probes}
		if s.probes > 0 {
			added = band{s.probes, s.probes}
		}
		m.digit = lastDigit(reading.Value)
		m.is = r.meter.ohms(m.value, m.digit, added)
		m.leans = r.meter.leaning(m.value, m.digit, s.probes)
		most = m.is.hi
	case reading.Sign == "buzz":
		m.is, m.leans = anything, anything
		most = mostBeeped
	}
	group, around := s.together(most, red, black)
	reds, blacks := s.on(group, group[red]), s.on(group, group[black])
	if len(reds) == 0 || len(blacks) == 0 {
		return // one of the probes was elsewhere
	}
	m.red, m.black, m.clips = r.named(reading.Red, reds), r.named(reading.Black, blacks), s.clips(group)
	switch {
	case red == black:
		r.put(reading, "both leads were on one conductor then")
	case group[red] == group[black]:
		r.put(reading, "what is wired to the leads may have read along")
	case m.sort == span:
		r.volts(m, s.linked(group))
	default:
		pure := func(leads []int) bool {
			return !slices.ContainsFunc(leads, func(lead int) bool { return s.leads[lead] != s.leads[leads[0]] })
		}
		r.ohms(m, around, pure(reds) && pure(blacks))
	}
}

// named is the lead that the probe was on; of several on one conductor, the
// one that was named.
func (r *reader) named(t netlist.TerminalID, on []int) int {
	if i := slices.Index(r.leads, t); i >= 0 {
		return i
	}
	return on[0]
}

// reached marks the terminals that joints ever made may have joined to a lead
// of the part: only for a probe on one of them is it worth drawing the bench.
func (r *reader) reached() []bool {
	reached := make([]bool, len(r.book.Terminals))
	for _, t := range r.leads {
		reached[t] = true
	}
	bench := r.book.Bench()
	joints := slices.Clone(bench.Joints)
	for _, u := range bench.Undone {
		joints = append(joints, u.Joint)
	}
	for more := true; more; {
		more = false
		for i := range joints {
			if a, b := joints[i].A, joints[i].B; reached[a] != reached[b] {
				reached[a], reached[b], more = true, true, true
			}
		}
	}
	return reached
}

func (r *reader) put(reading *netlist.Reading, format string, a ...any) {
	r.aside = append(r.aside, SetAside{reading, fmt.Sprintf(format, a...)})
}

// ohms keeps a reading in ohms. around is the least that there is beside the
// part between the leads; pure says that only conductors join what the probes
// were on to the leads.
func (r *reader) ohms(m measure, around float64, pure bool) {
	reading := m.from
	switch {
	case reading.Sign == "open", (reading.Sign == "over" || reading.Sign == "") && m.value >= leastOpen:
		m.sort = apart
	case reading.Sign == "over":
		r.put(reading, "more than %s is not yet no wire at all", lang.FormatQuantity(m.value, lang.Ohms))
		return
	case reading.Sign == "rising":
		r.put(reading, "a reading that climbs is a capacitor's")
		return
	case reading.Sign == "silent":
		r.put(reading, "a beeper is silent on a winding of many ohms as well: read the ohms")
		return
	case reading.Sign == "buzz" && around <= mostBeeped, reading.Sign == "" && m.is.hi >= around:
		r.put(reading, "what is wired to the leads may have read along: it can be as little as %s", lang.FormatQuantity(around, lang.Ohms))
		return
	case reading.Sign == "buzz":
	case m.value > mostWire:
		r.put(reading, "%s is more than a winding has and less than nothing at all: leakage, or what is wired to the leads", lang.FormatQuantity(m.value, lang.Ohms))
		return
	case !pure:
		m.is, m.leans = anything, anything
	default:
		m.is.hi /= 1 - m.is.hi/around
		m.leans.hi /= 1 - m.leans.hi/around
	}
	r.add(m)
}

// volts reads alternating volts. The first reading at the part is taken for
// that of the supply itself; that pair read again and found otherwise begins
// a new application of the supply.
func (r *reader) volts(m measure, loaded bool) {
	m.digit = lastDigit(m.from.Value)
	m.is, m.leans = r.meter.volts(m.value, m.digit)
	if loaded {
		r.put(m.from, "what is wired to the leads may load the windings or join them")
		return
	}
	pair := [2]int{min(m.red, m.black), max(m.red, m.black)}
	known, _ := r.meter.volts(r.anchors, m.digit)
	if r.supply < 0 || pair == r.anchor && len(m.clips) == 0 && !m.is.meets(known) {
		r.supply++
		r.anchor, r.anchors = pair, math.Abs(m.value)
	}
	m.value = math.Abs(m.value)
	m.supply = r.supply
	r.add(m)
}

// add keeps a measure. The same leads read once more, with the same clips,
// replace what was read before: one reads again where one doubts.
func (r *reader) add(m measure) {
	for i := range r.measures {
		old := &r.measures[i]
		same := old.from.Red == m.from.Red && old.from.Black == m.from.Black || old.from.Red == m.from.Black && old.from.Black == m.from.Red
		if same && (old.sort == span) == (m.sort == span) && old.supply == m.supply && slices.EqualFunc(old.clips, m.clips, slices.Equal) {
			r.put(old.from, "the same leads were read again later: %s", strings.TrimSpace(m.from.Fact.Text()))
			r.measures[i] = m
			return
		}
	}
	r.measures = append(r.measures, m)
}
