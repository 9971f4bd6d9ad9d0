package shell

import (
	"context"
	"fmt"
	"strings"
	"testing"
)

// large writes a harness of many like stages on tag boards, eleven parts and
// some thirty joints each, with 20 mistakes spread over it: leads exchanged,
// moved, missing and too many.
func large(stages int) string {
	var plan, bench strings.Builder
	plan.WriteString("amplifier \"Many stages\"\npart CH chassis\npart HT, HA, HB post\n")
	say := func(format string, args ...any) { fmt.Fprintf(&bench, format+"\n", args...) }
	for i := range stages {
		fmt.Fprintf(&plan, `part V%[1]d ecc83
part RG%[1]d resistor 1M
part RK%[1]d, RM%[1]d resistor 1k5
part RA%[1]d, RB%[1]d resistor 100k
part CA%[1]d, CB%[1]d capacitor 22n
part CK%[1]d electrolytic 22u
part P%[1]d pot 1M log
part TB%[1]d tagboard 16
net grid-%[1]d RG%[1]d.1 V%[1]d.2
net cathode-%[1]d V%[1]d.3 RK%[1]d.1 CK%[1]d.+
net anode-%[1]d V%[1]d.1 RA%[1]d.1 CA%[1]d.1
net top-%[1]d CA%[1]d.2 P%[1]d.cw
net wiper-%[1]d P%[1]d.wiper V%[1]d.7
net low-%[1]d V%[1]d.8 RM%[1]d.1
net out-%[1]d V%[1]d.6 CB%[1]d.1 RB%[1]d.1
net HT RA%[1]d.2 RB%[1]d.2
net HA V%[1]d.4 V%[1]d.5
net HB V%[1]d.9
net ground RG%[1]d.2 RK%[1]d.2 CK%[1]d.- P%[1]d.ccw RM%[1]d.2
`, i)
		if i > 0 {
			fmt.Fprintf(&plan, "net grid-%d CB%d.2\n", i, i-1)
		}
		wrong := i % (stages / 20) // a mistake in every so many stages
		sort := i / (stages / 20) % 4
		say("fit RG%[1]d TB%[1]d.1 TB%[1]d.9", i)
		say("fit RK%[1]d TB%[1]d.2 TB%[1]d.10", i)
		say("fit CK%[1]d + TB%[1]d.2 - TB%[1]d.10", i)
		say("fit RA%[1]d TB%[1]d.3 TB%[1]d.11", i)
		say("fit CA%[1]d TB%[1]d.3 TB%[1]d.4", i)
		say("fit RM%[1]d TB%[1]d.6 TB%[1]d.14", i)
		say("fit CB%[1]d TB%[1]d.7 TB%[1]d.8", i)
		say("fit RB%[1]d TB%[1]d.7 TB%[1]d.15", i)
		leads := [][2]string{{"TB%[1]d.1", "V%[1]d.2"}, {"TB%[1]d.2", "V%[1]d.3"}, {"TB%[1]d.3", "V%[1]d.1"},
			{"TB%[1]d.6", "V%[1]d.8"}, {"TB%[1]d.7", "V%[1]d.6"}, {"TB%[1]d.4", "P%[1]d.cw"}, {"P%[1]d.wiper", "V%[1]d.7"}, {"P%[1]d.ccw", "TB%[1]d.14"},
			{"V%[1]d.4", "V%[1]d.5"}}
		if wrong == 0 {
			switch sort {
			case 0: // grid and cathode leads exchanged
				leads[0][1], leads[1][1] = leads[1][1], leads[0][1]
			case 1: // the anode lead is missing
				leads = append(leads[:2], leads[3:]...)
			case 2: // the wiper's lead is on the other grid's cathode
				leads[6][1] = "V%[1]d.8"
			case 3: // one too many
				leads = append(leads, [2]string{"TB%[1]d.7", "TB%[1]d.3"})
			}
		}
		for _, l := range leads {
			say("lead green "+l[0]+" "+l[1], i)
		}
		say("lead black TB%[1]d.9 TB%[1]d.10 TB%[1]d.14", i)
		say("lead red TB%[1]d.15 TB%[1]d.11 TB%[1]d.12", i)
		if i == 0 {
			say("lead black TB0.9 CH.star\nlead red TB0.12 HT\nlead white V0.4 HA\nlead white V0.9 HB")
		} else {
			say("lead black TB%d.9 TB%d.9", i-1, i)
			say("lead red TB%d.12 TB%d.12", i-1, i)
			say("lead white V%d.4 V%d.4", i-1, i)
			say("lead white V%d.9 V%d.9", i-1, i)
			say("lead green TB%d.8 TB%d.1", i-1, i)
		}
	}
	plan.WriteString("net ground CH.star\n")
	fmt.Fprintf(&plan, "spare CB%d.2\n", stages-1)
	return plan.String() + bench.String() + "wiring complete\n"
}

// The mistakes of the large harness are found, and few more are told than were
// made.
func TestLargeHarness(t *testing.T) {
	s := FromText("large.buzzout", large(100), "")
	if n := len(s.Mistakes()); n > 0 {
		t.Fatalf("%d mistakes in the text, the first: %+v", n, s.Mistakes()[0])
	}
	found := 0
	for _, f := range s.verdict().findings {
		switch f.Rule {
		case "missing-joint", "misplaced", "exchanged", "bridged":
			found++
		}
	}
	if found != 20 {
		for _, f := range s.verdict().findings {
			t.Log(f.Rule, f.Message)
		}
		t.Errorf("%d differences told, 20 were made", found)
	}
}

// BenchmarkVerdict is everything from text to verdict.
func BenchmarkVerdict(b *testing.B) {
	for _, stages := range []int{100, 1000} {
		text := large(stages)
		b.Run(fmt.Sprintf("parts-%d", 11*stages), func(b *testing.B) {
			for b.Loop() {
				s := FromText("large.buzzout", text, "")
				s.Exec(context.Background(), "check")
			}
			b.ReportMetric(float64(strings.Count(text, "\n")), "lines")
		})
	}
}
