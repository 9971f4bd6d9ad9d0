package shell

import (
	"strings"
	"testing"

	"buzzout/lang/diag"
	"buzzout/verify"
)

// Under one heading a reason is told once, and of remarks what to do about it;
// of a fault what to do is told each time, and of a danger everything.
func TestAReasonIsToldOnce(t *testing.T) {
	for _, c := range []struct {
		severity       diag.Severity
		reasons, mends int
	}{{diag.Remark, 1, 1}, {diag.Caution, 1, 3}, {diag.Fault, 1, 3}, {diag.Danger, 3, 3}} {
		var list []verify.Finding
		for _, lead := range []string{"first", "second", "third"} {
			list = append(list, verify.Finding{Rule: "wire-colour", Severity: c.severity, Message: "the " + lead + " lead is red",
				Cause: "A code has black", Action: "mark it"})
		}
		p := newPage(80, NoColour)
		p.group(list, 0)
		text := p.text.String()
		if n := strings.Count(text, "A code has black."); n != c.reasons {
			t.Errorf("%v: the reason is told %d times\n%s", c.severity, n, text)
		}
		if n := strings.Count(text, "To mend: mark it."); n != c.mends {
			t.Errorf("%v: what to do is told %d times\n%s", c.severity, n, text)
		}
	}
}
