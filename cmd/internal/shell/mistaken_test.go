package shell

import (
	"os"
	"strings"
	"testing"

	"buzzout/lang/diag"
	"buzzout/verify"
)

// A mistyped line of the plan makes a good joint look wrong: every answer says
// that it may hang on that line, check once beside its verdict.
func TestWhatMayFollowFromAMistake(t *testing.T) {
	typo := strings.Replace(smallBook, "net wiper  P1.wiper", "net wiper  P1.wipre", 1) + "lead red P1.wiper J2.tip\n"
	s, path := onDisk(t, typo)
	for _, c := range []struct{ line, says string }{
		{"check", "The notebook has 1 mistake; what is told of plan and wiring may follow from it. Mend the notebook before anything is undone at the bench."},
		{"check not-on-drawing", "may follow from it. Mend"},
		{"compare", "may follow from it (check tells it)."},
		{"todo", "may follow from it (check tells it)."},
	} {
		got, status := say(t, s, c.line)
		if strings.Count(got, c.says) != 1 || strings.Count(got, "may follow from") != 1 || status != NotUnderstood {
			t.Errorf("%s: status %d\n%s", c.line, status, got)
		}
	}
	if err := os.WriteFile(path, []byte(typo+"net more Q1.1\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	got, _ := say(t, s, "reload")
	if strings.Count(got, "2 mistakes") != 1 || !strings.Contains(got, "(check tells them)") || strings.Contains(got, "another program") {
		t.Errorf("got\n%s", got)
	}
}

func TestVerdictInWords(t *testing.T) {
	for _, c := range []struct {
		answer checkAnswer
		want   string
	}{
		{checkAnswer{}, "Nothing wrong."},
		{checkAnswer{Summary: tallyOf{Caution: 1}}, "1 caution, and nothing wrong."},
		{checkAnswer{Rule: "fuse-end"}, "fuse-end finds nothing."},
		{checkAnswer{Rule: "fuse-end", Summary: tallyOf{Caution: 1}}, "fuse-end finds 1 caution, and nothing worse."},
		{checkAnswer{Rule: "bridged", Summary: tallyOf{Fault: 2}}, "2 faults."},
	} {
		got := ""
		for _, s := range c.answer.verdict() {
			got += s.text
		}
		if got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestMoreIsNoPlural(t *testing.T) {
	var list []verify.Finding
	for range mostShown + 5 {
		list = append(list, verify.Finding{Rule: "idle-contact", Severity: diag.Caution, Message: "x"})
	}
	for range 2 {
		list = append(list, verify.Finding{Rule: "idle-part", Severity: diag.Caution, Message: "x"})
	}
	p := newPage(80, NoColour)
	p.findings(list, false)
	if got := p.text.String(); strings.Contains(got, "mores") || !strings.Contains(got, "and 5 more: check idle-contact") ||
		!strings.Contains(got, "And 2 more, by idle-part:") {
		t.Error(got)
	}
}
