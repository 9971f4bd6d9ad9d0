package meter

import (
	"math"
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter/ohms"
)

// Kind is the kind of answer that a meter gives.
type Kind uint8

// The kinds of answer.
const (
	Figure Kind = iota // a value that stands still
	Open               // over range: no way, or one above the meter's highest range
	Rising             // it climbs while a capacitor charges, to Ohms or out of range
	OneWay             // a semiconductor junction may conduct with the probes this way round
)

// An Expectation is the reading that the wiring should give.
type Expectation struct {
	Red, Black netlist.TerminalID
	Kind       Kind
	// Ohms is what lies between the two when every part has its value, without
	// the meter's leads; +Inf where there is no way. Junctions are taken as open.
	Ohms float64
	// Low and High are the worst cases over all tolerances. Exact says that no
	// parts can make the reading lower or higher; without it they are close.
	Low, High float64
	Exact     bool
	// LikelyLow and LikelyHigh hold the reading some nineteen times of twenty.
	LikelyLow, LikelyHigh float64
	// Shown is what the meter's display should say, its leads included; +Inf
	// is over range.
	Shown float64

	OneConductor bool    // the two are joined without any part between
	Shares       []Share // what the reading is about, the greatest first
	Chain        []Link  // the way that most of the current takes, from red to black
	Besides      []Beside
	Climbs       []Climb
	Forward      Direction // with the probes as asked
	Reversed     Direction // with the probes exchanged
	Wipers       []Track   // tracks that have a part in it and whose wiper's place is open
	Unknown      []Piece   // pieces with a part in it of which nobody told a value
	Cautions     []Caution
}

// A Share is how much of a reading one piece answers for, 0 to 1: by how many
// per cent it changes when the piece changes by one. All shares add up to one.
type Share struct {
	Piece
	Share float64
}

// A Link is one piece on the way from one probe to the other, and how much of
// the meter's current goes through it, 0 to 1.
type Link struct {
	Piece
	From, To netlist.TerminalID
	Current  float64
}

// leastShare is below which a piece is not told of, leastUnknown below which
// it does not matter that nobody told its value.
const (
	leastShare   = 0.02
	leastUnknown = 1e-4
)

// Expect predicts the reading between two terminals.
func (n *Network) Expect(red, black netlist.TerminalID) Expectation {
	p, q := n.Conductor(red), n.Conductor(black)
	e := Expectation{Red: red, Black: black, OneConductor: p == q}
	pr := n.circuit.Probe(p, q)
	e.Ohms = pr.Ohms
	var moved bool
	e.Low, e.High, moved = n.bounds(p, q)
	e.Low, e.High = min(e.Low, e.Ohms), max(e.High, e.Ohms)
	n.fill(&e, pr, moved)
	return e
}

// fill adds to an expectation what follows from the probe.
func (n *Network) fill(e *Expectation, pr *ohms.Probe, moved bool) {
	e.Exact = !moved
	n.shares(e, pr)
	if moved {
		e.Wipers = n.movedWipers(pr)
	}
	e.LikelyLow, e.LikelyHigh = n.likely(e, pr)
	e.Chain = n.chain(pr, e.Red, e.Black)
	e.Besides = n.besides(pr)
	e.Climbs = n.climbs(pr)
	e.Forward, e.Reversed = n.directions(pr)
	e.Shown = n.Meter.Shows(e.Ohms)
	e.Cautions = n.cautions(e.Red, e.Black)
	switch {
	case len(e.Forward.Junctions) > 0:
		e.Kind = OneWay
	case len(e.Climbs) > 0:
		e.Kind = Rising
	case math.IsInf(e.Shown, 1):
		e.Kind = Open
	}
}

func (n *Network) shares(e *Expectation, pr *ohms.Probe) {
	if math.IsInf(pr.Ohms, 1) {
		return
	}
	for i := range n.Pieces {
		s := pr.Share(i)
		if s <= 0 {
			continue
		}
		if n.Pieces[i].Basis == Unknown && s > leastUnknown {
			e.Unknown = append(e.Unknown, n.Pieces[i])
			e.Exact = false
		}
		if s >= leastShare {
			e.Shares = append(e.Shares, Share{n.Pieces[i], s})
		}
	}
	slices.SortStableFunc(e.Shares, func(a, b Share) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return 0
	})
}

// movedWipers are the open tracks through which the meter's current goes.
func (n *Network) movedWipers(pr *ohms.Probe) []Track {
	var list []Track
	for _, t := range n.Tracks {
		if !t.sure() && math.Abs(pr.Current(t.Below)-pr.Current(t.Above)) > 1e-9 {
			list = append(list, t)
		}
	}
	return list
}

// A Factor is one thing that may be other than taken, and what it does to the
// logarithm of a reading.
type Factor struct {
	// Number tells factors apart: the index in Pieces of what has the value; of
	// a track its Below for the ohms of the whole, its Above for the place of
	// the wiper.
	Number int
	Effect float64 // on the logarithm of the reading, for one standard deviation
}

// leastEffect is the share below which a piece does not make a reading any
// less certain.
const leastEffect = 1e-5

// Factors adds to a list what makes a reading uncertain: the parts' values,
// and wipers whose place is open. currents are those of an ampere through the
// probes, by piece, in this network or in a changed one.
func (n *Network) Factors(into []Factor, reading float64, currents []float64) []Factor {
	if math.IsInf(reading, 1) || reading == 0 {
		return into
	}
	for i := range n.Pieces {
		p := &n.Pieces[i]
		if current := currents[i]; current*current*p.Ohms > leastEffect*reading && p.Nature != TrackBelow && p.Nature != TrackAbove && p.Spread > 0 {
			into = append(into, Factor{i, n.effect(i, reading, current)})
		}
	}
	for i := range n.Tracks {
		t := &n.Tracks[i]
		below, above := currents[t.Below]*currents[t.Below], currents[t.Above]*currents[t.Above]
		if (below+above)*t.Ohms <= leastEffect*reading {
			continue
		}
		into = append(into, Factor{t.Below, (below*t.Share + above*(1-t.Share)) * t.Ohms / reading * t.Spread})
		if !t.sure() {
			into = append(into, Factor{t.Above, (below - above) * t.Ohms / reading * (t.ShareHigh - t.ShareLow) / (2 * math.Sqrt(3))})
		}
	}
	return into
}

// decades is the spread from which a piece is known by decades only, and does
// not act in proportion.
const decades = 1.0

// leastLeft is the least share of a reading that a piece known by decades is
// taken to leave of it, so that the logarithm stays finite.
const leastLeft = 1e-6

// effect is what a standard deviation of a piece does to the logarithm of a
// reading: its share times its spread. Of a piece that is known by decades it
// is what the whole range does: a winding of any ohms across a loudspeaker may
// make next to nothing of the reading.
func (n *Network) effect(piece int, reading, current float64) float64 {
	p := &n.Pieces[piece]
	share := current * current * p.Ohms / reading
	if p.Spread < decades {
		return share * p.Spread
	}
	across, drop := n.circuit.Across(piece), current*p.Ohms
	at := func(ohms float64) float64 {
		g := 1/ohms - 1/p.Ohms
		return max(reading-g*drop*drop/(1+g*across), reading*leastLeft)
	}
	return max(math.Log(reading/at(p.Low)), math.Log(at(p.High)/reading)) / math.Sqrt(3)
}

// Currents is how much of an ampere through the probe goes through each piece.
func (n *Network) Currents(pr *ohms.Probe) []float64 {
	list := make([]float64, len(n.Pieces))
	for i := range list {
		list[i] = pr.Current(i)
	}
	return list
}

// likely is the band of two standard deviations, within the bounds; where a
// control that nobody has set has a part in it, the bounds themselves.
func (n *Network) likely(e *Expectation, pr *ohms.Probe) (low, high float64) {
	if math.IsInf(pr.Ohms, 1) || pr.Ohms == 0 || slices.ContainsFunc(e.Wipers, func(t Track) bool { return !t.Set }) {
		return e.Low, e.High
	}
	variance := 0.0
	for _, f := range n.Factors(nil, pr.Ohms, n.Currents(pr)) {
		variance += f.Effect * f.Effect
	}
	wide := math.Exp(2 * math.Sqrt(variance))
	return max(e.Low, pr.Ohms/wide), min(e.High, pr.Ohms*wide)
}
