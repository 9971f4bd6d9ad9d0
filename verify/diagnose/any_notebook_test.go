package diagnose

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Whatever lines of the notebooks are put together, mistakes among them, every
// question has an answer.
func TestAnyNotebook(t *testing.T) {
	var lines, plans []string
	for _, pattern := range []string{"../../examples/two-inputs.buzzout", "../../examples/practice.buzzout", "../../testdata/circuits/[gimos]*.buzzout"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			t.Fatal(pattern, err)
		}
		for _, path := range paths {
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
	}
	checks := 0
	rapid.Check(t, func(rt *rapid.T) {
		if checks++; checks > 25 {
			return // each takes some hundredths of a second
		}
		var text strings.Builder
		text.WriteString(rapid.SampledFrom(plans).Draw(rt, "plan"))
		for range rapid.IntRange(1, 4).Draw(rt, "runs") {
			from := rapid.IntRange(0, len(lines)-1).Draw(rt, "from")
			n := rapid.IntRange(1, 50).Draw(rt, "lines")
			for _, line := range lines[from:min(from+n, len(lines))] {
				text.WriteString(line)
			}
		}
		b := netlist.Build(lang.Parse(diag.NewSource("any", text.String())), nil)
		for _, planned := range []bool{false, true} {
			d := New(Case{Book: b, Meaning: b.Meanings()[0], Planned: planned})
			d.Read(b.Readings...)
			s := d.Suspect()
			sum := s.Unlisted
			for _, x := range s.Suspects {
				sum += x.Probability
			}
			if sum > 1+1e-9 || len(s.Suspects) == 0 && s.Unlisted < 0.9 {
				rt.Fatalf("%d suspects, probabilities add up to %v", len(s.Suspects), sum)
			}
			step := d.WhereNext()
			if (step.Done == NotDone) != (step.Red != netlist.NoTerminal && step.Black != netlist.NoTerminal) {
				rt.Fatalf("done %d, and probes on %d and %d", step.Done, step.Red, step.Black)
			}
		}
	})
}
