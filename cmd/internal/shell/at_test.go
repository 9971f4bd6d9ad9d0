package shell

import (
	"strings"
	"testing"
)

// A tag carries whatever is soldered to it: that it is on no net is no news,
// which nets it has become part of is.
func TestATagNeedsNoNet(t *testing.T) {
	s := FromText("box.buzzout", smallBook+`part TS1 tagstrip 7
part CH chassis
part R1 resistor 68k
lead red P1.wiper TS1.5
lead black J1.sleeve TS1.6
lead black TS1.6 TS1.7
lead white J1.tip TS1.7
bolt CH.star CH.foot
`, ".")
	if faults(s.Mistakes()) > 0 {
		t.Fatal(s.Mistakes())
	}
	for _, c := range []struct{ line, says, not string }{
		{"at TS1.5", "It is a tag, and carries whatever is soldered there; it needs no net of its own. On the bench it meets terminals of net wiper.", "On no net"},
		{"at TS1.7", "meets terminals of the nets hot and ground.", "On no net"},
		{"at TS1.2", "needs no net of its own.\n", "it meets"},
		{"at CH.star", "It is a bolt", "On no net"},
		{"at R1.1", "On no net of the plan.", "tag"},
		{"at J1.tip", "Drawn on net hot", "tag,"},
	} {
		got, status := say(t, s, c.line)
		if status > Bad || !strings.Contains(got, c.says) || strings.Contains(got, c.not) {
			t.Errorf("%s: status %d\n%s\nwant %q", c.line, status, got, c.says)
		}
	}
}
