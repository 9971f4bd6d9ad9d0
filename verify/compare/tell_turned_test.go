package compare

import (
	"strconv"
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

// Where all wires of a socket are off, what is missing there is told by the pin
// as it is counted and by the one that it stands for.
func TestWhatIsMissingAtAShiftedSocket(t *testing.T) {
	text := "part J1 connector-ring 8\npart CH chassis\n"
	for pin := 1; pin <= 8; pin++ {
		n := strconv.Itoa(pin)
		text += "part R" + n + " resistor 10k\nnet n" + n + " J1." + n + " R" + n + ".1\n"
		if pin != 3 { // all but one are there, counted the wrong way round
			text += "solder J1." + strconv.Itoa(9-pin) + " R" + n + ".1\n"
		}
	}
	text += "net ground { R1.2 R2.2 R3.2 R4.2 R5.2 R6.2 R7.2 R8.2 CH.star }\nsolder { R1.2 R2.2 R3.2 R4.2 R5.2 R6.2 R7.2 R8.2 CH.star }\nwiring complete\n"
	book := netlist.Build(lang.Parse(diag.NewSource("shifted.buzzout", text)), nil)
	for _, m := range book.Mistakes {
		t.Fatal(m.Message)
	}
	var missing []string
	for _, f := range Compare(book.Bench(), book.Meanings()[0]).Findings {
		if f.Rule == "missing-joint" {
			missing = append(missing, f.Message)
		}
	}
	want := "J1.6 (in place of J1.3) and R3.1 are not joined, and net n3 has them as one conductor"
	if len(missing) != 1 || missing[0] != want {
		t.Errorf("%q, want %q", missing, want)
	}
}

// Of a mirrored socket the two pins of the heater come to the same, and stay:
// counted the other way round 2 is 7. The pins are those of the 6V6GT, whose
// heater is on 2 and 7 (maker's sheet, 1941).
func TestAlikePinsOfAMirroredSocketStay(t *testing.T) {
	text := "part V1 6v6gt\npart A, B, C, D, E, F post\n"
	for i, pin := range []int{2, 3, 4, 5, 7, 8} {
		post := string(rune('A' + i))
		text += "net n" + post + " V1." + strconv.Itoa(pin) + " " + post + "\nsolder V1." + strconv.Itoa(9-pin) + " " + post + "\n"
	}
	book := netlist.Build(lang.Parse(diag.NewSource("mirrored.buzzout", text+"wiring complete\n")), nil)
	for _, m := range book.Mistakes {
		t.Fatal(m.Message)
	}
	found := Compare(book.Bench(), book.Meanings()[0]).Findings
	if len(found) != 1 || found[0].Rule != "pins-shifted" || found[0].Action != "move them: 6 to 3, 5 to 4, 4 to 5, 1 to 8" {
		t.Errorf("%+v", found)
	}
}
