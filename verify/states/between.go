package states

import "slices"

// Between are the controls whose contacts lie on some way between two
// conductors that passes no conductor twice: those that alone can decide
// whether the two are one. They are given rising; none if no contact can ever
// join the two.
//
// A contact lies on such a way if it is in one block (a part of the web that
// no single conductor holds together) with a contact added between the two.
func (w *Web) Between(a, b int32) []int {
	if a == b {
		return nil
	}
	edges := make([][2]int32, 0, len(w.Contacts)+1)
	for i := range w.Contacts {
		edges = append(edges, [2]int32{w.Contacts[i].a, w.Contacts[i].b})
	}
	added := len(edges)
	edges = append(edges, [2]int32{a, b})
	block := blockOf(w.conductors, edges, added)
	var controls []int
	for _, e := range block {
		if e != added && !slices.Contains(controls, w.Contacts[e].Control) {
			controls = append(controls, w.Contacts[e].Control)
		}
	}
	slices.Sort(controls)
	return controls
}

// blockOf gives the edges of the block that an edge is in: Hopcroft and
// Tarjan's walk (Communications of the ACM 16(6), 1973; from memory), without
// recursion, begun at one end of the edge and with the edge taken first.
func blockOf(nodes int, edges [][2]int32, first int) []int {
	at := make([][]int, nodes)
	for i, e := range edges {
		if e[0] != e[1] {
			at[e[0]] = append(at[e[0]], i)
			at[e[1]] = append(at[e[1]], i)
		}
	}
	root := edges[first][0]
	// The edge asked for goes first, so that its block is closed when the walk
	// comes back over it.
	slices.SortStableFunc(at[root], func(x, y int) int {
		switch {
		case x == first:
			return -1
		case y == first:
			return 1
		}
		return 0
	})
	depth := make([]int, nodes)
	low := make([]int, nodes)
	type frame struct {
		node int32
		via  int
		next int
	}
	depth[root] = 1
	low[root] = 1
	var stack []int // edges
	frames := []frame{{root, -1, 0}}
	for len(frames) > 0 {
		f := &frames[len(frames)-1]
		if f.next < len(at[f.node]) {
			e := at[f.node][f.next]
			f.next++
			other := edges[e][0] + edges[e][1] - f.node
			switch {
			case e == f.via:
			case depth[other] == 0:
				stack = append(stack, e)
				depth[other] = depth[f.node] + 1
				low[other] = depth[other]
				frames = append(frames, frame{other, e, 0})
			case depth[other] < depth[f.node]:
				stack = append(stack, e)
				low[f.node] = min(low[f.node], depth[other])
			}
			continue
		}
		done := *f
		frames = frames[:len(frames)-1]
		if len(frames) == 0 {
			break
		}
		parent := &frames[len(frames)-1]
		low[parent.node] = min(low[parent.node], low[done.node])
		if low[done.node] >= depth[parent.node] {
			i := slices.Index(stack, done.via)
			if done.via == first {
				return stack[i:]
			}
			stack = stack[:i]
		}
	}
	return nil
}
