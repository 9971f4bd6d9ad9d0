package meter

import (
	"math"

	"buzzout/verify/meter/ohms"
)

// By Rayleigh's law no reading falls when a resistance rises. So all pieces at
// their low ends give the exact least of every reading at once, and all at
// their high ends the exact greatest. A wiper breaks that: what one side of
// the track gains the other loses, and ganged tracks turn together. Where
// wipers are not at a stop, the bounds are taken over scenes: each control by
// itself in steps over what is open, and all of them at the ends of it. Such
// bounds are close and not exact.
//
// Only controls that can have a part in the reading are turned: those with a
// track of which a side can carry current between the two probes
// ([ohms.Circuit.Carry]). A track that lies in no block with the probes
// changes nothing wherever its wiper stands, at a stop too, since making a
// short of a branch leaves the block hanging on the others at the one point at
// which it hung before.

// extremes is the network at its low and at its high ends, every wiper where
// it is taken to be, and what turning controls makes of that.
type extremes struct {
	low, high *ohms.Circuit
	open      []openControl
	turned    map[turn]*scene
	corners   map[string][]*scene
}

// An openControl is what turns some tracks whose wipers are not known exactly.
type openControl struct{ tracks []int }

// A turn is an open control, by its number, at a step of its travel.
type turn struct{ control, step int }

// A scene is the extremes with some controls elsewhere.
type scene struct{ low, high *ohms.Update }

const (
	wiperSteps  = 8 // of each open control over its travel
	mostCorners = 4 // so many open controls are put to their ends in all ways
)

// atExtremes draws the network at its ends, once.
func (n *Network) atExtremes() *extremes {
	if n.extremes != nil {
		return n.extremes
	}
	low, high := make([]float64, len(n.Pieces)), make([]float64, len(n.Pieces))
	for i := range n.Pieces {
		low[i], high[i] = n.Pieces[i].Low, n.Pieces[i].High
	}
	for i := range n.Tracks {
		t := &n.Tracks[i]
		low[t.Below], high[t.Below] = t.Share*t.Low, t.Share*t.High
		low[t.Above], high[t.Above] = (1-t.Share)*t.Low, (1-t.Share)*t.High
	}
	for i := range n.Pieces {
		if n.Pieces[i].Out {
			low[i], high[i] = math.Inf(1), math.Inf(1)
		}
	}
	n.extremes = &extremes{
		low: n.circuit.WithOhms(low), high: n.circuit.WithOhms(high), open: n.openControls(),
		turned: map[turn]*scene{}, corners: map[string][]*scene{},
	}
	return n.extremes
}

// openControls groups the tracks whose wipers are not known exactly by what
// turns them.
func (n *Network) openControls() []openControl {
	var list []openControl
	for i := range n.Tracks {
		t := &n.Tracks[i]
		if t.sure() || n.Pieces[t.Below].Out {
			continue
		}
		joined := false
		for c := range list {
			if first := &n.Tracks[list[c].tracks[0]]; t.Controlled && first.Controlled && first.Control == t.Control {
				list[c].tracks = append(list[c].tracks, i)
				joined = true
			}
		}
		if !joined {
			list = append(list, openControl{[]int{i}})
		}
	}
	return list
}

// openBetween are the open controls that can have a part in the reading
// between two conductors, by their number, rising.
func (n *Network) openBetween(p, q int32) []int {
	x := n.atExtremes()
	if len(x.open) == 0 || p == q {
		return nil
	}
	carry := n.circuit.Carry(p, q)
	var list []int
	for c := range x.open {
		for _, i := range x.open[c].tracks {
			if t := &n.Tracks[i]; carry[t.Below] || carry[t.Above] {
				list = append(list, c)
				break
			}
		}
	}
	return list
}

// scenesOf are the scenes in which some of the open controls are turned.
func (n *Network) scenesOf(controls []int) []*scene {
	x := n.atExtremes()
	var list []*scene
	for _, c := range controls {
		for step := range wiperSteps + 1 {
			at := turn{c, step}
			if x.turned[at] == nil {
				x.turned[at] = n.drawScene([]int{c}, func(int) float64 { return float64(step) / wiperSteps })
			}
			list = append(list, x.turned[at])
		}
	}
	if len(controls) > 1 {
		list = append(list, n.cornersOf(controls)...)
	}
	return list
}

// cornersOf puts controls to the ends of what is open: in all ways, or where
// they are many all to the one end and all to the other.
func (n *Network) cornersOf(controls []int) []*scene {
	x := n.atExtremes()
	key := make([]byte, len(x.open))
	for _, c := range controls {
		key[c] = 1
	}
	if list, drawn := x.corners[string(key)]; drawn {
		return list
	}
	var list []*scene
	if len(controls) > mostCorners {
		for end := range 2 {
			list = append(list, n.drawScene(controls, func(int) float64 { return float64(end) }))
		}
	} else {
		for corner := range 1 << len(controls) {
			list = append(list, n.drawScene(controls, func(i int) float64 { return float64(corner >> i & 1) }))
		}
	}
	x.corners[string(key)] = list
	return list
}

// drawScene turns controls, each to a place between the ends of what is open
// for it, 0 to 1, by its place in the list.
func (n *Network) drawScene(controls []int, to func(i int) float64) *scene {
	x := n.atExtremes()
	var low, high ohms.Change
	set := func(piece int, share float64, t *Track) {
		low.Values = append(low.Values, ohms.Value{Branch: int32(piece), Ohms: share * t.Low})
		high.Values = append(high.Values, ohms.Value{Branch: int32(piece), Ohms: share * t.High})
	}
	for i, c := range controls {
		for _, k := range x.open[c].tracks {
			t := &n.Tracks[k]
			share := t.ShareLow + to(i)*(t.ShareHigh-t.ShareLow)
			set(t.Below, share, t)
			set(t.Above, 1-share, t)
		}
	}
	return &scene{x.low.Update(&low), x.high.Update(&high)}
}

// bounds are the least and the greatest reading between two conductors. moved
// says that a wiper whose place is open has a part in it.
func (n *Network) bounds(p, q int32) (low, high float64, moved bool) {
	x := n.atExtremes()
	open := n.openBetween(p, q)
	if len(open) == 0 {
		return x.low.Between(p, q), x.high.Between(p, q), false
	}
	least, greatest := x.low.Probe(p, q), x.high.Probe(p, q)
	low, high = least.Ohms, greatest.Ohms
	for _, s := range n.scenesOf(open) {
		l, h := s.low.Between(least, p, q), s.high.Between(greatest, p, q)
		moved = moved || differ(l, least.Ohms) || differ(h, greatest.Ohms)
		low, high = min(low, l), max(high, h)
	}
	return low, high, moved
}

// differ says that two readings are not the same but for rounding.
func differ(a, b float64) bool {
	if math.IsInf(a, 1) || math.IsInf(b, 1) {
		return a != b
	}
	return math.Abs(a-b) > 1e-8*(a+b)
}
