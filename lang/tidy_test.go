package lang

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2/lexer"
	"pgregory.net/rapid"

	"buzzout/lang/diag"
)

func TestTidy(t *testing.T) {
	src := readSource(t, "testdata/tidy/small.buzzout")
	got, mistakes := Tidy(src)
	if len(mistakes) > 0 {
		t.Fatal(mistakes[0].Message)
	}
	golden(t, "testdata/tidy/small.golden", []byte(got))
	golden(t, "testdata/tidy/small.differences", []byte(Differences(src.Text, got)))
}

func TestTidyRefusesMistakes(t *testing.T) {
	src := diag.NewSource("test", "net   a A\nprat   x\n")
	if got, mistakes := Tidy(src); got != src.Text || len(mistakes) != 1 {
		t.Errorf("%q, %d mistakes", got, len(mistakes))
	}
}

func TestTidyLines(t *testing.T) {
	for text, want := range map[string]string{
		"":                                  "",
		"\n\n":                              "",
		"#  x \t\n":                         "#  x\n",
		"net a A":                           "net a A\n",
		"net a A\r\nnet  b B\rnet c C":      "net a A\nnet b B\nnet c C\n",
		"\uFEFFnet a A":                     "net a A\n",
		"net\u00A0a\u00A0A":                 "net a A\n",
		"net a 1 ,2":                        "net a 1, 2\n", // 1,2 would be one word
		"net a 0,6":                         "net a 0,6\n",
		"net a A;net b B;;":                 "net a A; net b B;;\n",
		"kind x{}":                          "kind x { }\n",
		"kind x {\n}":                       "kind x {\n}\n",
		"kind x {\n\n\n}":                   "kind x {\n}\n",
		"kind x { terminals 1\n}":           "kind x { terminals 1\n}\n",
		"net a{\nA\n\n\nB}":                 "net a {\n    A\n\n    B }\n",
		"note “x”#y":                        "note “x”  #y\n", // not a letter of a comment changes
		"part R1 resistor\n\n\npart R22 x":  "part R1 resistor\n\npart R22 x\n",
		"part R1 resistor 1k\npart R22 x 2": "part R1  resistor 1k\npart R22 x        2\n",
		"lead red A B # x\nsolder A # y":    "lead red A B  # x\nsolder A      # y\n",
	} {
		got, mistakes := Tidy(diag.NewSource("test", text))
		if got != want || len(mistakes) > 0 {
			t.Errorf("%q\ngot  %q\nwant %q %v", text, got, want, mistakes)
		}
	}
}

// signs are what tidying must not touch: words, signs and comments, those at
// the end of lines without the blanks behind them.
func signs(text string) []string {
	s := newScanner(strings.TrimPrefix(text, byteOrderMark), true)
	var list []string
	for tok := s.next(); tok.kind != lexer.EOF; tok = s.next() {
		word := s.text[tok.start:tok.end]
		switch {
		case tok.kind == blankToken || tok.kind == breakToken && word != ";":
		case tok.kind == commentToken:
			list = append(list, strings.TrimRight(word, " \t"))
		default:
			list = append(list, word)
		}
	}
	return list
}

func checkTidy(t interface{ Fatalf(string, ...any) }, text string) {
	src := diag.NewSource("test", text)
	file := Parse(src)
	tidy, mistakes := Tidy(src)
	if len(mistakes) > 0 {
		if tidy != text || len(file.Mistakes) == 0 {
			t.Fatalf("a text was refused and changed:\n%s", tidy)
		}
		return
	}
	if again, _ := Tidy(diag.NewSource("test", tidy)); again != tidy {
		t.Fatalf("once\n%s\ntwice\n%s", tidy, again)
	}
	if !slices.Equal(signs(text), signs(tidy)) {
		t.Fatalf("words are not the same:\n%q\n%q", text, tidy)
	}
	if before, after := dumpFacts(file), dumpFacts(parseText(tidy)); !slices.Equal(before, after) {
		t.Fatalf("facts are not the same:\n%s\n%s", strings.Join(before, "\n"), strings.Join(after, "\n"))
	}
	if got := applyDifferences(text, Differences(text, tidy)); got != tidy {
		t.Fatalf("the differences do not lead from\n%s\nto\n%s\nbut to\n%s", text, tidy, got)
	}
}

// applyDifferences does what a unified diff says.
func applyDifferences(text, differences string) string {
	lines, out := splitAll(text), []string{}
	at := 0
	var last byte
	for line := range strings.SplitAfterSeq(differences, "\n") {
		if line == "" {
			continue
		}
		switch line[0] {
		case '@':
			var start, count int
			if n, _ := fmt.Sscanf(line, "@@ -%d,%d", &start, &count); n == 2 && count == 0 {
				start++ // no lines are named by the line before
			}
			for ; at < start-1; at++ {
				out = append(out, lines[at])
			}
		case ' ':
			out = append(out, lines[at])
			at++
		case '-':
			at++
		case '+':
			out = append(out, line[1:])
		case '\\':
			if last != '-' {
				out[len(out)-1] = strings.TrimSuffix(out[len(out)-1], "\n")
			}
		}
		last = line[0]
	}
	return strings.Join(append(out, lines[at:]...), "")
}

func TestTidyNotebooks(t *testing.T) {
	for _, src := range notebooks(t) {
		checkTidy(t, src.Text)
	}
}

// A notebook whose white space was spoilt is tidied to the same text.
func TestTidyProperties(t *testing.T) {
	all := notebooks(t)
	rapid.Check(t, func(rt *rapid.T) {
		src := all[rapid.IntRange(0, len(all)-1).Draw(rt, "notebook")]
		lines := strings.SplitAfter(src.Text, "\n")
		from := rapid.IntRange(0, len(lines)-1).Draw(rt, "from")
		to := min(from+rapid.IntRange(1, 40).Draw(rt, "lines"), len(lines))
		var b strings.Builder
		s := newScanner(strings.Join(lines[from:to], ""), true)
		for tok := s.next(); tok.kind != lexer.EOF; tok = s.next() {
			switch {
			case tok.kind == blankToken:
				b.WriteString(rapid.SampledFrom([]string{" ", "  ", "\t", "\u00A0", " \t "}).Draw(rt, "blank"))
			case tok.kind == breakToken:
				b.WriteString(rapid.SampledFrom([]string{"\n", "\r\n", "\r", " \n", "\n\n\n", "\n\t", "  # x\t\n"}).Draw(rt, "break"))
			default:
				b.WriteString(s.text[tok.start:tok.end])
			}
		}
		checkTidy(rt, b.String())
	})
}

// Sentences made from the printed rules are tidied, too.
func TestTidySentences(t *testing.T) {
	rules := readRules(t)
	rapid.Check(t, func(rt *rapid.T) {
		m := &maker{rules, newRand(rt)}
		var words []string
		for range rapid.IntRange(1, 6).Draw(rt, "facts") {
			words = append(words, m.reference("fact", nil, nil)...)
			words = append(words, "\n")
		}
		checkTidy(rt, strings.Join(words, " "))
	})
}
