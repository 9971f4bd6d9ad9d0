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
	NoCurrent          // nothing leads on from Next, an electrode of the valve, and so no current flows in it
	Unreturned         // Part is a transformer, and Next the far end of its winding, which has no way to earth
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
	// With are the positions of other controls that had to be tried before the
	// drawing itself had a way; none where it has one with controls as they stand.
	With []Move

	passed []Step // the steps of the drawing up to there
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
	if w.Arrives && t.wanted {
		model := q.modelAt(plan, q.ready(w.Setting))
		if model == nil || !model.complete || len(model.lanes) < 2 || !t.shorter(model) {
			return nil
		}
		return t.stopsOn(model, true, nil)
	}
	model, with := q.model(plan, w.Setting, func(m *trail) bool { return m.complete })
	switch {
	case model == nil && w.Arrives:
		return nil
	case model == nil:
		return []Stop{q.faded(t)}
	}
	list := t.stopsOn(model, false, with)
	if len(list) == 0 && w.Arrives && t.endsInside() {
		further := func(m *trail) bool { return m.complete && m.stages() > t.stages() }
		if model, with = q.model(plan, w.Setting, further); model != nil {
			list = t.stopsOn(model, false, with)
		}
	}
	return list
}

// faded is where a signal ends that comes to its goal in no drawing at hand.
func (q *Question) faded(t *trail) Stop {
	s := Stop{Why: NoReason, Last: t.lastPoint(), Next: q.To}
	hung := slices.IndexFunc(t.idle, func(h hanging) bool { return abs(t.volts(&t.total, h.grid)) >= reaches })
	switch {
	case q.To == netlist.NoTerminal && hung >= 0:
		h := t.idle[hung]
		s = Stop{Why: NoCurrent, Last: h.grid, Next: h.at, Part: h.part}
	case q.To == netlist.NoTerminal && t.openAt(&s):
	case q.To == netlist.NoTerminal && len(loudspeakers(t.h)) == 0:
		s.Why = NoVoice
	case q.To != netlist.NoTerminal && t.same(q.To, t.earth):
		s.Why, s.Path = Earthed, t.h.Path(q.To, t.earthOnBoard())
	}
	return s
}

// openAt finds the open contact up to which most of the signal comes, for a way
// that more switches interrupt than were tried.
func (t *trail) openAt(s *Stop) bool {
	most := reaches
	for p, as := range t.h.There() {
		if p == t.book.Terminals[t.from].Part {
			continue
		}
		for i := range as.Kind.Contacts {
			c := &as.Kind.Contacts[i]
			from, to := p.Terminals[c.A], p.Terminals[c.B]
			near, far := abs(t.volts(&t.total, from)), abs(t.volts(&t.total, to))
			if far > near {
				from, to, near, far = to, from, far, near
			}
			if near <= most || far >= reaches*near || t.same(to, t.earth) {
				continue
			}
			most = near
			s.Why, s.Part, s.Contact, s.Last, s.Next = ContactOpen, p, c, from, to
			s.Control, s.Missing = netlist.ControlRef{Part: p, Control: c.Control}, [2]netlist.TerminalID{from, to}
		}
	}
	if s.Why != ContactOpen {
		return false
	}
	v := voice{a: s.Last, b: netlist.NoTerminal}
	if from := t.speakers(v); len(from) > 0 {
		l := t.lane(v, from[0])
		s.passed = l.steps[:len(l.steps)-1]
		s.Last = s.passed[len(s.passed)-1].Out
	}
	return true
}

// stopsOn tells the first step of each lane of a model that has no signal here.
func (t *trail) stopsOn(model *trail, half bool, with []Move) []Stop {
	var list []Stop
	for _, l := range model.lanes {
		s, ok := t.compare(model, l)
		if !ok {
			continue
		}
		s.Half, s.With = half, with
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
	return len(t.lanes) < len(model.lanes) || t.stages() < model.stages()
}

// stages is how many valves the lanes pass, taken together.
func (t *trail) stages() int {
	n := 0
	for _, l := range t.lanes {
		n += len(l.valves)
	}
	return n
}

// endsInside says that a lane comes to its end at a valve, and not at a way
// out: in a finished amplifier something follows there.
func (t *trail) endsInside() bool {
	return slices.ContainsFunc(t.lanes, func(l lane) bool { return l.voice.part != nil && amplifies(l.voice.part.Kind) })
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
