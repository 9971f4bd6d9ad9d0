package diagnose

import (
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter"
)

// A Step is what to do next.
type Step struct {
	Done Done
	// Red and Black are where to put the probes, where there is something to
	// learn; NoTerminal where there is not.
	Red, Black netlist.TerminalID
	Gain       float64           // bits that the reading is expected to tell
	Expected   meter.Expectation // the reading of sound wiring, with its cautions
	Outcomes   []Outcome         // what it may say, the likeliest first
	Confirms   bool              // the likeliest suspect is as good as certain: this reading is to bear it out
	Mains      bool              // a probe goes where the mains comes: the plug has to be out
	// Top is the likeliest suspect so far.
	Top Suspect
	// Unexplained are readings that it explains no better than a slip of the
	// probes would.
	Unexplained []*netlist.Reading
	Slips       []UnitSlip // readings that would be as they should with another unit
	// Unset are pots of which nobody told where they stand. Set to a stop, they
	// would blur fewer readings.
	Unset []netlist.ControlRef
	// Proposals are other settings, the best first, in which a reading would
	// tell apart what none tells apart in this one. There may be some once
	// nothing more is proposed here.
	Proposals []Proposal
	// Second is where a second fault would show, once one is as good as
	// certain; nil where that is unlikely by now, or no reading can show it.
	Second *Sought
}

// Sought is a reading that looks for a second fault.
type Sought struct {
	Red, Black netlist.TerminalID
	Alone      float64           // ohms if the one fault is all; +Inf over range
	Expected   meter.Expectation // of sound wiring, with its cautions
	Mains      bool
}

// Done says why no reading is proposed.
type Done uint8

// The reasons.
const (
	NotDone     Done = iota
	Settled          // one suspect is as good as certain
	NothingMore      // no reading in this setting tells enough more
)

// WhereNext proposes the next reading.
func (d *Diagnosis) WhereNext() Step {
	d.weigh()
	top := d.classes()[0]
	s := Step{Red: netlist.NoTerminal, Black: netlist.NoTerminal, Unset: d.unset(), Slips: d.slips()}
	if d.hyps[top.leader].first != unlisted {
		s.Top = d.suspect(top)
		s.Unexplained = d.unexplained(d.hyps[top.leader])
	}
	at, done := d.decide(top)
	s.Done = done
	if done != NotDone {
		s.Proposals = d.proposals(top)
		if done == Settled {
			s.Second = d.second(top)
		}
		return s
	}
	p := &d.pairs[at.place]
	s.Red, s.Black, s.Gain, s.Confirms = p.red, p.black, at.gain, at.confirms
	s.Expected = d.now.n.Expect(p.red, p.black)
	s.Mains = d.mains[p.pr.P] || d.mains[p.pr.Q]
	s.Outcomes = d.outcomes(p, d.toldAt(at.place))
	return s
}

// second is where to look for a second fault beside one that is settled.
func (d *Diagnosis) second(top class) *Sought {
	at, found := d.seek(top.leader)
	if !found {
		return nil
	}
	p := &d.pairs[at.place]
	return &Sought{Red: p.red, Black: p.black, Alone: d.now.prepareBoth(d, d.hyps[top.leader]).between(&p.pair),
		Expected: d.now.n.Expect(p.red, p.black), Mains: d.mains[p.pr.P] || d.mains[p.pr.Q]}
}

// unset lists the pots of which nobody told where they stand.
func (d *Diagnosis) unset() []netlist.ControlRef {
	var list []netlist.ControlRef
	for i := range d.now.n.Tracks {
		if t := &d.now.n.Tracks[i]; t.Controlled && !t.Set && !slices.Contains(list, t.Control) {
			list = append(list, t.Control)
		}
	}
	return list
}
