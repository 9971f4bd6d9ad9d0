package shell

import (
	"strings"
	"testing"
)

// A jack may be named alone at either end of a way: its tip is meant.
func TestFollowTakesAJackForItsTip(t *testing.T) {
	s := FromText("box.buzzout", smallBook+"part CH chassis\nnet ground CH.star\nlead red P1.wiper J2.tip\nlead black J1.sleeve P1.ccw J2.sleeve CH.star\n", ".")
	whole, _ := say(t, s, "follow J1.tip J2.tip")
	for _, line := range []string{"follow J1 J2", "follow J1.tip J2", "follow J1 J2 with P1 50%"} {
		got, status := say(t, s, line)
		if status > Bad || !strings.Contains(got, "J2.tip") || !strings.Contains(line, "with") && got != whole {
			t.Errorf("%s: status %d\n%s\nwant\n%s", line, status, got, whole)
		}
	}
	if got, status := say(t, s, "follow J1 P1"); status != NotUnderstood || !strings.Contains(got, "say which of its terminals") {
		t.Errorf("status %d\n%s", status, got)
	}
}
