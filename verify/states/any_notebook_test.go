package states

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/ruletest"
)

// Whatever lines of notebooks are put together, the rules, and the questions
// that they rest on, give sound findings, the same each time, and never panic.
func TestAnyNotebook(t *testing.T) {
	var lines []string
	for _, pattern := range []string{"../../examples/*.buzzout", "testdata/*/*.buzzout"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal("no notebooks", err)
		}
		for _, f := range files {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(string(text)) {
				if !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "use") {
					lines = append(lines, line)
				}
			}
		}
	}
	told := 0
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 17))
		var text strings.Builder
		from := r.IntN(len(lines))
		for range 5 + r.IntN(60) {
			if r.IntN(4) == 0 {
				from = r.IntN(len(lines))
			}
			text.WriteString(lines[from%len(lines)])
			from++
		}
		build := func() *netlist.Book {
			return netlist.Build(lang.Parse(diag.NewSource("any.buzzout", text.String())), nil)
		}
		book := build()
		found, again := check(book), check(build())
		for i, f := range found {
			ruletest.Finding(t, book, f)
			if len(again) != len(found) || again[i].Message != f.Message || strings.Join(again[i].Settings, "|") != strings.Join(f.Settings, "|") {
				t.Errorf("seed %d: not the same twice: %s", seed, f.Message)
			}
		}
		told += len(found)
		s := book.Bench().Setting
		Mutes(planned(book), s, netlist.NoTerminal)
		if n := len(book.Terminals); n > 1 {
			sc := NewScene(book.Planned(book.Meanings()[0], s), s)
			sc.Why(netlist.TerminalID(r.IntN(n)), netlist.TerminalID(r.IntN(n)))
		}
	}
	if told < 10 {
		t.Errorf("only %d findings: the notebooks say too little", told)
	}
}
