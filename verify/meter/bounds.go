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

// A scene is the network with every wiper somewhere, at its low and at its
// high ends.
type scene struct{ low, high *ohms.Circuit }

const (
	wiperSteps  = 8 // of each open control over its travel
	mostCorners = 4 // so many open controls are put to their ends in all ways
)

// allScenes draws the scenes; the first has all wipers where they are taken to
// be.
func (n *Network) allScenes() []scene {
	if n.scenes != nil {
		return n.scenes
	}
	groups := n.openControls()
	shares := make([]float64, len(n.Tracks))
	reset := func() {
		for i := range n.Tracks {
			shares[i] = n.Tracks[i].Share
		}
	}
	turn := func(group []int, to float64) {
		for _, i := range group {
			t := &n.Tracks[i]
			shares[i] = t.ShareLow + to*(t.ShareHigh-t.ShareLow)
		}
	}
	draw := func() { n.scenes = append(n.scenes, n.drawScene(shares)) }
	reset()
	draw()
	for _, g := range groups {
		for step := range wiperSteps + 1 {
			reset()
			turn(g, float64(step)/wiperSteps)
			draw()
		}
	}
	if len(groups) > 1 {
		corners := 1 << min(len(groups), mostCorners)
		if len(groups) > mostCorners {
			corners = 2
		}
		for c := range corners {
			reset()
			for i, g := range groups {
				bit := i
				if len(groups) > mostCorners {
					bit = 0
				}
				turn(g, float64(c>>bit&1))
			}
			draw()
		}
	}
	return n.scenes
}

// openControls groups the tracks whose wipers are not known exactly by what
// turns them.
func (n *Network) openControls() [][]int {
	var groups [][]int
	for i := range n.Tracks {
		t := &n.Tracks[i]
		if t.sure() {
			continue
		}
		joined := false
		for g := range groups {
			if first := &n.Tracks[groups[g][0]]; t.Controlled && first.Controlled && first.Control == t.Control {
				groups[g] = append(groups[g], i)
				joined = true
			}
		}
		if !joined {
			groups = append(groups, []int{i})
		}
	}
	return groups
}

func (n *Network) drawScene(shares []float64) scene {
	low, high := make([]float64, len(n.Pieces)), make([]float64, len(n.Pieces))
	for i := range n.Pieces {
		low[i], high[i] = n.Pieces[i].Low, n.Pieces[i].High
	}
	for i, share := range shares {
		t := &n.Tracks[i]
		low[t.Below], high[t.Below] = share*t.Low, share*t.High
		low[t.Above], high[t.Above] = (1-share)*t.Low, (1-share)*t.High
	}
	for i := range n.Pieces {
		if n.Pieces[i].Out {
			low[i], high[i] = math.Inf(1), math.Inf(1)
		}
	}
	return scene{n.circuit.WithOhms(low), n.circuit.WithOhms(high)}
}

// bounds are the least and the greatest reading between two conductors. moved
// says that a wiper whose place is open has a part in it.
func (n *Network) bounds(p, q int32) (low, high float64, moved bool) {
	for i, s := range n.allScenes() {
		l, h := s.low.Between(p, q), s.high.Between(p, q)
		if i == 0 {
			low, high = l, h
			continue
		}
		moved = moved || differ(l, low) || differ(h, high)
		low, high = min(low, l), max(high, h)
	}
	return low, high, moved
}

// differ says that two readings are not the same but for rounding.
func differ(a, b float64) bool {
	if math.IsInf(a, 1) || math.IsInf(b, 1) {
		return a != b
	}
	return math.Abs(a-b) > 1e-9*(a+b)
}
