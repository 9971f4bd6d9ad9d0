package lang

import (
	"fmt"
	"strings"
	"testing"

	"buzzout/lang/diag"
)

func reportRate(b *testing.B, statements, size int) {
	b.ReportMetric(float64(statements)/b.Elapsed().Seconds(), "statements/s")
	b.SetBytes(int64(size))
}

// A notebook as people write them: parts, nets, leads, readings.
func BenchmarkParse(b *testing.B) {
	src := readSource(b, "testdata/notebooks/kit.buzzout")
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n += len(Parse(diag.NewSource(src.Name, src.Text)).Statements)
	}
	reportRate(b, n, len(src.Text))
}

// 10,000 parts and 30,000 joints.
func BenchmarkParseLarge(b *testing.B) {
	var text strings.Builder
	for i := range 10_000 {
		fmt.Fprintf(&text, "part R%d resistor 100k 1W\n", i)
	}
	for i := range 30_000 {
		fmt.Fprintf(&text, "lead green R%d.2 R%d.1\n", i%10_000, (i+7)%10_000)
	}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n += len(Parse(diag.NewSource("large", text.String())).Statements)
	}
	reportRate(b, n, text.Len())
}

// Kinds, which are nearly all lines in braces.
func BenchmarkParseKinds(b *testing.B) {
	src := readSource(b, "testdata/notebooks/kinds.buzzout")
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		for _, s := range Parse(diag.NewSource(src.Name, src.Text)).Statements {
			n += len(s.(*Kind).Lines)
		}
	}
	reportRate(b, n, len(src.Text))
}

// Cutting a text into tokens and statements, without the grammar.
func BenchmarkCut(b *testing.B) {
	src := readSource(b, "testdata/notebooks/kit.buzzout")
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		for range cut(src.Text) {
			n++
		}
	}
	reportRate(b, n, len(src.Text))
}

func BenchmarkPromptLine(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		ParseLine(diag.NewSource("prompt", "lead white TS1.1 V1.2 screen J1.sleeve 22awg \"W7\""), "check", "about", "why", "todo")
	}
}

// Every line is wrong: messages, hints and all.
func BenchmarkMistakes(b *testing.B) {
	src := readSource(b, "testdata/mistakes/facts.buzzout")
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n += len(Parse(diag.NewSource(src.Name, src.Text), "check").Mistakes)
	}
	reportRate(b, n, len(src.Text))
}

func BenchmarkTidy(b *testing.B) {
	src := readSource(b, "testdata/notebooks/kit.buzzout")
	b.ReportAllocs()
	for b.Loop() {
		Tidy(src)
	}
	b.SetBytes(int64(len(src.Text)))
}

func BenchmarkReadFigure(b *testing.B) {
	words := []string{"4k7", "100k", "0.022u", "6.3V", "R1.2", "5%", "ecc83", "22awg"}
	b.ReportAllocs()
	for b.Loop() {
		for _, w := range words {
			ReadFigure(w)
		}
	}
}
