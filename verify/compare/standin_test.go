package compare

import (
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A part fitted in place of one of another kind is held to the plan by what it
// is: a film capacitor may sit either way round, an electrolytic may not, and
// where the plan has a film capacitor it cannot say which way.
func TestStandIns(t *testing.T) {
	for _, c := range []struct{ planned, net, fit, want string }{
		{"electrolytic 22u", "+", "fit C1 + OUT - IN", "reversed"},
		{"electrolytic 22u", "+", "fit C1 capacitor 22u + OUT - IN", ""},
		{"electrolytic 22u", "+", "fit C1 electrolytic-bipolar 22u + OUT - IN", ""},
		{"capacitor 22u", "1", "fit C1 electrolytic + OUT - IN", ""},
		{"capacitor 22u", "1", "fit C1 electrolytic + IN - OUT", ""},
	} {
		other := map[string]string{"+": "-", "1": "2"}[c.net]
		book := netlist.Build(lang.Parse(diag.NewSource("stand-in.buzzout",
			"part C1 "+c.planned+"\npart IN, OUT post\nnet in IN C1."+c.net+"\nnet out OUT C1."+other+"\n"+c.fit+"\nwiring complete\n")), nil)
		for _, m := range book.Mistakes {
			t.Fatalf("%s: %s", c.fit, m.Message)
		}
		found := Compare(book.Bench(), book.Meanings()[0]).Findings
		got := ""
		for _, f := range found {
			got += f.Rule
		}
		if got != c.want {
			t.Errorf("%s for %s: found %q, want %q", c.fit, c.planned, got, c.want)
		}
	}
}
