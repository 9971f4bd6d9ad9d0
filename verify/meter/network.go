package meter

import (
	"math"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify/meter/ohms"
)

// A Network is what an ohmmeter sees of an amplifier in one setting. Ask it
// one question at a time: answers that are costly are kept.
type Network struct {
	Book    *netlist.Book
	Harness *netlist.Harness
	Bench   *netlist.Bench // nil where the network is drawn from the plan
	Setting netlist.Setting
	Meter   Meter

	Pieces     []Piece // what has a resistance, in the order of the parts
	Tracks     []Track
	Junctions  []Junction
	Capacitors []Capacitor

	circuit  *ohms.Circuit // every piece at its value; its branches are the pieces
	pieceAt  [][]int32     // by terminal: pieces that end there
	extremes *extremes
	charging []*ohms.Update        // by capacitor: see shorted
	charge   []func(int32) float64 // by capacitor: see charged
	names    []Conductor
	ground   *netlist.TerminalID
}

// Nature says what a piece is.
type Nature uint8

// The natures of pieces.
const (
	_          Nature = iota
	Resistor          // a resistance
	TrackBelow        // of a track, between its anticlockwise end and the wiper
	TrackAbove        // between the wiper and the clockwise end
	Winding           // a stretch of a winding
	Coil              // a choke, a voice coil, a relay's coil
	Fuse
	Lamp   // cold
	Heater // cold
)

// A Piece has a resistance between two terminals of one part.
type Piece struct {
	Part   *netlist.Part
	Nature Nature
	// Element is its index in the kind's elements; of a Winding that of the
	// winding, and Stretch counts the stretches between its ends.
	Element, Stretch int
	A, B             netlist.TerminalID
	Value
	// Out says that it is not in the circuit in this setting: a valve, lamp or
	// fuse that is out of its holder.
	Out bool
}

// A Track is a whole track: two pieces with a wiper between them.
type Track struct {
	Below, Above int // pieces
	Value            // of the whole
	Control      netlist.ControlRef
	Controlled   bool // Control is what turns it
	Set          bool // its position is told
	// Share is how much of it lies below the wiper, 0 to 1, and its bounds.
	Share, ShareLow, ShareHigh float64
}

// A Junction is a semiconductor diode. A valve's diode is open when cold and
// is none.
type Junction struct {
	Part           *netlist.Part
	Element        int
	Anode, Cathode netlist.TerminalID
}

// A Capacitor is open to an ohmmeter once it is charged.
type Capacitor struct {
	Part    *netlist.Part
	Element int
	A, B    netlist.TerminalID // where polar, A is the plus
	Polar   bool
	Farads  float64 // 0: not told
	Volts   float64 // its rating; 0: not told
}

// Built draws the network of the wiring as it is on the bench, under one
// meaning of the leads' colours. The setting is that of the bench, with the
// controls in with put elsewhere.
func Built(b *netlist.Bench, m netlist.Meaning, with netlist.Setting) *Network {
	s := b.Setting.With(with)
	n := &Network{Book: b.Book, Bench: b, Setting: s, Harness: b.Built(m, s), Meter: Handheld()}
	if b.Probes > 0 {
		n.Meter.Probes, n.Meter.Told = b.Probes, true
	}
	n.draw()
	return n
}

// Planned draws the network of the wiring as the plan intends it.
func Planned(b *netlist.Book, m netlist.Meaning, s netlist.Setting) *Network {
	n := &Network{Book: b, Setting: s, Harness: b.Planned(m, s), Meter: Handheld()}
	n.draw()
	return n
}

func (n *Network) draw() {
	for p, as := range n.Harness.There() {
		n.add(&fitted{p, as})
	}
	n.pieceAt = make([][]int32, len(n.Book.Terminals))
	for i := range n.Pieces {
		p := &n.Pieces[i]
		n.pieceAt[p.A] = append(n.pieceAt[p.A], int32(i))
		n.pieceAt[p.B] = append(n.pieceAt[p.B], int32(i))
	}
	n.solve()
}

func (n *Network) solve() {
	branches := make([]ohms.Branch, len(n.Pieces))
	for i := range n.Pieces {
		p := &n.Pieces[i]
		branches[i] = ohms.Branch{A: n.Conductor(p.A), B: n.Conductor(p.B), Ohms: p.inCircuit()}
	}
	n.circuit = ohms.New(n.Harness.Islands().Count(), branches)
	n.extremes, n.charging, n.charge = nil, nil, nil
}

// Take takes a reading straight across a piece for its value, in ohms with its
// slack either way: of a winding, say, whose resistance nobody told. Probes
// and answers made before do not know of it.
func (n *Network) Take(piece int, reading, slack float64) {
	const least = 0.02 // a winding has some ohms, however few
	low := max(least, reading-slack)
	n.Pieces[piece].Value = between(max(reading, low), low, reading+slack, Measured)
	n.solve()
}

func (p *Piece) inCircuit() float64 {
	if p.Out {
		return math.Inf(1)
	}
	return p.Ohms
}

// add takes a part apart.
func (n *Network) add(f *fitted) {
	p, k := f.part, f.Kind
	out := !p.Seated(n.Setting)
	end := func(i int) netlist.TerminalID { return p.Terminals[i] }
	coldCathode := k.Seat >= 0
	for i := range k.Elements {
		coldCathode = coldCathode || k.Elements[i].Type == parts.Heater
	}
	for i := range k.Elements {
		e := &k.Elements[i]
		piece := Piece{Part: p, Element: i, A: end(e.Ends[0]), B: end(e.Ends[1]), Out: out}
		switch e.Type {
		case parts.Resistance:
			piece.Nature, piece.Value = Resistor, f.resistance(i)
		case parts.Coil:
			piece.Nature, piece.Value = Coil, f.wire(i)
		case parts.Fuse:
			piece.Nature, piece.Value = Fuse, f.fuse(i)
		case parts.Lamp:
			piece.Nature, piece.Value = Lamp, f.filament(i, lampShare, lampLow, lampHigh)
		case parts.Heater:
			piece.Nature, piece.Value = Heater, f.filament(i, heaterShare, heaterLow, heaterHigh)
		case parts.Track:
			n.addTrack(f, i, out)
			continue
		case parts.Diode:
			if !coldCathode {
				n.Junctions = append(n.Junctions, Junction{p, i, piece.A, piece.B})
			}
			continue
		case parts.Capacitance:
			c := Capacitor{Part: p, Element: i, A: piece.A, B: piece.B, Polar: e.Polar, Farads: f.Values[i].Value}
			c.Volts = f.ratedVolts(e)
			n.Capacitors = append(n.Capacitors, c)
			continue
		default:
			continue // a valve's electrodes are open when it is cold
		}
		n.Pieces = append(n.Pieces, piece)
	}
	for w := range k.Windings {
		ends := k.Windings[w].Ends
		for s, v := range f.windingValues(ends) {
			n.Pieces = append(n.Pieces, Piece{Part: p, Nature: Winding, Element: w, Stretch: s,
				A: end(ends[s]), B: end(ends[s+1]), Value: v, Out: out})
		}
	}
}

// addTrack adds the two pieces of a track, with the wiper where it was set; a
// track that nobody set is taken at half its ohms, and its bounds are the
// whole travel.
func (n *Network) addTrack(f *fitted, element int, out bool) {
	p, e := f.part, &f.Kind.Elements[element]
	t := Track{Value: f.track(element), Share: 0.5, ShareHigh: 1, Below: len(n.Pieces), Above: len(n.Pieces) + 1}
	if e.By >= 0 {
		t.Control, t.Controlled = netlist.ControlRef{Part: p, Control: e.By}, true
		if at := n.Setting.PositionOf(t.Control); at.Known {
			t.Set = true
			law := f.Law()
			t.Share = law.Below(at.Turn)
			t.ShareLow, t.ShareHigh = law.Bounds(at.Turn)
		}
	}
	piece := Piece{Part: p, Element: element, Out: out}
	piece.Nature, piece.A, piece.B, piece.Value = TrackBelow, p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]], t.part(t.Share, t.Ohms)
	n.Pieces = append(n.Pieces, piece)
	piece.Nature, piece.A, piece.B, piece.Value = TrackAbove, p.Terminals[e.Ends[1]], p.Terminals[e.Ends[2]], t.part(1-t.Share, t.Ohms)
	n.Pieces = append(n.Pieces, piece)
	n.Tracks = append(n.Tracks, t)
}

// part is the value of so much of the track.
func (t *Track) part(share, whole float64) Value {
	v := t.Value
	v.Ohms, v.Low, v.High = share*whole, share*t.Low, share*t.High
	return v
}

// sure says that the wiper's place is known exactly: at a stop.
func (t *Track) sure() bool { return t.ShareLow == t.ShareHigh }

// ratedVolts is the voltage rating of a capacitor.
func (f *fitted) ratedVolts(e *parts.Element) float64 {
	if v, ok := firstOf(e.Figures, lang.Volts); ok {
		return v.Value
	}
	v, _ := firstOf(f.Figures, lang.Volts)
	return v.Value
}

// Conductor is the number of the conductor that a terminal is on: the island
// of the harness.
func (n *Network) Conductor(t netlist.TerminalID) int32 { return n.Harness.Islands().Of[t] }

// Circuit is the network of the pieces, each at its value: its points are the
// conductors, its branches the pieces.
func (n *Network) Circuit() *ohms.Circuit { return n.circuit }

// PiecesAt are the pieces that end at a terminal, by their index in Pieces.
func (n *Network) PiecesAt(t netlist.TerminalID) []int32 { return n.pieceAt[t] }

// End is the end of a piece at a terminal.
func (n *Network) End(piece int32, t netlist.TerminalID) ohms.End {
	return ohms.End{Branch: piece, Second: n.Pieces[piece].B == t}
}
