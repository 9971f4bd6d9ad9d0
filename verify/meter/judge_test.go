package meter

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"buzzout/netlist"
)

// Each reading is judged on the bench and in the setting of its moment.
func TestJudge(t *testing.T) {
	const text = `
part R1 resistor 68k
part R2 resistor 1M
part R3 resistor 4R7
part J1 jack-break
part C1 electrolytic 32u 450V
part D1 diode
part D2 diode
part TB tagboard 8
part PR1 pot 100k lin
fit R1 TB.1 TB.2
fit R2 TB.2 TB.3
lead green TB.1 J1.tip
lead black TB.3 J1.break
reading probes 0.2
reading TB.1 TB.1 0.2                   # within
reading TB.2 TB.3 63.7k                 # within
reading TB.2 TB.3 1.03M with J1 in      # within
reading TB.2 TB.3 1.03M                 # out TooHigh
reading TB.2 TB.3 63.7                  # out TooLow x1000
reading TB.2 TB.3 63.7M                 # out TooHigh x0.001
reading TB.2 TB.3 40k                   # out TooLow
reading TB.2 TB.3 OL                    # out ReadsOpen
reading TB.2 TB.4 1.2M                  # impossible NoWay
reading TB.2 TB.4 OL                    # within
reading TB.2 TB.4 over 20M              # within
reading TB.1 J1.tip 3.2                 # impossible NotJoined
reading TB.1 J1.tip OL                  # impossible ReadsOpen
reading TB.1 J1.tip 0.4                 # within
reading TB.1 J1.tip buzz                # within
reading TB.1 J1.tip silent              # impossible NotJoined
reading TB.2 TB.3 buzz                  # out TooLow
reading TB.2 TB.3 silent                # within
reading TB.2 TB.4 buzz                  # impossible NoWay
reading TB.2 TB.3 12.4V                 # not ohms
reading C1.+ C1.- rising                # within
reading TB.2 TB.3 rising                # out DoesNotClimb
reading C1.+ C1.- 120k                  # within
reading D1.a D1.k 640k                  # within
reading D1.k D1.a 640k                  # impossible NoWay
reading PR1.1 PR1.2 3k                  # within
reading PR1.1 PR1.2 3k with PR1 50%     # out TooLow
reading TB.2 TB.3 over 20M with J1 in   # out ReadsOpen
unsolder TB.1 R1.1
reading TB.2 TB.3 1.03M                 # within
reading probes 2.5
reading TB.1 J1.tip 1.2                 # impossible BelowProbes
fit R1 R1.1 TB.1
`
	verdicts := map[string]Verdict{"within": Within, "out": Out, "impossible": Impossible, "not ohms": NotOhms}
	reasons := map[string]Reason{"TooLow": TooLow, "TooHigh": TooHigh, "NoWay": NoWay, "NotJoined": NotJoined,
		"BelowProbes": BelowProbes, "ReadsOpen": ReadsOpen, "DoesNotClimb": DoesNotClimb}
	var wants []string
	for line := range strings.Lines(text) {
		if _, want, ok := strings.Cut(line, "# "); ok {
			wants = append(wants, strings.TrimSpace(want))
		}
	}
	b := build(t, strings.Replace(text, "fit R1 R1.1 TB.1\n", "", 1))
	m := b.Meanings()[0]
	if len(b.Readings) != len(wants) {
		t.Fatalf("%d readings, %d answers", len(b.Readings), len(wants))
	}
	for i, r := range b.Readings {
		j := Judge(b, m, r)
		want := wants[i]
		factor := 0.0
		if rest, f, ok := strings.Cut(want, " x"); ok {
			want = rest
			factor, _ = strconv.ParseFloat(f, 64)
		}
		reason := ""
		if _, known := verdicts[want]; !known {
			want, reason, _ = strings.Cut(want, " ")
		}
		if j.Verdict != verdicts[want] || j.Reason != reasons[reason] || j.Factor != factor {
			t.Errorf("%s: verdict %d, reason %d, factor %g; want %s (%.4g between %.4g and %.4g)",
				r.Fact.Text(), j.Verdict, j.Reason, j.Factor, wants[i], j.Measured, j.Low, j.High)
		}
	}
}

// A reading that climbs counts as standing after five time constants, when 99.3
// per cent of the way is done (US Army subcourse MM0704, p. 22).
func TestClimbsStandAfterFiveTimeConstants(t *testing.T) {
	n := bench(t, "part R1 resistor 100k\npart C1 electrolytic 22u 25V\nsolder R1.1 C1.+\nsolder R1.2 C1.-\n")
	e := expect(t, n, "R1.1", "R1.2")
	if len(e.Climbs) != 1 {
		t.Fatalf("%d climbs", len(e.Climbs))
	}
	if done := 1 - math.Exp(-e.Climbs[0].Seconds/(100e3*22e-6)); !near(done, 0.993, 0.001) {
		t.Errorf("%.4f of the way is done", done)
	}
}

// How long a reservoir takes to come down, against a table of discharge times
// worked out from V0 exp(-t/RC) (testdata/discharge_times.csv). Seconds are
// printed to a tenth.
func TestDischargeTimes(t *testing.T) {
	file, err := os.Open("testdata/discharge_times.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) < 5 {
		t.Fatal(err, len(rows))
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	for _, r := range rows[1:] {
		got := discharge(number(r[2])*1e3, number(r[0])*1e-6, number(r[1]))
		if math.Abs(got-number(r[3])) > 0.0501 {
			t.Errorf("%s uF from %s V through %s k: %.2f s, want %s", r[0], r[1], r[2], got, r[3])
		}
	}
}

func TestCautions(t *testing.T) {
	b := open(t, "../../examples/lantern-built.buzzout")
	n := Built(b.Bench(), b.Meanings()[0], nil)
	for _, c := range []struct {
		red     string
		at      string
		seconds float64 // of the first
	}{
		{"TB2.1", "C16", 220e3 * 32e-6 * math.Log(450.0/60)}, // the first section, its own bleeder
		{"TB1.22", "C16 C16", 220e3 * 32e-6 * math.Log(7.5)}, // the second, and the third behind 10k
		{"V3.9", "C16 C16", 220e3 * 32e-6 * math.Log(7.5)},   // a screen grid, 470 ohm from the supply
		{"TB1.16", "C14", math.Inf(1)},                       // a bias supply of 100 V holds a charge too
		{"V1.2", "", 0},                                      // a grid
		{"V4.4", "", 0},                                      // a heater
		{"TB1.10", "", 0},                                    // an anode behind 82k: a finger's worth, and no reservoir
	} {
		e := expect(t, n, c.red, "CH.star")
		var refs []string
		for _, x := range e.Cautions {
			refs = append(refs, x.Part.Ref)
		}
		got := strings.Join(refs, " ")
		if !strings.HasPrefix(got, c.at) || c.at == "" && got != "" {
			t.Errorf("%s: cautions of %q, want %q", c.red, got, c.at)
			continue
		}
		if c.at != "" && !math.IsInf(c.seconds, 1) && !near(e.Cautions[0].Seconds, c.seconds, 0.15) {
			t.Errorf("%s: %g seconds, want about %g", c.red, e.Cautions[0].Seconds, c.seconds)
		}
	}
	// Without a bleeder it holds its charge for ever.
	alone := bench(t, "part C1 electrolytic 32u 450V\npart GND point\nlead black C1.- GND\n")
	e := expect(t, alone, "C1.+", "GND")
	if len(e.Cautions) != 1 || !math.IsInf(e.Cautions[0].Bleed, 1) || !math.IsInf(e.Cautions[0].Seconds, 1) {
		t.Errorf("%+v", e.Cautions)
	}
}

func TestSheet(t *testing.T) {
	b := open(t, "../../examples/lantern-built.buzzout")
	n := Built(b.Bench(), b.Meanings()[0], nil)
	s := n.Sheet(netlist.NoTerminal)
	if name := b.Name(s.Black); name != "CH.star" {
		t.Errorf("the black probe goes on %s", name)
	}
	if len(s.Rows) < 50 {
		t.Errorf("%d rows", len(s.Rows))
	}
	seen := map[int32]bool{}
	last := -1
	boards := map[*netlist.Part]bool{}
	for _, r := range s.Rows {
		if seen[r.Conductor.Number] {
			t.Errorf("%s is read twice", b.Name(r.Red))
		}
		seen[r.Conductor.Number] = true
		p := b.Terminals[r.Red].Part
		if p.Index < last {
			t.Errorf("the walk goes back to %s", p.Ref)
		}
		last = p.Index
		boards[p] = true
		if n.Conductor(r.Red) == n.Conductor(s.Black) {
			t.Errorf("%s is ground itself", b.Name(r.Red))
		}
		again := n.Expect(r.Red, s.Black)
		if again.Ohms != r.Ohms && !near(again.Ohms, r.Ohms, 1e-9) || again.Kind != r.Kind {
			t.Errorf("%s: %g on the sheet, %g by itself", b.Name(r.Red), r.Ohms, again.Ohms)
		}
	}
	// Every net of the plan that is not ground is on it.
	for _, net := range b.Nets {
		c := n.Conductor(net.Members[0].Terminal)
		if !seen[c] && c != n.Conductor(s.Black) {
			t.Errorf("net %s is not on the sheet", net.Name)
		}
	}
	if len(s.Cautions) == 0 || len(s.Settings) == 0 {
		t.Errorf("%d cautions, %d settings", len(s.Cautions), len(s.Settings))
	}
	for _, c := range n.Conductors() {
		mains := false
		for _, name := range c.Nets {
			mains = mains || strings.HasPrefix(name, "live") || strings.HasPrefix(name, "neutral")
		}
		if c.Mains != mains {
			t.Errorf("%v: mains %v", c.Nets, c.Mains)
		}
	}
	empty := bench(t, "part R1 resistor 1k\n").Sheet(netlist.NoTerminal)
	if empty.Black != netlist.NoTerminal || len(empty.Rows) != 0 {
		t.Errorf("a sheet of nothing: %+v", empty)
	}
}

// The same question has the same answer, to the bit.
func TestSameAnswerEveryTime(t *testing.T) {
	b := open(t, "../../examples/lantern-faults.buzzout")
	m := b.Meanings()[0]
	first := Built(b.Bench(), m, nil).Sheet(netlist.NoTerminal)
	for range 3 {
		again := Built(b.Bench(), m, nil).Sheet(netlist.NoTerminal)
		for i := range first.Rows {
			x, y := first.Rows[i], again.Rows[i]
			if x.Red != y.Red || x.Ohms != y.Ohms || x.Low != y.Low || x.High != y.High || shares(x.Expectation) != shares(y.Expectation) {
				t.Fatalf("row %d differs", i)
			}
		}
	}
}

func BenchmarkLantern(b *testing.B) {
	book := open(b, "../../examples/lantern-built.buzzout")
	m := book.Meanings()[0]
	bench := book.Bench()
	b.Run("draw", func(b *testing.B) {
		for b.Loop() {
			Built(bench, m, nil)
		}
	})
	b.Run("expect", func(b *testing.B) {
		n := Built(bench, m, nil)
		red, black := at(b, book, "V3.2"), at(b, book, "CH.star")
		for b.Loop() {
			n.Expect(red, black)
		}
	})
	b.Run("sheet", func(b *testing.B) {
		for b.Loop() {
			Built(bench, m, nil).Sheet(netlist.NoTerminal)
		}
	})
}
