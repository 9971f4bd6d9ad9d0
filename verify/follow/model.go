package follow

import "buzzout/netlist"

// A Move is a control in another position.
type Move struct {
	Control netlist.ControlRef
	To      netlist.Position
}

// ready is a setting with valves in and what turns at half its travel.
func (q *Question) ready(s netlist.Setting) netlist.Setting {
	with := netlist.Setting{}
	for _, p := range q.Book.Parts {
		for i, c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			switch {
			case c.Turns:
				with[ref] = netlist.Position{Turn: 0.5, Known: true}
			case i == p.Kind.Seat:
				with[ref] = seated(p)
			}
		}
	}
	return s.With(with)
}

// modelAt is the drawing's trail in a setting; nil where the source has
// nowhere to go.
func (q *Question) modelAt(plan func(netlist.Setting) *netlist.Harness, s netlist.Setting) *trail {
	t := newTrail(newFlow(newNetwork(plan(s), s, q.From, q.To)))
	if t.deadAtStart() != nil {
		return nil
	}
	t.follow(q.To)
	return t
}

// maxMoves is how many settings of the drawing are tried in search of one in
// which it has a way.
const maxMoves = 400

// model is the drawing in positions in which it does what is wanted: as the
// controls stand; else with one control elsewhere, else with two, which are
// told. Nil if there are none.
func (q *Question) model(plan func(netlist.Setting) *netlist.Harness, s netlist.Setting, wanted func(*trail) bool) (*trail, []Move) {
	base := q.ready(s)
	tries := 0
	try := func(moves ...Move) *trail {
		tries++
		with := netlist.Setting{}
		for _, m := range moves {
			with[m.Control] = m.To
		}
		if t := q.modelAt(plan, base.With(with)); t != nil && wanted(t) {
			return t
		}
		return nil
	}
	if t := try(); t != nil {
		return t, nil
	}
	moves := q.moves(s)
	for _, m := range moves {
		if tries == maxMoves {
			return nil, nil
		}
		if t := try(m); t != nil {
			return t, []Move{m}
		}
	}
	for i, m := range moves {
		for _, other := range moves[i+1:] {
			if m.Control == other.Control {
				continue
			}
			if tries == maxMoves {
				return nil, nil
			}
			if t := try(m, other); t != nil {
				return t, []Move{m, other}
			}
		}
	}
	return nil, nil
}

// moves are all single moves of switches and plugs away from where they stand.
func (q *Question) moves(s netlist.Setting) []Move {
	var list []Move
	for _, p := range q.Book.Parts {
		for i, c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			if c.Turns || i == p.Kind.Seat || p == q.Book.Terminals[q.From].Part {
				continue
			}
			for at := range c.Positions {
				if at != s.PositionOf(ref).Index {
					list = append(list, Move{ref, netlist.Position{Index: at, Known: true}})
				}
			}
		}
	}
	return list
}
