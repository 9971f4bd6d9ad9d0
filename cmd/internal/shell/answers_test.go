package shell

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

// An answerKey tells the mistakes that were planted in a notebook; see
// testdata/README.md.
type answerKey struct {
	Notebook string
	Answers  []struct {
		Rule      string
		Terminals []string
		Also      []string
		Sentence  string
	}
}

// TestPlantedMistakesAreFound asks for the verdict on every notebook with an
// answer key: each planted mistake has to be told by its rule at its
// terminals, or listed as another explanation, and no fault or danger may be
// told that was not planted.
func TestPlantedMistakesAreFound(t *testing.T) {
	const root = "../../../"
	keys, _ := filepath.Glob(root + "testdata/circuits/answers/*.json")
	keys = append(keys, root+"testdata/demo/faults.json")
	if len(keys) < 5 {
		t.Fatalf("%d answer keys, want five or more", len(keys))
	}
	for _, path := range keys {
		var key answerKey
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &key); err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(key.Notebook), func(t *testing.T) {
			s, err := Open(root+key.Notebook, Options{ReadOnly: true})
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			found := s.verdict().findings
			planted := make([]bool, len(found))
			for _, a := range key.Answers {
				told := false
				for i, f := range found {
					near := slices.ContainsFunc(f.Terminals, func(id netlist.TerminalID) bool {
						return slices.ContainsFunc(a.Terminals, func(name string) bool { return sameTerminal(s, id, name) })
					})
					if !near {
						continue
					}
					// A rule of also tells the same mistake from another side.
					if f.Rule == a.Rule || slices.Contains(a.Also, f.Rule) || rivalNames(f, a.Terminals) {
						told, planted[i] = true, true
					}
				}
				if !told {
					t.Errorf("not told: %s: %s", a.Rule, a.Sentence)
				}
			}
			for i, f := range found {
				if !planted[i] && f.Severity.Bad() && !f.ToDo {
					t.Errorf("told and not planted: %s: %s", f.Rule, f.Message)
				}
			}
		})
	}
}

func sameTerminal(s *Session, id netlist.TerminalID, name string) bool {
	other, _, _ := s.book.Terminal(name)
	return other == id
}

func rivalNames(f verify.Finding, terminals []string) bool {
	return slices.ContainsFunc(f.Rivals, func(r verify.Rival) bool {
		return slices.ContainsFunc(terminals, func(name string) bool {
			return slices.Contains(strings.FieldsFunc(r.Message+" "+r.Action, func(c rune) bool { return strings.ContainsRune(" ,;:", c) }), name)
		})
	})
}
