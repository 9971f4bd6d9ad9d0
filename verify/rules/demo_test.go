package rules

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify"
)

// An answer of testdata, written by hand with the notebook that it is about:
// see the README there.
type answer struct {
	Rule      string   `json:"rule"`
	Terminals []string `json:"terminals"`
	Also      []string `json:"also"`
	Sentence  string   `json:"sentence"`
}

func answers(t *testing.T, path string) (notebook string, list []answer) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Notebook string   `json:"notebook"`
		Answers  []answer `json:"answers"`
	}
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	return "../../" + file.Notebook, file.Answers
}

// In the notebooks with planted mistakes every mistake that a rule of this
// package tells is found, and nothing is told that was not planted.
func TestPlantedMistakes(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/circuits/answers/*.json")
	if err != nil || len(paths) == 0 {
		t.Fatal("no answers", err)
	}
	for _, path := range append(paths, "../../testdata/demo/faults.json") {
		t.Run(filepath.Base(path), func(t *testing.T) {
			notebook, list := answers(t, path)
			book := buildFrom(t, filepath.Dir(notebook), filepath.Base(notebook))
			found := check(book)
			for _, a := range list {
				if looks(a.Rule) && !slices.ContainsFunc(found, func(f verify.Finding) bool { return f.Rule == a.Rule && shareTerminal(book, f, a) }) {
					t.Errorf("not found: %s: %s", a.Rule, a.Sentence)
				}
			}
			for _, f := range found {
				if !slices.ContainsFunc(list, func(a answer) bool {
					return (f.Rule == a.Rule || slices.Contains(a.Also, f.Rule)) && sharePart(book, f, a)
				}) && !standing(f) {
					t.Errorf("not planted: %s: %s", f.Rule, f.Message)
				}
			}
		})
	}
}

// standing are the findings that hold of a circuit as it was published, or of
// its builder's choice of colours, and that nobody planted.
func standing(f verify.Finding) bool {
	return f.Rule == "wire-colour" || f.Rule == "transformer-colour" || f.Rule == "no-bleeder-drawn"
}

func looks(rule string) bool {
	i := slices.IndexFunc(All(), func(r verify.Rule) bool { return r.Name == rule })
	return i >= 0 && All()[i].Look != nil
}

func shareTerminal(b *netlist.Book, f verify.Finding, a answer) bool {
	return len(a.Terminals) == 0 || slices.ContainsFunc(a.Terminals, func(name string) bool {
		t, _, _ := b.Terminal(name)
		return slices.Contains(f.Terminals, t)
	})
}

func sharePart(b *netlist.Book, f verify.Finding, a answer) bool {
	return len(f.Terminals) == 0 || len(a.Terminals) == 0 || slices.ContainsFunc(a.Terminals, func(name string) bool {
		ref, _, _ := strings.Cut(name, ".")
		return slices.ContainsFunc(f.Terminals, func(t netlist.TerminalID) bool {
			return b.Terminals[t].Part != nil && strings.EqualFold(b.Terminals[t].Part.Ref, ref)
		})
	})
}

// In what is clean no rule tells more than a remark, but for what is standing.
func TestCleanNotebooks(t *testing.T) {
	var paths []string
	for _, pattern := range []string{"../../examples/lantern-built.buzzout", "../../examples/lantern-half.buzzout", "../../examples/lantern-plan.buzzout",
		"../../examples/two-inputs.buzzout", "../../testdata/circuits/*-built.buzzout", "../../testdata/circuits/*-plan.buzzout"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatal(pattern, err)
		}
		paths = append(paths, found...)
	}
	for _, path := range paths {
		book := buildFrom(t, filepath.Dir(path), filepath.Base(path))
		for _, f := range check(book) {
			if f.ToDo || standing(f) || f.Rule == "other-value" && f.Severity.String() == "remark" {
				continue
			}
			t.Errorf("%s: %s (%s): %s", filepath.Base(path), f.Rule, f.Severity, f.Message)
		}
	}
}
