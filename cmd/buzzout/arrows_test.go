package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// arrows are what each package of the project may import of the project. A
// package that is not here is not meant to exist; "…/" stands for any package
// below.
var arrows = map[string][]string{
	"lang/diag":             {},
	"lang":                  {"lang/diag"},
	"netlist/conn":          {},
	"netlist/parts":         {"lang", "lang/diag"},
	"netlist":               {"netlist/parts", "netlist/conn", "lang", "lang/diag"},
	"verify":                {"netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/compare":        {"verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/follow":         {"verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/legend":         {"verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/meter":          {"verify/meter/ohms", "verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/meter/ohms":     {},
	"verify/diagnose":       {"verify/meter", "verify/meter/ohms", "verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/states":         {"verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/ruletest":       {"verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"verify/rules":          {"verify", "netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"examples":              {},
	"cmd/internal/console":  {},
	"cmd/internal/notebook": {"lang/diag"},
	"cmd/internal/shell": {"cmd/internal/console", "cmd/internal/notebook", "examples", "verify/compare", "verify/rules", "verify/states", "verify/follow", "verify/meter", "verify/diagnose", "verify/legend", "verify",
		"netlist", "netlist/conn", "netlist/parts", "lang", "lang/diag"},
	"cmd/buzzout": {"cmd/internal/shell", "cmd/internal/console", "cmd/internal/notebook", "examples"},
}

// doors are the packages that alone may import a library; the tests of others
// may not either.
var doors = map[string]string{
	"github.com/chzyer/readline":          "cmd/internal/console",
	"github.com/alecthomas/participle/v2": "lang",
	"github.com/dominikbraun/graph":       "netlist/conn",
}

func TestArrowsRunOneWay(t *testing.T) {
	const module = "buzzout/"
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}} {{join .TestImports " "}} {{join .XTestImports " "}}|{{join .Imports " "}}`, "buzzout/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(out)) {
		all, own, _ := strings.Cut(strings.TrimSpace(line), "|")
		name, imports, _ := strings.Cut(all, " ")
		name = strings.TrimPrefix(name, module)
		allowed, known := arrows[name]
		if !known {
			t.Errorf("package %s has no place in the map of the house", name)
			continue
		}
		for _, path := range strings.Fields(own) {
			if inner, ok := strings.CutPrefix(path, module); ok && !slices.Contains(allowed, inner) {
				t.Errorf("%s imports %s: against the arrows", name, inner)
			}
		}
		for _, path := range strings.Fields(imports) {
			for library, door := range doors {
				if (path == library || strings.HasPrefix(path, library+"/")) && name != door {
					t.Errorf("%s imports %s, whose only door is %s", name, library, door)
				}
			}
		}
	}
}
