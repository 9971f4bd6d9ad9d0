package follow

import (
	"slices"

	"buzzout/netlist"
)

// counterpart is the index of the same valve here; unreached if it is out.
func (t *trail) counterpart(part *netlist.Part, element int) int {
	for i := range t.valves {
		if t.valves[i].part == part && t.valves[i].element == element {
			return i
		}
	}
	return unreached
}

// A swap says which ends of parts do the work of which here: what is alike may
// be used either way round, and the drawing does not say which.
type swap map[*netlist.Part][]int

func (s swap) of(b *netlist.Book, t netlist.TerminalID) netlist.TerminalID {
	if t == netlist.NoTerminal {
		return t
	}
	term := &b.Terminals[t]
	if perm, ok := s[term.Part]; ok && term.Index >= 0 {
		return term.Part.Terminals[perm[term.Index]]
	}
	return t
}

// meet looks for an exchange of like ends of the part of a step after which
// its In is where the signal has come to.
func (t *trail) meet(s swap, last netlist.TerminalID, step *Step) {
	p := step.Part
	if p == nil || s[p] != nil || t.same(last, step.In) || t.book.Terminals[step.In].Part != p {
		return
	}
	for _, x := range p.Kind.Exchanges(p.Values) {
		s[p] = x.Perm
		if t.same(last, s.of(t.book, step.In)) {
			return
		}
	}
	delete(s, p)
}

// compare walks a lane of the drawing and stops at its first step without
// signal here.
func (t *trail) compare(model *trail, l lane) (Stop, bool) {
	feeder := source
	last := t.from
	swapped := swap{}
	var passed []Step
	stop := func(s Stop) (Stop, bool) {
		s.passed = t.passed(passed)
		return s, true
	}
	for _, step := range l.steps {
		if step.Kind == Start {
			passed = append(passed, step)
			continue
		}
		if step.Kind == Stage && !step.Part.Seated(t.setting) {
			return stop(Stop{Why: ValveOut, Last: last, Next: step.In, Part: step.Part, Control: netlist.ControlRef{Part: step.Part, Control: step.Part.Kind.Seat}})
		}
		t.meet(swapped, last, &step)
		drawn := step.In
		step.In, step.Out = swapped.of(t.book, step.In), swapped.of(t.book, step.Out)
		step.StillIn = swapped.of(t.book, step.StillIn)
		if !t.same(last, step.In) {
			return stop(t.parted(model, last, drawn, &step))
		}
		if step.Out == netlist.NoTerminal {
			break
		}
		if step.Kind == Stage {
			j := t.valveAt(&step)
			if j < 0 || t.parent[j] == unreached {
				if at := t.idleAt(&step); at != netlist.NoTerminal {
					return stop(t.hangs(model, last, at, &step))
				}
				return stop(t.dead(feeder, last, &step))
			}
			step.Element = t.valves[j].element
			feeder = j
		}
		if !t.hears(feeder, step.Out) {
			if s, ok := t.unreturned(model, feeder, last, &step); ok {
				return stop(s)
			}
			return stop(t.dead(feeder, last, &step))
		}
		last = step.Out
		passed = append(passed, step)
	}
	if len(t.speakers(t.voiceHere(l.voice, swapped))) == 0 {
		return stop(t.silent(model, l, last))
	}
	return Stop{}, false
}

// valveAt is the valve that a stage's step passes, by its electrodes.
func (t *trail) valveAt(step *Step) int {
	return slices.IndexFunc(t.valves, func(v valve) bool {
		if v.part != step.Part {
			return false
		}
		electrodes := []netlist.TerminalID{v.anode, v.grid, v.cathode, v.screen}
		return slices.Contains(electrodes, step.In) && slices.Contains(electrodes, step.Out)
	})
}

func (t *trail) voiceHere(v voice, s swap) voice {
	return voice{s.of(t.book, v.a), s.of(t.book, v.b), v.part}
}

// silent says why a voice that one end of the way reaches has no signal: its
// other end is not where it should be, or there is too little.
func (t *trail) silent(model *trail, l lane, last netlist.TerminalID) Stop {
	end := l.steps[len(l.steps)-1]
	s := Stop{Why: NoReason, Last: last, Next: end.In, Part: end.Part}
	other := l.voice.b
	if end.In == l.voice.b {
		other = l.voice.a
	}
	if l.voice.b != netlist.NoTerminal && !t.same(other, t.earth) && model.same(other, model.earth) {
		s = t.parted(model, model.sameHere(t, other), other, &Step{In: other, Part: end.Part})
	}
	return s
}

// passed makes steps of the drawing into steps of the wiring at hand.
func (t *trail) passed(steps []Step) []Step {
	feeder := source
	over := false
	for i := range steps {
		s := &steps[i]
		if s.Kind == Start {
			continue
		}
		if s.Kind == Transformer {
			s.Turns = along(t.voltsOf(feeder, s.Out), t.voltsOf(feeder, s.In)) < 0
			s.StillIn, s.StillOut = t.still(&t.total, s.Part, s.In), t.still(&t.total, s.Part, s.Out)
		}
		over = over != s.Turns
		s.Over = over
		s.Copper = t.h.Path(steps[i-1].Out, s.In)
		s.Conductor = t.conductorName(s.Out)
		switch s.Kind {
		case Stage:
			feeder = t.counterpart(s.Part, s.Element)
			continue
		case Control:
			s.Turn, s.Set = t.turnOf(s.Part, s.Element)
		}
		s.Passes = finite(abs(t.voltsOf(feeder, s.Out) / t.voltsOf(feeder, s.In)))
		if s.Down = nil; s.Passes < 0.7 {
			s.Down = t.towards(t.stateOf(feeder), t.of[s.Out], s.Part)
		}
	}
	return steps
}

// sameHere is a terminal on the model's earth that is on earth here too.
func (model *trail) sameHere(t *trail, other netlist.TerminalID) netlist.TerminalID {
	for _, m := range model.h.Islands().Members(model.of[other]) {
		if x := netlist.TerminalID(m); t.same(x, t.earth) {
			return x
		}
	}
	return t.earth
}

// hears says that a terminal has some of what a valve or the source gives.
func (t *trail) hears(feeder int, x netlist.TerminalID) bool {
	if feeder == source {
		return abs(t.volts(&t.rest, x)) >= reaches
	}
	v := abs(t.volts(&t.each[feeder], x))
	return v >= reaches*t.sent(feeder) && v*t.valves[feeder].figures.Slope >= reaches
}

// parted says why two terminals that the drawing joins are not joined here.
func (t *trail) parted(model *trail, last, drawn netlist.TerminalID, step *Step) Stop {
	s := Stop{Why: NotJoined, Last: last, Next: drawn, Part: step.Part, Missing: [2]netlist.TerminalID{last, drawn}}
	if step.Part != nil && t.loose(step.Part) {
		s.Why = NotFitted
		return s
	}
	// The way as drawn, conductor by conductor and contact by contact: the
	// first that is not one here.
	path := model.h.Path(t.drawnOn(model, last, drawn), drawn)
	for i := 1; i < len(path); i++ {
		from, to, by := path[i-1].At, path[i].At, path[i].By
		for by.Kind == netlist.ByPlan && i+1 < len(path) && path[i+1].By.Kind == netlist.ByPlan {
			i++
			to = path[i].At
		}
		if t.same(from, to) {
			continue
		}
		s.Missing = [2]netlist.TerminalID{from, to}
		if by.Kind == netlist.ByContact {
			s.Why, s.Part, s.Contact = ContactOpen, by.Part, by.Contact
			s.Control = netlist.ControlRef{Part: by.Part, Control: by.Contact.Control}
		}
		break
	}
	return s
}

// drawnOn is a terminal that is where the signal has come to and, in the
// drawing, on the conductor of another: the last one itself, unless its part
// sits the other way round.
func (t *trail) drawnOn(model *trail, last, drawn netlist.TerminalID) netlist.TerminalID {
	if model.same(last, drawn) {
		return last
	}
	for _, m := range t.h.Islands().Members(t.of[last]) {
		if x := netlist.TerminalID(m); model.same(x, drawn) {
			return x
		}
	}
	return last
}

// loose says that nothing is joined to any terminal of a part.
func (t *trail) loose(p *netlist.Part) bool {
	return !slices.ContainsFunc(p.Terminals, func(x netlist.TerminalID) bool {
		for i := range t.h.Graph.At(int32(x)) {
			if k := t.h.Joins[i].Kind; k == netlist.ByJoint || k == netlist.ByPlan {
				return true
			}
		}
		return false
	})
}

// dead says why a part that has a signal gives none.
func (t *trail) dead(feeder int, last netlist.TerminalID, step *Step) Stop {
	s := Stop{Why: NoReason, Last: last, Next: step.Out, Part: step.Part}
	earthedAt := func(x netlist.TerminalID) bool {
		if x == netlist.NoTerminal || !t.same(x, t.earth) {
			return false
		}
		s.Why, s.Next, s.Path = Earthed, x, t.h.Path(x, t.nearestEarth(x))
		return true
	}
	control, turns := netlist.ControlRef{}, false
	if step.Kind == Control {
		control, turns = t.controlOf(step.Part, step.Element)
	}
	switch {
	case earthedAt(step.In), earthedAt(step.Out):
	case turns:
		s.Why, s.Control = TurnedDown, control
	case step.Kind == Stage:
		s.Why = Dead
	default:
		if s.Down = t.towards(t.stateOf(feeder), t.of[step.Out], step.Part); len(s.Down) > 0 {
			s.Why = Swallowed
		}
	}
	return s
}

// unreturned says that a winding gives nothing because its far end, which
// holds still in the drawing, moves with the near one: nothing leads on from
// there, and no current flows.
func (t *trail) unreturned(model *trail, feeder int, last netlist.TerminalID, step *Step) (Stop, bool) {
	if step.Kind != Transformer || step.StillIn == netlist.NoTerminal {
		return Stop{}, false
	}
	if moves := abs(t.voltsOf(feeder, step.StillIn)); moves == 0 || moves < abs(t.voltsOf(feeder, step.In))/2 {
		return Stop{}, false
	}
	if drawn := t.partedFrom(model, step.StillIn); drawn != netlist.NoTerminal {
		s := t.parted(model, step.StillIn, drawn, &Step{})
		s.Last = last
		return s, true
	}
	return Stop{Why: Unreturned, Last: last, Next: step.StillIn, Part: step.Part}, true
}

// hangs says at which electrode a valve hangs in the air, and what the drawing
// has there.
func (t *trail) hangs(model *trail, last, at netlist.TerminalID, step *Step) Stop {
	s := Stop{Why: NoCurrent, Last: last, Next: at, Part: step.Part}
	if drawn := t.partedFrom(model, at); drawn != netlist.NoTerminal {
		s.Missing = t.parted(model, at, drawn, &Step{}).Missing
	}
	return s
}

// partedFrom is a terminal that the drawing has on the conductor of another,
// and that is not joined to it here; NoTerminal where all are.
func (t *trail) partedFrom(model *trail, x netlist.TerminalID) netlist.TerminalID {
	for _, m := range model.h.Islands().Members(model.of[x]) {
		if drawn := netlist.TerminalID(m); !t.same(drawn, x) {
			return drawn
		}
	}
	return netlist.NoTerminal
}

// nearestEarth is the terminal of the plan's earth that is fewest joins from
// one that should not be there.
func (t *trail) nearestEarth(x netlist.TerminalID) netlist.TerminalID {
	best, shortest := t.earth, -1
	mine := t.book.Net(x)
	for _, m := range t.h.Islands().Members(t.of[x]) {
		o := netlist.TerminalID(m)
		net := t.book.Net(o)
		if net == netlist.NoNet || net == mine {
			continue
		}
		if steps := len(t.h.Path(x, o)); shortest < 0 || steps < shortest {
			best, shortest = o, steps
		}
	}
	return best
}
