package meter

import (
	"os"
	"path/filepath"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// open builds a notebook file, with the books that it uses.
func open(t testing.TB, path string) *netlist.Book {
	t.Helper()
	folder := filepath.Dir(path)
	read := func(name string) (*lang.File, error) {
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			return nil, err
		}
		return lang.Parse(diag.NewSource(name, string(text))), nil
	}
	file, err := read(filepath.Base(path))
	if err != nil {
		t.Fatal(err)
	}
	b := netlist.Build(file, func(_, name string) (*lang.File, error) { return read(name) })
	for _, m := range b.Mistakes {
		if m.Severity <= diag.Fault {
			t.Fatalf("%s: %s: %s: %s", path, m.Place, m.Rule, m.Message)
		}
	}
	return b
}

// build builds a notebook given as text.
func build(t testing.TB, text string) *netlist.Book {
	t.Helper()
	b := netlist.Build(lang.Parse(diag.NewSource("bench.buzzout", text)), nil)
	for _, m := range b.Mistakes {
		t.Fatalf("%s: %s: %s", m.Place, m.Rule, m.Message)
	}
	return b
}

func at(t testing.TB, b *netlist.Book, name string) netlist.TerminalID {
	t.Helper()
	id, problem, _ := b.Terminal(name)
	if id == netlist.NoTerminal {
		t.Fatal(problem)
	}
	return id
}

func notebooks(t testing.TB) []string {
	var list []string
	for _, pattern := range []string{"../../examples/*.buzzout", "../../testdata/circuits/*.buzzout"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatal(pattern, err)
		}
		list = append(list, found...)
	}
	return list
}

// Every reading in the notebooks of examples and testdata was invented with
// the wiring as it was at that moment, and is what such wiring reads. Those of
// the Lantern's second build too: what is wrong there is told as it is wired.
func TestReadingsOfTheNotebooks(t *testing.T) {
	count := 0
	for _, path := range notebooks(t) {
		b := open(t, path)
		m := b.Meanings()[0]
		for _, r := range b.Readings {
			count++
			j := Judge(b, m, r)
			if j.Verdict != Within {
				t.Errorf("%s: %s: verdict %d, reason %d: measured %.4g, expected %.4g to %.4g",
					filepath.Base(path), r.Fact.Text(), j.Verdict, j.Reason, j.Measured, j.Low, j.High)
			}
			if j.Ohms < j.Low || j.Ohms > j.High || j.LikelyLow < j.Low || j.LikelyHigh > j.High || j.LikelyLow > j.LikelyHigh {
				t.Errorf("%s: %s: %g to %g, likely %g to %g, in the middle %g", filepath.Base(path), r.Fact.Text(),
					j.Low, j.High, j.LikelyLow, j.LikelyHigh, j.Ohms)
			}
		}
	}
	if count < 80 {
		t.Errorf("only %d readings", count)
	}
}
