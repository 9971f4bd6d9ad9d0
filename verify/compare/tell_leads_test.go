package compare

import (
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A transformer's leads are told by their colours, and it is they that go
// elsewhere, not the lugs that they are soldered to.
func TestFlyingLeadsAreToldByColour(t *testing.T) {
	const plan = `part J1 jack
part HT, GND, A post
part T1 transformer {
  winding primary anode screen ht
  winding secondary common 8ohm 16ohm
}
drawing sheet
colours T1 sheet { blue anode, red ht, violet screen, black common, green 8ohm, yellow 16ohm }
net anode A T1.anode
net ht HT T1.ht
net spk T1.8ohm J1.tip
net gnd GND T1.common J1.sleeve
spare T1.16ohm T1.screen
solder GND T1.black J1.sleeve
`
	for _, c := range []struct{ bench, message, action string }{
		{"solder T1.blue A\nsolder T1.red HT\nsolder T1.yellow J1.tip\n",
			"the lead T1.yellow is at J1.tip, where net spk wants T1.green (8ohm)",
			"take T1.yellow off J1.tip and put T1.green (8ohm) there"},
		{"solder T1.red A\nsolder T1.blue HT\nsolder T1.green J1.tip\n",
			"T1.red, at A, and T1.blue, at HT, are on each other's places",
			"exchange them: the one at A goes to HT, the other to A"},
	} {
		book := netlist.Build(lang.Parse(diag.NewSource("leads.buzzout", plan+c.bench)), nil)
		for _, m := range book.Mistakes {
			t.Fatal(m.Message)
		}
		found := Compare(book.Bench(), book.Meanings()[0]).Findings
		if len(found) != 1 || found[0].Message != c.message || found[0].Action != c.action || found[0].ToDo {
			t.Errorf("%s%+v", c.bench, found)
		}
	}
}

// Two ends of a winding that do each other's work are told with the lines that
// soldered their leads.
func TestExchangedEndsQuoteTheirLeads(t *testing.T) {
	book := netlist.Build(lang.Parse(diag.NewSource("ends.buzzout", `part HT, GND, A, SPK post
part T1 output-se-1
colours T1 sheet { blue anode, red ht }
net anode A T1.anode
net ht HT T1.ht
net spk SPK T1.speaker
net gnd GND T1.common
solder T1.common GND
solder T1.speaker SPK
solder T1.red A
solder T1.blue HT
`)), nil)
	for _, m := range book.Mistakes {
		t.Fatal(m.Message)
	}
	found := Compare(book.Bench(), book.Meanings()[0]).Findings
	if len(found) != 1 || found[0].Rule != "ends-exchanged" || len(found[0].Evidence) != 2 {
		t.Errorf("%+v", found)
	}
}
