package shell

import (
	"slices"
	"strings"
	"testing"
)

const completionBook = `amplifier "Bench"
kind choke-special { terminals in out }
part J1 jack-break "Input"
part R1 resistor 68k
part V1 ecc83
part P1 pot 1M log
part P2 pot-switched 1M
part S1 toggle-1x2
part CH chassis
part L9 choke-special
part T2 transformer { winding primary a ht b }
drawing sheet
net input J1.tip R1.1
net ground J1.sleeve CH.star
colours T2 sheet { blue a, red ht, brown b }
lead white J1.tip R1.1
`

func TestComplete(t *testing.T) {
	s := FromText("bench.buzzout", completionBook, ".")
	if len(s.Mistakes()) > 0 {
		t.Fatal(s.Mistakes())
	}
	for _, c := range []struct {
		before string
		start  int    // -1: at the end
		want   string // words that are among those offered
		not    string // words that are not
	}{
		{"", -1, "lead check part quit", "R1 red"},
		{"le", 0, "lead", "check"},
		{"CH", 0, "check", "compare"},
		{"check ", -1, "plan built missing-joint", "V1"},
		{"check pl", 6, "plan", "built"},
		{"check plan mis", 11, "misplaced missing-joint", "plan"},
		{"about ", -1, "R1 input V1.2-grid ecc83", "lead"},
		{"at v1.", 3, "V1.1-anode V1.2-grid V1.4 V1.9", "V1.2"},
		{"at V1.2", 3, "V1.2-grid", "V1.1-anode"},
		{"at P1.", 3, "P1.wiper P1.2 P1.cw", ""},
		{"path J1.tip ", -1, "R1.1 J1.sleeve CH.star", "R1 lead"},
		{"path J1.tip R1.1 ", -1, "", "R1.1"},
		{"todo ", -1, "R1 input", ""},
		{"explain ", -1, "missing-joint", "R1"},
		{"help ", -1, "lead check missing-joint plate winding", ""},
		{"positions ", -1, "R1 S1", ""},
		{"sources ", -1, "T2", "R1"},
		{"compare ", -1, "", "R1"},

		{"unsolder ", -1, "J1.tip R1.1", "R1.2 CH.star"},
		{"unsolder J1.tip ", -1, "R1.1", "J1.tip J1.sleeve"},
		{"strike lead ", -1, "white", "red"},
		{"strike lead white ", -1, "J1.tip", "CH.star"},
		{"strike net ", -1, "input ground", ""},
		{"strike net ground ", -1, "J1.sleeve", "CH.star"},
		{"strike net ground CH.star ", -1, "V1.2-grid", ""},

		{"lead ", -1, "red green", "R1.1"},
		{"lead gr", 5, "green grey", "red"},
		{"lead red ", -1, "R1.1 V1.2-grid CH.star", "screen red"},
		{"lead red R1.1 ", -1, "J1.tip", "screen"},
		{"lead red R1.1 J1.tip ", -1, "screen", ""},
		{"lead white R1.1 J1.tip screen ", -1, "J1.sleeve", "screen"},
		{"solder R1.1 j1.", 12, "J1.tip J1.break", "R1.1"},
		{"part R7 ", -1, "resistor ecc83 choke-special", "R1"},
		{"part R7, ", -1, "", "resistor"},
		{"part R7, R8 res", 12, "resistor", "ecc83"},
		{"part P9 pot ", -1, "log lin", "resistor"},
		{"part T9 transformer {", -1, "winding dcr", "resistor"},
		{"part T9 transformer { winding p a b; al", 37, "alike", "winding"},
		{"kind x { like ", -1, "resistor", "winding"},
		{"net ", -1, "input ground", "R1.1"},
		{"net input ", -1, "V1.2-grid", "ground"},
		{"net x { R1.1 ", -1, "J1.tip", ""},
		{"drawing ", -1, "sheet", ""},
		{"colours ", -1, "T2", "R1"},
		{"colours T2 ", -1, "sheet", "blue"},
		{"colours T2 sheet { ", -1, "blue", "ht"},
		{"colours T2 sheet { blue ", -1, "ht unknown", "red"},
		{"colours T2 sheet { blue a, ", -1, "red", "ht"},
		{"trust T2 ", -1, "sheet", ""},
		{"fit ", -1, "R1 V1", "R1.1"},
		{"fit R1 ", -1, "none turned CH.star", ""},
		{"reading ", -1, "probes J1.tip", ""},
		{"reading J1.tip ", -1, "CH.star", "probes"},
		{"reading J1.tip CH.star ", -1, "open rising", "R1.1"},
		{"reading J1.tip CH.star 68k ", -1, "with", "open"},
		{"reading J1.tip CH.star 68k with ", -1, "J1 S1 P2.pull", "R1"},
		{"reading J1.tip CH.star 68k with J1 ", -1, "in out", "up"},
		{"set ", -1, "J1 P1 P2.shaft P2.pull V1", "R1"},
		{"set s1 ", -1, "up down", "in"},
		{"set P1 ", -1, "ccw cw", ""},
		{"set S1 up, j", 11, "J1", "S1"},
		{"wiring ", -1, "complete open", ""},
		{"wiring complete ", -1, "input", ""},
		{"strike ", -1, "lead", "check"},
		{"try ", -1, "unsolder", "check"},
		{"try solder ", -1, "R1.1", ""},
		{"check; le", 7, "lead", ""},
		{"note \"le", -1, "", "lead"},
		{"check # le", -1, "", "lead"},
		{"note \"a\" ", -1, "", "lead"},
		{"nonsense ", -1, "", "lead"},
	} {
		start, found := s.Complete(c.before)
		if want := c.start; want >= 0 && start != want || want < 0 && start != len(c.before) {
			t.Errorf("%q: the word begins at %d, want %d", c.before, start, c.start)
		}
		for _, w := range strings.Fields(c.want) {
			if !slices.Contains(found, w) && w != "plate" {
				t.Errorf("%q: %s is not offered among %q", c.before, w, clipList(found))
			}
		}
		for _, w := range strings.Fields(c.not) {
			if slices.Contains(found, w) {
				t.Errorf("%q: %s is offered", c.before, w)
			}
		}
	}
}

func clipList(list []string) []string { return list[:min(len(list), 12)] }

func TestElectrodesStandForTheirPins(t *testing.T) {
	s := FromText("bench.buzzout", completionBook, ".")
	for _, c := range []struct {
		before string
		start  int
		want   string
	}{
		{"at V1.gr", 3, "V1.2-grid V1.7-grid"},
		{"lead red R1.1 v1.Cath", 14, "V1.3-cathode V1.8-cathode"},
		{"net x { V1.a", 8, "V1.1-anode V1.6-anode"},
		{"at V1.", 3, ""},
		{"at V1.2", 3, ""},
		{"at R1.gr", 3, ""},
		{"parts V1.gr", 6, ""},
		{"note \"V1.gr", 11, ""},
	} {
		start, found := s.Instead(c.before)
		if start != c.start || strings.Join(found, " ") != c.want {
			t.Errorf("%q: %q at %d, want %q at %d", c.before, found, start, c.want, c.start)
		}
		for _, w := range found {
			if _, problem, _ := s.book.Terminal(w); problem != "" {
				t.Errorf("%q gives %s: %s", c.before, w, problem)
			}
		}
	}
}

// Whatever is typed, completion gives a place inside it and words that begin
// with what stands there.
func FuzzComplete(f *testing.F) {
	for _, seed := range []string{"", "lead red ", "colours T2 sheet { blue", "part R1..R24 resistor {\n", "set P1", "try strike try ", "\x00\xff{{{;;\"", "reading a b c with "} {
		f.Add(seed)
	}
	s := FromText("bench.buzzout", completionBook, ".")
	f.Fuzz(func(t *testing.T, before string) {
		start, found := s.Complete(before)
		if start < 0 || start > len(before) {
			t.Fatalf("the word begins at %d of %d", start, len(before))
		}
		for _, w := range found {
			if !strings.EqualFold(w[:min(len(w), len(before)-start)], before[start:]) {
				t.Fatalf("%q does not begin with %q", w, before[start:])
			}
		}
	})
}
