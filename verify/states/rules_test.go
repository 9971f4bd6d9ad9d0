package states

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var (
	wellFormed = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	foreign    = regexp.MustCompile(`(?i)\b(simply|just|obviously|nodes?|vertex|vertices|graphs?|lugs?|shield|plates?)\b`)
)

func TestEveryRuleIsSound(t *testing.T) {
	names, titles := map[string]bool{}, map[string]bool{}
	for _, r := range Rules() {
		if !wellFormed.MatchString(r.Name) || names[r.Name] {
			t.Errorf("%q is no name of a rule, or not its own", r.Name)
		}
		names[r.Name] = true
		if r.Title == "" || titles[r.Title] || strings.HasSuffix(r.Title, ".") || len(r.Title) > 76 {
			t.Errorf("%s: the title %q is empty, long, not its own, or ends in a full stop", r.Name, r.Title)
		}
		titles[r.Title] = true
		if r.Judges != verify.Plan && r.Judges != verify.Built || r.Look == nil {
			t.Errorf("%s looks at neither plan nor wiring", r.Name)
		}
		for i, line := range strings.Split(r.Text, "\n") {
			if len([]rune(line)) > 78 || strings.Contains(line, "\t") || strings.TrimRight(line, " ") != line {
				t.Errorf("%s: line %d of the text is wider than 78, has a tab or ends in blanks: %s", r.Name, i, line)
			}
		}
		if word := foreign.FindString(r.Text + r.Title); word != "" {
			t.Errorf("%s: the text says %q", r.Name, word)
		}
		if !strings.Contains(r.Text, "\nTo check") && !strings.Contains(r.Text, "\nAlways measure") {
			t.Errorf("%s: the text does not say how to check it", r.Name)
		}
		// A source, the practice of the trade, or what it follows from.
		if !regexp.MustCompile(`common\s+practice,\s+no\s+source|was\s+read|follows\s+from|with\s+its\s+source`).MatchString(r.Text) {
			t.Errorf("%s: the text has no source", r.Name)
		}
	}
}

// Every rule has the file of its name, and every file of a rule is in the list.
func TestOneFileARule(t *testing.T) {
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
		for _, m := range vars.FindAllStringSubmatch(string(text), -1) {
			in[m[1]] = f
		}
	}
	for _, r := range Rules() {
		if want := strings.ReplaceAll(r.Name, "-", "_") + ".go"; in[r.Name] != want {
			t.Errorf("%s is in %q, not in %s", r.Name, in[r.Name], want)
		}
		delete(in, r.Name)
	}
	for name, f := range in {
		t.Errorf("%s in %s is not in the list", name, f)
	}
}

// exampleOf gives the notebook that the text of a rule shows: the lines set in
// by four blanks, up to the next plain paragraph.
func exampleOf(r verify.Rule) string {
	var lines []string
	for line := range strings.Lines(r.Text) {
		line = strings.TrimRight(line, "\n")
		if code, ok := strings.CutPrefix(line, "    "); ok {
			lines = append(lines, code)
		} else if line != "" && len(lines) > 0 {
			break
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

// check runs the rules of this package on a notebook as it stands.
func check(book *netlist.Book) []verify.Finding {
	bench := book.Bench()
	return verify.Run(Rules(), &verify.Case{Bench: bench, Meaning: book.Meanings()[0], Setting: bench.Setting})
}

// The example of a text can be read, and triggers its rule.
func TestExamplesTriggerTheirRules(t *testing.T) {
	for _, r := range Rules() {
		t.Run(r.Name, func(t *testing.T) {
			book := read(t, exampleOf(r))
			hit := false
			for _, f := range check(book) {
				hit = hit || f.Rule == r.Name
				sound(t, book, f)
			}
			if !hit {
				t.Error("the example does not trigger it")
			}
		})
	}
}

// The notebooks of testdata/rules say in comments what is found where:
//
//	net grid V1.2 R1.1   # want input-floats "floats with J1 in"
//
// as "want caution RULE" where the severity matters. The place is that of the
// first fact. Missing findings and extra ones both fail.
func TestNotebooks(t *testing.T) {
	files, err := filepath.Glob("testdata/rules/*.buzzout")
	if err != nil || len(files) == 0 {
		t.Fatal("no notebooks", err)
	}
	for _, path := range files {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".buzzout"), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			book := netlist.Build(lang.Parse(diag.NewSource(filepath.Base(path), string(text))), nil)
			for _, m := range book.Mistakes {
				t.Errorf("%s: %s: %s", m.Place, m.Rule, m.Message)
			}
			wanted := readWants(t, string(text))
			for _, f := range check(book) {
				sound(t, book, f)
				if !meet(wanted, f) {
					t.Errorf("line %d: not wanted: %s (%s): %s %q", f.Place().Position().Line, f.Rule, f.Severity, f.Message, f.Settings)
				}
			}
			for _, w := range wanted {
				if !w.met {
					t.Errorf("line %d: wanted and not found: %s %q", w.line, w.rule, w.pattern)
				}
			}
		})
	}
}

type want struct {
	line     int
	severity string
	rule     string
	pattern  *regexp.Regexp
	met      bool
}

var wantForm = regexp.MustCompile(`\bwant (?:(danger|fault|caution|remark) )?([a-z-]+) ("(?:[^"\\]|\\.)*")`)

func readWants(t *testing.T, text string) []*want {
	var list []*want
	for i, line := range strings.Split(text, "\n") {
		_, comment, ok := strings.Cut(line, "# want ")
		if !ok {
			continue
		}
		found := wantForm.FindAllStringSubmatch("want "+comment, -1)
		if len(found) == 0 {
			t.Fatalf("line %d: this want cannot be read: %s", i+1, comment)
		}
		for _, m := range found {
			pattern, err := strconv.Unquote(m[3])
			if err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
			list = append(list, &want{line: i + 1, severity: m[1], rule: m[2], pattern: regexp.MustCompile(pattern)})
		}
	}
	return list
}

func meet(wanted []*want, f verify.Finding) bool {
	told := f.Message + " | " + strings.Join(f.Settings, "; ")
	for _, w := range wanted {
		if !w.met && w.rule == f.Rule && w.line == f.Place().Position().Line && w.pattern.MatchString(told) &&
			(w.severity == "" || w.severity == f.Severity.String()) {
			w.met = true
			return true
		}
	}
	return false
}

// sound is what every finding has to be.
func sound(t *testing.T, book *netlist.Book, f verify.Finding) {
	t.Helper()
	complain := func(format string, args ...any) {
		t.Errorf("%s (%s): %s", f.Rule, f.Message, fmt.Sprintf(format, args...))
	}
	if f.Severity < diag.Danger || f.Severity > diag.Remark || f.ToDo {
		complain("it has no severity, or is a thing to do")
	}
	if f.Message == "" || strings.HasSuffix(f.Message, ".") {
		complain("the message is empty or ends in a full stop")
	}
	if len(f.Evidence) == 0 || len(f.Terminals) == 0 {
		complain("it rests on no fact, or names no terminal")
	}
	for _, note := range f.Evidence {
		if !note.Place.Known() || note.Text == "" {
			complain("a fact has no place or no text")
		}
	}
	for _, net := range f.Nets {
		if book.NetNamed(net) == nil {
			complain("net %s is none", net)
		}
	}
	if f.Cause == "" || !strings.HasSuffix(f.Cause, ".") {
		complain("the cause is no sentence: %s", f.Cause)
	}
	for _, s := range []string{f.Action, f.Check} {
		if s == "" || strings.HasSuffix(s, ".") {
			complain("%q is empty or ends in a full stop", s)
		}
	}
	if slices.Contains(f.Settings, "") {
		complain("a setting is empty")
	}
}

// Every rule has a notebook that triggers it and one in which all is well.
func TestEveryRuleHasItsNotebooks(t *testing.T) {
	for _, r := range Rules() {
		wants := regexp.MustCompile(`# want .*\b` + r.Name + ` "`)
		bad, err := os.ReadFile("testdata/rules/" + r.Name + ".buzzout")
		if err != nil || !wants.Match(bad) {
			t.Errorf("%s.buzzout does not want it: %v", r.Name, err)
		}
		good, err := os.ReadFile("testdata/rules/" + r.Name + "-well.buzzout")
		if err != nil || wants.Match(good) {
			t.Errorf("%s-well.buzzout wants it: %v", r.Name, err)
		}
	}
}

// What is well wired stays without danger and fault, and what is told of it
// is told here, so that nobody is surprised.
func TestDemonstrationIsWell(t *testing.T) {
	for name, want := range map[string][]string{
		"lantern-plan.buzzout":  nil,
		"lantern-built.buzzout": nil,
		"lantern-half.buzzout":  nil,
		"two-inputs.buzzout":    nil,
		"practice.buzzout":      nil,
	} {
		book := example(t, name)
		var got []string
		for _, f := range check(book) {
			sound(t, book, f)
			got = append(got, fmt.Sprintf("%s %s: %s %q", f.Severity, f.Rule, f.Message, f.Settings))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\nwant:\n%s", name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}
