package meter

import "buzzout/verify/meter/ohms"

// A Swing is what nobody has set: a control with the tracks that it turns, or
// a track that nothing is told to turn. Its wipers may be anywhere.
type Swing struct {
	// Tracks are those that turn together, by their index in [Network.Tracks].
	Tracks []int
}

// Swings lists the controls of tracks that nobody has set.
func (n *Network) Swings() []Swing {
	var list []Swing
	for _, open := range n.openControls() {
		if !n.Tracks[open.tracks[0]].Set {
			list = append(list, Swing{open.tracks})
		}
	}
	return list
}

// Swung gives the pieces of a swing the values that they have with so much of
// their track below the wiper, 0 to 1.
func (n *Network) Swung(s Swing, share float64) []ohms.Value {
	var list []ohms.Value
	for _, i := range s.Tracks {
		t := &n.Tracks[i]
		list = append(list, ohms.Value{Branch: int32(t.Below), Ohms: share * t.Ohms}, ohms.Value{Branch: int32(t.Above), Ohms: (1 - share) * t.Ohms})
	}
	return list
}
