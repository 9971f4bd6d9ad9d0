package ohms

// Carry marks the branches that may carry current between two points, by
// branch. The others carry none whatever the values are, and the reading does
// not depend on them.
//
// A branch carries current for some values if and only if it lies on a way
// from one point to the other that passes no point twice: then it is in one
// block with a branch drawn between the two points, where a block is a
// greatest set of branches of which every two are on a common circle. Blocks
// have a point at most in common; one that is not that of the probes hangs on
// it at a single point, or not at all, so that no current goes in and comes
// out again elsewhere. Neither opening a branch of such a block nor making a
// short of it changes that. The block is found in one walk of the network
// (R. Tarjan, Depth-first search and linear graph algorithms, 1972).
func (c *Circuit) Carry(p, q int32) []bool {
	carry := make([]bool, len(c.Branches))
	from, to := c.node[p], c.node[q]
	if from == to || c.piece[from] != c.piece[to] {
		return carry
	}
	w := carryWalk{c: c, enter: make([]int32, len(c.piece)), low: make([]int32, len(c.piece))}
	w.first, w.hops = c.hops()
	for _, branch := range w.block(from, to) {
		carry[branch] = true
	}
	return carry
}

// A carryWalk goes through the network from one probe, over a branch drawn to
// the other.
type carryWalk struct {
	c          *Circuit
	first      []int32
	hops       []hop
	enter, low []int32 // by node: when it was entered, and the earliest that is reached from beyond it
	open       []int32 // branches passed whose block is not complete
}

// block lists the branches of the block that the drawn branch is in.
func (w *carryWalk) block(from, to int32) []int32 {
	type visit struct{ node, by, open int32 } // open: branches that were open before it was entered
	w.enter[from], w.low[from] = 1, 1
	w.enter[to], w.low[to] = 2, 1 // the drawn branch leads back to the first
	clock := int32(2)
	stack := []visit{{to, -1, 0}}
	for {
		at := &stack[len(stack)-1]
		h := w.first[at.node]
		if h >= 0 {
			w.first[at.node] = w.hops[h].next
			branch := w.hops[h].branch
			if branch == at.by {
				continue
			}
			y := w.c.beyond(branch, at.node)
			switch {
			case w.enter[y] == 0:
				clock++
				w.enter[y], w.low[y] = clock, clock
				stack = append(stack, visit{y, branch, int32(len(w.open))})
				w.open = append(w.open, branch)
			case w.enter[y] < w.enter[at.node]:
				w.low[at.node] = min(w.low[at.node], w.enter[y])
				w.open = append(w.open, branch)
			}
			continue
		}
		done := *at
		stack = stack[:len(stack)-1]
		if len(stack) == 0 {
			return w.open
		}
		before := stack[len(stack)-1].node
		if w.low[done.node] >= w.enter[before] {
			w.open = w.open[:done.open] // a block of its own, beyond that node
		} else {
			w.low[before] = min(w.low[before], w.low[done.node])
		}
	}
}
