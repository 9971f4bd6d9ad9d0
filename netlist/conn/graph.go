// Package conn says what is joined to what. It is the only door to the graph
// library.
//
// Points are terminals; a join is a thing that holds two points together: a
// lead, a solder joint, a closed contact. Points and joins are both vertices
// of the graph, so that two parallel leads stay two, and a path reads point,
// join, point, which is already the explanation.
//
// Begin with [New], add joins with [Graph.Join], then ask for [Graph.Islands]
// and [Graph.Path]. Walks follow joins in the order in which they were made,
// so that every answer is the same every time.
package conn

import (
	"iter"

	"github.com/dominikbraun/graph"
)

// A Graph of points and joins. Any number of readers may use it at a time
// once the last join is made.
type Graph struct {
	lib   graph.Graph[int32, int32]
	store *arrays
}

// New makes a graph of points 0 to points-1 without joins. joins is how many
// are expected; any number may be made.
func New(points, joins int) *Graph {
	store := newArrays(points, joins)
	lib := graph.NewWithStore(func(v int32) int32 { return v }, graph.Store[int32, int32](store))
	return &Graph{lib: lib, store: store}
}

// Join joins two points and gives the number of the join: 0, 1, 2 … A join
// may have both its ends on one point. It panics on a point that is not there.
func (g *Graph) Join(a, b int32) int32 {
	join := g.store.joins()
	vertex := int32(g.store.points + join)
	must(g.lib.AddVertex(vertex))
	must(g.lib.AddEdge(vertex, a))
	if b != a {
		must(g.lib.AddEdge(vertex, b))
	}
	return int32(join)
}

// must stops a caller who names a point that is not there: the store has no
// other way to fail.
func must(err error) {
	if err != nil {
		panic(err)
	}
}

// Points is the number of points.
func (g *Graph) Points() int { return g.store.points }

// Joins is the number of joins made.
func (g *Graph) Joins() int { return g.store.joins() }

// Ends gives the two points of a join.
func (g *Graph) Ends(join int32) (a, b int32) {
	a, b = g.store.ends[2*join], g.store.ends[2*join+1]
	if b < 0 {
		b = a
	}
	return a, b
}

// At goes over the joins at a point, with the point at the other end of each,
// in the order in which the joins were made.
func (g *Graph) At(point int32) iter.Seq2[int32, int32] {
	return func(yield func(join, other int32) bool) {
		for h := g.store.first[point]; h >= 0; h = g.store.next[h] {
			join := h / 2
			other := g.store.ends[h^1]
			if other < 0 {
				other = point
			}
			if !yield(join, other) {
				return
			}
		}
	}
}

// Degree is the number of joins at a point; one with both ends there counts once.
func (g *Graph) Degree(point int32) int {
	n := 0
	for h := g.store.first[point]; h >= 0; h = g.store.next[h] {
		n++
	}
	return n
}

// Islands are the sets of points that are joined to one another.
type Islands struct {
	Of    []int32 // for each point the number of its island
	start []int32
	list  []int32
}

// Count is the number of islands; a point without a join is one by itself.
func (s *Islands) Count() int { return len(s.start) - 1 }

// Members are the points of an island, rising.
func (s *Islands) Members(island int32) []int32 {
	return s.list[s.start[island]:s.start[island+1]]
}

// Islands numbers the islands, in the order of their lowest points. It takes
// time in proportion to points and joins.
func (g *Graph) Islands() *Islands {
	n := g.store.points
	s := &Islands{Of: make([]int32, n), list: make([]int32, n)}
	for i := range s.Of {
		s.Of[i] = -1
	}
	var stack []int32
	count := int32(0)
	for p := range int32(n) {
		if s.Of[p] >= 0 {
			continue
		}
		s.Of[p] = count
		stack = append(stack[:0], p)
		for len(stack) > 0 {
			q := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for h := g.store.first[q]; h >= 0; h = g.store.next[h] {
				if other := g.store.ends[h^1]; other >= 0 && s.Of[other] < 0 {
					s.Of[other] = count
					stack = append(stack, other)
				}
			}
		}
		count++
	}
	s.start = make([]int32, count+1)
	for _, i := range s.Of {
		s.start[i+1]++
	}
	for i := range count {
		s.start[i+1] += s.start[i]
	}
	fill := append([]int32(nil), s.start...)
	for p, i := range s.Of {
		s.list[fill[i]] = int32(p)
		fill[i]++
	}
	return s
}

// A Step of a path: the join that was passed, and the point that it led to.
// The first step of a path has no join: Join is -1.
type Step struct{ Join, Point int32 }

// Path is the way from one point to another over the fewest joins; nil where
// there is none. Of equally short ways it is the one whose joins were made
// first, counted from its start.
func (g *Graph) Path(from, to int32) []Step {
	if from == to {
		return []Step{{-1, from}}
	}
	came := make([]Step, g.store.points) // the join and the point before
	for i := range came {
		came[i].Point = -1
	}
	came[from] = Step{-1, from}
	queue := []int32{from}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for join, other := range g.At(p) {
			if came[other].Point >= 0 {
				continue
			}
			came[other] = Step{join, p}
			if other == to {
				return walkBack(came, from, to)
			}
			queue = append(queue, other)
		}
	}
	return nil
}

func walkBack(came []Step, from, to int32) []Step {
	n := 1
	for p := to; p != from; p = came[p].Point {
		n++
	}
	path := make([]Step, n)
	for p := to; ; p = came[p].Point {
		n--
		path[n] = Step{came[p].Join, p}
		if p == from {
			return path
		}
	}
}
