package states

import "buzzout/netlist"

// A Mixing says what the inputs of one grid do to one another.
type Mixing struct {
	Grid   netlist.TerminalID
	Inputs []Input
	Rows   []MixRow        // one for each way of plugging in, nothing plugged first
	Unset  []*netlist.Part // pots that nobody set, taken at half their travel
	Bare   []*netlist.Part // parts without a figure, taken for something usual
	Left   []Input         // beyond the most that are looked at in every combination
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
	// no single contact would. Opens says that it would have to open. With is a
	// second one that has to change as well, where one alone brings back
	// nothing. Turned are the switches, and where they would have to stand,
	// where turning them does it.
	Cause, With      *Contact
	Opens, WithOpens bool
	Turned           netlist.Setting
	Better           float64 // the level with that changed, or with the plug of Other pulled
	// Other is the input whose source takes the level, where its silence
	// would bring back more than any contact does. Pulling its plug moves its
	// contacts as well, so that Better can be no more than Level.
	Other *Input
	// Earth is the way from a shorted tip to the sleeve.
	Earth []netlist.PathStep
}

// A Pair says whether two inputs can be plugged in at once and selected from
// outside.
type Pair struct {
	A, B int // indices of Mixing.Inputs
	// OnlyA and OnlyB are settings of controls other than plugs that leave
	// only A, and only B, with both plugged in; nil if there are none.
	OnlyA, OnlyB netlist.Setting
	// EverA and EverB say that A, and B, is heard in some setting of the
	// switches, with both plugged in, be it alone or with the other.
	EverA, EverB bool
	Looked       int                  // settings looked at
	Left         []netlist.ControlRef // not moved, because there are too many settings
	// Both says that with both in, as the controls stand, both reach the grid.
	Both bool
	// LegA and LegB are the legs by which their ways first come together, and
	// Meet is where their common way goes on from there: a change-over switch
	// with its common at Meet and a way at each leg selects between them.
	// NoTerminal where no such place was found. Verified says that a trial with
	// the switch in place selects.
	LegA, LegB, Meet netlist.TerminalID
	Verified         bool
	// Tried are the switches that the trial had elsewhere than where they
	// stand, so that both are heard at all.
	Tried netlist.Setting
}

// heard is the level from which an input counts as reaching the grid, and
// full the level from which nothing is lost to speak of (-1 dB).
const (
	heard = 0.01
	full  = 0.9
)

// maxInputs is how many inputs of one grid are looked at in every combination.
const maxInputs = 8

// A mixer works out levels for one group of inputs.
type mixer struct {
	draw func(netlist.Setting) *netlist.Harness
	s    netlist.Setting
	out  *Mixing
	net  *network
}

// Mutes says what the inputs do to one another, for each grid that jacks lead
// to; with a point given, for that point. draw gives the harness in a setting;
// s is where all else stands.
func Mutes(draw func(netlist.Setting) *netlist.Harness, s netlist.Setting, point netlist.TerminalID) []Mixing {
	var list []Mixing
	for _, m := range mixers(draw(s), draw, s, point) {
		for plugs := range uint(1) << len(m.out.Inputs) {
			m.out.Rows = append(m.out.Rows, m.row(plugs))
		}
		n := len(m.out.Inputs)
		for a := range n {
			for b := a + 1; b < n; b++ {
				m.out.Pairs = append(m.out.Pairs, m.pair(a, b, n*(n-1)/2))
			}
		}
		list = append(list, *m.out)
	}
	return list
}

// mixers prepares one mixer for each group of inputs. now is the harness in the
// setting s.
func mixers(now *netlist.Harness, draw func(netlist.Setting) *netlist.Harness, s netlist.Setting, point netlist.TerminalID) []*mixer {
	groups := inputs(now, draw, s, point)
	if len(groups) == 0 {
		return nil
	}
	web := NewWeb(now, s)
	var list []*mixer
	for _, group := range groups {
		m := &mixer{draw: draw, s: s, out: &Mixing{Grid: group[0].Grid}}
		most := min(len(group), maxInputs)
		m.out.Inputs, m.out.Left = group[:most:most], group[most:]
		m.net = newNetwork(web, s, m.out.Inputs, m.out.Grid)
		m.out.Unset, m.out.Bare = m.net.unset, m.net.bare
		list = append(list, m)
	}
	return list
}

// plugged is the setting with those inputs plugged.
func (m *mixer) plugged(plugs uint) netlist.Setting {
	with := netlist.Setting{}
	for i, in := range m.out.Inputs {
		if plugs>>i&1 != 0 {
			if m.s.PositionOf(in.Plug).Index == 0 {
				with[in.Plug] = netlist.Position{Index: 1, Known: true}
			}
		} else {
			with[in.Plug] = netlist.Position{}
		}
	}
	return m.s.With(with)
}

// trial has those inputs plugged in, and all else as it stands.
func (m *mixer) trial(plugs uint) trial {
	return trial{at: m.net.web.at(m.plugged(plugs)), plugs: plugs, silent: -1}
}

func (m *mixer) row(plugs uint) MixRow {
	inputs := m.out.Inputs
	row := MixRow{Plugged: make([]bool, len(inputs)), At: make([]Fate, len(inputs))}
	t := m.trial(plugs)
	web := m.net.web
	joined := web.joinedAt(t.at)
	one := func(a, b netlist.TerminalID) bool {
		return joined.find(web.conductor[a]) == joined.find(web.conductor[b])
	}
	row.GridEarthed = one(m.out.Grid, inputs[0].Sleeve)
	for i, in := range inputs {
		if plugs>>i&1 == 0 {
			continue
		}
		row.Plugged[i] = true
		f := Fate{Level: m.net.level(t, i)}
		switch {
		case one(in.Tip, in.Sleeve):
			f.Reach, f.Level = Shorted, 0
			f.Earth = m.draw(m.plugged(plugs)).Path(in.Tip, in.Sleeve)
		case row.GridEarthed:
			f.Reach, f.Level = Muted, 0
		case f.Level >= full:
			f.Reach = Full
		case f.Level >= heard/10:
			f.Reach = Reduced
		default:
			f.Reach = CutOff
		}
		if f.Reach != Full {
			m.blame(t, i, &f)
		}
		row.At[i] = f
	}
	return row
}
