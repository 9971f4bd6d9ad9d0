package legend

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
)

// SetAside is a reading at the leads of a part that says nothing of them, and why.
type SetAside struct {
	Reading *netlist.Reading
	Why     string // a sentence without a full stop
}

// Ohms from which on no winding is thought to read so much, and from which on
// there is no wire at all; what lies between is leakage or a circuit (common
// practice, no source).
const (
	mostWire  = 50e3
	leastOpen = 1e6
)

// mostBeeped is what a beeper may call wire: makers differ, from 30 to some
// 100 Ω (common practice, no source). Silence says nothing, since a
// high-tension winding reads more than that.
const mostBeeped = 100

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
	at       *scene
	steps    []int    // facts of the bench, rising
	supplies []supply // in the order in which they were put on
	supply   int      // the one that stands now; none before the first
}

// read gives the readings at the leads of a part, up to a step, as measures.
func read(b *netlist.Book, p *netlist.Part, meter Meter, until int) ([]netlist.TerminalID, []measure, []SetAside) {
	r := &reader{book: b, part: p, meter: meter, leads: leadsOf(b, p), supply: none}
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

// WhyAside says why a reading at the leads of a part tells nothing of them, as a
// sentence without a full stop; "" where it may tell something.
func WhyAside(book *netlist.Book, part *netlist.Part, meter Meter, reading *netlist.Reading) string {
	_, _, aside := read(book, part, meter, len(book.Facts))
	for _, a := range aside {
		if a.Reading == reading {
			return a.Why
		}
	}
	return ""
}

// changed says that something happened at the bench between two steps.
func (r *reader) changed(from, to int) bool {
	i, _ := slices.BinarySearch(r.steps, from)
	k, _ := slices.BinarySearch(r.steps, to)
	return i != k
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
		m.sort = span
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
	case m.sort == span && !s.free:
		// In an amplifier they may be its own: steady volts across an anode
		// winding tell of its current, and those of a heater of the mains.
		r.put(reading, "volts tell of turns only while the leads hang free: wired, they may be those of the amplifier")
	case m.sort == span:
		r.volts(m, s)
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
	for _, reading := range r.book.Readings {
		for _, pair := range reading.Joined {
			joints = append(joints, netlist.Joint{A: pair[0], B: pair[1]})
		}
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
		r.put(reading, "more than %s is not yet no wire at all", shown(m.value, lang.Ohms))
		return
	case reading.Sign == "rising":
		r.put(reading, "a reading that climbs is a capacitor's")
		return
	case reading.Sign == "silent":
		r.put(reading, "a beeper is silent on a winding of many ohms as well: read the ohms")
		return
	case reading.Sign == "buzz" && around <= mostBeeped, reading.Sign == "" && m.is.hi >= around:
		r.put(reading, "what is wired to the leads may have read along: it can be as little as %s", shown(around, lang.Ohms))
		return
	case reading.Sign == "buzz":
	case m.value > mostWire:
		r.put(reading, "%s is more than a winding has and less than nothing at all: leakage, or what is wired to the leads", shown(m.value, lang.Ohms))
		return
	case !pure:
		m.is, m.leans = anything, anything
	default:
		m.is.hi /= 1 - m.is.hi/around
		m.leans.hi /= 1 - m.leans.hi/around
	}
	r.add(m)
}

// add keeps a measure. The same leads read once more, with the same clips,
// replace what was read before: one reads again where one doubts.
func (r *reader) add(m measure) {
	for i := range r.measures {
		old := &r.measures[i]
		same := old.red == m.red && old.black == m.black || old.red == m.black && old.black == m.red
		if same && (old.sort == span) == (m.sort == span) && old.supply == m.supply && slices.EqualFunc(old.clips, m.clips, slices.Equal) {
			if !old.told {
				r.put(old.from, "the same leads were read again later: %s", strings.TrimSpace(m.from.Fact.Text()))
			}
			r.measures[i] = m
			return
		}
	}
	r.measures = append(r.measures, m)
}
