package compare

import "slices"

// A knot is joints that have to be untied together: lumps, loose conductors
// and open conductors as spots, and the joints in doubt as strands between
// them. It is small: sound wiring has been taken together.
type knot struct {
	*layout
	label   []int32 // by spot: index in labels, or -1
	at      []int32 // by spot: a conductor of it, or -1 for a lump elsewhere
	labels  []int32 // by local number: the label
	strands []strand
	flips   []flip
	// landed are the ends that were brought to a spot together, by landing:
	// those of the joints, and below 0 those gathered.
	landed map[int32][]strandEnd
	most   int    // ends of the greatest landing
	waived []bool // by local number: joints missing there are not counted
}

// A strand is a joint in doubt.
type strand struct {
	ends  [2]int32 // spots
	feet  [2]int32 // conductors there; -1 where it is not settled which
	stuck [2]bool
	leg   bool
	joint int32
	// landing is that of the joint, or of ends gathered at one place.
	landing [2]int32
}

// A strandEnd is one end of a strand.
type strandEnd struct {
	strand int32
	side   uint8
}

// A flip is a way in which a part, or two, may sit wrongly, seen in a knot.
type flip struct {
	spots   []int32
	from    []int32 // the spot whose label each takes
	two     bool    // parts
	suspect int32
}

// A tier makes knots of joints in doubt.
type tier struct {
	*contraction
	suspects []suspect
	of       map[int32][]int32 // open conductor to its suspects
}

func (c *contraction) tier(suspects []suspect) *tier {
	t := &tier{c, suspects, make(map[int32][]int32)}
	for i, s := range suspects {
		for _, x := range s.conductors {
			t.of[x] = append(t.of[x], int32(i))
		}
	}
	return t
}

// tie makes a knot.
func (c *tier) tie(joints []int32) *knot {
	k := &knot{layout: c.layout}
	spots := make(map[int32]int32)  // root to spot
	locals := make(map[int32]int32) // label to local number
	touched := []int{}              // by local number: spots of it
	spot := func(x int32) int32 {
		root := c.root.find(x)
		n, known := spots[root]
		if known {
			return n
		}
		n = int32(len(k.at))
		spots[root] = n
		k.at = append(k.at, x)
		local := int32(-1)
		if label := c.named[root]; label != means {
			if local, known = locals[label]; !known {
				local = int32(len(k.labels))
				locals[label] = local
				k.labels = append(k.labels, label)
				touched = append(touched, 0)
			}
			touched[local]++
		}
		k.label = append(k.label, local)
		return n
	}
	var mine []int32
	k.landed, k.most = make(map[int32][]strandEnd), 1
	for _, j := range joints {
		e := c.ends[j]
		k.strands = append(k.strands, strand{
			ends: [2]int32{spot(e[0]), spot(e[1])}, feet: e,
			stuck: c.joints[j].stuck, leg: c.joints[j].leg, joint: j, landing: c.joints[j].landing,
		})
		for side, x := range e {
			mine = append(mine, c.of[x]...)
			if n := c.joints[j].landing[side]; n != 0 {
				k.landed[n] = append(k.landed[n], strandEnd{int32(len(k.strands) - 1), uint8(side)})
				k.most = max(k.most, len(k.landed[n]))
			}
		}
	}
	c.gather(k)
	slices.Sort(mine)
	for _, i := range slices.Compact(mine) {
		s := &c.suspects[i]
		f := flip{suspect: i, two: s.parts[1] >= 0}
		for n, x := range s.conductors {
			f.spots = append(f.spots, spot(x))
			f.from = append(f.from, spot(s.from[n]))
		}
		k.flips = append(k.flips, f)
	}
	// Lumps elsewhere, onto which a joint that is too many here may belong. No
	// more of them can be reached than there are joints.
	for local, label := range k.labels {
		rest := int(c.lumps[label]) - touched[local]
		for range min(rest, len(k.strands)) {
			k.label = append(k.label, int32(local))
			k.at = append(k.at, -1)
		}
	}
	return k
}

// mostGathered is how many ends may have been brought to a wrong place one by
// one and count as one slip: no more than an action touches otherwise, so that the
// bound of the search stays as close.
const mostGathered = ringSize

// gather numbers the ends that were brought to one tag or pin one by one and
// belong to one net, which is another than the rest of the place is on: whoever
// takes a tag for another puts a leg there, and then the lead that belongs to it.
func (c *tier) gather(k *knot) {
	if c.place == nil {
		return
	}
	type gathering struct{ at, label int32 }
	ends := make(map[gathering][]strandEnd)
	var order []gathering
	for i := range k.strands {
		s := &k.strands[i]
		for side, at := range s.feet {
			if !c.place[c.first[at]] || s.stuck[side] || s.landing[side] != 0 {
				continue
			}
			label := k.behind(int32(i), side)
			if label == means || c.isAlien(label) {
				continue
			}
			g := gathering{at, label}
			if len(ends[g]) == 1 {
				order = append(order, g)
			}
			ends[g] = append(ends[g], strandEnd{int32(i), uint8(side)})
		}
	}
	for n, g := range order {
		if len(ends[g]) > mostGathered {
			continue
		}
		landing := int32(-1 - n)
		for _, e := range ends[g] {
			k.strands[e.strand].landing[e.side] = landing
		}
		k.landed[landing] = ends[g]
		k.most = max(k.most, len(ends[g]))
	}
}

// behind is the one label to which a strand leads away from one of its ends,
// through spots that have none; means if there is none, or more than one.
func (k *knot) behind(strand int32, side int) int32 {
	from := k.strands[strand].ends[1-side]
	if local := k.label[from]; local >= 0 {
		return k.labels[local]
	}
	label := int32(means)
	seen := []int32{from}
	for h := 0; h < len(seen); h++ {
		for i := range k.strands {
			e := k.strands[i].ends
			if int32(i) == strand || e[0] != seen[h] && e[1] != seen[h] {
				continue
			}
			y := e[0] + e[1] - seen[h]
			switch local := k.label[y]; {
			case local < 0 && !slices.Contains(seen, y):
				seen = append(seen, y)
			case local < 0 || k.labels[local] == label:
			case label == means:
				label = k.labels[local]
			default:
				return means
			}
		}
	}
	return label
}
