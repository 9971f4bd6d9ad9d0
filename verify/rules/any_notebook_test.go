package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"buzzout/netlist"
	"buzzout/verify"
)

// Whatever lines of the examples and of testdata are put together, in
// whatever order, no rule fails on them, and each finding is sound and comes
// out the same twice.
func TestAnyNotebook(t *testing.T) {
	var lines []string
	for _, pattern := range []string{"../../examples/*.buzzout", "testdata/*.buzzout"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			t.Fatal(pattern, err)
		}
		for _, path := range paths {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(string(text), "\n") {
				if !strings.HasPrefix(strings.TrimSpace(line), "#") && line != "" {
					lines = append(lines, line)
				}
			}
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		// Runs of neighbouring lines, so that parts, plan and bench belong together.
		var text strings.Builder
		for range rapid.IntRange(1, 12).Draw(rt, "runs") {
			from := rapid.IntRange(0, len(lines)-1).Draw(rt, "from")
			n := rapid.IntRange(1, 40).Draw(rt, "lines")
			for _, line := range lines[from:min(from+n, len(lines))] {
				text.WriteString(line + "\n")
			}
		}
		book := build(t, "any", text.String())
		for _, m := range book.Meanings() {
			first, second := run(book, m), run(book, m)
			if fmt.Sprint(ruleNames(first)) != fmt.Sprint(ruleNames(second)) {
				rt.Fatalf("two runs differ:\n%v\n%v", ruleNames(first), ruleNames(second))
			}
			for _, f := range first {
				if f.Message == "" || f.Severity == 0 || len(f.Evidence) == 0 || !f.Place().Known() {
					rt.Fatalf("%s: not sound: %+v", f.Rule, f)
				}
			}
		}
	})
}

func run(book *netlist.Book, m netlist.Meaning) []verify.Finding {
	bench := book.Bench()
	return verify.Run(All(), &verify.Case{Bench: bench, Meaning: m, Setting: bench.Setting})
}
