package ruletest

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// Notebooks reads the notebooks of a folder, which say in comments what a check
// finds where:
//
//	lead green V1.2 TB1.5   # want goes-nowhere "ends at TB1.5"
//
// The rule, then a pattern of its message and, behind a bar, its settings;
// "want todo RULE" where it is a thing to do, "want danger RULE" and so on
// where the severity matters. The place is that of the first fact. Missing
// findings and extra ones both fail, of all rules and not only of the one that
// the notebook is named after.
func Notebooks(t *testing.T, folder string, check func(*netlist.Book) []verify.Finding) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*.buzzout"))
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
			for _, d := range book.Mistakes {
				t.Errorf("%s: %s: %s", d.Place, d.Rule, d.Message)
			}
			wanted := readWants(t, string(text))
			for _, f := range check(book) {
				Finding(t, book, f)
				if !meet(wanted, f) {
					t.Errorf("line %d: not wanted: %s (%s): %s", f.Place().Position().Line, f.Rule, f.Severity, told(f))
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

var wantForm = regexp.MustCompile(`\bwant (?:(todo|danger|fault|caution|remark) )?([a-z-]+) ("(?:[^"\\]|\\.)*")`)

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

// told is what the pattern of a want is held to.
func told(f verify.Finding) string {
	if len(f.Settings) == 0 {
		return f.Message
	}
	return f.Message + " | " + strings.Join(f.Settings, "; ")
}

func meet(wanted []*want, f verify.Finding) bool {
	for _, w := range wanted {
		if w.met || w.rule != f.Rule || w.line != f.Place().Position().Line || !w.pattern.MatchString(told(f)) {
			continue
		}
		if w.severity != "" && w.severity != "todo" && w.severity != f.Severity.String() {
			continue
		}
		if f.ToDo != (w.severity == "todo") {
			continue
		}
		w.met = true
		return true
	}
	return false
}

// Finding holds a finding to what every one has to be.
func Finding(t *testing.T, book *netlist.Book, f verify.Finding) {
	t.Helper()
	complain := func(format string, args ...any) {
		t.Errorf("%s (%s): %s", f.Rule, f.Message, fmt.Sprintf(format, args...))
	}
	if f.Severity < diag.Danger || f.Severity > diag.Remark {
		complain("it has no severity")
	}
	if f.Message == "" || strings.HasSuffix(f.Message, ".") {
		complain("the message is empty or ends in a full stop")
	}
	if len(f.Evidence) == 0 {
		complain("it rests on no fact")
	}
	for _, note := range f.Evidence {
		if !note.Place.Known() || note.Text == "" {
			complain("a fact has no place or no text")
		}
	}
	if f.Action == "" && f.Cause == "" {
		complain("it says neither what to do nor why")
	}
	for _, id := range f.Terminals {
		if id < 0 || int(id) >= len(book.Terminals) {
			complain("terminal %d is none", id)
		}
	}
	for _, net := range f.Nets {
		if book.NetNamed(net) == nil {
			complain("net %s is none", net)
		}
	}
	for _, s := range f.Settings {
		if s == "" {
			complain("a setting is empty")
		}
	}
	if f.Cause != "" && !strings.HasSuffix(f.Cause, ".") {
		complain("the cause is no sentence: %s", f.Cause)
	}
	for _, s := range []string{f.Action, f.Check} {
		if strings.HasSuffix(s, ".") {
			complain("%q ends in a full stop", s)
		}
	}
}

// Pairs holds every rule that looks to two notebooks of a folder: NAME.buzzout
// wants it, and in NAME-well.buzzout it is not found, or only as a thing to do.
func Pairs(t *testing.T, folder string, rules []verify.Rule) {
	t.Helper()
	for _, r := range rules {
		if r.Look == nil {
			continue
		}
		wants := regexp.MustCompile(`\bwant (?:(todo|danger|fault|caution|remark) )?` + r.Name + ` "`)
		bad, err := os.ReadFile(filepath.Join(folder, r.Name+".buzzout"))
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
		} else if !wants.Match(bad) {
			t.Errorf("%s.buzzout does not want it", r.Name)
		}
		good, err := os.ReadFile(filepath.Join(folder, r.Name+"-well.buzzout"))
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		for _, m := range wants.FindAllSubmatch(good, -1) {
			if string(m[1]) != "todo" {
				t.Errorf("%s-well.buzzout wants it, and not as a thing to do", r.Name)
			}
		}
	}
}
