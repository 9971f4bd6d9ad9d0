package lang

import (
	"slices"
	"testing"

	"buzzout/lang/diag"
)

func TestRules(t *testing.T) {
	var names []string
	for _, r := range Rules() {
		names = append(names, r.Name)
		if r.Title == "" || r.Text == "" {
			t.Errorf("%s is not explained", r.Name)
		}
		if r.Example == "" {
			continue // it takes a thousand lines, or the prompt
		}
		file := Parse(diag.NewSource("example", r.Example))
		if !slices.ContainsFunc(file.Mistakes, func(m diag.Diagnostic) bool { return m.Rule == r.Name }) {
			t.Errorf("the example of %s gives %v", r.Name, file.Mistakes)
		}
	}
	if !slices.IsSorted(names) || len(slices.Compact(slices.Clone(names))) != len(names) {
		t.Errorf("rules are not in order: %v", names)
	}
	for _, src := range []string{"facts", "lines", "braces"} {
		for _, m := range Parse(readSource(t, "testdata/mistakes/"+src+".buzzout"), "check").Mistakes {
			if !slices.Contains(names, m.Rule) {
				t.Errorf("%s is not explained", m.Rule)
			}
		}
	}
}
