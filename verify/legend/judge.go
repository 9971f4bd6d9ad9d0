package legend

import (
	"slices"

	"buzzout/netlist"
)

// A Verdict is what the readings say of a source.
type Verdict uint8

// The verdicts, the least first.
const (
	Untested     Verdict = iota // no reading touches what it says
	Agrees                      // every reading that touches it fits
	LeansAgainst                // readings fit it only if the meter was off by more than it mostly is
	Contradicted                // readings cannot be so if it is right
)

func (v Verdict) String() string {
	return [...]string{"untested", "agrees with the readings", "readings lean against it", "contradicted by readings"}[v]
}

// A Judgement is what the readings at a part's leads say of one source.
type Judgement struct {
	Verdict Verdict
	Against []*netlist.Reading // that it does not fit
	// PhaseOnly says that nothing but the sense of a winding speaks against it,
	// which rests on the notebook listing the ends of all windings in one sense.
	PhaseOnly bool
}

// judgement is what the readings say of one source.
func (t *teller) judgement(n naming) Judgement {
	v, against, phase := t.p.judge(n.ends)
	return Judgement{Verdict: v, Against: t.readings(against), PhaseOnly: phase}
}

// A judge compares what a source says of the leads with a picture.
type judge struct {
	p       *picture
	ends    []int // by lead, a terminal of the kind; none where it does not say
	tested  bool
	against []int // measures
	leans   []int
	sense   []int
}

// judge says how what a source says fits the readings. ends gives by lead the
// terminal of the kind.
func (p *picture) judge(ends []int) (Verdict, []int, bool) {
	j := &judge{p: p, ends: ends}
	j.wires()
	j.rows()
	j.turns()
	j.senses()
	switch {
	case len(j.against) > 0:
		return Contradicted, sorted(j.against), false
	case len(j.sense) > 0:
		return Contradicted, sorted(j.sense), true
	case len(j.leans) > 0:
		return LeansAgainst, sorted(j.leans), false
	case j.tested:
		return Agrees, nil, false
	}
	return Untested, nil, false
}

func sorted(list []int) []int {
	slices.Sort(list)
	return slices.Compact(list)
}

func (j *judge) group(lead int) int {
	if j.ends[lead] < 0 {
		return -1
	}
	return j.p.lay.of[j.ends[lead]]
}

// wires compares what is joined and what is apart.
func (j *judge) wires() {
	for i := range j.p.measures {
		m := &j.p.measures[i]
		if j.p.aside[i] || m.sort == span {
			continue
		}
		known, joined := true, false
		for _, a := range m.clipped(m.red) {
			for _, b := range m.clipped(m.black) {
				x, y := j.group(a), j.group(b)
				known = known && x >= 0 && y >= 0
				joined = joined || x >= 0 && x == y
			}
		}
		switch {
		case m.sort == apart && joined, m.sort == through && known && !joined:
			j.against = append(j.against, i)
		case known:
			j.tested = true
		}
	}
}

// rows compares the order of the leads along each winding.
func (j *judge) rows() {
	for g := range j.p.lay.groups {
		leads, within := j.along(g)
		if len(leads) < 2 || len(within) == 0 {
			continue
		}
		fits := func(within []int, leaning bool) bool {
			_, ok := j.p.fits(leads, within, leaning)
			return ok
		}
		for _, leaning := range []bool{false, true} {
			if fits(within, leaning) {
				continue
			}
			kept := needed(within, func(rest []int) bool { return !fits(rest, leaning) })
			if leaning {
				j.leans = append(j.leans, kept...)
			} else {
				j.against = append(j.against, kept...)
			}
			break
		}
		j.tested = j.tested || len(leads) > 2 && len(within) > 1
	}
}

// along are the leads that the source puts on a winding, in order, and the
// measures between them.
func (j *judge) along(g int) (leads, within []int) {
	for _, t := range j.p.lay.groups[g].ends {
		if lead := slices.Index(j.ends, t); lead >= 0 {
			leads = append(leads, lead)
		}
	}
	for i := range j.p.measures {
		m := &j.p.measures[i]
		if j.p.aside[i] || m.sort == apart || m.is == anything || !m.plain() && m.sort == through {
			continue
		}
		if slices.Contains(leads, m.red) && slices.Contains(leads, m.black) {
			within = append(within, i)
		}
	}
	return leads, within
}

// needed drops from a set whatever is not needed for it to be bad.
func needed(set []int, bad func([]int) bool) []int {
	kept := slices.Clone(set)
	for _, i := range set {
		n := slices.Index(kept, i)
		if rest := slices.Delete(slices.Clone(kept), n, n+1); bad(rest) {
			kept = rest
		}
	}
	return kept
}

// turns compares the volts with what the kind says of the turns.
func (j *judge) turns() {
	var volts []int
	for g := range j.p.lay.groups {
		_, within := j.along(g)
		for _, i := range within {
			if j.p.measures[i].sort == span {
				volts = append(volts, i)
			}
		}
	}
	if len(volts) < 2 {
		return
	}
	if !j.oneScale(volts) {
		j.against = append(j.against, needed(volts, func(rest []int) bool { return !j.oneScale(rest) })...)
	}
	j.tested = true
}

// oneScale says that some volts for a turn fit all of some readings of volts.
func (j *judge) oneScale(volts []int) bool {
	supplies := j.p.supplies()
	scale := make([]band, supplies*int(families))
	for i := range scale {
		scale[i] = anything
	}
	for g := range j.p.lay.groups {
		group := &j.p.lay.groups[g]
		leads, within := j.along(g)
		within = slices.DeleteFunc(within, func(i int) bool { return !slices.Contains(volts, i) })
		if len(leads) < 2 || len(within) == 0 {
			continue
		}
		o, ok := j.p.fits(leads, within, false)
		if !ok {
			continue // that has been told
		}
		place := func(at int) int {
			return slices.IndexFunc(leads, func(lead int) bool { return j.ends[lead] == group.ends[at] })
		}
		for supply := range supplies {
			for _, t := range group.told {
				from, to := place(t.from), place(t.to)
				if from < 0 || to < 0 {
					continue
				}
				d := o.volts(supply).distance(from, to)
				s := &scale[supply*int(families)+int(t.by)]
				*s = s.meet(t.perTurn(d))
				if s.lo > s.hi {
					return false
				}
			}
			if w := o.volts(supply); w != nil && group.even && len(leads) == len(group.ends) {
				row := make([]int, len(leads))
				for i := range row {
					row[i] = i
				}
				if !evenly(w, row) {
					return false
				}
			}
		}
	}
	return true
}

// senses compares how windings run.
func (j *judge) senses() {
	for _, t := range j.p.ties {
		if t.sense == 0 {
			continue
		}
		var at [4]int
		known := true
		for i, lead := range [4]int{t.x, t.u, t.y, t.v} {
			if j.ends[lead] < 0 {
				known = false
				break
			}
			at[i] = j.p.lay.at[j.ends[lead]]
		}
		a, b := j.group(t.x), j.group(t.y)
		if !known || a != j.group(t.u) || b != j.group(t.v) || j.p.lay.free[a] || j.p.lay.free[b] {
			continue
		}
		j.tested = true
		if (at[1] > at[0]) == (at[3] > at[2]) != (t.sense > 0) {
			j.sense = append(j.sense, t.measure)
		}
	}
}
