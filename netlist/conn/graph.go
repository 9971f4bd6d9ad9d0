// Package conn says what is joined to what. It is the only door to the graph
// library.
//
// Points are terminals; a join is a thing that holds two points together: a
// lead, a solder joint, a closed contact. Points and joins are both vertices
// of the graph, so that two parallel leads stay two, and a path reads point,
// join, point, which is already the explanation.
package conn
