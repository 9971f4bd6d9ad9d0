package lang

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"

	"buzzout/lang/diag"
)

// addSeeds gives the fuzzer notebooks, mistakes and oddities to begin with.
func addSeeds(f *testing.F) {
	for _, pattern := range []string{"testdata/mistakes/*.buzzout", "testdata/tidy/*.buzzout"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatalf("no seeds match %s", pattern)
		}
		for _, name := range names {
			f.Add(readSource(f, name).Text)
		}
	}
	f.Add(smallNotebook)
	for _, line := range wrongLines {
		f.Add(line)
	}
	for _, text := range []string{
		"", "\x00", "\r\r\n\n\r", "{", "}", "{{}}", "net a {\n}\n}", "\"", "“”", "“\"", "#", "a#", ",", "1,2,,3", ";;", "\uFEFF\uFEFF", "\xff\xfe", "net a {\n part x y }\n}",
		"strike strike strike", "try try", "kind k { source seen; source }", "net a { A\n}\n B\n}\n", "kind k {\nnet a { A }\ncoil 1 2\n}", "note \"x {\ncoil 1 2\n}",
	} {
		f.Add(text)
	}
}

func FuzzLex(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text string) {
		at := 0
		s := newScanner(text, true)
		for tok := s.next(); tok.kind != lexer.EOF; tok = s.next() {
			if int(tok.start) != at || tok.end <= tok.start {
				t.Fatalf("a token from %d to %d follows what ends at %d", tok.start, tok.end, at)
			}
			at = int(tok.end)
		}
		if at != len(text) {
			t.Fatalf("the tokens end at %d of %d", at, len(text))
		}
		// Every token that the parser sees is in exactly one statement.
		seen := 0
		for pc := range cut(text) {
			for _, tok := range pc.tokens {
				if tok.kind != breakToken {
					seen++
				}
			}
		}
		want := 0
		for _, tok := range scan(text) {
			if tok.kind != breakToken {
				want++
			}
		}
		if seen != want {
			t.Fatalf("%d of %d tokens are in statements", seen, want)
		}
		NeedsMore(text)
	})
}

func FuzzParse(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text string) {
		src := diag.NewSource("fuzz", text)
		file := Parse(src, "check")
		bad := 0
		for _, s := range file.Statements {
			checkPlace(t, src, s.Span())
			if _, isBad := s.(*Bad); isBad {
				bad++
			}
			if s.Partial() && len(file.Mistakes) == 0 {
				t.Fatal("a statement lacks a line, and nobody said so")
			}
		}
		if bad > len(file.Mistakes) {
			t.Fatalf("%d statements are bad, and there are %d mistakes", bad, len(file.Mistakes))
		}
		lines := map[int]bool{}
		for i, m := range file.Mistakes {
			if line := m.Place.Position().Line; lines[line] && !strings.Contains(text, ";") {
				t.Fatalf("two mistakes in line %d: %s", line, m.Message)
			} else {
				lines[line] = true
			}
			checkPlace(t, src, m.Place)
			if m.Rule == "" || m.Severity != diag.Fault || m.Message == "" || !utf8.ValidString(diag.Visible(m.Message)) {
				t.Fatalf("%+v", m)
			}
			if i > 0 && diag.ComparePlaces(file.Mistakes[i-1].Place, m.Place) > 0 {
				t.Fatal("mistakes are not in order")
			}
		}
		checkRendering(t, file.Mistakes)
		if again := Parse(diag.NewSource("fuzz", text), "check"); !slices.Equal(dumpFacts(file), dumpFacts(again)) {
			t.Fatal("read twice, the text says two things")
		}
		ParseLine(src, "check")
	})
}

func checkPlace(t *testing.T, src *diag.Source, p diag.Place) {
	t.Helper()
	if p.Source != src || p.Start < 0 || p.End < p.Start || p.End > len(src.Text) {
		t.Fatalf("a place from %d to %d", p.Start, p.End)
	}
}

func checkRendering(t *testing.T, list []diag.Diagnostic) {
	t.Helper()
	var out bytes.Buffer
	if err := diag.Render(&out, list, diag.Options{}); err != nil {
		t.Fatal(err)
	}
	for _, r := range out.String() {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7F || 0x80 <= r && r < 0xA0 {
			t.Fatalf("%U would reach the terminal:\n%q", r, out.String())
		}
	}
}

func FuzzTidy(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, text string) { checkTidy(t, text) })
}

func FuzzFigure(f *testing.F) {
	for _, text := range []string{"4k7", "R47", "0,6", "T1A", "±5%", "6V3", "awg22", "R1..R24", "V1..V4.9", "black-2", "GN/YE"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if figure, ok := ReadFigure(text); ok && (figure.Text != text || figure.String() == "") {
			t.Fatalf("%+v", figure)
		}
		ReadFuse(text)
		if names, _, problem := Expand(Word{Text: text}); (len(names) == 0) != (problem != "") || len(names) > MaxRange {
			t.Fatalf("%d names and the problem %q", len(names), problem)
		}
		if c, tape, ok := ReadTaped(text); ok && (c.IsZero() || tape < 0) {
			t.Fatalf("%v %d", c, tape)
		}
		Nearest(text, []string{"part", "lead"})
		ReadFigures([]Word{{Text: text}, {Text: "ohm"}})
	})
}
