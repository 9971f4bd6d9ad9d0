package netlist

import (
	"buzzout/lang"
)

// An Opener reads the book that a use fact names. from is the name of the
// book with the use fact, path is as written there. An error says in a
// person's words why it cannot be read.
type Opener func(from, path string) (*lang.File, error)

// Build resolves a notebook. open is asked for each book that is used; nil
// refuses them all. Mistakes are in Book.Mistakes, with those of the
// language; the book is usable whatever they are.
func Build(file *lang.File, open Opener) *Book {
	panic("not built yet")
}
