package conn

import (
	"github.com/dominikbraun/graph"
)

// arrays is the library's store, kept in flat arrays: the library's own
// default takes four times the memory and lists in random order.
//
// Vertices below points are points; vertex points+j is join j. An edge is one
// end of a join: half edge 2j is its first end, 2j+1 its second. The half
// edges at a point are a chain through next, in the order made.
type arrays struct {
	points int
	ends   []int32 // by half edge: the point; -1 where not made
	next   []int32 // by half edge: the next at the same point; -1 at the chain's end
	first  []int32 // by point
	last   []int32 // by point
	edges  int
}

var _ graph.Store[int32, int32] = (*arrays)(nil)

func newArrays(points, joins int) *arrays {
	s := &arrays{
		points: points,
		ends:   make([]int32, 0, 2*joins),
		next:   make([]int32, 0, 2*joins),
		first:  make([]int32, points),
		last:   make([]int32, points),
	}
	for i := range s.first {
		s.first[i], s.last[i] = -1, -1
	}
	return s
}

func (s *arrays) joins() int { return len(s.ends) / 2 }

func (s *arrays) has(v int32) bool {
	return v >= 0 && int(v) < s.points+s.joins()
}

// AddVertex takes the next join; the points are there from the beginning.
func (s *arrays) AddVertex(v, _ int32, _ graph.VertexProperties) error {
	if s.has(v) {
		return graph.ErrVertexAlreadyExists
	}
	if int(v) != s.points+s.joins() {
		return graph.ErrVertexNotFound
	}
	s.ends = append(s.ends, -1, -1)
	s.next = append(s.next, -1, -1)
	return nil
}

func (s *arrays) Vertex(v int32) (int32, graph.VertexProperties, error) {
	if !s.has(v) {
		return 0, graph.VertexProperties{}, graph.ErrVertexNotFound
	}
	return v, graph.VertexProperties{}, nil
}

// RemoveVertex refuses: a graph is made afresh for each setting, never taken apart.
func (s *arrays) RemoveVertex(int32) error { return graph.ErrVertexHasEdges }

func (s *arrays) ListVertices() ([]int32, error) {
	list := make([]int32, s.points+s.joins())
	for i := range list {
		list[i] = int32(i)
	}
	return list, nil
}

func (s *arrays) VertexCount() (int, error) { return s.points + s.joins(), nil }

// half finds the half edge between a join and a point, either way round, or -1.
// It looks at the join, which has two ends, never at the point, which may have
// thousands.
func (s *arrays) half(a, b int32) int32 {
	if int(a) < s.points {
		a, b = b, a
	}
	if int(a) < s.points || int(b) >= s.points {
		return -1
	}
	for h := 2 * (a - int32(s.points)); ; h++ {
		if s.ends[h] == b {
			return h
		}
		if h&1 == 1 {
			return -1
		}
	}
}

// AddEdge is called for both directions of each edge; the second call finds
// the half edge made by the first.
func (s *arrays) AddEdge(a, b int32, _ graph.Edge[int32]) error {
	if !s.has(a) || !s.has(b) {
		return graph.ErrVertexNotFound
	}
	if s.half(a, b) >= 0 {
		return nil
	}
	if int(a) < s.points {
		a, b = b, a
	}
	if int(a) < s.points || int(b) >= s.points {
		return graph.ErrEdgeNotFound // two points, or two joins, never meet directly
	}
	h := 2 * (a - int32(s.points))
	if s.ends[h] >= 0 {
		h++
	}
	s.ends[h] = b
	if s.last[b] < 0 {
		s.first[b] = h
	} else {
		s.next[s.last[b]] = h
	}
	s.last[b] = h
	s.edges++
	return nil
}

func (s *arrays) UpdateEdge(a, b int32, _ graph.Edge[int32]) error {
	if s.half(a, b) < 0 {
		return graph.ErrEdgeNotFound
	}
	return nil
}

func (s *arrays) RemoveEdge(int32, int32) error { return graph.ErrEdgeNotFound }

func (s *arrays) Edge(a, b int32) (graph.Edge[int32], error) {
	if !s.has(a) || !s.has(b) || s.half(a, b) < 0 {
		return graph.Edge[int32]{}, graph.ErrEdgeNotFound
	}
	return graph.Edge[int32]{Source: a, Target: b}, nil
}

// ListEdges lists each edge in both directions, as the library's own store does.
func (s *arrays) ListEdges() ([]graph.Edge[int32], error) {
	list := make([]graph.Edge[int32], 0, 2*s.edges)
	for h, p := range s.ends {
		if p < 0 {
			continue
		}
		join := int32(s.points + h/2)
		list = append(list, graph.Edge[int32]{Source: join, Target: p}, graph.Edge[int32]{Source: p, Target: join})
	}
	return list, nil
}
