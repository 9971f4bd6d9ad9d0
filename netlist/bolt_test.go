package netlist

import (
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// A bolt that is named once is marked where it is named, and not with its fact.
func TestBoltNamedOnceIsMarked(t *testing.T) {
	book := Build(lang.Parse(diag.NewSource("bolt.buzzout", "part CH chassis\npart R1 resistor 1k\nbolt R1.1, ch.Once\n")), nil)
	for _, m := range book.Mistakes {
		if m.Rule == "bolt-named-once" && m.Place.Text() == "ch.Once" {
			return
		}
	}
	t.Errorf("%+v", book.Mistakes)
}
