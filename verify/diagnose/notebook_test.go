package diagnose

import (
	"os"
	"path/filepath"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// open builds a notebook file with some lines more at its end.
func open(t testing.TB, path, more string) *netlist.Book {
	t.Helper()
	folder := filepath.Dir(path)
	read := func(name string) (*lang.File, error) {
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			return nil, err
		}
		if name == filepath.Base(path) {
			text = append(text, more...)
		}
		return lang.Parse(diag.NewSource(name, string(text))), nil
	}
	file, err := read(filepath.Base(path))
	if err != nil {
		t.Fatal(err)
	}
	return sound(t, netlist.Build(file, func(_, name string) (*lang.File, error) { return read(name) }))
}

func build(t testing.TB, text string) *netlist.Book {
	t.Helper()
	return sound(t, netlist.Build(lang.Parse(diag.NewSource("bench.buzzout", text)), nil))
}

func sound(t testing.TB, b *netlist.Book) *netlist.Book {
	t.Helper()
	for _, m := range b.Mistakes {
		if m.Severity <= diag.Fault {
			t.Fatalf("%s: %s: %s", m.Place, m.Rule, m.Message)
		}
	}
	return b
}

func diagnosisOf(b *netlist.Book) *Diagnosis {
	return New(Case{Book: b, Meaning: b.Meanings()[0]})
}

func at(t testing.TB, b *netlist.Book, name string) netlist.TerminalID {
	t.Helper()
	id, problem, _ := b.Terminal(name)
	if id == netlist.NoTerminal {
		t.Fatal(problem)
	}
	return id
}
