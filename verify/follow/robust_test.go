package follow

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

// TestFromEverywhere follows from terminals all over every notebook, wired and
// drawn: it never panics, says the same twice, and says something.
func TestFromEverywhere(t *testing.T) {
	var files []string
	for _, pattern := range []string{"../../examples/*.buzzout", "../../testdata/circuits/*.buzzout", "../../testdata/demo/*.buzzout"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) < 10 {
		t.Fatalf("%d notebooks", len(files))
	}
	for n, file := range files {
		b := openAny(t, file, nil)
		bench := b.Bench()
		m := b.Meanings()[0]
		built := func(s netlist.Setting) *netlist.Harness { return bench.Built(m, s) }
		drawn := func(s netlist.Setting) *netlist.Harness { return b.Planned(m, s) }
		for i := n % 7; i < len(b.Terminals); i += 23 {
			from := netlist.TerminalID(i)
			to := netlist.NoTerminal
			if i%2 == 1 {
				to = netlist.TerminalID((i * 7) % len(b.Terminals))
			}
			for _, q := range []Question{
				{Book: b, Draw: drawn, Setting: bench.Setting, From: from, To: to},
				{Book: b, Draw: built, Plan: drawn, Setting: bench.Setting, From: from, To: to},
			} {
				w := Signal(q)
				text := w.Text(80)
				if again := Signal(q).Text(80); again != text {
					t.Fatalf("%s from %s: two answers:\n%s\n%s", file, b.Name(from), text, again)
				}
				if len(w.Stem) == 0 || !w.Arrives && len(w.Stops) == 0 {
					t.Errorf("%s from %s: no way and no reason:\n%s", file, b.Name(from), text)
				}
				if i := slices.IndexFunc(strings.Split(text, "\n"), func(l string) bool { return len([]rune(l)) > 96 }); i >= 0 {
					t.Errorf("%s from %s: line %d is too long:\n%s", file, b.Name(from), i+1, text)
				}
			}
		}
	}
}
