package compare

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// An adapted wiring is the numbers that stand for a plan and a bench, with
// what the numbers mean. Point p is terminal p of the book.
type adapted struct {
	*wiring
	bench *netlist.Bench
	book  *netlist.Book
	// meaning says which end each lead is.
	meaning netlist.Meaning
	turns   [][]turnName // by part: of each way round that is as good, what it means
	// of says which joint of the bench stands behind each joint.
	of     []*netlist.Joint
	shared map[turnKey]turnSet
	degree []int32 // by point: joints there
}

// adapt makes numbers of a bench under one meaning of its leads' colours.
func adapt(b *netlist.Bench, m netlist.Meaning) *adapted {
	book := b.Book
	a := &adapted{wiring: &wiring{nets: len(book.Nets)}, bench: b, book: book, meaning: m, shared: map[turnKey]turnSet{}}
	a.class = make([]int32, len(book.Terminals))
	a.part = make([]int32, len(book.Terminals))
	a.place = make([]bool, len(book.Terminals))
	for t := range book.Terminals {
		a.class[t] = a.classOf(netlist.TerminalID(t), m)
		a.part[t] = -1
		term := &book.Terminals[t]
		a.place[t] = term.Part != nil && !term.Part.Kind.JoinedAny && !a.brought(netlist.TerminalID(t))
	}
	a.addFixed(m)
	a.addJoints()
	a.addParts(m)
	return a
}

// classOf is the net that a terminal is wanted on.
func (a *adapted) classOf(t netlist.TerminalID, m netlist.Meaning) int32 {
	term := &a.book.Terminals[t]
	net := a.book.Net(t)
	if term.Part != nil {
		if f := a.bench.Fittings[term.Part]; f != nil && f.Absent {
			return means
		}
	}
	_, known := m.Ends[t]
	switch {
	case term.Print != nil:
		return means
	case net != netlist.NoNet && (!term.Tie || term.Part.Kind.JoinedAny):
		return int32(net)
	case term.Tie, term.Lead && known, a.book.Spare(t) != nil, term.Index < 0 && !term.Lead:
		return means
	}
	return alien
}

// addFixed joins what is one conductor whatever the builder does: inside
// parts without a socket, a lead with its end, a pad with its print.
func (a *adapted) addFixed(m netlist.Meaning) {
	join := func(x, y netlist.TerminalID) { a.fixed = append(a.fixed, [2]int32{int32(x), int32(y)}) }
	for _, p := range a.book.Parts {
		as := a.bench.Fitted(p)
		if as.Absent {
			continue
		}
		if as.Kind.JoinedAny {
			for _, t := range p.Terminals[min(1, len(p.Terminals)):] {
				join(p.Terminals[0], t)
			}
		}
		if as.Kind.Seat < 0 {
			for _, set := range as.Kind.Joined {
				for _, t := range set[1:] {
					join(p.Terminals[set[0]], p.Terminals[t])
				}
			}
		}
		for _, t := range p.Terminals[len(p.Kind.Terminals):] {
			if end, ok := m.Ends[t]; ok {
				join(t, end)
			}
		}
	}
	for _, print := range a.book.Prints {
		for _, pad := range print.Pads {
			join(print.ID, pad)
		}
	}
}

func (a *adapted) addParts(m netlist.Meaning) {
	shapes := map[*parts.Kind]int32{}
	for i, p := range a.book.Parts {
		w := wiredPart{shape: -1, whole: !p.Kind.Any}
		for _, t := range p.Terminals[:len(p.Kind.Terminals)] {
			a.part[t] = int32(i)
			w.points = append(w.points, int32(t))
		}
		if !p.Kind.Any && len(w.points) > 1 {
			if _, ok := shapes[p.Kind]; !ok {
				shapes[p.Kind] = int32(len(shapes))
			}
			w.shape = shapes[p.Kind]
		}
		var names []turnName
		if len(w.points) > 1 && len(w.points) <= mostTurnable && a.asked(w.points) {
			w.alike, names, w.wrong = a.turnsOf(p, m)
			if pins := a.pinTurns(p, w.alike); len(pins) > 0 {
				w.wrong = slices.Concat(w.wrong, pins)
			}
		}
		a.parts = append(a.parts, w)
		a.turns = append(a.turns, names)
	}
}

// asked says that the plan asks for some point.
func (a *adapted) asked(points []int32) bool {
	return slices.ContainsFunc(points, func(p int32) bool { return a.class[p] >= 0 })
}

func (a *adapted) addJoints() {
	a.joints = make([]joint, 0, len(a.bench.Joints))
	a.degree = make([]int32, len(a.book.Terminals))
	for i := range a.bench.Joints {
		j := &a.bench.Joints[i]
		if j.Kind == netlist.Pad {
			continue
		}
		made := joint{ends: [2]int32{int32(j.A), int32(j.B)}}
		switch j.Kind {
		case netlist.Leg, netlist.Hole:
			made.stuck[0], made.leg = true, true
		case netlist.Solder:
			// What is brought to the spot is held by its part.
			made.stuck[1], made.leg = a.brought(j.B), true
		}
		a.joints = append(a.joints, made)
		a.degree[j.A]++
		a.degree[j.B]++
		a.of = append(a.of, j)
	}
	a.land()
}

// brought says that a terminal is a wire that comes with its part, so that
// only its other end can be put elsewhere: a flying lead, or a leg of a part of
// two ends that has something between them. A pin or a lug stays where it is, and
// so does the end of what is soldered to it.
func (a *adapted) brought(t netlist.TerminalID) bool {
	term := &a.book.Terminals[t]
	if term.Part == nil || term.Lead {
		return term.Lead
	}
	k := term.Part.Kind
	return len(k.Terminals) == 2 && len(k.Elements) > 0 && k.Seat < 0
}
