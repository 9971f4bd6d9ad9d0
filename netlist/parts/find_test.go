package parts

import (
	"strings"
	"testing"
)

func TestFind(t *testing.T) {
	tests := []struct {
		kind, name string
		want       string // names of the terminals found
		problem    string
	}{
		// a terminal or another name of one; capitals do not count
		{"ecc83", "2", "2", ""},
		{"jack-break", "TIP", "tip", ""},
		{"jack-break", "tn", "break", ""},
		{"electrolytic", "+", "+", ""},
		{"electrolytic", "positive", "+", ""},
		{"relay-1x2", "coil-1", "coil-1", ""},
		{"relay-1x2", "NC", "break", ""},
		{"output-pp", "8ohm", "8ohm", ""},
		// an electrode
		{"el84", "screen", "9", ""},
		{"el84", "g2", "9", ""},
		{"el84", "plate", "7", ""},
		{"el84", "k", "3", ""},
		{"pot", "wiper", "2", ""},
		{"pot", "ccw", "1", ""},
		{"pot", "clockwise", "3", ""},
		{"diode", "cathode", "k", ""},
		{"diode", "anode", "a", ""},
		{"gz34", "cathode", "8", ""},
		{"0a2", "anode", "1", ""},
		// several terminals have it: the builder is asked
		{"ecc83", "grid", "2 7", ""},
		{"ecc83", "heater", "4 5 9", ""},
		{"pot-dual", "wiper", "a2 b2", ""},
		// PIN-ELECTRODE is the pin, and checked
		{"ecc83", "2-grid", "2", ""},
		{"ecc83", "7-g", "7", ""},
		{"ecc83", "4-heater", "4", ""},
		{"el84", "9-screen", "9", ""},
		{"el84", "9-screen-grid", "9", ""},
		{"gz34", "8-heater", "8", ""},
		{"gz34", "8-cathode", "8", ""},
		{"relay-1x2", "coil-1-grid", "", ""},
		{"ecc83", "2-cathode", "", "terminal 2 is a grid and not a cathode; cathodes are at 3 and 8"},
		{"ecc83", "9-anode", "", "terminal 9 is a heater and not an anode; anodes are at 1 and 6"},
		{"el84", "6-anode", "", "terminal 6 is not an anode; the anode is 7"},
		{"el84", "2-screen", "", "terminal 2 is a grid and not a screen grid; the screen grid is 9"},
		{"ecc83", "12-grid", "", "there is no terminal 12; grids are at 2 and 7"},
		// nothing that the kind knows
		{"ecc83", "screen", "", ""},
		{"ecc83", "2-screen", "", ""},
		{"ecc83", "10", "", ""},
		{"ecc83", "", "", ""},
		{"ecc83", "-", "", ""},
		{"ecc83", "2-", "", ""},
		{"output-pp", "orange", "", ""},
		{"chassis", "star", "", ""},
	}
	for _, test := range tests {
		k := kind(t, test.kind)
		list, problem := k.Find(test.name)
		var got []string
		for _, i := range list {
			got = append(got, k.Terminals[i].Name)
		}
		if strings.Join(got, " ") != test.want || problem != test.problem {
			t.Errorf("%s.%s: %v %q, want %s %q", test.kind, test.name, got, problem, test.want, test.problem)
		}
	}
}

func TestElectrodes(t *testing.T) {
	tests := []struct{ kind, terminal, want string }{
		{"ecc83", "1", "anode"},
		{"ecc83", "9", "heater"},
		{"el34", "1", "suppressor grid"},
		{"el34", "4", "screen grid"},
		{"el84", "6", ""},
		{"gz34", "8", "cathode, heater"},
		{"pot", "1", "anticlockwise end"},
		{"bridge", "ac-1", "anode, cathode"},
		{"jack", "tip", ""},
	}
	for _, test := range tests {
		k := kind(t, test.kind)
		if got := strings.Join(k.Electrodes(k.at(t, test.terminal)), ", "); got != test.want {
			t.Errorf("%s %s is %q, want %q", test.kind, test.terminal, got, test.want)
		}
	}
}

func TestListed(t *testing.T) {
	for want, list := range map[string][]string{"": nil, "2": {"2"}, "2 and 7": {"2", "7"}, "2, 3 and 7": {"2", "3", "7"}} {
		if got := Listed(list); got != want {
			t.Errorf("%v: %q", list, got)
		}
	}
}
