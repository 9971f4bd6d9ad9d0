package parts

import (
	"fmt"
	"strings"
	"testing"

	"buzzout/lang"
)

// TestFigures: which figure each element gets, and what else the line says.
func TestFigures(t *testing.T) {
	tests := []struct{ part, values, words string }{
		{"resistor 100k 5% 1W", "100 kΩ", ""},
		{"resistor 70", "70 Ω", ""},
		{"resistor R47", "470 mΩ", ""},
		{"resistor 0.6 ohm", "600 mΩ", ""},
		{"resistor 47k metal-film", "47 kΩ", "metal-film"},
		{"resistor 47k Metal-Film", "47 kΩ", "metal-film"},
		{"resistor", "?", ""},
		{"capacitor 22n 400V film", "22 nF", "film"},
		{"pot 1M log", "1 MΩ", "log"},
		{"pot-dual 220k log", "220 kΩ, 220 kΩ", "log"},
		{"pot-concentric 1M 500k", "1 MΩ, 500 kΩ", ""},
		{"can-3 50u 50u 20u 450V", "50 µF, 50 µF, 20 µF", ""},
		{"can-3 32u 450V 350V", "32 µF, 32 µF, 32 µF", ""},
		{"choke 10H 150mA 180R", "10 H", ""},
		{"choke 180R 10H", "10 H", ""},
		{"choke 180R", "180 Ω", ""},
		{"loudspeaker 8", "8 Ω", ""},
		{"reverb-tank 8ohm 2250ohm", "8 Ω, 2.25 kΩ", ""},
		{"relay-1x2 12V 400R", "400 Ω", ""},
		{"fuse 1A slow", "1 A", "slow"},
		{"fuse T1A", "1 A", "slow"},
		{"fuse F250mA 250V", "250 mA", "fast"},
		{"lamp 6.3V 0.3A", "6.3 V", ""},
		{"ecc83", "?, ?, 6.3 V, 6.3 V", ""},
		{"diode 1A 1000V", "?", ""},
		{"dc-supply 300V", "", ""},
		{"inlet", "", ""},
		{"meter 1mA 100R", "100 Ω", ""},
		{"network-common-4 10k", "10 kΩ, 10 kΩ, 10 kΩ, 10 kΩ", ""},
		// an element's own line comes before the part's
		{"board 10k { terminals a b c; resistance a b; resistance b c 22k }", "10 kΩ, 22 kΩ", ""},
		{"board 10k 33k { terminals a b c d; resistance a b; resistance b c 22k; resistance c d }", "10 kΩ, 22 kΩ, 33 kΩ", ""},
	}
	for _, test := range tests {
		in := one(t, "part X1 "+test.part)
		var got []string
		for _, v := range in.Values {
			if v.Text == "" {
				got = append(got, "?")
			} else {
				got = append(got, v.String())
			}
		}
		if strings.Join(got, ", ") != test.values || strings.Join(in.Words, " ") != test.words {
			t.Errorf("%s: %v %v, want %s %s", test.part, got, in.Words, test.values, test.words)
		}
		if len(in.Figures) != len(in.Places) {
			t.Errorf("%s: %d figures at %d places", test.part, len(in.Figures), len(in.Places))
		}
		for i, p := range in.Places {
			if text := in.Figures[i].Text; p.Text() != text {
				t.Errorf("%s: the figure %s stands at %q", test.part, text, p.Text())
			}
		}
	}
}

func TestWireOhms(t *testing.T) {
	tests := []struct{ part, want string }{
		{"choke 10H 150mA 180R", "180 Ω"},
		{"choke 180R", "180 Ω"},
		{"choke 10H", ""},
		{"reverb-tank 8ohm 2250ohm", ""},
		{"loudspeaker 8", ""},
		{"relay-1x2 12V 400R", "400 Ω"},
		{"board { terminals a b; coil a b 5H 90ohm }", "90 Ω"},
		{"resistor 1k", ""},
	}
	for _, test := range tests {
		in := one(t, "part X1 "+test.part)
		var got []string
		for i := range in.Kind.Elements {
			if f, ok := in.Kind.WireOhms(i, in.Figures); ok {
				got = append(got, f.String())
			}
		}
		if strings.Join(got, " ") != test.want {
			t.Errorf("%s: %v, want %s", test.part, got, test.want)
		}
	}
}

// TestCount: the bare number on the part's line is how many terminals it has.
func TestCount(t *testing.T) {
	_, made, mistakes := readBook(t, `
part TB1, TB2 tagboard 44
part TB3 tagboard 44
part TB4 tagboard 20 { joined 1 20 }
part TS1 tagstrip 5 { joined 3 foot }
part TS2 tagstrip 1
part X1 socket-ux4
part X2 connector 500
kind strip { terminals a1..n b; tie a1..n; joined a1 a2 }
part S1 strip 3`)
	for _, m := range mistakes {
		t.Error(tell(m))
	}
	for ref, want := range map[string]int{"TB1": 44, "TB3": 44, "TB4": 20, "TS1": 6, "TS2": 2, "X1": 4, "X2": 500, "S1": 4} {
		if got := len(made[ref].Kind.Terminals); got != want {
			t.Errorf("%s has %d terminals, want %d", ref, got, want)
		}
	}
	if made["TB1"].Kind != made["TB3"].Kind {
		t.Error("two boards of one size do not share their kind")
	}
	if len(made["TB1"].Figures) > 0 {
		t.Errorf("the count is told as a figure: %v", made["TB1"].Figures)
	}
	strip := made["TS1"].Kind
	if got := write(strip); got != "1 tie\n2 tie\n3 tie\n4 tie\n5 tie\nfoot tie\njoined 3 foot\n" {
		t.Errorf("%q", got)
	}
}

// TestBlocks: a part's own block changes its kind and no other part's.
func TestBlocks(t *testing.T) {
	l, made, mistakes := readBook(t, `
part S1 toggle-2x2
part S2 toggle-2x2 { control lever pentode triode }
part T2 output-pp { load anode-a anode-b 8k; dcr anode-a ht 180; winding secondary common 8ohm }
part V1 socket-b9a { triode 6 7 8; heater 4 5 6.3V 0.3A; socketed out in }`)
	for _, m := range mistakes {
		t.Error(tell(m))
	}
	if k, _ := l.Kind("toggle-2x2"); made["S1"].Kind != k {
		t.Error("a part without a block has a kind of its own")
	}
	if got := made["S1"].Kind.Controls[0].Positions; got[0] != "up" {
		t.Errorf("S1 has the positions of S2: %v", got)
	}
	if got := made["S2"].Kind.Controls[0].Positions; strings.Join(got, " ") != "pentode triode" {
		t.Errorf("S2: %v", got)
	}
	if len(made["S2"].Kind.Contacts) != 4 {
		t.Errorf("S2 has %d contacts", len(made["S2"].Kind.Contacts))
	}
	want := "anode-a\nht\nanode-b\ncommon\n8ohm\nwinding primary anode-a ht anode-b\nwinding secondary common 8ohm\n" +
		"alike anode-a with anode-b but 2\nload common 8ohm 8 Ω\nload anode-a anode-b 8 kΩ\ndcr anode-a ht 180 Ω\n"
	if got := write(made["T2"].Kind); got != want {
		t.Errorf("T2\n%s\nwant\n%s", got, want)
	}
	if v1 := made["V1"].Kind; v1.Seat < 0 || v1.Name != "socket-b9a" || v1.at(t, "anode") != v1.at(t, "6") {
		t.Errorf("V1\n%s", write(v1))
	}
}

// TestOwnKinds: a notebook's kinds may be like one another in any order.
func TestOwnKinds(t *testing.T) {
	l, made, mistakes := readBook(t, `
kind tall { like medium; words tall; resistance 5 6 }
kind medium { like short; also middling; terminals 5 6 }
kind short "the first" { terminals 1..4; row 1..4 }
part X1 tall 22k tall
part X2 Middling`)
	for _, m := range mistakes {
		t.Error(tell(m))
	}
	if got := write(made["X1"].Kind); got != "1\n2\n3\n4\n5\n6\nrow 1 2 3 4\nresistance 5 6\nwords tall\n" {
		t.Errorf("%q", got)
	}
	if made["X2"].Kind.Name != "medium" {
		t.Error(made["X2"].Kind.Name)
	}
	own := 0
	for _, s := range l.Summaries() {
		if s.Group == "own" {
			own++
		}
	}
	if own != 3 {
		t.Errorf("%d own kinds in the list", own)
	}
	if _, ok := Builtin().Kind("tall"); ok {
		t.Error("the notebook's kind is in the library of all")
	}
}

// TestShadow: a notebook's kind that has a name of the library is told, and is
// the one that its parts have; the library's kinds stay as they are.
func TestShadow(t *testing.T) {
	_, made, mistakes := readBook(t, "kind jack { terminals hot cold }\npart J1 jack\npart J2 jack-break")
	if len(mistakes) != 1 {
		t.Fatalf("%d mistakes", len(mistakes))
	}
	if also := mistakes[0].Also; len(also) != 1 || also[0].Place.Text() != "jack" || also[0].Place.Source.Name != "library/jacks.buzzout" {
		t.Errorf("the other place is %v", also)
	}
	if got := fmt.Sprint(made["J1"].Kind.Names()); got != "[hot cold]" {
		t.Error(got)
	}
	made["J2"].Kind.at(t, "tip")
}

func TestReadLine(t *testing.T) {
	k := kind(t, "resistor")
	in := k.ReadLine([]lang.Word{{Text: "91k"}, {Text: "film"}})
	if len(in.Mistakes) > 0 || in.Values[0].String() != "91 kΩ" || in.Words[0] != "film" {
		t.Errorf("%v %v %v", in.Values, in.Words, in.Mistakes)
	}
	if in = k.ReadLine([]lang.Word{{Text: "22n"}}); len(in.Mistakes) != 1 {
		t.Errorf("%v", in.Mistakes)
	}
}
