package compare

// rings finds the groups that lie on common rings: the blocks of the graph in
// which groups and pieces are the corners (Tarjan 1972).
type rings struct {
	number  map[corner]int32
	corners []corner
	next    [][]int32
	linked  map[[2]int32]bool

	depth, low []int32
	stack      []int32
	found      [][]int32
}

// A corner is a group as it touches one net, or with group -1 a piece, which
// then stands in net.
type corner struct{ group, net int32 }

func newRings() *rings {
	return &rings{number: make(map[corner]int32), linked: make(map[[2]int32]bool)}
}

func (r *rings) corner(c corner) int32 {
	n, known := r.number[c]
	if !known {
		n = int32(len(r.next))
		r.number[c] = n
		r.next = append(r.next, nil)
		r.corners = append(r.corners, c)
	}
	return n
}

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
		if g := r.corners[x].group; g >= 0 {
			ring = append(ring, g)
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
