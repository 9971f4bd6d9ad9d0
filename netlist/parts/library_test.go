package parts

import (
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// tell writes a mistake in one line.
func tell(m diag.Diagnostic) string {
	s := m.Place.String() + "  " + m.Rule + "  " + m.Message
	if m.Nearest != "" {
		s += "  (" + m.Nearest + ")"
	}
	return s
}

func TestEveryLibraryKindReads(t *testing.T) {
	for _, g := range groups() {
		file := lang.Parse(diag.NewSource(g.name, g.text))
		for _, m := range file.Mistakes {
			t.Error(tell(m))
		}
		var written int
		for _, s := range file.Statements {
			if _, ok := s.(*lang.Kind); !ok {
				t.Errorf("%s: only kinds belong in the library", s.Span())
			}
			written++
		}
		if found := len(scan(g)); found != written {
			t.Errorf("%s: the quick look finds %d kinds, reading finds %d", g.name, found, written)
		}
	}
	for _, e := range Builtin().entries {
		e.read()
		for _, m := range e.mistakes {
			t.Error(tell(m))
		}
		tree := e.parse()
		if tree.Name.Text != e.Name || (tree.Title == nil) != (e.Title == "") || tree.Title != nil && tree.Title.Text != e.Title {
			t.Errorf("%s: the quick look finds %q %q", e.Name, e.Name, e.Title)
		}
		var also []string
		for _, w := range alsoWords(tree) {
			also = append(also, w.Text)
		}
		if strings.Join(also, " ") != strings.Join(e.Also, " ") {
			t.Errorf("%s: the quick look finds the other names %v, reading finds %v", e.Name, e.Also, also)
		}
	}
}
