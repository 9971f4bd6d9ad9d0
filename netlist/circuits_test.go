package netlist

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// TestPublishedCircuits holds the plans of testdata/circuits to their sources:
// seven published circuits as data, each naming where it was found. Every net
// of the data has to be one net of the plan, with these pins and no others,
// and there have to be as many.
func TestPublishedCircuits(t *testing.T) {
	files, err := filepath.Glob("../testdata/circuits/*.json")
	if err != nil || len(files) != 7 {
		t.Fatalf("%d circuits, want 7: %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".json"), func(t *testing.T) {
			var source struct {
				Nets []struct {
					Name string
					Pins []string
				}
			}
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(text, &source); err != nil {
				t.Fatal(err)
			}
			plan := strings.TrimSuffix(file, ".json") + "-plan.buzzout"
			notebook, err := os.ReadFile(plan)
			if err != nil {
				t.Fatal(err)
			}
			b := Build(lang.Parse(diag.NewSource(plan, string(notebook))), nil)
			for _, m := range b.Mistakes {
				t.Errorf("%s: %s", m.Place, m.Message)
			}
			if len(b.Nets) != len(source.Nets) {
				t.Errorf("the plan has %d nets, the source %d", len(b.Nets), len(source.Nets))
			}
			for _, n := range source.Nets {
				members := map[TerminalID]bool{}
				net := NoNet
				for _, pin := range n.Pins {
					id, problem, _ := b.Terminal(pin)
					if id == NoTerminal {
						// A part of one terminal goes by its reference.
						ref, _, _ := strings.Cut(pin, ".")
						if id, _, _ = b.Terminal(ref); id == NoTerminal {
							t.Errorf("net %s: %s: %s", n.Name, pin, problem)
							continue
						}
					}
					if net == NoNet {
						net = b.Net(id)
					}
					if b.Net(id) != net || net == NoNet {
						t.Errorf("net %s: %s is not on the net of %s", n.Name, pin, n.Pins[0])
					}
					members[id] = true
				}
				if net == NoNet {
					continue
				}
				for _, m := range b.Nets[net].Members {
					if !members[m.Terminal] {
						t.Errorf("net %s: the plan has %s as well", n.Name, b.Name(m.Terminal))
					}
				}
			}
		})
	}
}

// BenchmarkBuild resolves the built demo: some 340 facts of three books.
func BenchmarkBuild(b *testing.B) {
	const folder = "../examples/"
	files := map[string]*lang.File{}
	open := func(_, path string) (*lang.File, error) {
		if f, ok := files[path]; ok {
			return f, nil
		}
		text, err := os.ReadFile(folder + path)
		if err != nil {
			return nil, err
		}
		files[path] = lang.Parse(diag.NewSource(path, string(text)))
		return files[path], nil
	}
	main, err := open("", "lantern-built.buzzout")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Build(main, open)
	}
}

// BenchmarkHarness draws a published circuit as built and finds its conductors.
func BenchmarkHarness(b *testing.B) {
	text, err := os.ReadFile("../testdata/circuits/power-amp-el84-ultralinear-built.buzzout")
	if err != nil {
		b.Fatal(err)
	}
	book := Build(lang.Parse(diag.NewSource("built", string(text))), func(_, path string) (*lang.File, error) {
		text, err := os.ReadFile("../testdata/circuits/" + path)
		return lang.Parse(diag.NewSource(path, string(text))), err
	})
	bench, m := book.Bench(), book.Meanings()[0]
	for b.Loop() {
		bench.Built(m, nil).Islands()
	}
}
