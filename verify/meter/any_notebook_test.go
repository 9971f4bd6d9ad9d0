package meter

import (
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Whatever lines of the notebooks are put together, mistakes among them, every
// question has an answer, and the answer holds together.
func TestAnyNotebook(t *testing.T) {
	var lines, plans []string
	for _, path := range notebooks(t) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(path, "-plan.buzzout") {
			plans = append(plans, string(text))
		}
		for line := range strings.Lines(string(text)) {
			if !strings.HasPrefix(line, "use ") {
				lines = append(lines, line)
			}
		}
	}
	// Kinds of parts, and what they are fitted as, that the notebooks do not have.
	lines = append(lines, strings.SplitAfter(`part R1 electrolytic 22u 25V
part R2 bridge
part TB1 pot-dual 1M log
part V1 can-3 32u 32u 16u 450V
fit R1 transistor 10k
fit R2 none
fit C1 47k
fit V1 resistor 1k
fit TB1 100k
set V1 in
set P1 30%, P2 cw
part T1 transformer { winding a 1 2 3; dcr 1 3 0 }
part R5 resistor 0
part LS1 loudspeaker 600
`, "\n")...)
	rapid.Check(t, func(rt *rapid.T) {
		var text strings.Builder
		text.WriteString(rapid.SampledFrom(plans).Draw(rt, "plan"))
		for range rapid.IntRange(1, 8).Draw(rt, "runs") {
			from := rapid.IntRange(0, len(lines)-1).Draw(rt, "from")
			n := rapid.IntRange(1, 60).Draw(rt, "lines")
			for _, line := range lines[from:min(from+n, len(lines))] {
				text.WriteString(line)
			}
		}
		b := netlist.Build(lang.Parse(diag.NewSource("any", text.String())), nil)
		m := b.Meanings()[0]
		bench := b.Bench()
		for _, n := range []*Network{Built(bench, m, nil), Planned(b, m, bench.Setting)} {
			for _, r := range n.Sheet(netlist.NoTerminal).Rows {
				holds(rt, b, &r.Expectation)
			}
		}
		for _, r := range b.Readings {
			j := Judge(b, m, r)
			if j.Verdict == 0 || j.Verdict == Within && j.Reason != 0 {
				rt.Fatalf("%s: verdict %d, reason %d", r.Fact.Text(), j.Verdict, j.Reason)
			}
			holds(rt, b, &j.Expectation)
		}
	})
}

// holds checks what is true of every expectation.
func holds(t *rapid.T, b *netlist.Book, e *Expectation) {
	name := b.Name(e.Red) + " to " + b.Name(e.Black)
	switch {
	case math.IsNaN(e.Ohms) || e.Ohms < 0 || math.IsNaN(e.Low) || math.IsNaN(e.High):
		t.Fatalf("%s: %v, %v to %v", name, e.Ohms, e.Low, e.High)
	case e.Low > e.Ohms*(1+1e-9) || e.Ohms > e.High*(1+1e-9):
		t.Fatalf("%s: %v is not within %v to %v", name, e.Ohms, e.Low, e.High)
	case e.LikelyLow > e.LikelyHigh*(1+1e-9):
		t.Fatalf("%s: likely %v to %v", name, e.LikelyLow, e.LikelyHigh)
	case e.OneConductor && e.Ohms != 0:
		t.Fatalf("%s: one conductor, and %v", name, e.Ohms)
	}
	sum := 0.0
	for _, s := range e.Shares {
		sum += s.Share
	}
	if sum > 1+1e-6 {
		t.Fatalf("%s: shares add up to %v", name, sum)
	}
	for _, l := range e.Chain {
		if l.Current < 0 || l.Current > 1+1e-6 {
			t.Fatalf("%s: %v of the current goes through %s", name, l.Current, l.Part.Ref)
		}
	}
}
