package parts

import (
	"slices"
	"strings"
	"sync"
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

// TestNamesAreUnique: no name leads to two kinds, in any mixture of capitals.
func TestNamesAreUnique(t *testing.T) {
	holder := make(map[string]string)
	for _, s := range Builtin().Summaries() {
		for _, name := range append([]string{s.Name}, s.Also...) {
			key := lang.Fold(name)
			if other, taken := holder[key]; taken {
				t.Errorf("%s is a name of %s and of %s", name, other, s.Name)
			}
			holder[key] = s.Name
			if name != key {
				t.Errorf("%s: names are in lower case here", name)
			}
			k, ok := Builtin().Kind(strings.ToUpper(name))
			if !ok || k.Name != s.Name {
				t.Errorf("%s does not lead to %s", name, s.Name)
			}
		}
		if s.Title == "" || s.Group == "" {
			t.Errorf("%s has no title or group", s.Name)
		}
	}
	if names := Builtin().Names(); !slices.IsSorted(names) || len(names) != len(holder) {
		t.Errorf("%d names in the list, %d in the library, sorted: %v", len(names), len(holder), slices.IsSorted(names))
	}
	if _, ok := Builtin().Kind("no-such-kind"); ok {
		t.Error("a kind that is not there was found")
	}
}

// TestEveryLibraryKindMakesAPart: the kind's name alone, or with a count, is a
// part without a mistake; only what is told in a block wants one.
func TestEveryLibraryKindMakesAPart(t *testing.T) {
	for _, s := range Builtin().Summaries() {
		line := "part X1 " + s.Name
		if k := kind(t, s.Name); k.Counts {
			line += " 12"
		}
		if s.Name == "transformer" {
			line += " { winding primary 0 230 }"
		}
		in := one(t, line)
		sound(t, line, in.Kind)
		if len(in.Kind.Terminals) == 0 && !in.Kind.Any {
			t.Errorf("%s: no terminals", line)
		}
		for i := range in.Kind.Alike {
			// A line that never counts says nothing.
			if one := in.Kind.Alike[i]; len(in.Kind.Exchanges(in.Values)) < len(in.Kind.Alike) {
				t.Errorf("%s: %s does not carry every element onto a like one", s.Name, one.Place)
				break
			}
		}
	}
}

// TestExamplesInComments: what the library's own comments show can be typed.
func TestExamplesInComments(t *testing.T) {
	shown := 0
	for _, g := range groups() {
		for _, text := range strings.Split(g.text, "\n\n")[:1] { // the head of the file
			text = strings.ReplaceAll(text, "\n# ", " ")
			for at := strings.Index(text, "part "); at >= 0; at = strings.Index(text, "part ") {
				text = text[at:]
				end := strings.Index(text, "}")
				if end < 0 {
					break
				}
				one(t, text[:end+1])
				shown++
				text = text[end:]
			}
		}
	}
	if shown < 2 {
		t.Errorf("%d examples found", shown)
	}
}

// TestManyAtATime asks for every kind from several goroutines at once.
func TestManyAtATime(t *testing.T) {
	l := embedded(groups())
	line := lang.Parse(diag.NewSource("book", "part TB1 tagboard 30")).Statements[0].(*lang.Part)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			for _, name := range l.Names() {
				if k, ok := l.Kind(name); !ok || k == nil {
					t.Errorf("no %s", name)
				}
			}
			if in := l.ForPart(line); len(in.Kind.Terminals) != 30 {
				t.Errorf("%d tags", len(in.Kind.Terminals))
			}
		})
	}
	wait.Wait()
}

// TestNothingIsReadAtStart: the index costs a look through the text and no more.
func TestNothingIsReadAtStart(t *testing.T) {
	l := embedded(groups())
	l.Names()
	l.Summaries()
	for _, e := range l.entries {
		if e.tree != nil || e.kind != nil {
			t.Fatalf("%s was read before anybody asked", e.Name)
		}
	}
	l.Kind("pot-switched")
	var read []string
	for _, e := range l.entries {
		if e.tree != nil {
			read = append(read, e.Name)
		}
	}
	if strings.Join(read, " ") != "pot pot-switched" {
		t.Errorf("for pot-switched were read: %v", read)
	}
}

// TestLimitNames: each limit of the closed list can be written, and explained.
func TestLimitNames(t *testing.T) {
	unit := map[lang.Quantity]string{lang.Volts: "1V", lang.Watts: "1W", lang.Amperes: "1A", lang.Ohms: "1k", lang.Farads: "1u"}
	for _, name := range LimitNames() {
		l, ok := ExplainLimit(name)
		if !ok || l.Says == "" {
			t.Errorf("%s is not explained", name)
		}
		in := one(t, "part X1 board { terminals a; limit "+name+" "+unit[l.Quantity]+" }")
		if len(in.Kind.Limits) != 1 || in.Kind.Limits[0].Figure.Quantity != l.Quantity {
			t.Errorf("%s: %v", name, in.Kind.Limits)
		}
	}
	if _, ok := ExplainLimit("anode-joules"); ok {
		t.Error("a limit that is not in the list was explained")
	}
}
