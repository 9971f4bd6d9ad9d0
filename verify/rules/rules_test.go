package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
	"buzzout/verify/ruletest"
)

var (
	// fromComparison are the rules that comparison finds; their examples are
	// tried beside it.
	fromComparison = []string{"missing-joint", "misplaced", "exchanged", "bridged", "reversed", "pins-shifted", "unfitted", "not-on-drawing", "ends-exchanged", "left-out"}
	// withoutExample are rules that no short notebook can show.
	withoutExample = []string{"not-text", "too-long", "too-many-mistakes", "wrong-question", "bad-question", "cannot-read", "cannot-write", "given-up"}
)

func TestEveryRuleIsSound(t *testing.T) {
	ruletest.Sound(t, All())
	for _, r := range All() {
		if r.Judges == verify.Notebook != (r.Look == nil && !slices.Contains(fromComparison, r.Name)) {
			t.Errorf("%s: only rules found by reading the notebook judge it, and they have no Look", r.Name)
		}
	}
}

func TestOneFileARule(t *testing.T) { ruletest.Files(t, All()) }

// No rule calls another: in no file is the Look or the look function of a
// rule of another file named.
func TestNoRuleCallsAnother(t *testing.T) {
	set := token.NewFileSet()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	looks := map[string]string{}
	for _, r := range All() {
		if r.Look != nil {
			full := runtime.FuncForPC(reflect.ValueOf(r.Look).Pointer()).Name()
			looks[full[strings.LastIndexByte(full, '.')+1:]] = strings.ReplaceAll(r.Name, "-", "_") + ".go"
		}
	}
	if len(looks) < 20 {
		t.Fatalf("only %d look functions were found", len(looks))
	}
	for _, name := range files {
		f, err := parser.ParseFile(set, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok && looks[id.Name] != "" && looks[id.Name] != name {
				t.Errorf("%s names %s, the look of another rule", name, id.Name)
			}
			if sel, ok := n.(*ast.SelectorExpr); ok && sel.Sel.Name == "Look" && !strings.HasSuffix(name, "_test.go") {
				t.Errorf("%s calls the Look of a rule", name)
			}
			return true
		})
	}
}

// build reads a notebook for a test; books in testdata can be used.
func build(t testing.TB, name, text string) *netlist.Book {
	t.Helper()
	file := lang.Parse(diag.NewSource(name, text), "todo")
	return netlist.Build(file, func(_, path string) (*lang.File, error) {
		data, err := os.ReadFile(filepath.Join("testdata", path))
		if err != nil {
			return nil, err
		}
		return lang.Parse(diag.NewSource(path, string(data)), "todo"), nil
	})
}

// check runs all rules on a notebook as it stands, under its first meaning.
func check(book *netlist.Book) []verify.Finding {
	bench := book.Bench()
	return verify.Run(All(), &verify.Case{Bench: bench, Meaning: book.Meanings()[0], Setting: bench.Setting})
}

// The example of a text triggers its rule, and can be read.
func TestExamplesTriggerTheirRules(t *testing.T) {
	for _, r := range All() {
		t.Run(r.Name, func(t *testing.T) {
			text := ruletest.Example(r)
			if slices.Contains(withoutExample, r.Name) {
				if text != "" {
					t.Error("there is an example after all: take the rule off the list of those without")
				}
				return
			}
			if text == "" {
				t.Fatal("the text has no example")
			}
			book := build(t, "example", text)
			if r.Judges == verify.Notebook {
				if !slices.ContainsFunc(book.Mistakes, func(d diag.Diagnostic) bool { return d.Rule == r.Name }) {
					t.Errorf("the example does not trigger it; it gives %v", book.Mistakes)
				}
				return
			}
			for _, d := range book.Mistakes {
				t.Errorf("%s: %s: %s", d.Place, d.Rule, d.Message)
			}
			if r.Look == nil {
				return
			}
			found := check(book)
			if !slices.ContainsFunc(found, func(f verify.Finding) bool { return f.Rule == r.Name && !f.ToDo }) {
				t.Errorf("the example does not trigger it; it gives %v", ruleNames(found))
			}
		})
	}
}

func ruleNames(found []verify.Finding) []string {
	var list []string
	for _, f := range found {
		list = append(list, f.Rule+": "+f.Message)
	}
	return list
}
