// Package follow tells the way that a signal takes, stage by stage, from an
// input to the loudspeaker: what it passes, which way up it is behind each
// stage and why, where it is fed back and whether that calms the amplifier or
// makes it howl, and, where it ends in nothing, what stops it.
//
// Ask [Signal] for a [Way]. The wiring is taken as what it is to a small
// signal of [Tone]: conductors with resistors, capacitors, tracks, coils and
// transformers between them are solved by node voltages, once, with all valves
// still. On top of that stand the valves, each with a slope: what one of them
// gives out, the passive part carries to the grids and cathodes of others.
// From this small table of who drives whom follow the order of the stages, the
// signs and the loops.
//
// A valve's slope is that of a typical working point, not that of the valve
// on the bench: signs and orders of magnitude are what is told, and no level.
package follow

import (
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
)

// A Question asks where a signal goes.
type Question struct {
	Book *netlist.Book
	// Draw gives the wiring that is asked about, in a setting: as built or as
	// drawn.
	Draw func(netlist.Setting) *netlist.Harness
	// Plan gives the wiring that was meant, to explain where a signal stops;
	// nil where there is nothing to compare with.
	Plan func(netlist.Setting) *netlist.Harness
	// Setting is how all controls stand. Asked are positions that the question
	// itself names: they are left as they are, where the question would
	// otherwise put a plug or the valves in.
	Setting, Asked netlist.Setting
	From           netlist.TerminalID
	// To is where the way should lead; NoTerminal is the loudspeaker, and
	// without one the furthest point.
	To netlist.TerminalID
}

// A Way is how far a signal goes.
type Way struct {
	Book     *netlist.Book
	From, To netlist.TerminalID // To is the live end of where it leads, or was to lead
	Setting  netlist.Setting    // that of the answer, with what the question put in
	Assumed  []Assumption
	// Stem is the way up to where it parts; all of it where it does not. Lanes
	// are the ways that run side by side from there, as in push-pull: none, or
	// two and more. Tail is where they have come together again.
	Stem  []Step
	Lanes [][]Step
	Tail  []Step
	// Arrives says that it comes to its end: the loudspeaker, To, or the
	// furthest point where nothing was asked for and no loudspeaker is there.
	Arrives bool
	// Over says that it arrives upside down.
	Over bool
	// Meeting says what lanes do where they meet, and Brings how much each of
	// them brings there, of what the strongest does.
	Meeting Meeting
	Brings  []float64
	Loops   []Loop
	// Faint are loops from behind a transformer by which next to nothing comes
	// round, so that nobody looks for them in vain.
	Faint []Loop
	// Stops say where it ends in nothing: the whole, or a lane of its own.
	Stops []Stop
}

// Meeting says what lanes do where they come together.
type Meeting uint8

// The meetings.
const (
	Apart   Meeting = iota // they do not meet: each has its own end
	Adding                 // they help one another
	Against                // they work against one another: little or nothing is left
)

// A StepKind says what a signal passes.
type StepKind uint8

// The kinds of step.
const (
	_           StepKind = iota
	Start                // where the signal is fed in
	Series               // a resistor in its way, which takes little
	Attenuator           // a resistor in its way with something to earth behind it: a divider
	Coupling             // a capacitor
	Control              // a track, in at an end and out at the wiper, or the other way
	Choke                // a coil
	Wire                 // a fuse, a lamp
	Stage                // a valve
	Transformer          // from winding to winding
	End                  // the loudspeaker, or the point asked for
)

// A Step is one thing that the signal passes.
type Step struct {
	Kind    StepKind
	Part    *netlist.Part
	Element int                // in the kind's Elements; -1 for a transformer and for start and end
	Figure  lang.Figure        // what the part has, as fitted or drawn; Text is "" where nobody says
	In, Out netlist.TerminalID // In is NoTerminal at the start, Out at the end
	// Copper is the way along the conductor from the Out of the step before to
	// In, with the facts that made it.
	Copper []netlist.PathStep
	// Conductor is what the plan calls the conductor of Out (at the end, that
	// of In), else the name of a terminal on it.
	Conductor string
	Over      bool // behind the step the signal is upside down, as against the start
	Turns     bool // this step turned it over
	// Passes is how much of the voltage in front of the step is behind it, of
	// 1. It is exact for dividers, as far as the figures are, and not told for
	// stages.
	Passes float64
	Beside []*netlist.Part // what lies beside the part, between the same conductors; at a stage, valves side by side
	Down   []*netlist.Part // of an attenuator: through what the rest goes to earth
	// Of a control: how it is turned, 0 to 1, and whether somebody set it.
	Turn float64
	Set  bool
	// Of a stage: the electrodes, and what the valve does.
	Driven, Taken Electrode
	Figures       Figures
	// Of a transformer: the ends that hold still, on the side of In and of Out.
	StillIn, StillOut netlist.TerminalID
}

// An Electrode of a valve.
type Electrode uint8

// The electrodes.
const (
	_ Electrode = iota
	Grid
	Cathode
	Anode
	ScreenGrid
)

// Signal follows the signal.
func Signal(q Question) *Way {
	s, assumed := q.prepare()
	w := &Way{Book: q.Book, From: q.From, To: q.To, Setting: s, Assumed: assumed}
	h := q.Draw(s)
	t := newTrail(newFlow(newNetwork(h, s, q.From, q.To)))
	if stop := t.deadAtStart(); stop != nil {
		w.Stem = []Step{t.start()}
		w.Stops = append(w.Stops, *stop)
		w.noValves()
		return w
	}
	t.follow(q.To)
	w.take(t)
	w.Stops = q.stops(t, w)
	w.stopped()
	if !w.Arrives {
		w.To = q.To
	}
	if !w.Arrives && len(w.Stops) == 0 {
		w.Stops = []Stop{{Why: Nowhere, Last: t.lastPoint(), Next: netlist.NoTerminal}}
	}
	if w.Arrives {
		w.Loops, w.Faint = q.loops(t, s)
	}
	w.assume(t)
	return w
}

// stopped shows the way only as far as its longest piece goes, where it does
// not arrive.
func (w *Way) stopped() {
	var longest []Step
	for _, s := range w.Stops {
		if s.Half {
			continue
		}
		w.Arrives = false
		if len(s.passed) > len(longest) {
			longest = s.passed
		}
	}
	if len(longest) > 0 {
		w.Stem, w.Lanes, w.Tail, w.Meeting = longest, nil, nil, Apart
		w.Over = longest[len(longest)-1].Over
	}
}

// prepare puts a plug into the jack that the signal comes from, and the
// valves into their holders if every one of them is out: that is a bench with
// the meter on it, and not what is asked about.
func (q *Question) prepare() (netlist.Setting, []Assumption) {
	s := q.Setting.With(q.Asked)
	var assumed []Assumption
	with := netlist.Setting{}
	if p := q.Book.Terminals[q.From].Part; p != nil {
		for i, c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			if _, asked := q.Asked[ref]; !asked && c.Name == "plug" && len(c.Positions) > 1 && s.PositionOf(ref).Index == 0 {
				with[ref] = netlist.Position{Index: 1, Known: true}
				assumed = append(assumed, Assumption{Kind: PluggedIn, Parts: []*netlist.Part{p}})
			}
		}
	}
	var out []*netlist.Part
	for _, p := range q.Book.Parts {
		if p.Kind.Seat < 0 || !amplifies(p.Kind) {
			continue
		}
		ref := netlist.ControlRef{Part: p, Control: p.Kind.Seat}
		_, asked := q.Asked[ref]
		if p.Seated(s) && !asked {
			out = nil
			break
		}
		if !asked {
			out = append(out, p)
		}
	}
	if len(out) > 0 {
		for _, p := range out {
			with[netlist.ControlRef{Part: p, Control: p.Kind.Seat}] = seated(p)
		}
		assumed = append(assumed, Assumption{Kind: ValvesIn, Parts: out})
	}
	return s.With(with), assumed
}

func seated(p *netlist.Part) netlist.Position {
	return netlist.Position{Index: slices.Index(p.Kind.Controls[p.Kind.Seat].Positions, "in"), Known: true}
}

// take fills the way in from what the trail found: the steps that all lanes
// begin with, those that they end with, and what lies between.
func (w *Way) take(t *trail) {
	w.Arrives = len(t.lanes) > 0 && t.complete
	if len(t.lanes) == 0 {
		w.Stem = []Step{t.start()}
		return
	}
	if len(t.lanes) == 1 {
		w.Stem = t.lanes[0].steps
	} else {
		w.part(t)
	}
	last := t.lanes[0].steps[len(t.lanes[0].steps)-1]
	w.Over = last.Over
	if last.Kind == End {
		w.To = last.In
	}
}

// part splits lanes into what they have in common at both ends and what not.
func (w *Way) part(t *trail) {
	lanes := make([][]Step, len(t.lanes))
	shortest := len(t.lanes[0].steps)
	for i := range t.lanes {
		lanes[i] = t.lanes[i].steps
		shortest = min(shortest, len(lanes[i]))
	}
	front := 0
	for front < shortest && allSame(lanes, func(l []Step) Step { return l[front] }) {
		front++
	}
	tail := 0
	for tail < shortest-front && allSame(lanes, func(l []Step) Step { return l[len(l)-1-tail] }) {
		tail++
	}
	w.Stem = lanes[0][:front]
	w.Tail = lanes[0][len(lanes[0])-tail:]
	for _, l := range lanes {
		w.Lanes = append(w.Lanes, l[front:len(l)-tail])
	}
	w.Meeting = t.meeting()
	strongest := 0.0
	for _, l := range t.lanes {
		strongest = max(strongest, abs(l.signal))
	}
	for _, l := range t.lanes {
		w.Brings = append(w.Brings, abs(l.signal)/strongest)
	}
}

func allSame(lanes [][]Step, of func([]Step) Step) bool {
	first := of(lanes[0])
	for _, l := range lanes[1:] {
		if s := of(l); s.Part != first.Part || s.In != first.In || s.Out != first.Out || s.Kind != first.Kind {
			return false
		}
	}
	return true
}

// Steps gives all steps in order: the stem, the lanes one after the other, the
// tail.
func (w *Way) Steps() []Step {
	list := slices.Clone(w.Stem)
	for _, l := range w.Lanes {
		list = append(list, l...)
	}
	return append(list, w.Tail...)
}
