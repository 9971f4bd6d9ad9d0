package ohms

// A Change is what a fault makes of a network. All of it happens at once.
type Change struct {
	Values  []Value
	Bridges []Bridge
	Cuts    []Cut
}

// A Value gives a branch other ohms: 0 is a dead short, +Inf an open branch.
type Value struct {
	Branch int32
	Ohms   float64
}

// A Bridge joins two points that were not, over Ohms or, with 0, without any.
// The points may be cut-off ones, see [Cut].
type Bridge struct {
	A, B int32
	Ohms float64
}

// A Cut parts a point in two: the ends in the list come off it and are a point
// of their own, with the number Points for the first cut of a change, Points+1
// for the second, and so on. Cuts of one change have no end in common.
type Cut struct {
	Point int32
	Ends  []End
}

// An End is one end of a branch: at its A, or with Second at its B.
type End struct {
	Branch int32
	Second bool
}

// Changed is the network with the change in it, factored anew.
func (c *Circuit) Changed(ch *Change) *Circuit {
	branches := make([]Branch, len(c.Branches), len(c.Branches)+len(ch.Bridges))
	copy(branches, c.Branches)
	for k, cut := range ch.Cuts {
		for _, e := range cut.Ends {
			if e.Second {
				branches[e.Branch].B = int32(c.Points + k)
			} else {
				branches[e.Branch].A = int32(c.Points + k)
			}
		}
	}
	for _, v := range ch.Values {
		branches[v.Branch].Ohms = v.Ohms
	}
	for _, b := range ch.Bridges {
		branches = append(branches, Branch(b))
	}
	return New(c.Points+len(ch.Cuts), branches)
}
