package diagnose

import (
	"cmp"
	"maps"
	"slices"

	"buzzout/netlist"
)

// A Proposal is another position of one control, in which a reading would tell
// apart what none tells apart in the present setting.
type Proposal struct {
	Control    netlist.ControlRef
	Position   netlist.Position
	Red, Black netlist.TerminalID
	Gain       float64 // bits that the reading is expected to tell
	Outcomes   []Outcome
}

const (
	// leastProposed is how many bits a reading in another setting must be
	// expected to tell to be worth the turn.
	leastProposed = 0.3
	// mostProposals is how many are told.
	mostProposals = 2
	// mostTurns bounds how many positions are tried, and mostApart how many
	// hypotheses are to be told apart.
	mostTurns, mostApart = 40, 40
)

// proposals looks for other settings once no reading in this one tells more.
func (d *Diagnosis) proposals(top class) []Proposal {
	list := d.undecided(top)
	if len(list) < 2 {
		return nil
	}
	near := d.near(list)
	var places []int
	for i := range d.pairs {
		if p := &d.pairs[i]; near[p.red] || near[p.black] {
			places = append(places, i)
		}
	}
	var found []Proposal
	for _, to := range d.turns(near) {
		if p, ok := d.propose(to, list, places); ok {
			found = append(found, p)
		}
	}
	slices.SortStableFunc(found, func(a, b Proposal) int { return cmp.Compare(b.Gain, a.Gain) })
	return found[:min(len(found), mostProposals)]
}

// undecided are the hypotheses that are to be told apart: those of the
// likeliest suspect, and those of others that are as likely as one in a
// hundred.
func (d *Diagnosis) undecided(top class) []int {
	var list []int
	for _, h := range d.belief.order {
		if d.hyps[h].first == unlisted || len(list) >= mostApart {
			continue
		}
		if d.belief.weights[h] > 0.01 || slices.Contains(top.members, h) {
			list = append(list, h)
		}
	}
	return list
}

// regionSize bounds how many terminals are one place: of a rail or the chassis
// nothing is near.
const regionSize = 16

// near are the terminals that are joined, without a contact between, to where
// the faults of hypotheses are, and those one part further.
func (d *Diagnosis) near(list []int) map[netlist.TerminalID]bool {
	n := d.now.n
	at := map[netlist.TerminalID]bool{}
	for _, h := range list {
		for _, f := range []int{d.hyps[h].first, d.hyps[h].second} {
			if f < 0 {
				continue
			}
			for _, t := range d.faults[f].Terminals() {
				d.now.region(t, at)
			}
			if p := d.faults[f].Part; p != nil && len(p.Terminals) < regionSize {
				for _, t := range p.Terminals {
					d.now.region(t, at)
				}
			}
		}
	}
	near := maps.Clone(at)
	for i := range n.Pieces {
		p := &n.Pieces[i]
		if at[p.A] || at[p.B] {
			d.now.region(p.A, near)
			d.now.region(p.B, near)
		}
	}
	return near
}

// region adds the terminals that are joined to one without a contact between,
// if they are few.
func (v *view) region(from netlist.TerminalID, into map[netlist.TerminalID]bool) {
	if into[from] {
		return
	}
	v.round++
	v.mark[from] = v.round
	list := []netlist.TerminalID{from}
	for i := 0; i < len(list); i++ {
		for join, other := range v.n.Harness.Graph.At(int32(list[i])) {
			if t := netlist.TerminalID(other); v.mark[t] != v.round && v.n.Harness.Joins[join].Kind != netlist.ByContact {
				v.mark[t] = v.round
				list = append(list, t)
			}
		}
		if len(list) > regionSize {
			return
		}
	}
	for _, t := range list {
		into[t] = true
	}
}

// A turn is another position of one control.
type turn struct {
	control  netlist.ControlRef
	position netlist.Position
}

// turns lists the other positions of controls whose parts are near; pots go to
// their stops.
func (d *Diagnosis) turns(near map[netlist.TerminalID]bool) []turn {
	n := d.now.n
	var list []turn
	add := func(ref netlist.ControlRef, to netlist.Position) {
		if len(list) < mostTurns {
			list = append(list, turn{ref, to})
		}
	}
	for _, p := range n.Book.Parts {
		if !slices.ContainsFunc(p.Terminals, func(t netlist.TerminalID) bool { return near[t] }) {
			continue
		}
		for c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: c}
			now := n.Setting.PositionOf(ref)
			if p.Kind.Controls[c].Turns {
				for stop := range 2 {
					if !now.Known || now.Turn != float64(stop) {
						add(ref, netlist.Position{Turn: float64(stop), Known: true})
					}
				}
				continue
			}
			for i := range p.Kind.Controls[c].Positions {
				if i != now.Index {
					add(ref, netlist.Position{Index: i, Known: true})
				}
			}
		}
	}
	return list
}

// propose finds the reading that tells hypotheses apart best with one control
// turned. It fails where none is worth it.
func (d *Diagnosis) propose(to turn, list, places []int) (Proposal, bool) {
	m := d.moment(d.bench, d.bench.Setting, netlist.Setting{to.control: to.position})
	total := 0.0
	for _, h := range list {
		total += d.belief.weights[h]
	}
	best, worth := Proposal{}, 0.0
	var bins histogram
	for _, i := range places {
		now := &d.pairs[i]
		p := place{pair: m.pair(now.red, now.black)}
		if len(m.n.Drives(p.pr.P, p.pr.Q)) > 0 {
			continue
		}
		var readings []float64
		for _, h := range list {
			readings = append(readings, m.prepareBoth(d, d.hyps[h]).between(&p.pair))
		}
		if allSame(readings) || m.measure(&p) {
			continue
		}
		told := make([]foresaid, len(list))
		weights := make([]weighed, len(list))
		for k, h := range list {
			told[k] = foresaid{p.binOf(readings[k], m.n.Meter.Most), h}
			weights[k] = weighed{told[k].bin, d.belief.weights[h]}
		}
		bits := bins.information(weights, p.sound, total)
		if bits*(1-now.toll) <= worth || bits < leastProposed {
			continue
		}
		worth = bits * (1 - now.toll)
		best = Proposal{Control: to.control, Position: to.position, Red: now.red, Black: now.black, Gain: bits, Outcomes: d.outcomes(&p, told)}
		for i := range best.Outcomes {
			best.Outcomes[i].Sound = false // that nothing is wrong is not in question
		}
	}
	return best, worth > 0
}

// allSame says that all readings are one but for rounding.
func allSame(readings []float64) bool {
	return !slices.ContainsFunc(readings, func(r float64) bool { return !same(r, readings[0]) })
}
