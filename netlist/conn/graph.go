// Package conn says what is joined to what. It is the only door to the graph
// library.
//
// Points are terminals; a join is a thing that holds two points together: a
// lead, a solder joint, a closed contact. Points and joins are both vertices
// of the graph, so that two parallel leads stay two, and a path reads point,
// join, point, which is already the explanation.
package conn

// A Graph of points and joins.
type Graph struct{}

// Islands numbers the islands: for each point the number of its island. Islands
// are numbered in the order of their first points.
func (g *Graph) Islands() []int32 { panic("not built yet") }

// Path is the way from one point to another over the fewest joins, as point,
// join, point, …; nil where there is none. Of equally short ways the one
// through the joins made first is taken.
func (g *Graph) Path(from, to int32) []Step { panic("not built yet") }

// A Step of a path: the join that was passed, and the point that it led to.
// The first step of a path has no join: Join is -1.
type Step struct{ Join, Point int32 }
