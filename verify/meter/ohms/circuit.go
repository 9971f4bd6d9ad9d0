// Package ohms solves networks of resistances: what an ohmmeter reads between
// two points, what every single change would make of that reading, and how
// much of it each resistance has.
//
// [New] takes points and branches and factors the network once. After that
// [Circuit.Between] reads one pair, [Circuit.Probe] keeps the potentials of a
// pair for many questions, and [Circuit.Table] reads all pairs. A [Change] is
// a fault: branches of other values, bridges, conductors cut in two.
// [Circuit.Changed] makes the network anew with it; an [Update] gives the same
// readings in closed form, without factoring again.
//
// Nothing here knows of parts or notebooks.
//
// # The method
//
// Elimination of a point is the star-mesh transformation: the branches that
// meet at it are replaced by branches between its neighbours, of conductance
// g1·g2 over the sum. Done for all points of a connected piece but one, it is
// the LDL' factoring of the reduced conductance matrix, with the diagonal kept
// as the sum of what it is made of. So nothing is ever subtracted, and a
// resistance of a milliohm beside one of ten megohms keeps all its digits.
// Points are taken in the order of fewest neighbours.
//
// What is apart is found by walking, never by numbers: between two pieces the
// reading is +Inf.
package ohms

import (
	"fmt"
	"math"
)

// A Branch is a resistance between two points. Ohms is not negative. With 0
// the two points are one; +Inf says that nothing is there, and keeps a place
// for a change.
type Branch struct {
	A, B int32
	Ohms float64
}

// A Circuit is a network of resistances, factored. Its readings may be asked
// for by many at a time once [Circuit.Table] and [Circuit.Across] have been
// asked for, if they are.
type Circuit struct {
	Points   int
	Branches []Branch

	node   []int32 // by point: points without resistance between them are one node
	piece  []int32 // by node: what hangs together
	ground []int32 // by piece: the node that is held at zero
	row    []int32 // by node: its place in the order of elimination; -1 at ground

	// The factor, column by column in the order of elimination.
	start []int32   // by row: where its column begins
	below []int32   // rows that come later, rising within a column
	share []float64 // conductance to that row, over the sum of its column
	sum   []float64 // by row: conductance to all that comes later, ground too
	slot  []int32   // by branch: its place in the factor, or one of those below

	sole   []bool // by branch: the only way between what is on its two sides
	enter  []int32
	leave  []int32 // by node: an interval in a walk, for what is beyond a sole branch
	across []product
	table  *Table
}

// Places of branches that are in no column.
const (
	toGround = -1 // between a row and ground
	nowhere  = -2 // both ends are one, or it is at ground with both
)

// New factors a network. It panics on a branch whose points are not there, or
// whose ohms are below nought or no number: the caller knows its parts.
func New(points int, branches []Branch) *Circuit {
	c := &Circuit{Points: points, Branches: branches}
	for i, b := range branches {
		if b.A < 0 || b.B < 0 || int(b.A) >= points || int(b.B) >= points || b.Ohms < 0 || math.IsNaN(b.Ohms) {
			panic(fmt.Sprintf("ohms: branch %d of %d points is %v", i, points, b))
		}
	}
	c.mergeJoined()
	c.findPieces()
	c.order()
	c.factor()
	return c
}

// WithOhms is the same network with other values, in the order of Branches. It
// keeps the order of elimination where no point is joined that was not.
func (c *Circuit) WithOhms(values []float64) *Circuit {
	branches := make([]Branch, len(c.Branches))
	same := true
	for i, b := range c.Branches {
		same = same && (b.Ohms == 0) == (values[i] == 0) && math.IsInf(b.Ohms, 1) == math.IsInf(values[i], 1)
		branches[i] = Branch{b.A, b.B, values[i]}
	}
	if !same {
		return New(c.Points, branches)
	}
	next := *c
	next.Branches = branches
	next.across, next.table = nil, nil
	next.factor()
	return &next
}

// mergeJoined makes one node of points with nothing between them.
func (c *Circuit) mergeJoined() {
	sets := newSets(c.Points)
	for _, b := range c.Branches {
		if b.Ohms == 0 {
			sets.join(b.A, b.B)
		}
	}
	c.node = make([]int32, c.Points)
	number := make([]int32, c.Points)
	count := int32(0)
	for p := range c.node {
		root := sets.find(int32(p))
		if number[root] == 0 {
			count++
			number[root] = count
		}
		c.node[p] = number[root] - 1
	}
	c.piece = make([]int32, count)
}

// findPieces finds what hangs together, and in each piece the node with most
// branches, which is held at zero: usually the chassis.
func (c *Circuit) findPieces() {
	nodes := len(c.piece)
	sets := newSets(nodes)
	degree := make([]int32, nodes)
	for _, b := range c.Branches {
		if math.IsInf(b.Ohms, 1) {
			continue
		}
		x, y := c.node[b.A], c.node[b.B]
		degree[x]++
		degree[y]++
		sets.join(x, y)
	}
	number := make([]int32, nodes)
	c.ground = nil
	for x := range c.piece {
		root := sets.find(int32(x))
		if number[root] == 0 {
			c.ground = append(c.ground, int32(x))
			number[root] = int32(len(c.ground))
		}
		p := number[root] - 1
		c.piece[x] = p
		if degree[x] > degree[c.ground[p]] {
			c.ground[p] = int32(x)
		}
	}
}

// Joined says that there is a way between two points.
func (c *Circuit) Joined(p, q int32) bool { return c.piece[c.node[p]] == c.piece[c.node[q]] }

// One says that there is no resistance between two points.
func (c *Circuit) One(p, q int32) bool { return c.node[p] == c.node[q] }

// isSole says that a branch is the only way between what is on its two sides.
func (c *Circuit) isSole(branch int) bool {
	if c.sole == nil {
		c.findSole()
	}
	return c.sole[branch]
}

// Between is the resistance between two points, +Inf where there is no way.
func (c *Circuit) Between(p, q int32) float64 {
	if c.table != nil {
		return c.table.Between(p, q)
	}
	return c.Probe(p, q).Ohms
}

// rowOf is the row of a point, or -1 where it is held at zero.
func (c *Circuit) rowOf(p int32) int32 { return c.row[c.node[p]] }

// sets are disjoint sets of points.
type sets []int32

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

func (s sets) find(x int32) int32 {
	for s[x] != x {
		s[x] = s[s[x]]
		x = s[x]
	}
	return x
}

func (s sets) join(a, b int32) bool {
	a, b = s.find(a), s.find(b)
	if a == b {
		return false
	}
	if b < a {
		a, b = b, a
	}
	s[b] = a
	return true
}
