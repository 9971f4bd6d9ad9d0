package follow

import (
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// read builds a book that must be free of mistakes.
func read(t testing.TB, text string) *netlist.Book {
	t.Helper()
	return sound(t, netlist.Build(lang.Parse(diag.NewSource("lesson.buzzout", text)), nil))
}

func sound(t testing.TB, b *netlist.Book) *netlist.Book {
	t.Helper()
	for _, m := range b.Mistakes {
		if m.Severity == diag.Fault || m.Severity == 0 {
			t.Fatalf("%s: %s: %s", m.Place, m.Rule, m.Message)
		}
	}
	return b
}

// open builds the book of a file, after edit has had its way with the text.
func open(t testing.TB, path string, edit func(string) string) *netlist.Book {
	t.Helper()
	return sound(t, openAny(t, path, edit))
}

// openAny takes the book with all its mistakes.
func openAny(t testing.TB, path string, edit func(string) string) *netlist.Book {
	t.Helper()
	load := func(path string) (string, error) {
		text, err := os.ReadFile(path)
		return string(text), err
	}
	text, err := load(path)
	if err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		text = edit(text)
	}
	opener := func(_, name string) (*lang.File, error) {
		used, err := load(filepath.Join(filepath.Dir(path), name))
		if err != nil {
			return nil, err
		}
		return lang.Parse(diag.NewSource(name, used)), nil
	}
	return netlist.Build(lang.Parse(diag.NewSource(filepath.Base(path), text)), opener)
}

func terminal(t testing.TB, b *netlist.Book, name string) netlist.TerminalID {
	t.Helper()
	x, problem, _ := b.Terminal(name)
	if problem != "" {
		t.Fatalf("%s: %s", name, problem)
	}
	return x
}

// seatedAll is the setting with every valve in its holder.
func seatedAll(b *netlist.Book) netlist.Setting {
	s := netlist.Setting{}
	for _, p := range b.Parts {
		if p.Kind.Seat >= 0 {
			s[netlist.ControlRef{Part: p, Control: p.Kind.Seat}] = seated(p)
		}
	}
	return s
}

// flowOf is the flow through the plan of a book.
func flowOf(t testing.TB, b *netlist.Book, from string) *flow {
	t.Helper()
	s := seatedAll(b).With(b.Bench().Setting)
	return newFlow(newNetwork(b.Planned(b.Meanings()[0], s), s, terminal(t, b, from), netlist.NoTerminal))
}

// exact is the signal at a terminal with all valves at work at once and all
// feedback, of one volt at the source.
func (f *flow) exact(t testing.TB, name string) complex128 {
	t.Helper()
	x := terminal(t, f.book, name)
	all := make([]int, len(f.valves))
	for i := range all {
		all[i] = i
	}
	v := f.volts(&f.rest, x)
	for i, u := range drive(f.w, all, f.direct) {
		v += f.volts(&f.each[i], x) * u * complex(f.valves[i].figures.Slope, 0)
	}
	return v
}

// with lends a kind of valve figures for one test.
func with(t *testing.T, kind string, f Figures) {
	t.Helper()
	before, had := published[kind]
	published[kind] = f
	t.Cleanup(func() {
		delete(published, kind)
		if had {
			published[kind] = before
		}
	})
}

func near(t *testing.T, what string, got, want complex128, tolerance float64) {
	t.Helper()
	if cmplx.Abs(got-want) > tolerance*cmplx.Abs(want) || math.IsNaN(cmplx.Abs(got)) {
		t.Errorf("%s: %.6g, want %.6g within %g %%", what, got, want, tolerance*100)
	}
}

// drawn draws the plan in a setting.
func drawn(b *netlist.Book, m netlist.Meaning) func(netlist.Setting) *netlist.Harness {
	return func(s netlist.Setting) *netlist.Harness { return b.Planned(m, s) }
}

// ask follows a signal through the plan of a book; setting facts hold.
func ask(t testing.TB, b *netlist.Book, from string) *Way {
	t.Helper()
	m := b.Meanings()[0]
	return Signal(Question{
		Book: b, Setting: b.Bench().Setting, From: terminal(t, b, from), To: netlist.NoTerminal,
		Draw: drawn(b, m),
	})
}

// askBuilt follows it through the wiring on the bench, compared with the plan.
func askBuilt(t testing.TB, b *netlist.Book, from string, asked netlist.Setting) *Way {
	t.Helper()
	m := b.Meanings()[0]
	bench := b.Bench()
	return Signal(Question{
		Book: b, Setting: bench.Setting, Asked: asked, From: terminal(t, b, from), To: netlist.NoTerminal,
		Draw: func(s netlist.Setting) *netlist.Harness { return bench.Built(m, s) },
		Plan: drawn(b, m),
	})
}

// told puts steps into a line each: "V1.2>V1.1-" is passed and behind it the
// signal is upside down.
func told(b *netlist.Book, steps []Step) []string {
	var list []string
	for _, s := range steps {
		text := ""
		if s.In != netlist.NoTerminal {
			text = b.Name(s.In)
		}
		if s.Out != netlist.NoTerminal {
			text += ">" + b.Name(s.Out)
		}
		if s.Over {
			list = append(list, text+"-")
		} else {
			list = append(list, text+"+")
		}
	}
	return list
}
