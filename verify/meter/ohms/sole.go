package ohms

import "math"

// findSole finds the branches that are the only way between what is on their
// two sides, in one walk of the network (lowest point reached, as R. Tarjan
// found in 1974), and numbers the nodes so that what is beyond such a branch
// is an interval.
func (c *Circuit) findSole() {
	nodes := len(c.piece)
	first, hops := c.hops()
	c.sole = make([]bool, len(c.Branches))
	c.enter, c.leave = make([]int32, nodes), make([]int32, nodes)
	low := make([]int32, nodes)
	by := make([]int32, nodes) // the branch by which a node was entered
	clock := int32(0)
	var stack []int32
	for root := range nodes {
		if c.enter[root] != 0 {
			continue
		}
		stack = append(stack, int32(root))
		by[root] = -1
		for len(stack) > 0 {
			x := stack[len(stack)-1]
			if c.enter[x] == 0 {
				clock++
				c.enter[x], low[x] = clock, clock
			}
			h := first[x]
			if h < 0 {
				stack = stack[:len(stack)-1]
				c.leave[x] = clock
				if e := by[x]; e >= 0 {
					y := c.beyond(e, x)
					low[y] = min(low[y], low[x])
					c.sole[e] = low[x] > c.enter[y]
				}
				continue
			}
			first[x] = hops[h].next
			e := hops[h].branch
			if e == by[x] {
				continue
			}
			y := c.beyond(e, x)
			if c.enter[y] == 0 {
				by[y] = e
				stack = append(stack, y)
			} else {
				low[x] = min(low[x], c.enter[y])
			}
		}
	}
}

// A hop leads along a branch from one of its nodes; next is the hop after it
// from the same node, -1 for none.
type hop struct{ branch, next int32 }

// hops chains the branches by node: two hops for each, the even one from its A
// and the odd one from its B. What carries nothing has none.
func (c *Circuit) hops() (first []int32, hops []hop) {
	first = make([]int32, len(c.piece))
	for i := range first {
		first[i] = -1
	}
	hops = make([]hop, 2*len(c.Branches))
	for i, b := range c.Branches {
		x, y := c.node[b.A], c.node[b.B]
		if x == y || math.IsInf(b.Ohms, 1) {
			continue
		}
		a := int32(2 * i)
		hops[a], first[x] = hop{int32(i), first[x]}, a
		hops[a+1], first[y] = hop{int32(i), first[y]}, a+1
	}
	return first, hops
}

// beyond is the node at the other end of a branch.
func (c *Circuit) beyond(branch, node int32) int32 {
	b := &c.Branches[branch]
	if x := c.node[b.A]; x != node {
		return x
	}
	return c.node[b.B]
}

// parted says whether a sole branch is on the way between two points.
func (c *Circuit) parted(branch int, p, q int32) bool {
	b := &c.Branches[branch]
	x, y := c.node[b.A], c.node[b.B]
	if c.enter[y] < c.enter[x] {
		y = x // the end that was entered later: beyond the branch
	}
	from, to := c.enter[y], c.leave[y]
	inside := func(p int32) bool { e := c.enter[c.node[p]]; return from <= e && e <= to }
	return inside(p) != inside(q)
}
