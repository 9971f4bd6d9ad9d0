package shell

import (
	"strings"
	"testing"
)

// With sources in dispute about several parts, a finding is told once, and says
// what it hangs on and nothing else.
func TestFindingsSayWhatTheyHangOn(t *testing.T) {
	text := cordAndPot + "part J1 jack\nnet hot J1.tip P1.cw\nnet cold J1.sleeve P1.ccw\nlead white J1.tip P1.red\nfit X1 none\n"
	got := holdsAll(t, text, "check", "That is so if bench is right about P1.", "Sources disagree about the leads of P1 and X1")
	if n := strings.Count(got, "The white lead"); n != 1 {
		t.Errorf("told %d times:\n%s", n, got)
	}
	if strings.Contains(got, "right about X1") {
		t.Errorf("it hangs on the cord as well:\n%s", got)
	}
}
