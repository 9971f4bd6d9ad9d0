package lang

// A Colour is what a lead looks like: a base, and a tracer where it has one.
// Both are printed names, as "green" and "yellow"; "" is none.
type Colour struct {
	Base, Tracer string
}
