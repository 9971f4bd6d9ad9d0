package follow

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A trail is the way of the signal through one flow.
type trail struct {
	*flow
	lanes    []lane
	wanted   bool // an end was asked for, or a loudspeaker is there
	complete bool // the lanes come to their end
}

// A lane is one way from the source to one end.
type lane struct {
	steps  []Step
	valves []int // passed, the first first
	voice  voice
	signal complex128 // what it brings there
}

func newTrail(f *flow) *trail { return &trail{flow: f} }

// follow finds the lanes to the end asked for, to the loudspeaker, or to the
// furthest point.
func (t *trail) follow(to netlist.TerminalID) {
	var ends []voice
	speakers := loudspeakers(t.h)
	switch {
	case to != netlist.NoTerminal:
		t.wanted = true
		ends = []voice{{to, netlist.NoTerminal, t.book.Terminals[to].Part}}
	case len(speakers) > 0:
		t.wanted = true
		ends = t.loudest(speakers)
	case slices.ContainsFunc(t.book.Parts, isLoudspeaker):
		t.wanted = true
	default:
		ends = t.furthest()
	}
	t.lanesTo(ends)
	if t.complete = len(t.lanes) > 0; !t.complete {
		t.lanesTo(t.furthest()) // as far as it goes
	}
}

func (t *trail) lanesTo(ends []voice) {
	for _, v := range ends {
		for _, j := range t.speakers(v) {
			t.lanes = append(t.lanes, t.lane(v, j))
		}
	}
}

func (t *trail) start() Step {
	s := Step{Kind: Start, Part: t.book.Terminals[t.from].Part, Element: -1, In: netlist.NoTerminal, Out: t.from, Passes: 1}
	s.Conductor = t.conductorName(t.from)
	return s
}

// lane makes the steps from the source, over the valves that j has its drive
// from, through j to a voice.
func (t *trail) lane(v voice, j int) lane {
	l := lane{voice: v}
	if j != source {
		l.valves = append(t.ancestors(j), j)
		slices.Reverse(l.valves[:len(l.valves)-1])
	}
	l.steps = []Step{t.start()}
	from := source
	for _, i := range l.valves {
		t.link(&l, from, i)
		from = i
	}
	l.signal, _ = t.heard(v, j)
	target := v.a
	if v.b != netlist.NoTerminal && abs(t.voltsOf(from, v.b)) > abs(t.voltsOf(from, v.a)) {
		target = v.b
	}
	t.passive(&l, from, target)
	end := Step{Kind: End, Part: v.part, Element: -1, In: target, Out: netlist.NoTerminal, Passes: 1}
	t.append(&l, end)
	return l
}

func (t *trail) stateOf(j int) *state {
	if j == source {
		return &t.rest
	}
	return &t.each[j]
}

func (t *trail) voltsOf(j int, x netlist.TerminalID) complex128 { return t.volts(t.stateOf(j), x) }

// link leads from the source or a valve to the electrode that drives the next
// valve, and into it.
func (t *trail) link(l *lane, from, to int) {
	v := &t.valves[to]
	driven := t.drivenAt(to, from)
	in := v.grid
	switch driven {
	case Cathode:
		in = v.cathode
	case ScreenGrid:
		in = v.screen
	}
	t.passive(l, from, in)
	step := Step{Kind: Stage, Part: v.part, Element: v.element, In: in, Out: netlist.NoTerminal, Passes: 1, Driven: driven, Figures: v.figures}
	for i := range t.valves {
		if i != to && t.beside(i, to) && t.parent[i] != unreached && t.valves[i].part != v.part {
			step.Beside = append(step.Beside, t.valves[i].part)
		}
	}
	t.append(l, step)
}

// drivenAt is the electrode at which a valve gets its drive from its parent.
func (t *trail) drivenAt(i, parent int) Electrode {
	s := t.stateOf(parent)
	grid, cathode, screen := t.controls(i, s)
	whole := grid + cathode + screen
	g, k, x := along(grid, whole), along(cathode, whole), along(screen, whole)
	switch {
	case g >= k && g >= x:
		return Grid
	case k >= x:
		return Cathode
	}
	return ScreenGrid
}

// passive adds the steps through passive parts from what a valve, or the
// source, feeds, to a terminal.
func (t *trail) passive(l *lane, from int, target netlist.TerminalID) {
	s := t.stateOf(from)
	origins := []int32{t.of[t.from]}
	if from != source {
		v := &t.valves[from]
		origins = []int32{t.of[v.anode], t.of[v.cathode]}
	}
	hops := t.way(s, t.of[target], origins)
	if from != source {
		first := t.of[target]
		if len(hops) > 0 {
			first = hops[0].from
		}
		t.takenFrom(l, from, first)
	}
	for _, h := range hops {
		if i, ok := t.upThrough(h); ok {
			v := &t.valves[i]
			t.append(l, Step{Kind: Stage, Part: v.part, Element: v.element, In: v.cathode, Out: v.anode, Passes: 1, Driven: Cathode, Taken: Anode, Figures: v.figures})
			l.valves = append(l.valves, i)
			continue
		}
		t.append(l, t.step(s, h))
	}
}

// upThrough is the valve whose own resistance a hop passes from cathode to
// anode: with a source of constant current in the tail of a pair, all that one
// of them gives goes up through the other.
func (t *trail) upThrough(h hop) (int, bool) {
	if h.core >= 0 {
		return 0, false
	}
	l := &t.links[h.links[0]]
	i := t.counterpart(l.part, l.element)
	if l.element < 0 || i < 0 || t.of[t.valves[i].cathode] != h.from || t.of[t.valves[i].anode] != h.to {
		return 0, false
	}
	return i, true
}

// takenFrom says at which electrode the last stage gives its signal.
func (t *trail) takenFrom(l *lane, j int, conductor int32) {
	v := &t.valves[j]
	step := &l.steps[len(l.steps)-1]
	step.Taken, step.Out = Anode, v.anode
	if t.of[v.cathode] == conductor && t.of[v.anode] != conductor {
		step.Taken, step.Out = Cathode, v.cathode
	}
	// A current through the valve is turned over at the anode; driven at the
	// cathode it is turned over once more.
	step.Turns = (step.Taken == Anode) != (step.Driven == Cathode)
	if step.Turns {
		step.Over = !step.Over
	}
	step.Conductor = t.conductorName(step.Out)
}

// append adds a step behind the last one.
func (t *trail) append(l *lane, s Step) {
	before := &l.steps[len(l.steps)-1]
	s.Over = before.Over != (s.Turns && s.Kind != Stage)
	s.Copper = t.h.Path(before.Out, s.In)
	if s.Out != netlist.NoTerminal {
		s.Conductor = t.conductorName(s.Out)
	} else {
		s.Conductor = t.conductorName(s.In)
	}
	l.steps = append(l.steps, s)
}

// step makes a step of a hop.
func (t *trail) step(s *state, h hop) Step {
	step := Step{In: h.in, Out: h.out, Passes: finite(abs(h.passes)), Turns: real(h.passes) < 0, Element: -1}
	if h.core >= 0 {
		step.Kind, step.Part = Transformer, t.cores[h.core].part
		step.StillIn, step.StillOut = t.still(&t.total, step.Part, h.in), t.still(&t.total, step.Part, h.out)
		return step
	}
	l := &t.links[h.links[0]]
	step.Part, step.Element, step.Turns = l.part, l.element, false
	for _, i := range h.links[1:] {
		if p := t.links[i].part; p != step.Part && !slices.Contains(step.Beside, p) && t.links[i].element >= 0 {
			step.Beside = append(step.Beside, p)
		}
	}
	step.Kind = Wire
	if l.element >= 0 {
		step.Kind = t.kindOfStep(l)
		step.Figure = t.h.Fitted(l.part).Values[l.element]
	}
	if step.Kind == Control {
		step.Turn, step.Set = t.turnOf(l.part, l.element)
	}
	if step.Passes < 0.7 {
		step.Down = t.towards(s, h.to, step.Part)
		if step.Kind == Series && len(step.Down) > 0 {
			step.Kind = Attenuator
		}
	}
	return step
}

// turnOf is how a track is turned, and whether somebody set it.
func (n *network) turnOf(p *netlist.Part, element int) (turn float64, set bool) {
	if by, ok := n.controlOf(p, element); ok {
		if at := n.setting.PositionOf(by); at.Known {
			return at.Turn, true
		}
	}
	return 0.5, false
}

// controlOf is what turns a track. What is fitted may have none, where the
// plan, from which the element was told, has one.
func (n *network) controlOf(p *netlist.Part, element int) (netlist.ControlRef, bool) {
	elements := n.kindOf(p).Elements
	if element >= len(elements) || elements[element].By < 0 {
		return netlist.ControlRef{}, false
	}
	return netlist.ControlRef{Part: p, Control: elements[element].By}, true
}

func (n *network) isTrack(l *link) bool {
	return l.element >= 0 && l.kind(n).Type == parts.Track
}

func (t *trail) kindOfStep(l *link) StepKind {
	switch l.kind(t.network).Type {
	case parts.Resistance:
		return Series
	case parts.Capacitance:
		return Coupling
	case parts.Track:
		return Control
	case parts.Coil:
		return Choke
	}
	return Wire
}

// conductorName is what the plan calls the conductor of a terminal: the net of
// the terminal itself, else that of another on it, else the terminal's name.
func (n *network) conductorName(x netlist.TerminalID) string {
	if net := n.book.Net(x); net != netlist.NoNet {
		return n.book.Nets[net].Name
	}
	for _, m := range n.h.Islands().Members(n.of[x]) {
		if net := n.book.Net(netlist.TerminalID(m)); net != netlist.NoNet {
			return n.book.Nets[net].Name
		}
	}
	return n.book.Name(x)
}

// meeting says what lanes to one end do there.
func (t *trail) meeting() Meeting {
	for _, l := range t.lanes[1:] {
		if l.voice.a != t.lanes[0].voice.a {
			return Apart
		}
		if along(l.signal, t.lanes[0].signal) < 0 {
			return Against
		}
	}
	return Adding
}
