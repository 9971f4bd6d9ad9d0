package follow

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A Reason says what stops a signal.
type Reason uint8

// The reasons.
const (
	_           Reason = iota
	NoReason           // nothing that the notebook knows: it fades
	Swallowed          // Down are parts that take it to earth
	Earthed            // its conductor is on earth: Path is the way there
	NotJoined          // Missing are two terminals that should be one conductor
	ContactOpen        // the contact between Missing is open: Part, and Position in which it would be closed
	NotFitted          // Part is not there: none of its terminals is joined to anything
	ValveOut           // Part is not in its holder
	TurnedDown         // Part, a control, passes nothing
	NoReturn           // the source's other end has no way to earth
	NoVoice            // no loudspeaker lies across a winding
	Nowhere            // nothing leads on from there
	Dead               // the valve has no drive, since grid and cathode move together, or nothing to work on
)

// A Stop is where a signal ends in nothing, and why.
type Stop struct {
	Why Reason
	// Last is where the signal still is; Next is where it should have come to,
	// as drawn.
	Last, Next netlist.TerminalID
	Part       *netlist.Part
	Missing    [2]netlist.TerminalID
	Path       []netlist.PathStep // to earth
	Contact    *parts.Contact
	Control    netlist.ControlRef // of Contact, ValveOut and TurnedDown
	Down       []*netlist.Part
	// Half says that it is one of several lanes that ends, and others go on.
	Half bool
	// With is the position of another control that had to be tried before the
	// drawing itself had a way; nil where it has one with controls as they stand.
	With *Move

	passed []Step // the steps of the drawing up to there
}

// A Move is a control in another position.
type Move struct {
	Control netlist.ControlRef
	To      netlist.Position
}

// deadAtStart says that the source has nowhere to go at all.
func (t *trail) deadAtStart() *Stop {
	if t.same(t.from, t.earth) {
		return &Stop{Why: Earthed, Last: netlist.NoTerminal, Next: t.from, Part: t.book.Terminals[t.from].Part, Path: t.h.Path(t.from, t.earthOnBoard())}
	}
	if t.back != netlist.NoTerminal && !t.conducts(t.back, t.earth) {
		return &Stop{Why: NoReturn, Last: t.from, Next: t.back, Part: t.book.Terminals[t.from].Part, Missing: [2]netlist.TerminalID{t.back, t.earth}}
	}
	return nil
}

// earthOnBoard is the terminal of earth that is told: the source's own other
// end where that is on earth.
func (t *trail) earthOnBoard() netlist.TerminalID {
	if t.back != netlist.NoTerminal && t.same(t.back, t.earth) {
		return t.back
	}
	return t.earth
}

// wayBack is the least conductance, in siemens, of parts through which a
// source's other end is on earth: a lifted ground has some tens of ohms, a grid
// leak is none.
const wayBack = 1e-3

// conducts says that two terminals are joined, through parts of few ohms or
// without.
func (n *network) conducts(a, b netlist.TerminalID) bool {
	seen := map[int32]bool{n.of[a]: true}
	queue := []int32{n.of[a]}
	reach := func(c int32) {
		if !seen[c] {
			seen[c] = true
			queue = append(queue, c)
		}
	}
	for len(queue) > 0 && !seen[n.of[b]] {
		c := queue[0]
		queue = queue[1:]
		if n.node[c] == sourced {
			continue
		}
		for i := range n.links {
			if abs(n.links[i].y) < wayBack {
				continue
			}
			x, y := n.of[n.links[i].a], n.of[n.links[i].b]
			if x == c {
				reach(y)
			}
			if y == c {
				reach(x)
			}
		}
	}
	return seen[n.of[b]]
}

// stops compares what was found with the drawing, in positions in which the
// drawing has a way, and tells the first step of each lane there that has no
// signal here.
func (q *Question) stops(t *trail, w *Way) []Stop {
	plan := q.Plan
	if plan == nil {
		plan = q.Draw
	}
	there := w.Arrives && t.wanted
	model, with := q.model(plan, w.Setting, there)
	if model == nil {
		if w.Arrives {
			return nil
		}
		s := Stop{Why: NoReason, Last: t.lastPoint(), Next: netlist.NoTerminal}
		if len(loudspeakers(t.h)) == 0 && q.To == netlist.NoTerminal {
			s.Why = NoVoice
		}
		return []Stop{s}
	}
	if there && !t.shorter(model) {
		return nil
	}
	var list []Stop
	for _, l := range model.lanes {
		s, ok := t.compare(model, l)
		if !ok {
			continue
		}
		s.Half, s.With = there, with
		if !slices.ContainsFunc(list, func(x Stop) bool { return sameStop(&x, &s) }) {
			list = append(list, s)
		}
	}
	return list
}

func sameStop(a, b *Stop) bool {
	if a.Why != b.Why {
		return false
	}
	return a.Next == b.Next || a.Why == TurnedDown && a.Part == b.Part && a.Control == b.Control
}

// shorter says that fewer lanes arrive than those of the model, or that one
// passes fewer valves: some of the way was left out. Which valves they are
// does not matter, since halves of a bottle may be used for one another.
func (t *trail) shorter(model *trail) bool {
	stages := func(t *trail) int {
		n := 0
		for _, l := range t.lanes {
			n += len(l.valves)
		}
		return n
	}
	return len(t.lanes) < len(model.lanes) || stages(t) < stages(model)
}

// model is the drawing in positions in which the signal goes through: as the
// controls stand, with valves in and what turns at half its travel; else with
// one more control elsewhere, told in with. Nil if there is none. Where half
// is set, only one with several lanes is of use.
func (q *Question) model(plan func(netlist.Setting) *netlist.Harness, s netlist.Setting, half bool) (*trail, *Move) {
	base := netlist.Setting{}
	for _, p := range q.Book.Parts {
		for i, c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			switch {
			case c.Turns:
				base[ref] = netlist.Position{Turn: 0.5, Known: true}
			case i == p.Kind.Seat:
				base[ref] = seated(p)
			}
		}
	}
	base = s.With(base)
	try := func(s netlist.Setting) *trail {
		t := newTrail(newFlow(newNetwork(plan(s), s, nil, q.From, q.To)))
		if t.deadAtStart() != nil {
			return nil
		}
		if t.follow(q.To); !t.complete || half && len(t.lanes) < 2 {
			return nil
		}
		return t
	}
	if t := try(base); t != nil {
		return t, nil
	}
	if half {
		return nil, nil
	}
	for _, p := range q.Book.Parts {
		for i, c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			if c.Turns || i == p.Kind.Seat {
				continue
			}
			for at := range c.Positions {
				if at == s.PositionOf(ref).Index {
					continue
				}
				move := &Move{ref, netlist.Position{Index: at, Known: true}}
				if t := try(base.With(netlist.Setting{ref: move.To})); t != nil {
					return t, move
				}
			}
		}
	}
	return nil, nil
}

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
		if !t.same(last, step.In) {
			return stop(t.parted(model, last, drawn, &step))
		}
		if step.Out == netlist.NoTerminal {
			break
		}
		if step.Kind == Stage {
			j := t.valveAt(&step)
			if j < 0 || t.parent[j] == unreached {
				return stop(t.dead(feeder, last, &step))
			}
			step.Element = t.valves[j].element
			feeder = j
		}
		if !t.hears(feeder, step.Out) {
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
		s.Passes = abs(t.voltsOf(feeder, s.Out) / t.voltsOf(feeder, s.In))
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
	switch {
	case earthedAt(step.In), earthedAt(step.Out):
	case step.Kind == Control:
		e := &t.kindOf(step.Part).Elements[step.Element]
		s.Why = TurnedDown
		s.Control = netlist.ControlRef{Part: step.Part, Control: e.By}
	case step.Kind == Stage:
		s.Why = Dead
	default:
		if s.Down = t.towards(t.stateOf(feeder), t.of[step.Out], step.Part); len(s.Down) > 0 {
			s.Why = Swallowed
		}
	}
	return s
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

// lastPoint is the end of the longest lane found.
func (t *trail) lastPoint() netlist.TerminalID {
	last := t.from
	for _, l := range t.lanes {
		if e := l.steps[len(l.steps)-1]; e.In != netlist.NoTerminal {
			last = e.In
		}
	}
	return last
}

// amplifies says that a kind has a system with a grid.
func amplifies(k *parts.Kind) bool {
	return slices.ContainsFunc(k.Elements, func(e parts.Element) bool { return e.Type == parts.Triode || e.Type == parts.Pentode })
}
