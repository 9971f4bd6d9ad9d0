package shell

import (
	"strings"
	"testing"
)

// A lead of a spare tap that is where another tap's lead belongs is one slip,
// however it is fixed there, and told once.
func TestSpareTapInPlaceOfAnother(t *testing.T) {
	const box = `
part T2 transformer {
    winding primary a b
    winding secondary 0 4ohm 8ohm
}
part LS1 loudspeaker 8
part P, Q post
colours T2 sheet { black 0, green 4ohm, yellow 8ohm, red a, blue b }
net speaker T2.8ohm LS1.+
net common  T2.0 LS1.-
net a T2.a P
net b T2.b Q
spare T2.4ohm
solder LS1.- T2.black
solder T2.red P
solder T2.blue Q
`
	for _, joint := range []string{"solder LS1.+ T2.green", "lead red LS1.+ T2.green"} {
		found := FromText("box.buzzout", box+joint+"\n", ".").verdict().findings
		if len(found) != 1 || found[0].Rule != "misplaced" || !strings.Contains(found[0].Message, "the lead T2.green is at LS1.+, where net speaker wants T2.yellow") {
			t.Errorf("%s: found %+v", joint, found)
		}
	}
}
