package conn

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/dominikbraun/graph"
)

// reference is the same network in the library's own store, walked by the
// library's own algorithms: a general-purpose graph library checks the arrays
// and walks here.
func reference(points int, ends [][2]int32) graph.Graph[int32, int32] {
	g := graph.New(func(v int32) int32 { return v })
	for v := range points + len(ends) {
		_ = g.AddVertex(int32(v))
	}
	for j, e := range ends {
		_ = g.AddEdge(int32(points+j), e[0])
		_ = g.AddEdge(int32(points+j), e[1]) // refused when both ends are on one point, as meant
	}
	return g
}

func randomEnds(r *rand.Rand, points, joins int) [][2]int32 {
	ends := make([][2]int32, joins)
	for i := range ends {
		ends[i] = [2]int32{r.Int32N(int32(points)), r.Int32N(int32(points))}
		if i > 0 && r.IntN(4) == 0 {
			ends[i] = ends[r.IntN(i)] // parallel leads
		}
	}
	return ends
}

func build(points int, ends [][2]int32) *Graph {
	g := New(points, len(ends))
	for _, e := range ends {
		g.Join(e[0], e[1])
	}
	return g
}

func TestIslandsAndPathsAgreeWithTheLibrary(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 1))
		points := 2 + r.IntN(30)
		ends := randomEnds(r, points, r.IntN(40))
		g, ref := build(points, ends), reference(points, ends)
		islands := g.Islands()
		for a := range int32(points) {
			reached := map[int32]bool{}
			_ = graph.BFS(ref, a, func(v int32) bool {
				reached[v] = true
				return false
			})
			for b := range int32(points) {
				if joined := islands.Of[a] == islands.Of[b]; joined != reached[b] {
					t.Fatalf("seed %d: points %d and %d: joined %v, the library says %v", seed, a, b, joined, reached[b])
				}
				checkPath(t, g, ref, a, b, reached[b])
			}
		}
	}
}

func checkPath(t *testing.T, g *Graph, ref graph.Graph[int32, int32], a, b int32, reached bool) {
	t.Helper()
	path := g.Path(a, b)
	if !reached {
		if path != nil {
			t.Fatalf("path from %d to %d over nothing: %v", a, b, path)
		}
		return
	}
	if path[0] != (Step{-1, a}) || path[len(path)-1].Point != b {
		t.Fatalf("path from %d to %d begins or ends elsewhere: %v", a, b, path)
	}
	for i := 1; i < len(path); i++ {
		x, y := g.Ends(path[i].Join)
		if p, q := path[i-1].Point, path[i].Point; !(x == p && y == q || x == q && y == p) {
			t.Fatalf("step %d of %v passes join %d, which joins %d and %d", i, path, path[i].Join, x, y)
		}
	}
	short, err := graph.ShortestPath(ref, a, b)
	if err != nil {
		t.Fatal(err)
	}
	if want := len(short)/2 + 1; len(path) != want {
		t.Fatalf("path from %d to %d has %d points, the library's %d", a, b, len(path), want)
	}
}

func TestTheLibrarySeesTheSameGraph(t *testing.T) {
	ends := [][2]int32{{0, 1}, {0, 1}, {1, 2}, {3, 3}}
	g, ref := build(5, ends), reference(5, ends)
	mine, err := g.lib.AdjacencyMap()
	if err != nil {
		t.Fatal(err)
	}
	theirs, _ := ref.AdjacencyMap()
	if len(mine) != len(theirs) {
		t.Fatalf("%d vertices, want %d", len(mine), len(theirs))
	}
	for v, near := range theirs {
		for w := range near {
			if _, ok := mine[v][w]; !ok {
				t.Errorf("no edge from %d to %d", v, w)
			}
		}
		if len(mine[v]) != len(near) {
			t.Errorf("vertex %d has %d edges, want %d", v, len(mine[v]), len(near))
		}
	}
}

func TestParallelLeadsStayTwo(t *testing.T) {
	g := build(2, [][2]int32{{0, 1}, {1, 0}})
	if g.Joins() != 2 || g.Degree(0) != 2 || g.Degree(1) != 2 {
		t.Fatalf("%d joins, degrees %d and %d; want 2 each", g.Joins(), g.Degree(0), g.Degree(1))
	}
	var joins []int32
	for j := range g.At(1) {
		joins = append(joins, j)
	}
	if !slices.Equal(joins, []int32{0, 1}) {
		t.Fatalf("joins at point 1: %v, want them in the order made", joins)
	}
}

func TestJoinOnOnePoint(t *testing.T) {
	g := build(2, [][2]int32{{1, 1}})
	if a, b := g.Ends(0); a != 1 || b != 1 {
		t.Fatalf("ends %d and %d", a, b)
	}
	for j, other := range g.At(1) {
		if j != 0 || other != 1 {
			t.Fatalf("join %d leads to %d", j, other)
		}
	}
	if n := g.Islands().Count(); n != 2 {
		t.Fatalf("%d islands, want 2", n)
	}
}

func BenchmarkBuild(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	const points, joins = 20_000, 30_000
	ends := randomEnds(r, points, joins)
	b.Run("arrays", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			build(points, ends)
		}
	})
	b.Run("default", func(b *testing.B) { // the library's own store, for comparison
		b.ReportAllocs()
		for b.Loop() {
			reference(points, ends)
		}
	})
}

func BenchmarkIslands(b *testing.B) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, joins := range []int{1_000, 30_000} {
		g := build(joins, randomEnds(r, joins, joins))
		b.Run(fmt.Sprint(joins), func(b *testing.B) {
			for b.Loop() {
				g.Islands()
			}
		})
	}
}
