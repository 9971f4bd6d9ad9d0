package compare

// What is in doubt falls into knots that can be untied one by one. Two joints
// in doubt are of one knot if they meet in a loose conductor, if a part that
// may sit wrongly has a hand in both, or if the nets that they join wrongly
// close a ring: only within a ring can one action put two things right. Where
// knots touch in a single net, each may still use up missing joints of that
// net; that is settled when the explanation is put together.

// A bundle is a set of joints in doubt that belong together.
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
	for b.closeRings(func(x int32) int32 { return x }) || // lumps
		b.closeRings(func(x int32) int32 { return int32(len(c.first)) + c.named[x] }) { // nets
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

// closeRings joins what lies on a ring through groups and the things that key
// makes of their lumps, and reports whether anything was joined.
func (b *bundles) closeRings(key func(root int32) int32) bool {
	r := newRings()
	for i, j := range b.doubt {
		g := b.group.find(int32(i))
		for _, x := range b.ends[j] {
			if root := b.root.find(x); b.named[root] != means {
				r.link(r.group(g), r.other(key(root)))
			}
		}
	}
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

// rings finds the groups that lie on common rings: the blocks of the graph in
// which groups and other things are the corners (Tarjan 1972).
type rings struct {
	number map[int64]int32
	name   []int32 // by corner: the group, or -1
	next   [][]int32
	linked map[[2]int32]bool

	depth, low []int32
	stack      []int32
	found      [][]int32
}

func newRings() *rings {
	return &rings{number: make(map[int64]int32), linked: make(map[[2]int32]bool)}
}

func (r *rings) corner(key int64, name int32) int32 {
	n, known := r.number[key]
	if !known {
		n = int32(len(r.next))
		r.number[key] = n
		r.next = append(r.next, nil)
		r.name = append(r.name, name)
	}
	return n
}

func (r *rings) group(g int32) int32 { return r.corner(int64(g)<<1, g) }
func (r *rings) other(k int32) int32 { return r.corner(int64(k)<<1|1, -1) }

func (r *rings) link(a, b int32) {
	if !r.linked[[2]int32{a, b}] {
		r.linked[[2]int32{a, b}] = true
		r.next[a] = append(r.next[a], b)
		r.next[b] = append(r.next[b], a)
	}
}

// find gives the groups of each ring that has more than one.
func (r *rings) find() [][]int32 {
	r.depth = make([]int32, len(r.next))
	r.low = make([]int32, len(r.next))
	for n := range r.next {
		if r.depth[n] == 0 {
			r.walk(int32(n), -1, 1)
		}
	}
	return r.found
}

func (r *rings) walk(n, above, depth int32) {
	r.depth[n], r.low[n] = depth, depth
	r.stack = append(r.stack, n)
	for _, m := range r.next[n] {
		switch {
		case m == above:
		case r.depth[m] != 0:
			r.low[n] = min(r.low[n], r.depth[m])
		default:
			r.walk(m, n, depth+1)
			r.low[n] = min(r.low[n], r.low[m])
			if r.low[m] >= depth {
				r.cut(m, n)
			}
		}
	}
}

// cut takes a finished block off the stack, down to m; n closes it.
func (r *rings) cut(m, n int32) {
	var ring []int32
	keep := func(x int32) {
		if r.name[x] >= 0 {
			ring = append(ring, r.name[x])
		}
	}
	for {
		x := r.stack[len(r.stack)-1]
		r.stack = r.stack[:len(r.stack)-1]
		keep(x)
		if x == m {
			break
		}
	}
	keep(n)
	if len(ring) > 1 {
		r.found = append(r.found, ring)
	}
}
