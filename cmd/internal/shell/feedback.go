package shell

import (
	"slices"

	"buzzout/netlist"
	"buzzout/verify/follow"
	"buzzout/verify/legend"
	"buzzout/verify/states"
)

// feedbackBuilt asks which way the feedback round a transformer works on the
// bench, if the leads are what a meaning says.
func (s *Session) feedbackBuilt(through *netlist.Part) legend.Loop {
	bench := s.bench()
	return func(m netlist.Meaning) legend.Feedback {
		return s.feedback(through, func(to netlist.Setting) *netlist.Harness { return bench.Built(m, to) })
	}
}

// feedbackDrawn asks the same of the drawing, which speaks of ends and not of
// colours.
func (s *Session) feedbackDrawn(through *netlist.Part) legend.Feedback {
	m := s.wiring().meaning
	return s.feedback(through, func(to netlist.Setting) *netlist.Harness { return s.book.Planned(m, to) })
}

// feedback follows the signal from an input of each group that shares a first
// grid. A loop that adds is told whichever input it was seen from; where no
// signal comes through, nothing can be said.
func (s *Session) feedback(through *netlist.Part, draw func(netlist.Setting) *netlist.Harness) legend.Feedback {
	setting := s.bench().Setting
	found := legend.Untold
	for _, group := range states.Inputs(draw, setting, netlist.NoTerminal) {
		way := follow.Signal(follow.Question{Book: s.book, Draw: draw, Setting: setting, From: group[0].Tip, To: netlist.NoTerminal})
		if way.Arrives && found == legend.Untold {
			found = legend.NoLoop
		}
		for i := range way.Loops {
			switch l := &way.Loops[i]; {
			case !slices.Contains(l.Through, through):
			case !l.Negative():
				return legend.Positive
			default:
				found = legend.Negative
			}
		}
	}
	return found
}
