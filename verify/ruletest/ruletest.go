// Package ruletest is for the tests of packages that have rules: what every
// rule has to be, and notebooks that say in comments what is found where.
package ruletest

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"buzzout/verify"
)

var (
	wellFormed = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	foreign    = regexp.MustCompile(`(?i)\b(simply|just|obviously|nodes?|vertex|vertices|graphs?|lugs?|shield|plates?)\b`)
)

// Sound holds the names, titles and texts of a list of rules to what all have
// in common.
func Sound(t *testing.T, rules []verify.Rule) {
	t.Helper()
	names, titles := map[string]bool{}, map[string]bool{}
	for _, r := range rules {
		if !wellFormed.MatchString(r.Name) {
			t.Errorf("%q is no name of a rule: lower case and hyphens", r.Name)
		}
		if names[r.Name] {
			t.Errorf("two rules are called %s", r.Name)
		}
		names[r.Name] = true
		if r.Title == "" || titles[r.Title] || strings.HasSuffix(r.Title, ".") || len(r.Title) > 76 {
			t.Errorf("%s: the title %q is empty, long, not its own, or ends in a full stop", r.Name, r.Title)
		}
		titles[r.Title] = true
		if r.Judges < verify.Notebook || r.Judges > verify.Built {
			t.Errorf("%s does not say what it judges", r.Name)
		}
		if len(strings.Fields(r.Text)) < 25 {
			t.Errorf("%s: the text explains too little", r.Name)
		}
		for i, line := range strings.Split(r.Text, "\n") {
			if len([]rune(line)) > 78 {
				t.Errorf("%s: line %d of the text is wider than 78: %s", r.Name, i, line)
			}
			if strings.Contains(line, "\t") || strings.TrimRight(line, " ") != line {
				t.Errorf("%s: line %d of the text has a tab or ends in blanks", r.Name, i)
			}
		}
		if word := foreign.FindString(r.Text + r.Title); word != "" {
			t.Errorf("%s: the text says %q", r.Name, word)
		}
	}
}

// Files holds the files of the package under test to one rule a file: every
// rule has the file of its name, and every file of a rule is in the list.
func Files(t *testing.T, rules []verify.Rule) {
	t.Helper()
	vars := regexp.MustCompile(`(?m)^var \w+ = verify\.Rule\{\n\tName: +"([a-z-]+)"`)
	in := map[string]string{}
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		found := vars.FindAllStringSubmatch(string(text), -1)
		if len(found) > 1 {
			t.Errorf("%s holds more than one rule", f)
		}
		for _, m := range found {
			in[m[1]] = f
		}
	}
	for _, r := range rules {
		if want := strings.ReplaceAll(r.Name, "-", "_") + ".go"; in[r.Name] != want {
			t.Errorf("%s is in %q, not in %s", r.Name, in[r.Name], want)
		}
		delete(in, r.Name)
	}
	for name, f := range in {
		t.Errorf("%s in %s is not in the list", name, f)
	}
}

// Example gives the notebook that the text of a rule shows, "" where it shows
// none: the lines set in by four blanks, up to the next plain paragraph.
func Example(r verify.Rule) string {
	var lines []string
	for line := range strings.Lines(r.Text) {
		line = strings.TrimRight(line, "\n")
		if code, ok := strings.CutPrefix(line, "    "); ok {
			lines = append(lines, code)
		} else if line != "" && len(lines) > 0 {
			break
		} else if len(lines) > 0 {
			lines = append(lines, "")
		}
	}
	return strings.TrimRight(strings.Join(lines, "\n"), "\n")
}
