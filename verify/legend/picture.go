package legend

import (
	"slices"

	"buzzout/netlist"
)

// sort is what a measure tells.
type sort uint8

const (
	through sort = iota // there is wire between the probes, of so many ohms
	apart               // there is none
	span                // alternating volts between the probes
)

// A measure is a reading as far as it speaks of the leads of one part.
type measure struct {
	sort       sort
	red, black int     // leads
	clips      [][]int // leads that were clipped together the while
	value      float64 // as read
	is         band    // what it can be
	leans      band    // what it most likely is; of volts, beside others read on the same range
	digit      float64 // the last digit, in ohms or volts
	supply     int     // which application of the supply the volts belong to
	from       *netlist.Reading
	told       bool // nobody read it: the reading says what its supply gave
}

// clipped gives the lead's clip: the leads it was clipped together with, the
// lead itself among them.
func (m *measure) clipped(lead int) []int {
	for _, c := range m.clips {
		if slices.Contains(c, lead) {
			return c
		}
	}
	return []int{lead}
}

// plain says that each probe was on one lead.
func (m *measure) plain() bool {
	return len(m.clips) == 0 || len(m.clipped(m.red)) == 1 && len(m.clipped(m.black)) == 1
}

// A tie is a reading of volts across two bunches that were clipped together
// at one lead each: from x to u in one bunch, from y to v in the other, with
// x and y clipped together.
type tie struct {
	measure    int
	x, u, y, v int
	// sense is 1 if u rises against x while v rises against y, -1 if it
	// falls, 0 if the reading does not tell.
	sense int
}

// A picture is what the readings of a part come to. Bunches are sets of leads
// that wire is known to join: a whole winding, or a part of one.
type picture struct {
	n        int
	lay      *layout
	meter    Meter
	measures []measure
	aside    []bool // by measure: set aside, since it contradicts others

	bunch   []int   // by lead
	bunches [][]int // leads of each, rising
	split   []bool  // split[a*len(bunches)+b]: no wire between two bunches
	within  [][]int // by bunch: measures of ohms and volts inside it
	ties    []tie
	vague   []int // measures that tell of wire to one of several clipped leads, nobody knows which
	idle    []int // measures that tell nothing
	lines   []*lines
	clash   []clash
	doubted []bool // by lead: readings contradict each other there
	hyps    []hypothesis
	settled bool // hyps holds every naming that fits; false: there are too many
	named   bool // hyps has been worked out
	claimed []claim
}

// look makes the picture of some readings. Where readings contradict each
// other, the one that is most likely wrong is set aside, and the leads that
// it speaks of are in doubt until it has been read again.
func look(n int, lay *layout, measures []measure, meter Meter) *picture {
	p := &picture{n: n, lay: lay, meter: meter, measures: measures,
		aside: make([]bool, len(measures)), doubted: make([]bool, n)}
	for range mostClashes {
		p.draw()
		c, found := p.contradiction()
		if !found {
			return p
		}
		p.clash = append(p.clash, c)
		for _, lead := range c.leads {
			p.doubted[lead] = true
		}
		if c.kind == offThePlan && c.suspect < 0 {
			return p // the readings agree with each other, not with the kind
		}
		if c.suspect < 0 {
			for _, m := range c.measures {
				p.aside[m] = true
			}
			continue
		}
		p.aside[c.suspect] = true
	}
	p.draw()
	return p
}

// mostClashes are told one from another; beyond that all the rest is in doubt
// anyway.
const mostClashes = 8

// draw finds bunches, what is apart, and what lies within each bunch.
func (p *picture) draw() {
	var joins [][2]int
	for {
		p.gather(joins)
		p.parted()
		found, ok := p.resolve()
		if !ok {
			break
		}
		joins = append(joins, found)
	}
	count := len(p.bunches)
	p.within = make([][]int, count)
	p.lines = make([]*lines, count)
	p.ties, p.idle, p.hyps, p.settled, p.named, p.claimed = nil, nil, nil, false, false, nil
	for i := range p.measures {
		m := &p.measures[i]
		if p.aside[i] {
			continue
		}
		switch m.sort {
		case through:
			if m.is != anything && (m.plain() || p.single(m)) {
				p.within[p.bunch[m.red]] = append(p.within[p.bunch[m.red]], i)
			}
		case span:
			p.place(i)
		}
	}
	for i := range p.ties {
		p.ties[i].sense = p.senseOf(&p.ties[i])
	}
}

// parted notes which bunches are apart.
func (p *picture) parted() {
	p.split = make([]bool, len(p.bunches)*len(p.bunches))
	for i := range p.measures {
		m := &p.measures[i]
		if m.sort != apart || p.aside[i] {
			continue
		}
		for _, a := range m.clipped(m.red) {
			for _, b := range m.clipped(m.black) {
				p.part(p.bunch[a], p.bunch[b])
			}
		}
	}
}

// resolve looks for a reading of wire to one of several clipped leads of
// which all but one are known to be apart: that one it is.
func (p *picture) resolve() (join [2]int, ok bool) {
	p.vague = nil
	for i := range p.measures {
		m := &p.measures[i]
		if m.sort != through || m.plain() || p.aside[i] {
			continue
		}
		pairs := p.candidates(m)
		if len(pairs) == 1 {
			return pairs[0], true
		}
		if len(pairs) > 1 {
			p.vague = append(p.vague, i)
		}
	}
	return join, false
}

// candidates are the pairs of leads, one of each two bunches, between which
// the wire of a vague reading can lie; nil if the reading is accounted for.
func (p *picture) candidates(m *measure) [][2]int {
	var pairs [][2]int
	for _, a := range m.clipped(m.red) {
		for _, b := range m.clipped(m.black) {
			x, y := p.bunch[a], p.bunch[b]
			if x == y {
				return nil
			}
			known := slices.ContainsFunc(pairs, func(have [2]int) bool {
				return p.bunch[have[0]] == x && p.bunch[have[1]] == y
			})
			if !p.isSplit(x, y) && !known {
				pairs = append(pairs, [2]int{a, b})
			}
		}
	}
	return pairs
}

// single finds out whether the ohms of a vague reading are those between two
// leads: all others that were clipped there are known to be apart. The measure
// then stands for those two.
func (p *picture) single(m *measure) bool {
	found := 0
	for _, a := range m.clipped(m.red) {
		for _, b := range m.clipped(m.black) {
			switch {
			case p.bunch[a] == p.bunch[b]:
				m.red, m.black = a, b
				found++
			case !p.isSplit(p.bunch[a], p.bunch[b]):
				return false
			}
		}
	}
	return found == 1
}

func (p *picture) part(a, b int) {
	p.split[a*len(p.bunches)+b], p.split[b*len(p.bunches)+a] = true, true
}

func (p *picture) isSplit(a, b int) bool { return p.split[a*len(p.bunches)+b] }

// gather finds the bunches: leads with wire between them. joins are pairs that
// are known to be joined by what is known of all others.
func (p *picture) gather(joins [][2]int) {
	root := make([]int, p.n)
	for i := range root {
		root[i] = i
	}
	find := func(x int) int {
		for root[x] != x {
			root[x] = root[root[x]]
			x = root[x]
		}
		return x
	}
	join := func(a, b int) {
		a, b = find(a), find(b)
		root[max(a, b)] = min(a, b)
	}
	for i := range p.measures {
		if m := &p.measures[i]; m.sort == through && m.plain() && !p.aside[i] {
			join(m.red, m.black)
		}
	}
	for _, pair := range joins {
		join(pair[0], pair[1])
	}
	p.bunch = make([]int, p.n)
	p.bunches = nil
	number := make([]int, p.n)
	for lead := range p.n {
		r := find(lead)
		if r == lead {
			number[r] = len(p.bunches)
			p.bunches = append(p.bunches, nil)
		}
		p.bunch[lead] = number[r]
		p.bunches[number[r]] = append(p.bunches[number[r]], lead)
	}
}

// place finds what a reading of volts speaks of: one bunch, or two that are
// clipped together.
func (p *picture) place(i int) {
	m := &p.measures[i]
	reds, blacks := m.clipped(m.red), m.clipped(m.black)
	for _, a := range reds {
		for _, b := range blacks {
			if p.bunch[a] == p.bunch[b] && a != b {
				m.red, m.black = a, b
				p.within[p.bunch[a]] = append(p.within[p.bunch[a]], i)
				return
			}
		}
	}
	for _, clip := range m.clips {
		for _, x := range clip {
			for _, y := range clip {
				if p.bunch[x] == p.bunch[m.red] && p.bunch[y] == p.bunch[m.black] && x != m.red && y != m.black {
					p.ties = append(p.ties, tie{measure: i, x: x, u: m.red, y: y, v: m.black})
					return
				}
			}
		}
	}
	p.idle = append(p.idle, i)
}

// index is where a lead stands in its bunch.
func (p *picture) index(lead int) int {
	return slices.Index(p.bunches[p.bunch[lead]], lead)
}
