package diagnose

import (
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify/meter"
)

// listFurther lists single leads and legs on the neighbouring place, parts
// whose value has drifted or is any other, and pots that stand anywhere else:
// they are asked only where the more usual faults do not fit.
func listFurther(v *view, known map[netlist.TerminalID]bool) []*Fault {
	l := &lister{v: v, known: known, near: neighbouringPlaces(v.n.Book)}
	l.misplacements()
	l.drifts()
	l.elsewhere()
	return l.list
}

// A lister lists the single faults that a wiring can have.
type lister struct {
	v     *view
	known map[netlist.TerminalID]bool // comparison has found something there
	near  [][2]netlist.TerminalID     // neighbouring places
	leads [][2]netlist.TerminalID     // ends of windings that may be taken for each other
	list  []*Fault
}

// listFaults lists them in the order of parts, joints, places and controls.
func listFaults(v *view, known map[netlist.TerminalID]bool) []*Fault {
	l := &lister{v: v, known: known, near: neighbouringPlaces(v.n.Book), leads: leadPairs(v.n)}
	l.pieces()
	l.wholeParts()
	l.shorts()
	l.joints()
	l.contacts()
	l.settings()
	l.bridges()
	l.exchanges()
	return l.list
}

func (l *lister) add(f Fault) {
	if f.Odds == 0 {
		f.Odds = oddsOf(f.Kind, f.Slip)
	}
	for _, t := range f.Terminals() {
		if l.known[t] {
			f.Odds *= oddsKnown
			break
		}
	}
	l.list = append(l.list, &f)
}

// Terminals are those that a fault is at.
func (f *Fault) Terminals() []netlist.TerminalID {
	switch f.Kind {
	case OpenPart, MissingPart, LiftedWiper, WrongValue:
		return []netlist.TerminalID{f.Piece.A, f.Piece.B}
	case Exchanged:
		return []netlist.TerminalID{f.A, f.B, f.C, f.D}
	case Misplaced:
		return []netlist.TerminalID{f.A, f.B, f.C}
	case WrongSetting, Unlisted:
		return nil
	}
	return []netlist.TerminalID{f.A, f.B}
}

// pieces lists what can be wrong inside what has a resistance.
func (l *lister) pieces() {
	n := l.v.n
	for i := range n.Pieces {
		p := n.Pieces[i]
		if p.Out {
			continue
		}
		at := Fault{Part: p.Part, Piece: p, A: p.A, B: p.B}
		with := func(k Kind) Fault { f := at; f.Kind = k; return f }
		open := with(OpenPart)
		switch p.Nature {
		case meter.Fuse, meter.Lamp:
			open.Odds = oddsFuse
		case meter.Resistor:
			l.values(at, p.Ohms, e12)
			l.add(with(ShortPart))
		case meter.TrackBelow:
			l.values(at, p.Ohms+n.Pieces[i+1].Ohms, trackValues)
			l.add(with(LiftedWiper))
		case meter.Winding, meter.Coil:
			l.add(with(ShortPart))
		}
		l.add(open)
	}
}

// values lists the slips that lead to another value.
func (l *lister) values(at Fault, ohms float64, series []float64) {
	if ohms <= 0 || at.Piece.Basis == meter.Unknown || at.Piece.Basis == meter.Measured {
		return
	}
	below, above := neighbours(series, ohms, at.Piece.Tolerance)
	for _, s := range []struct {
		slip  Slip
		value float64
	}{{DecadeUp, ohms * 10}, {DecadeDown, ohms / 10}, {NextUp, above}, {NextDown, below}} {
		f := at
		f.Kind, f.Slip, f.Value = WrongValue, s.slip, s.value
		l.add(f)
	}
}

// Drifted values are anything between some tenths more and some times as much,
// or as little: the middle of that, and its spread in the logarithm (common
// practice, no source).
const (
	driftMiddle = 1.6
	driftSpread = 0.35
)

// drifts lists resistors of some other value, higher or lower.
func (l *lister) drifts() {
	n := l.v.n
	for i := range n.Pieces {
		p := n.Pieces[i]
		ohms := p.Ohms
		switch p.Nature {
		case meter.TrackBelow:
			ohms += n.Pieces[i+1].Ohms
		case meter.Resistor:
		default:
			continue
		}
		if p.Out || ohms <= 0 || p.Basis != meter.Stated {
			continue
		}
		for _, by := range []float64{driftMiddle, 1 / driftMiddle} {
			l.add(Fault{Kind: WrongValue, Slip: Drifted, Part: p.Part, Piece: p, A: p.A, B: p.B, Value: ohms * by})
		}
	}
}

// wholeParts lists parts of two or three terminals that may be left out.
func (l *lister) wholeParts() {
	var last *netlist.Part
	for _, p := range l.v.n.Pieces {
		if p.Out || p.Part == last || len(p.Part.Kind.Terminals) > 3 || p.Part.Kind.Seat >= 0 {
			continue
		}
		last = p.Part
		l.add(Fault{Kind: MissingPart, Part: p.Part, Piece: p, A: p.A, B: p.B})
	}
}

// shorts lists capacitors and diodes that may be a short.
func (l *lister) shorts() {
	for _, c := range l.v.n.Capacitors {
		l.add(Fault{Kind: ShortPart, Part: c.Part, A: c.A, B: c.B})
	}
	for _, j := range l.v.n.Junctions {
		l.add(Fault{Kind: ShortPart, Part: j.Part, A: j.Anode, B: j.Cathode})
	}
}

// joints lists the joints of the bench; of a plan, every terminal of a net of
// two or more.
func (l *lister) joints() {
	n := l.v.n
	if n.Bench == nil {
		for _, net := range n.Book.Nets {
			if len(net.Members) < 2 {
				continue
			}
			for i, m := range net.Members {
				other := net.Members[0]
				if i == 0 {
					other = net.Members[1]
				}
				l.add(Fault{Kind: DryJoint, A: m.Terminal, B: other.Terminal})
			}
		}
		return
	}
	for i := range n.Bench.Joints {
		j := &n.Bench.Joints[i]
		if j.Kind != netlist.Pad && j.Kind != netlist.Screen && j.A != j.B {
			l.add(Fault{Kind: DryJoint, A: j.A, B: j.B, Joint: j})
		}
	}
}

// contacts lists closed contacts.
func (l *lister) contacts() {
	for i := range l.v.n.Harness.Joins {
		if j := &l.v.n.Harness.Joins[i]; j.Kind == netlist.ByContact {
			l.add(Fault{Kind: OpenContact, Part: j.Part, A: j.A, B: j.B, contact: j.Contact})
		}
	}
}

// settings lists controls that may stand elsewhere.
func (l *lister) settings() {
	n := l.v.n
	for _, p := range n.Book.Parts {
		for c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: c}
			now, control := n.Setting.PositionOf(ref), &p.Kind.Controls[c]
			if control.Turns {
				for stop := range 2 {
					if now.Known && now.Turn != float64(stop) {
						l.add(Fault{Kind: WrongSetting, Part: p, Control: ref, Position: netlist.Position{Turn: float64(stop), Known: true}})
					}
				}
				continue
			}
			for i := range control.Positions {
				if i != now.Index && l.matters(p.Kind, c) {
					l.add(Fault{Kind: WrongSetting, Part: p, Control: ref, Position: netlist.Position{Index: i, Known: true}})
				}
			}
		}
	}
}

// elsewhere lists pots that may stand at another turn than told. Which turn it
// is, the readings say: see fitTurns.
func (l *lister) elsewhere() {
	n := l.v.n
	for _, p := range n.Book.Parts {
		for c := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: c}
			now := n.Setting.PositionOf(ref)
			if !p.Kind.Controls[c].Turns || !now.Known {
				continue
			}
			far := 1 - 1.0/turnSteps
			if now.Turn > 0.5 {
				far = 1 - far
			}
			l.add(Fault{Kind: WrongSetting, Slip: Elsewhere, Part: p, Control: ref, Share: far})
		}
	}
}

// matters says that a control works something that an ohmmeter can see.
func (l *lister) matters(k *parts.Kind, control int) bool {
	if control == k.Seat {
		return true
	}
	for i := range k.Contacts {
		if k.Contacts[i].Control == control {
			return true
		}
	}
	return false
}
