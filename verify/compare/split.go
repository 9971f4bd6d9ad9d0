package compare

// What is in doubt falls into knots that can be untied one by one. Joints in
// doubt are of one knot if they meet in a loose conductor, if a part that may
// sit wrongly has a hand in them, if pieces of one net hang together by them
// in a ring, or if the nets that they join wrongly close a ring: only then can
// one action put several of them right. Where knots touch in a single net,
// each may still use up missing joints of that net; that is settled when the
// explanations are put together.

// bundles are the joints in doubt as they come to belong together.
type bundles struct {
	*contraction
	group sets // over places in doubt
}

// knotJoints parts the joints in doubt into knots, each in the order of its
// joints, the knots in the order of their first joint. suspects are the ways
// in which parts may sit wrongly; groups are joints to be kept together besides.
func (c *contraction) knotJoints(suspects []suspect, groups [][]int32) [][]int32 {
	b := &bundles{c, newSets(len(c.doubt))}
	b.keepTogether(groups)
	b.meetInLoose()
	b.meetInParts(suspects)
	for b.closePieces() || b.closeNets() {
	}
	var knots [][]int32
	number := make(map[int32]int)
	for i, j := range c.doubt {
		root := b.group.find(int32(i))
		n, known := number[root]
		if !known {
			n = len(knots)
			number[root] = n
			knots = append(knots, nil)
		}
		knots[n] = append(knots[n], j)
	}
	return knots
}

func (b *bundles) keepTogether(groups [][]int32) {
	if len(groups) == 0 {
		return
	}
	number := make(map[int32]int32, len(b.doubt))
	for i, j := range b.doubt {
		number[j] = int32(i)
	}
	for _, g := range groups {
		for _, j := range g[1:] {
			b.group.join(number[g[0]], number[j])
		}
	}
}

// meetInLoose joins what meets in a loose conductor.
func (b *bundles) meetInLoose() {
	last := make(map[int32]int32)
	for i, j := range b.doubt {
		for _, x := range b.ends[j] {
			root := b.root.find(x)
			if b.named[root] != means {
				continue
			}
			if other, met := last[root]; met {
				b.group.join(int32(i), other)
			}
			last[root] = int32(i)
		}
	}
}

// meetInParts joins what the parts that may sit wrongly have a hand in.
func (b *bundles) meetInParts(suspects []suspect) {
	first := make(map[int32]int32) // conductor to a suspect that it is of
	of := newSets(len(suspects))
	for i, s := range suspects {
		for _, x := range s.conductors {
			if other, met := first[x]; met {
				of.join(int32(i), other)
			} else {
				first[x] = int32(i)
			}
		}
	}
	last := make(map[int32]int32)
	for i, j := range b.doubt {
		for _, x := range b.ends[j] {
			s, met := first[x]
			if !met {
				continue
			}
			s = of.find(s)
			if other, met := last[s]; met {
				b.group.join(int32(i), other)
			}
			last[s] = int32(i)
		}
	}
}

// touches calls f for each group and each lump that one of its joints is at.
func (b *bundles) touches(f func(group, lump int32)) {
	for i, j := range b.doubt {
		for _, x := range b.ends[j] {
			if root := b.root.find(x); b.named[root] != means {
				f(b.group.find(int32(i)), root)
			}
		}
	}
}

// closePieces joins groups that lie on a ring of pieces of one net, and
// reports whether any were joined: outside such rings, what one group does to
// the pieces of a net has no bearing on another's.
func (b *bundles) closePieces() bool {
	r := newRings()
	b.touches(func(group, lump int32) {
		r.link(r.corner(corner{group: group, net: b.named[lump]}), r.corner(corner{group: -1, net: lump}))
	})
	return b.joinRings(r)
}

// closeNets joins groups by which nets are joined in a ring, and reports
// whether any were joined.
func (b *bundles) closeNets() bool {
	r := newRings()
	b.touches(func(group, lump int32) {
		r.link(r.corner(corner{group: group}), r.corner(corner{group: -1, net: b.named[lump]}))
	})
	return b.joinRings(r)
}

func (b *bundles) joinRings(r *rings) bool {
	joined := false
	for _, ring := range r.find() {
		for _, g := range ring[1:] {
			if b.group.join(ring[0], g) {
				joined = true
			}
		}
	}
	return joined
}
