package diag

import (
	"strings"
	"sync"
	"testing"
	"unicode/utf8"
)

func TestPosition(t *testing.T) {
	src := NewSource("x", "ab\ncé d\r\ne\rf\n")
	for offset, want := range map[int]string{
		0: "x:1:1", 2: "x:1:3", 3: "x:2:1", 4: "x:2:2", 6: "x:2:3", 8: "x:2:5", 10: "x:3:1", 12: "x:4:1", 13: "x:4:2", 14: "x:5:1", 99: "x:5:1", -1: "x:1:1",
	} {
		if got := src.Position(offset).String(); got != want {
			t.Errorf("%d: %s, want %s", offset, got, want)
		}
	}
	for offset, want := range map[int]string{0: "ab", 5: "cé d", 10: "e", 12: "f", 14: "", 99: ""} {
		if got, _ := src.Line(offset); got != want {
			t.Errorf("%d: %q, want %q", offset, got, want)
		}
	}
	piece := &Source{Name: "x", Text: "a\nb", FirstLine: 40}
	if got := piece.Position(2).String(); got != "x:41:1" {
		t.Error(got)
	}
}

func TestPlace(t *testing.T) {
	src := NewSource("x", "lead red A")
	p, q := Place{src, 0, 4}, Place{src, 5, 8}
	if p.Text() != "lead" || p.To(q).Text() != "lead red" || q.To(p).Text() != "red" || !p.Known() {
		t.Error(p.Text(), p.To(q).Text(), q.To(p).Text())
	}
	var nowhere Place
	if nowhere.Known() || nowhere.Text() != "" || nowhere.String() != "" || nowhere.Position() != (Position{}) {
		t.Error("nowhere is somewhere")
	}
}

func TestPositionsMayBeAskedAtOnce(t *testing.T) {
	src := NewSource("x", strings.Repeat("net a A\n", 1000))
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			if got := src.Position(i * 8).Line; got != i+1 {
				t.Errorf("line %d, want %d", got, i+1)
			}
		})
	}
	all.Wait()
}

func TestSort(t *testing.T) {
	a, b := NewSource("a", "xyz"), NewSource("b", "xyz")
	d := func(s *Source, start int, rule, message string) Diagnostic {
		return Diagnostic{Rule: rule, Place: Place{s, start, start + 1}, Message: message}
	}
	got := Sort([]Diagnostic{d(b, 0, "r", "1"), d(a, 2, "r", "2"), d(a, 1, "s", "3"), d(a, 1, "r", "4"), d(a, 1, "r", "4"), {Message: "5"}})
	var order []string
	for _, m := range got {
		order = append(order, m.Message)
	}
	if strings.Join(order, " ") != "5 4 3 2 1" {
		t.Error(order)
	}
}

func TestSeverity(t *testing.T) {
	for s, want := range map[Severity]string{0: "", Danger: "danger", Fault: "fault", Caution: "caution", Remark: "remark", 9: ""} {
		if s.String() != want || s.Bad() != (s == Danger || s == Fault) {
			t.Errorf("%d: %s", s, s)
		}
	}
}

func TestVisible(t *testing.T) {
	for text, want := range map[string]string{
		"":                        "",
		"220 kΩ ±5 % “é”":         "220 kΩ ±5 % “é”",
		"\x1b[31mred\x1b[0m":      "␛[31mred␛[0m",
		"a\x00b\tc\r\nd\x7f":      "a␀b␉c␍␊d␡",
		"\u009b31m":               "<U+009B>31m",
		"\u202Eback\u2066x\u200B": "<U+202E>back<U+2066>x<U+200B>",
		"caf\xe9":                 "caf<E9>",
		"\xed\xa0\x80":            "<ED><A0><80>", // half of a surrogate pair
		"\u2028\uE000":            "<U+2028><U+E000>",
		"e\u0301":                 "e\u0301",
		"\uFFFD":                  "\uFFFD",
	} {
		if got := Visible(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func FuzzVisible(f *testing.F) {
	f.Add("\x1b[31m \u202E \xff")
	f.Fuzz(func(t *testing.T, text string) {
		got := Visible(text)
		if !utf8.ValidString(got) || strings.ContainsFunc(got, invisible) || Visible(got) != got {
			t.Fatalf("%q becomes %q", text, got)
		}
	})
}
