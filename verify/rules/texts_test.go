package rules

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// No diagnostic and no finding anywhere in the tree names a rule that the
// list does not have: explain would have nothing to say of it. The sources
// are scanned for Rule fields and for constants called rule….
func TestEveryNameInTheTreeHasAText(t *testing.T) {
	known := map[string]bool{}
	for _, r := range All() {
		known[r.Name] = true
	}
	seen := map[string]bool{}
	set := token.NewFileSet()
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." && path != "../.." {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return nil // a file that does not compile is found by the compiler
		}
		for _, name := range namedRules(file) {
			seen[name] = true
			if !known[name] {
				t.Errorf("%s names the rule %s, which has no text", path, name)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if !seen["unknown-name"] || !seen["unknown-word"] {
		t.Error("the scan has not seen the names that it must see")
	}
}

func namedRules(file *ast.File) []string {
	var names []string
	add := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil && s != "" {
				names = append(names, s)
			}
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.KeyValueExpr:
			if id, ok := n.Key.(*ast.Ident); ok && id.Name == "Rule" {
				add(n.Value)
			}
		case *ast.AssignStmt:
			for i, left := range n.Lhs {
				if sel, ok := left.(*ast.SelectorExpr); ok && sel.Sel.Name == "Rule" && i < len(n.Rhs) {
					add(n.Rhs[i])
				}
			}
		case *ast.ValueSpec:
			for i, id := range n.Names {
				if strings.HasPrefix(id.Name, "rule") && i < len(n.Values) {
					add(n.Values[i])
				}
			}
		}
		return true
	})
	return names
}
