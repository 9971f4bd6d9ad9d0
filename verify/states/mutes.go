package states

import (
	"math/cmplx"
	"slices"

	"buzzout/netlist"
)

// A Mixing says what the inputs of one grid do to one another.
type Mixing struct {
	Grid   netlist.TerminalID
	Inputs []Input
	Rows   []MixRow        // one for each way of plugging in, nothing plugged first
	Unset  []*netlist.Part // pots that nobody set, taken at half their travel, and parts without a figure
	Pairs  []Pair          // for each two inputs, whether they can be selected from outside
}

// A MixRow is one way of plugging in.
type MixRow struct {
	Plugged []bool // by input
	At      []Fate // by input: what becomes of it
	// GridEarthed says that the grid itself is on earth; Resting is the ohms
	// from grid to earth with nothing feeding it, negative where it floats.
	GridEarthed bool
}

// A Reach says how much of an input reaches the grid.
type Reach uint8

// The reaches.
const (
	Unplugged Reach = iota
	Full            // nine tenths or more
	Reduced         // less, by a divider
	Shorted         // its tip is on earth
	CutOff          // nothing: there is no way
	Muted           // there is a way, and the grid is on earth
)

// A Fate is what becomes of one input in one way of plugging in.
type Fate struct {
	Reach Reach
	Level float64 // of 1 at the tip, what is at the grid
	// Cause is the contact whose change would bring back the most; nil where
	// no single contact would. Opens says that it would have to open.
	Cause  *Contact
	Opens  bool
	Better float64 // the level with that contact changed
	// Other is the input whose plug takes the level, where pulling it brings
	// back more than any contact does.
	Other *Input
	// Earth is the way from a shorted tip to the sleeve.
	Earth []netlist.PathStep
}

// A Pair says whether two inputs can be plugged in at once and selected from
// outside.
type Pair struct {
	A, B int // indices of Mixing.Inputs
	// Select are settings of controls other than plugs that leave only A, and
	// only B, with both plugged in; nil if there are none.
	OnlyA, OnlyB netlist.Setting
	Looked       int // settings looked at
	// Both says that with both in, as the controls stand, both reach the grid.
	Both bool
	// Meet is where their ways first come together, and the legs that arrive
	// there: a change-over switch there selects between them. NoTerminal
	// where no such place was found. Verified says that a trial with the
	// switch in place selects.
	LegA, LegB, Meet netlist.TerminalID
	Verified         bool
}

// heard is the level from which an input counts as reaching the grid, and
// full the level from which nothing is lost to speak of (-1 dB).
const (
	heard = 0.01
	full  = 0.9
)

// maxInputs is how many inputs of one grid are looked at in every combination.
const maxInputs = 10

// A mixer works out levels for one group of inputs.
type mixer struct {
	draw   func(netlist.Setting) *netlist.Harness
	inputs []Input
	s      netlist.Setting
	out    *Mixing
}

// Mutes says what the inputs do to one another, for each grid that jacks lead
// to; with a point given, for that point. draw gives the harness in a setting;
// s is where all else stands.
func Mutes(draw func(netlist.Setting) *netlist.Harness, s netlist.Setting, book *netlist.Book, point netlist.TerminalID) []Mixing {
	var list []Mixing
	for _, group := range Inputs(draw, s, book, point) {
		if len(group) > maxInputs {
			group = group[:maxInputs]
		}
		m := &mixer{draw: draw, inputs: group, s: s, out: &Mixing{Grid: group[0].Grid, Inputs: group}}
		for plugs := range 1 << len(group) {
			m.out.Rows = append(m.out.Rows, m.row(uint(plugs)))
		}
		for a := range group {
			for b := a + 1; b < len(group); b++ {
				m.out.Pairs = append(m.out.Pairs, m.pair(a, b))
			}
		}
		list = append(list, *m.out)
	}
	return list
}

// plugged is the setting with those inputs plugged.
func (m *mixer) plugged(plugs uint, s netlist.Setting) netlist.Setting {
	with := netlist.Setting{}
	for i, in := range m.inputs {
		if plugs>>i&1 != 0 {
			if s.PositionOf(in.Plug).Index == 0 {
				with[in.Plug] = netlist.Position{Index: 1, Known: true}
			}
		} else {
			with[in.Plug] = netlist.Position{}
		}
	}
	return s.With(with)
}

// A trial is a harness in one setting, ready to have levels worked out with
// contacts changed.
type trial struct {
	m     *mixer
	scene *Scene
	list  []passive
	plugs uint
	// Lifted legs are off their conductor: each is on one of its own, which
	// the switch of a trial rewiring joins to the meeting point or does not.
	lifted [2]netlist.TerminalID
	chosen int // which of the lifted is joined to the meeting point
}

func (m *mixer) trial(plugs uint, s netlist.Setting) *trial {
	s = m.plugged(plugs, s)
	t := &trial{m: m, scene: NewScene(m.draw(s), s), plugs: plugs, lifted: [2]netlist.TerminalID{netlist.NoTerminal, netlist.NoTerminal}}
	var unknown []*netlist.Part
	t.list, unknown = passives(t.scene.Harness, s)
	for _, p := range unknown {
		if !slices.Contains(m.out.Unset, p) && t.matters(p) {
			m.out.Unset = append(m.out.Unset, p)
		}
	}
	return t
}

// matters says that a part hangs on the network between inputs and grid.
func (t *trial) matters(p *netlist.Part) bool {
	return t.near()[int32(p.Index)]
}

// near are the parts of the passive network around the grid.
func (t *trial) near() map[int32]bool {
	of := t.scene.Harness.Islands().Of
	ends, _ := stops(t.scene.Harness)
	earth := of[t.m.inputs[0].Sleeve]
	seen := map[int32]bool{of[t.m.out.Grid]: true}
	queue := []int32{of[t.m.out.Grid]}
	found := map[int32]bool{}
	for len(queue) > 0 {
		x := queue[0]
		queue = queue[1:]
		if x == earth || ends[x] {
			continue
		}
		for _, p := range t.list {
			a, b := of[p.a], of[p.b]
			if a != x && b != x {
				continue
			}
			found[int32(p.part.Index)] = true
			if y := a + b - x; !seen[y] {
				seen[y] = true
				queue = append(queue, y)
			}
		}
	}
	return found
}

// level is what input i, at 1, gives at the grid, with the other plugged
// inputs at zero (what is plugged in is of low resistance beside a grid's
// resistors: common practice, no source). change, where not nil, is a contact
// taken the other way; pulled an input whose plug feeds nothing, -1 for none.
func (t *trial) level(i int, change *Contact, pulled int) float64 {
	w := t.scene.Web
	at := w.at(t.scene.Setting)
	joined := newSets(w.conductors + len(t.lifted))
	on := func(terminal int32) int32 {
		for k, leg := range t.lifted {
			if int32(leg) == terminal {
				return int32(w.conductors + k)
			}
		}
		return w.conductor[terminal]
	}
	if leg := t.lifted[t.chosen]; leg != netlist.NoTerminal {
		joined.join(on(int32(leg)), w.conductor[leg])
	}
	for k := range w.Contacts {
		c := &w.Contacts[k]
		if closed := c.At(int(at[c.Control])); closed != (c == change) {
			joined.join(c.a, c.b)
		}
	}
	list := make([]passive, len(t.list))
	for k, p := range t.list {
		p.a, p.b = on(p.a), on(p.b)
		list[k] = p
	}
	earth := t.earth(w)
	var feeders []feeder
	for k, in := range t.m.inputs {
		if t.plugs>>k&1 == 0 || k == pulled {
			continue
		}
		f := feeder{conductor: on(int32(in.Tip))}
		if k == i {
			f.volts = 1
		}
		feeders = append(feeders, f)
	}
	return cmplx.Abs(voltageAt(list, joined, shared(feeders, joined), earth, w.conductor[t.m.out.Grid]))
}

// shared holds conductors with several feeders at their mean: sources alike
// that are joined straight pull each other half way.
func shared(feeders []feeder, joined *sets) []feeder {
	for i := range feeders {
		sum, n := complex128(0), 0
		for _, f := range feeders {
			if joined.find(f.conductor) == joined.find(feeders[i].conductor) {
				sum += f.volts
				n++
			}
		}
		if n > 1 {
			mean := sum / complex(float64(n), 0)
			for k := range feeders {
				if joined.find(feeders[k].conductor) == joined.find(feeders[i].conductor) {
					feeders[k].volts = mean
				}
			}
		}
	}
	return feeders
}

// earth are the conductors that hold still: the sleeves, and all at which a
// signal's way ends.
func (t *trial) earth(w *Web) []int32 {
	var list []int32
	for _, in := range t.m.inputs {
		list = append(list, w.conductor[in.Sleeve])
	}
	h := t.scene.Harness
	for _, p := range h.Book.Parts {
		for _, winding := range p.Kind.Windings {
			for _, e := range winding.Ends {
				list = append(list, w.conductor[p.Terminals[e]])
			}
		}
	}
	return list
}

func (m *mixer) row(plugs uint) MixRow {
	t := m.trial(plugs, m.s)
	row := MixRow{Plugged: make([]bool, len(m.inputs)), At: make([]Fate, len(m.inputs))}
	h := t.scene.Harness
	row.GridEarthed = h.Joined(m.out.Grid, m.inputs[0].Sleeve)
	for i, in := range m.inputs {
		if plugs>>i&1 == 0 {
			continue
		}
		row.Plugged[i] = true
		row.At[i] = t.fate(i, in, row.GridEarthed)
	}
	return row
}

func (t *trial) fate(i int, in Input, gridEarthed bool) Fate {
	h := t.scene.Harness
	f := Fate{Level: t.level(i, nil, -1)}
	switch {
	case h.Joined(in.Tip, in.Sleeve):
		f.Reach, f.Level = Shorted, 0
		f.Earth = h.Path(in.Tip, in.Sleeve)
	case gridEarthed:
		f.Reach, f.Level = Muted, 0
	case f.Level >= full:
		f.Reach = Full
		return f
	case f.Level >= heard/10:
		f.Reach = Reduced
	default:
		f.Reach = CutOff
	}
	t.blame(i, &f)
	return f
}

// blame looks for the one contact, or the one other plug, whose change brings
// back the most.
func (t *trial) blame(i int, f *Fate) {
	w := t.scene.Web
	at := w.at(t.scene.Setting)
	f.Better = f.Level
	for k := range w.Contacts {
		c := &w.Contacts[k]
		// Pulling the input's own plug explains nothing.
		if c.a == c.b {
			continue
		}
		if better := t.level(i, c, -1); better > f.Better*1.1+heard/10 {
			f.Better, f.Cause, f.Opens = better, c, c.At(int(at[c.Control]))
		}
	}
	for k := range t.m.inputs {
		if k == i || t.plugs>>k&1 == 0 {
			continue
		}
		if better := t.level(i, nil, k); better > f.Better*1.1+heard/10 {
			f.Better, f.Cause, f.Other = better, nil, &t.m.inputs[k]
		}
	}
}
