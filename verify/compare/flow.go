package compare

// A flow works out which conductors of a region are nearer to a net than
// anything foreign is: the greatest number of separate ways from the net to
// all else is laid out, and what the net still reaches is its own.
type flow struct {
	*contraction
	place map[int32]int32 // conductor of the region to its number here
	own   []int32         // by number: the label it was given to, or means
	edges []flowEdge
	at    [][]int32 // by number: edges at it
	seen  []int32   // by number: the round in which it was last reached
	from  []int32   // by number: the edge by which it was reached
	round int32
}

// A flowEdge is a joint in the region. An end outside the region is -1, and
// then the label beyond stands in border.
type flowEdge struct {
	a, b   int32
	border int32 // label beyond a border edge; means for an open conductor
	used   int8  // 1 from a to b, -1 from b to a
}

func newFlow(c *contraction, r *region) *flow {
	f := &flow{contraction: c, place: make(map[int32]int32)}
	number := func(x int32) int32 {
		n, known := f.place[x]
		if !known {
			n = int32(len(f.own))
			f.place[x] = n
			f.own = append(f.own, means)
			f.at = append(f.at, nil)
		}
		return n
	}
	for _, j := range r.joints {
		a, b := c.ends[j][0], c.ends[j][1]
		if !c.isMeans(a) {
			a, b = b, a
		}
		e := flowEdge{a: number(a), b: -1, border: means}
		n := int32(len(f.edges))
		f.at[e.a] = append(f.at[e.a], n)
		if c.isMeans(b) {
			e.b = number(b)
			f.at[e.b] = append(f.at[e.b], n)
		} else if !c.open[b] {
			e.border = c.label[b]
		}
		f.edges = append(f.edges, e)
	}
	f.seen = make([]int32, len(f.own))
	f.from = make([]int32, len(f.own))
	return f
}

// owner is the label of a conductor at or in the region, as far as it is known.
func (f *flow) owner(x int32) int32 {
	if n, inside := f.place[x]; inside {
		return f.own[n]
	}
	if f.open[x] {
		return means
	}
	return f.label[x]
}

// isSource and isSink tell of a border edge, or of an edge's inner end that
// was given away already, whether flow begins or ends there.
func (f *flow) isSource(e *flowEdge, label int32) bool {
	return e.b < 0 && e.border == label
}

func (f *flow) isSink(n, label int32) bool {
	return f.own[n] != means && f.own[n] != label
}

// claim gives to a label what is nearer to it than anything else is.
func (f *flow) claim(label int32) {
	for i := range f.edges {
		f.edges[i].used = 0
	}
	for f.augment(label) {
	}
	for n, round := range f.seen {
		if round == f.round && f.own[n] == means {
			f.own[n] = label
		}
	}
}

// augment lays out one more way from the label to all else, and reports
// whether there was one. If there was none, the conductors seen in this round
// are those that the label still reaches.
func (f *flow) augment(label int32) bool {
	f.round++
	var queue []int32
	reach := func(n, by int32) {
		if f.seen[n] != f.round {
			f.seen[n], f.from[n] = f.round, by
			queue = append(queue, n)
		}
	}
	for i := range f.edges {
		e := &f.edges[i]
		if f.isSource(e, label) && e.used == 0 {
			reach(e.a, int32(i))
		}
	}
	for head := 0; head < len(queue); head++ {
		n := queue[head]
		if f.isSink(n, label) {
			f.lay(n, label)
			return true
		}
		for _, i := range f.at[n] {
			e := &f.edges[i]
			switch {
			case f.isSource(e, label):
			case e.b < 0:
				if e.used == 0 {
					e.used = 1
					f.lay(n, label)
					return true
				}
			case e.a == n && e.used <= 0:
				reach(e.b, i)
			case e.b == n && e.used >= 0:
				reach(e.a, i)
			}
		}
	}
	return false
}

// lay marks the way by which a conductor was reached as used.
func (f *flow) lay(n, label int32) {
	for {
		e := &f.edges[f.from[n]]
		switch {
		case f.isSource(e, label):
			e.used = -1
			return
		case e.b == n:
			e.used++
			n = e.a
		default:
			e.used--
			n = e.b
		}
	}
}
