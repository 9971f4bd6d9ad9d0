package states

import (
	"path"
	"testing"

	"buzzout/examples"
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// example reads one of the notebooks of the examples.
func example(t testing.TB, name string) *netlist.Book {
	t.Helper()
	parse := func(name string) (*lang.File, error) {
		text, err := examples.Files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		return lang.Parse(diag.NewSource(name, string(text))), nil
	}
	file, err := parse(name)
	if err != nil {
		t.Fatal(err)
	}
	return netlist.Build(file, func(from, to string) (*lang.File, error) { return parse(path.Base(to)) })
}

// BenchmarkRules: all rules of this package on the demonstration amplifier, as
// they run after every fact.
func BenchmarkRules(b *testing.B) {
	book := example(b, "lantern-faults.buzzout")
	bench := book.Bench()
	meaning := book.Meanings()[0]
	for b.Loop() {
		verify.Run(Rules(), &verify.Case{Bench: bench, Meaning: meaning, Setting: bench.Setting})
	}
}

// BenchmarkMutes: what the inputs of the demonstration amplifier do to one
// another, from the book to the answer.
func BenchmarkMutes(b *testing.B) {
	for _, name := range []string{"lantern-built.buzzout", "lantern-faults.buzzout"} {
		book := example(b, name)
		bench := book.Bench()
		meaning := book.Meanings()[0]
		for _, of := range []struct {
			name string
			draw func(netlist.Setting) *netlist.Harness
		}{
			{"planned", func(s netlist.Setting) *netlist.Harness { return book.Planned(meaning, s) }},
			{"built", func(s netlist.Setting) *netlist.Harness { return bench.Built(meaning, s) }},
		} {
			b.Run(name+"/"+of.name, func(b *testing.B) {
				for b.Loop() {
					Mutes(of.draw, bench.Setting, netlist.NoTerminal)
				}
			})
		}
	}
}
