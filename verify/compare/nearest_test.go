package compare

import (
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Where an end goes is told as near as can be to where its wire begins: on the
// part itself, or on the same board.
func TestEndsGoWhereTheyAreNear(t *testing.T) {
	const plan = `part J1 jack-break
part R1, R2, R3 resistor 68k
part TB1 tagboard 20
part CH chassis
net in J1.tip R1.1
net ground J1.sleeve J1.break R2.1 R3.1 CH.star
net out R1.2 R2.2 R3.2
lead black TB1.2 TB1.12 TB1.18 J1.sleeve CH.star
fit R1 J1.tip TB1.1
fit R2 TB1.2 TB1.1
`
	for _, c := range []struct{ built, want string }{
		{"fit R3 TB1.12 TB1.1\nsolder J1.tip J1.break\n", "move that end from J1.tip to J1.sleeve"},
		{"fit R3 TB1.17 TB1.1\nsolder J1.break J1.sleeve\n", "join TB1.18 to TB1.17"},
	} {
		book := netlist.Build(lang.Parse(diag.NewSource("near.buzzout", plan+c.built+"wiring complete\n")), nil)
		for _, m := range book.Mistakes {
			t.Fatal(m.Message)
		}
		var got []string
		for _, f := range Compare(book.Bench(), book.Meanings()[0]).Findings {
			got = append(got, f.Action)
		}
		if len(got) != 1 || !strings.HasPrefix(got[0], c.want) {
			t.Errorf("%s: to mend: %q", c.built, got)
		}
	}
}
