package ohms

import (
	"math"
	"slices"
)

// order finds the order of elimination, always a node with the fewest
// neighbours, and the pattern of the factor with it: the neighbours of a node
// at the moment when it goes are its column. Branches that are not there count
// as neighbours, so that the factor has a place for them.
func (c *Circuit) order() {
	nodes := len(c.piece)
	near := make([][]int32, nodes)
	c.row = make([]int32, nodes)
	held := make([]bool, nodes)
	for _, g := range c.ground {
		held[g] = true
		c.row[g] = -1
	}
	for _, b := range c.Branches {
		x, y := c.node[b.A], c.node[b.B]
		if x == y || held[x] || held[y] {
			continue
		}
		near[x] = append(near[x], y)
		near[y] = append(near[y], x)
	}
	for x := range near {
		slices.Sort(near[x])
		near[x] = slices.Compact(near[x])
	}
	rows := nodes - len(c.ground)
	q := newQueue(nodes)
	for x := range near {
		if !held[x] {
			q.put(int32(x), len(near[x]))
		}
	}
	columns := make([][]int32, 0, rows)
	mark := make([]int32, nodes)
	for k := range int32(rows) {
		x := q.take()
		c.row[x] = k
		columns = append(columns, near[x])
		for _, y := range near[x] {
			near[y] = mesh(near[y], near[x], x, y, mark)
			q.move(y, len(near[y]))
		}
	}
	c.lay(columns)
	c.findSlots()
}

// mesh gives the neighbours of y once its neighbour x is gone: its own and
// those of x, without the two. mark holds y+1 where a node has been seen for
// y; since x is gone for good, old marks of y are cleared by the walk itself.
func mesh(own, others []int32, x, y int32, mark []int32) []int32 {
	for i, z := range own {
		mark[z] = y + 1
		if z == x {
			own[i] = -1
		}
	}
	own = slices.DeleteFunc(own, func(z int32) bool { return z < 0 })
	kept := len(own)
	for _, z := range others {
		if z != y && mark[z] != y+1 {
			own = append(own, z)
		}
	}
	for _, z := range own[:kept] {
		mark[z] = 0
	}
	return own
}

// lay writes the columns one after another, by row.
func (c *Circuit) lay(columns [][]int32) {
	c.start = make([]int32, len(columns)+1)
	total := 0
	for k, column := range columns {
		total += len(column)
		c.start[k+1] = int32(total)
	}
	c.below = make([]int32, 0, total)
	for _, column := range columns {
		from := len(c.below)
		for _, x := range column {
			c.below = append(c.below, c.row[x])
		}
		slices.Sort(c.below[from:])
	}
}

// findSlots finds the place of each branch in the factor.
func (c *Circuit) findSlots() {
	c.slot = make([]int32, len(c.Branches))
	for i, b := range c.Branches {
		x, y := c.rowOf(b.A), c.rowOf(b.B)
		switch {
		case c.node[b.A] == c.node[b.B] || x < 0 && y < 0:
			c.slot[i] = nowhere
		case x < 0 || y < 0:
			c.slot[i] = toGround
		default:
			c.slot[i] = c.find(min(x, y), max(x, y))
		}
	}
}

// find is the place of row y in the column of row x, or -1.
func (c *Circuit) find(x, y int32) int32 {
	column := c.below[c.start[x]:c.start[x+1]]
	if i, ok := slices.BinarySearch(column, y); ok {
		return c.start[x] + int32(i)
	}
	return -1
}

// queue gives nodes by their number of neighbours, fewest first; of equal
// ones the one that got its number last. It is a list for each number.
type queue struct {
	first      []int32
	next, last []int32
	degree     []int32
	least      int
}

func newQueue(nodes int) *queue {
	q := &queue{first: make([]int32, nodes+1), next: make([]int32, nodes), last: make([]int32, nodes),
		degree: make([]int32, nodes), least: math.MaxInt}
	for i := range q.first {
		q.first[i] = -1
	}
	return q
}

func (q *queue) put(x int32, degree int) {
	q.degree[x] = int32(degree)
	q.next[x], q.last[x] = q.first[degree], -1
	if q.next[x] >= 0 {
		q.last[q.next[x]] = x
	}
	q.first[degree] = x
	q.least = min(q.least, degree)
}

func (q *queue) drop(x int32) {
	if q.last[x] >= 0 {
		q.next[q.last[x]] = q.next[x]
	} else {
		q.first[q.degree[x]] = q.next[x]
	}
	if q.next[x] >= 0 {
		q.last[q.next[x]] = q.last[x]
	}
}

func (q *queue) move(x int32, degree int) {
	q.drop(x)
	q.put(x, degree)
}

func (q *queue) take() int32 {
	for q.first[q.least] < 0 {
		q.least++
	}
	x := q.first[q.least]
	q.drop(x)
	return x
}
