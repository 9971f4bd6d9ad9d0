package states

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify"
	"buzzout/verify/ruletest"
)

// sourced is a source, the practice of the trade, or what a text follows from.
var sourced = regexp.MustCompile(`common\s+practice,\s+no\s+source|was\s+read|follows\s+from|with\s+its\s+source`)

func TestEveryRuleIsSound(t *testing.T) {
	ruletest.Sound(t, Rules())
	for _, r := range Rules() {
		if r.Judges == verify.Notebook || r.Look == nil {
			t.Errorf("%s looks at neither plan nor wiring", r.Name)
		}
		if !strings.Contains(r.Text, "\nTo check") && !strings.Contains(r.Text, "\nAlways measure") {
			t.Errorf("%s: the text does not say how to check it", r.Name)
		}
		if !sourced.MatchString(r.Text) {
			t.Errorf("%s: the text has no source", r.Name)
		}
	}
}

func TestOneFileARule(t *testing.T) { ruletest.Files(t, Rules()) }

func TestNotebooks(t *testing.T) { ruletest.Notebooks(t, "testdata/rules", check) }

func TestEveryRuleHasItsNotebooks(t *testing.T) { ruletest.Pairs(t, "testdata/rules", Rules()) }

// check runs the rules of this package on a notebook as it stands.
func check(book *netlist.Book) []verify.Finding {
	bench := book.Bench()
	return verify.Run(Rules(), &verify.Case{Bench: bench, Meaning: book.Meanings()[0], Setting: bench.Setting})
}

// The example of a text can be read, and triggers its rule; what is found is
// told in full.
func TestExamplesTriggerTheirRules(t *testing.T) {
	for _, r := range Rules() {
		t.Run(r.Name, func(t *testing.T) {
			book := read(t, ruletest.Example(r)+"\n")
			hit := false
			for _, f := range check(book) {
				hit = hit || f.Rule == r.Name
				ruletest.Finding(t, book, f)
				if f.ToDo || len(f.Terminals) == 0 || f.Cause == "" || f.Action == "" || f.Check == "" {
					t.Errorf("%s lacks a terminal, a cause, what to do or how to be sure: %+v", f.Rule, f)
				}
			}
			if !hit {
				t.Error("the example does not trigger it")
			}
		})
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
			ruletest.Finding(t, book, f)
			got = append(got, fmt.Sprintf("%s %s: %s %q", f.Severity, f.Rule, f.Message, f.Settings))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\nwant:\n%s", name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}
