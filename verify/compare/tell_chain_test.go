package compare

import (
	"slices"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// What a joint that is missing is told to join: the holders on either side of
// the gap in a chain of heaters, a lug rather than a leg.
func TestMissingJointIsNextToTheGap(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{`part V1, V2, V3 ecc83
part T1 heater-transformer
net h T1.h-a V1.4 V1.5 V2.4 V2.5 V3.4 V3.5
lead brown T1.h-a V3.4 V3.5
lead brown V2.4 V2.5
lead brown V1.4 V1.5
`, []string{"V2.4 to V1.5", "V3.4 to V2.5"}},
		{`part J1 jack
part R1 resistor 1M
part P1 pot 1M log
net in R1.1 J1.tip P1.cw
lead white J1.tip R1.1
`, []string{"J1.tip to P1.cw"}},
		{`part J1, J2 jack
part P1 pot 1M log
net ground J1.sleeve P1.ccw J2.sleeve
lead black J1.sleeve P1.ccw
`, []string{"P1.ccw to J2.sleeve"}},
	} {
		book := netlist.Build(lang.Parse(diag.NewSource("chain.buzzout", c.text)), nil)
		for _, m := range book.Mistakes {
			t.Fatal(m.Message)
		}
		var got []string
		for _, f := range Compare(book.Bench(), book.Meanings()[0]).Findings {
			if f.Rule == "missing-joint" {
				got = append(got, book.Name(f.Terminals[0])+" to "+book.Name(f.Terminals[1]))
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s\n%q, want %q", c.text, got, c.want)
		}
	}
}
