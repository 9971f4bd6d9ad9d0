package rules

import (
	"slices"

	"buzzout/netlist"
)

// A hop of a trail: what was passed, and where it led. One of join and part
// is set: a join of the harness, or a part passed from end to end.
type hop struct {
	join *netlist.Join
	part *netlist.Part
	to   netlist.TerminalID
}

// trails finds the shortest way between two terminals over a harness's joins,
// contacts left out, and over parts that are passed from end to end.
type trails struct {
	edges []edge
	start []int32
	at    []int32
}

type edge struct {
	a, b netlist.TerminalID
	join *netlist.Join
	part *netlist.Part
}

func newTrails(h *netlist.Harness, passed []edge) *trails {
	t := &trails{edges: passed}
	for i := range h.Joins {
		if j := &h.Joins[i]; j.Kind != netlist.ByContact && j.Kind != netlist.ByPlug {
			t.edges = append(t.edges, edge{a: j.A, b: j.B, join: j})
		}
	}
	n := len(h.Book.Terminals)
	t.start = make([]int32, n+1)
	for _, e := range t.edges {
		t.start[e.a+1]++
		t.start[e.b+1]++
	}
	for i := range n {
		t.start[i+1] += t.start[i]
	}
	t.at = make([]int32, t.start[n])
	fill := slices.Clone(t.start)
	for i, e := range t.edges {
		for _, end := range [2]netlist.TerminalID{e.a, e.b} {
			t.at[fill[end]] = int32(i)
			fill[end]++
		}
	}
	return t
}

// way is the shortest way from one terminal to another, nil where there is
// none; of equally short ways the one over what comes first.
func (t *trails) way(from, to netlist.TerminalID) []hop {
	came := make([]int32, len(t.start)-1) // 0: not reached; else 1 + the edge
	queue := []netlist.TerminalID{from}
	for len(queue) > 0 && came[to] == 0 {
		at := queue[0]
		queue = queue[1:]
		for _, i := range t.at[t.start[at]:t.start[at+1]] {
			if next := t.edges[i].a + t.edges[i].b - at; next != from && came[next] == 0 {
				came[next] = i + 1
				queue = append(queue, next)
			}
		}
	}
	if from == to || came[to] == 0 {
		return nil
	}
	var way []hop
	for at := to; at != from; {
		e := t.edges[came[at]-1]
		way = append(way, hop{e.join, e.part, at})
		at = e.a + e.b - at
	}
	slices.Reverse(way)
	return way
}
