package diagnose

import (
	"math"
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter"
	"buzzout/verify/meter/ohms"
)

// effect says what a fault does in a view. A fault of a joint that was not
// made yet does nothing there.
func (v *view) effect(f *Fault) effect {
	var e effect
	switch f.Kind {
	case DryJoint:
		v.takeOff(&e, f.Joint, f.A)
	case MissingPart:
		for i := range v.n.Pieces {
			if p := &v.n.Pieces[i]; p.Part == f.Part && !p.Out {
				e.values = append(e.values, ohms.Value{Branch: int32(i), Ohms: math.Inf(1)})
			}
		}
	case OpenPart:
		v.value(&e, &f.Piece, math.Inf(1))
	case LiftedWiper:
		if i, ok := v.find(&f.Piece); ok {
			e.wipers = append(e.wipers, i)
		}
	case ShortPart:
		if f.Piece.Nature == 0 {
			e.bridges = append(e.bridges, [2]netlist.TerminalID{f.A, f.B})
		} else {
			v.value(&e, &f.Piece, 0)
		}
	case WrongValue:
		v.wrongValue(&e, f)
		e.drift = f.Slip == Drifted
	case Bridge:
		e.bridges = append(e.bridges, [2]netlist.TerminalID{f.A, f.B})
	case Exchanged:
		if v.takeOff(&e, f.Joint, f.A) && v.takeOff(&e, f.other, f.C) {
			e.bridges = append(e.bridges, [2]netlist.TerminalID{f.A, f.D}, [2]netlist.TerminalID{f.C, f.B})
		} else {
			e = effect{}
		}
	case Misplaced:
		if v.takeOff(&e, f.Joint, f.A) {
			e.bridges = append(e.bridges, [2]netlist.TerminalID{f.A, f.C})
		}
	case WrongSetting:
		v.wrongSetting(&e, f)
	case OpenContact:
		if join, closed := v.contact[contactKey{f.Part, f.contact}]; closed {
			e.removed = append(e.removed, join)
		}
	}
	return e
}

// takeOff undoes a joint; in a network drawn from the plan, a terminal comes
// off its conductor instead.
func (v *view) takeOff(e *effect, j *netlist.Joint, t netlist.TerminalID) bool {
	if j == nil {
		e.alone = append(e.alone, t)
		return true
	}
	join, made := v.joint[jointKey{j.A, j.B, j.Kind, j.Place}]
	if made {
		e.removed = append(e.removed, join)
	}
	return made
}

// find finds a piece again in this view, if it is in the circuit.
func (v *view) find(p *meter.Piece) (int32, bool) {
	i, ok := v.piece[keyOf(p)]
	if !ok || v.n.Pieces[i].Out {
		return 0, false
	}
	return i, true
}

func (v *view) value(e *effect, p *meter.Piece, ohmsNow float64) {
	if i, ok := v.find(p); ok {
		e.values = append(e.values, ohms.Value{Branch: i, Ohms: ohmsNow})
	}
}

// wrongValue gives a piece its other value; of a track, both sides of the
// wiper change alike.
func (v *view) wrongValue(e *effect, f *Fault) {
	i, ok := v.find(&f.Piece)
	if !ok {
		return
	}
	if f.Piece.Nature != meter.TrackBelow {
		e.values = append(e.values, ohms.Value{Branch: i, Ohms: f.Value})
		return
	}
	for k := range v.n.Tracks {
		if t := &v.n.Tracks[k]; int32(t.Below) == i {
			e.values = append(e.values,
				ohms.Value{Branch: i, Ohms: f.Value * t.Share},
				ohms.Value{Branch: i + 1, Ohms: f.Value * (1 - t.Share)})
		}
	}
}

// wrongSetting puts a control where the notebook does not have it, but for
// readings that tell where it stands.
func (v *view) wrongSetting(e *effect, f *Fault) {
	if _, told := v.fixed[f.Control]; told {
		return
	}
	kind := f.Control.Part.Kind
	from, to := v.setting.PositionOf(f.Control).Index, f.Position.Index
	switch {
	case kind.Controls[f.Control.Control].Turns:
		v.wrongTurn(e, f)
	case from == to:
	case f.Control.Control == kind.Seat:
		v.wrongContacts(e, f.Control, from, to)
		v.wrongSeat(e, f.Control.Part, kind.Controls[kind.Seat].Positions[to] == "in")
	default:
		v.wrongContacts(e, f.Control, from, to)
		v.part(e, f.Control.Part, netlist.ByPlug)
	}
}

// wrongTurn puts the wipers of a pot elsewhere.
func (v *view) wrongTurn(e *effect, f *Fault) {
	share := f.Position.Turn
	if f.Slip == Elsewhere {
		share = f.Share
	}
	for i := range v.n.Tracks {
		t := &v.n.Tracks[i]
		if !t.Controlled || t.Control != f.Control || !t.Set {
			continue
		}
		e.values = append(e.values,
			ohms.Value{Branch: int32(t.Below), Ohms: share * t.Ohms},
			ohms.Value{Branch: int32(t.Above), Ohms: (1 - share) * t.Ohms})
	}
}

// wrongContacts opens and closes what a control works between two positions.
func (v *view) wrongContacts(e *effect, control netlist.ControlRef, from, to int) {
	part := control.Part
	for i := range part.Kind.Contacts {
		c := &part.Kind.Contacts[i]
		if c.Control != control.Control {
			continue
		}
		was, is := slices.Contains(c.Positions, from), slices.Contains(c.Positions, to)
		switch {
		case was && !is:
			if join, closed := v.contact[contactKey{part, c}]; closed {
				e.removed = append(e.removed, join)
			}
		case is && !was:
			e.bridges = append(e.bridges, [2]netlist.TerminalID{part.Terminals[c.A], part.Terminals[c.B]})
		}
	}
}

// wrongSeat puts a part into its holder, or takes it out with all that it joins
// inside.
func (v *view) wrongSeat(e *effect, part *netlist.Part, in bool) {
	for i := range v.n.Pieces {
		if p := &v.n.Pieces[i]; p.Part == part {
			value := math.Inf(1)
			if in {
				value = p.Ohms
			}
			e.values = append(e.values, ohms.Value{Branch: int32(i), Ohms: value})
		}
	}
	if !in {
		v.part(e, part, netlist.Inside)
		return
	}
	for _, set := range part.Kind.Joined {
		for _, t := range set[1:] {
			e.bridges = append(e.bridges, [2]netlist.TerminalID{part.Terminals[set[0]], part.Terminals[t]})
		}
	}
}

// part undoes the joins of one kind that a part makes.
func (v *view) part(e *effect, part *netlist.Part, kind netlist.JoinKind) {
	for i := range v.n.Harness.Joins {
		if j := &v.n.Harness.Joins[i]; j.Part == part && j.Kind == kind {
			e.removed = append(e.removed, int32(i))
		}
	}
}
