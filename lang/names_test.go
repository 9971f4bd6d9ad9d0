package lang

import (
	"strings"
	"testing"
)

func TestExpand(t *testing.T) {
	for text, want := range map[string]string{
		"R1..R3": "R1 R2 R3", "R1...R3": "R1 R2 R3", "R1…R3": "R1 R2 R3", "r1..R3": "r1 r2 r3", "R1..3": "R1 R2 R3", "R7..R7": "R7",
		"V1.4..5": "V1.4 V1.5", "V1..V3.9": "V1.9 V2.9 V3.9", "V1.4..V1.6": "V1.4 V1.5 V1.6", "S1.a1..a3": "S1.a1 S1.a2 S1.a3",
		"S1.a1..S1.a3": "S1.a1 S1.a2 S1.a3", "S1.b1..2": "S1.b1 S1.b2", "C1..C3.+": "C1.+ C2.+ C3.+", "1..3": "1 2 3", "a1..a3": "a1 a2 a3",
		"R08..R11": "R08 R09 R10 R11", "h-1..h-2": "h-1 h-2", "1..4.a": "1.a 2.a 3.a 4.a",
	} {
		names, ranged, problem := Expand(Word{Text: text})
		if !ranged || problem != "" || strings.Join(names, " ") != want {
			t.Errorf("%s: %v %t %q; want %s", text, names, ranged, problem, want)
		}
	}
	for _, text := range []string{"R1", "1..n", "0%..100%", "R1..C3", "R..5", "R1..", "..R1", "..", "R1....R3", "R1..R2..R3", "a..b", "R1..R3.", "V1.a..V2.b", "", "1..9.8..9"} {
		names, ranged, problem := Expand(Word{Text: text})
		if ranged || problem != "" || len(names) != 1 || names[0] != text {
			t.Errorf("%s is one name, and yet: %v %t %q", text, names, ranged, problem)
		}
	}
	for text, want := range map[string]string{
		"R5..R2": "rises", "R1..R501": "at most 500 names, and this one for 501", "R1..R99999999999999999999": "at most 500",
	} {
		names, ranged, problem := Expand(Word{Text: text})
		if !ranged || len(names) > 0 || !strings.Contains(problem, want) {
			t.Errorf("%s: %d names, %t, %q", text, len(names), ranged, problem)
		}
	}
	if names, _, problem := Expand(Word{Text: "R1..R500"}); len(names) != MaxRange || problem != "" {
		t.Errorf("the longest range has %d names, %q", len(names), problem)
	}
}

func TestNearest(t *testing.T) {
	verbs := wordsOf(facts)
	for name, want := range map[string]string{
		"prat": "part", "PRAT": "part", "nets": "net", "ledd": "lead", "soldr": "solder", "unsoldre": "unsolder", "colors": "colours",
		"xyz": "", "": "", "p": "", strings.Repeat("part", 20): "", "reding": "reading", "wirign": "wiring",
	} {
		if got, ok := Nearest(name, verbs); got != want || ok != (want != "") {
			t.Errorf("%q: %q %t, want %q", name, got, ok, want)
		}
	}
	if got, _ := Nearest("V1.12", []string{"V1.3", "V1.2", "V1.1"}); got != "V1.2" && got != "V1.1" {
		t.Error(got)
	}
	if got, _ := Nearest("ab", []string{"cd", "ac", "ad"}); got != "ac" {
		t.Errorf("of equally near names the first is wanted, not %q", got)
	}
	for _, c := range []struct {
		name, among, want string
	}{
		{"ecc38", "ecc88 ecc83", "ecc83"}, // a swap is nearer than another letter
		{"ecc38", "ecc88 ecc82", "ecc88"},
		{"badc", "abcd bad", "bad"}, // two swaps are two slips
		{"R5", "R6 C5", "C5"},       // other digits in a name of two characters
		{"R5", "R6 R", ""},
		{"R55", "R56", "R56"},
		{"5R", "R5", "R5"},
		{"a1", "a b1", "b1"},
	} {
		if got, _ := Nearest(c.name, strings.Fields(c.among)); got != c.want {
			t.Errorf("%s among %s: %q, want %q", c.name, c.among, got, c.want)
		}
	}
	// The most swaps that there can be are as many slips, and not one less.
	var a, b []rune
	for r := 'a'; len(a) < longestGuess; r += 2 {
		a, b = append(a, r, r+1), append(b, r+1, r)
	}
	if d := distance(slips(a, b)); d != longestGuess/2 {
		t.Errorf("%d swaps count as %d", longestGuess/2, d)
	}
}

func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"a", "", 1}, {"ab", "ba", 1}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"kitten", "sitting", 3}, {"ca", "abc", 3}, {"µF", "uF", 1}} {
		if got := distance(slips([]rune(c.a), []rune(c.b))); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.a, c.b, got, c.want)
		}
		if got := distance(slips([]rune(c.b), []rune(c.a))); got != c.want {
			t.Errorf("%q to %q: %d, want %d", c.b, c.a, got, c.want)
		}
	}
}

func TestFold(t *testing.T) {
	for name, want := range map[string]string{"": "", "v1": "v1", "V1.2-Grid": "v1.2-grid", "ÄÖ": "äö", "µ": "µ"} {
		if got := Fold(name); got != want {
			t.Errorf("%q: %q", name, got)
		}
	}
	var folded string
	if n := testing.AllocsPerRun(10, func() { folded = Fold("v1.2-grid") }); n != 0 || folded != "v1.2-grid" {
		t.Errorf("a name in lower case costs %g allocations", n)
	}
}

func TestReserved(t *testing.T) {
	for _, word := range []string{"part", "LEAD", "screen", "With", "probes", "none", "turned", "unknown"} {
		if !Reserved(word) {
			t.Errorf("%s is reserved", word)
		}
	}
	for _, word := range []string{"R1", "winding", "check", "IN", ""} {
		if Reserved(word) {
			t.Errorf("%s is free", word)
		}
	}
}
