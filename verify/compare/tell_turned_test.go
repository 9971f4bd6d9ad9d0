package compare

import (
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A part with legs is turned round; one that is bolted into a panel has its wires
// exchanged.
func TestPartsTheOtherWayRound(t *testing.T) {
	for _, c := range []struct{ text, message, action string }{
		{`part J1, J2 jack
part P1 pot 1M log
net hot J1.tip P1.cw
net wiper P1.wiper J2.tip
net ground J1.sleeve P1.ccw J2.sleeve
lead white J1.tip P1.ccw
lead white P1.wiper J2.tip
lead black J1.sleeve P1.cw J2.sleeve
`, "P1 is wired the other way round: what is at P1.ccw belongs at P1.cw, and the other way about", "exchange what is at P1.ccw and at P1.cw"},
		{`part C1 electrolytic 22u
part IN, OUT, A, B post
net in IN C1.+ A
net out OUT C1.- B
lead red IN A
lead red OUT B
fit C1 + OUT - IN
`, "C1 sits the other way round", "turn C1 round"},
	} {
		book := netlist.Build(lang.Parse(diag.NewSource("turned.buzzout", c.text)), nil)
		for _, m := range book.Mistakes {
			t.Fatal(m.Message)
		}
		found := Compare(book.Bench(), book.Meanings()[0]).Findings
		if len(found) != 1 || found[0].Rule != "reversed" || found[0].Message != c.message || found[0].Action != c.action {
			t.Errorf("%s%+v", c.text, found)
		}
	}
}
