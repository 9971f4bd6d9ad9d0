package diagnose

import (
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify"
)

// lantern is the demo with readings at its end, its pots half way.
func lantern(t testing.TB, readings string) (*netlist.Book, *Diagnosis) {
	t.Helper()
	b := open(t, "../../examples/lantern-built.buzzout", "set P1..P6 50%\n"+readings)
	d := diagnosisOf(b)
	d.Read(b.Readings...)
	return b, d
}

// first tells the first fault of the first suspect: its kind, part and value.
func first(s Suspicion) string {
	if len(s.Suspects) == 0 {
		return "nobody"
	}
	return explained(s.Suspects[0].Explanations[0])
}

func explained(e Explanation) string {
	if len(e.Faults) == 0 {
		return "nothing"
	}
	var list []string
	for _, f := range e.Faults {
		text := [...]string{DryJoint: "dry", MissingPart: "missing", OpenPart: "open", LiftedWiper: "wiper", ShortPart: "short",
			WrongValue: "value", Bridge: "bridge", Exchanged: "exchanged", Misplaced: "misplaced", WrongSetting: "setting",
			OpenContact: "contact", Unlisted: "unlisted"}[f.Kind]
		if f.Part != nil {
			text += " " + f.Part.Ref
		}
		if f.Kind == WrongValue {
			text += fmt.Sprintf(" %.0f", f.Value)
		}
		list = append(list, text)
	}
	return strings.Join(list, " and ")
}

// What readings of the demo point to. The readings are what the faulty wiring
// would give, worked out by hand from the drawing.
func TestSuspects(t *testing.T) {
	for _, c := range []struct {
		name, readings string
		want           string // the first explanation
		among          string // another that must be in the same suspect, if any
		likely         float64
	}{
		{"nothing read", "", "nothing", "", 0},
		{"R7 is 15 k for 1k5", "reading TB1.4 CH.star 15.1k\nreading V1.8 CH.star 15.1k\n", "value R7 15000", "", 0.9},
		{"R10 is 1k2 for 1k", "reading TB1.7 V2.2 1.22k\nreading R10.1 R10.2 1.21k\n", "value R10 1200", "", 0.9},
		{"R5 does not lead", "reading V1.1 TB1.24 open\nreading TB1.2 TB1.24 open\nreading R5.1 R5.2 open\n", "missing R5", "open R5", 0.9},
		{"dry at the board", "reading V1.1 TB1.24 open\nreading R5.1 R5.2 99.6k\nreading R5.2 TB1.24 0.3\n", "dry", "", 0.3},
		{"pins 6 and 7 bridged", "reading V1.6 V1.7 0.3\nreading V1.7 TB1.5 0.3\n", "bridge", "", 0.9},
		{"J1 is out, whatever was said", "set J1 in\nreading V1.2 CH.star 34.2k\nreading J1.tip CH.star 0.3\n", "setting J1", "", 0.6},
		{"the standby fuse is open", "reading F2.end F2.side open\nreading T1.red/yellow CH.star open\n", "open F2", "", 0.3},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, d := lantern(t, c.readings)
			s := d.Suspect()
			if got := first(s); got != c.want {
				t.Errorf("%s, want %s; %.3f", got, c.want, s.Suspects[0].Probability)
			}
			if s.Suspects[0].Probability < c.likely {
				t.Errorf("%.3f, want %.2f at least", s.Suspects[0].Probability, c.likely)
			}
			if c.among != "" && !slices.ContainsFunc(s.Suspects[0].Explanations, func(e Explanation) bool { return explained(e) == c.among }) {
				t.Errorf("%s is not told as a rival", c.among)
			}
			sound(t, d.Book)
			consistent(t, s)
		})
	}
}

// consistent checks what must hold of every answer.
func consistent(t *testing.T, s Suspicion) {
	t.Helper()
	sum := s.Unlisted
	last := math.Inf(1)
	for _, x := range s.Suspects {
		sum += x.Probability
		if x.Probability > last+1e-12 || x.Probability < 0 {
			t.Errorf("suspects are not in order: %v after %v", x.Probability, last)
		}
		last = x.Probability
		inside := 0.0
		for _, e := range x.Explanations {
			inside += e.Probability
		}
		if len(x.Explanations) == 0 || inside > x.Probability+1e-9 {
			t.Errorf("explanations add up to %v of %v", inside, x.Probability)
		}
	}
	if sum > 1+1e-9 {
		t.Errorf("probabilities add up to %v", sum)
	}
	for _, x := range s.Suspects {
		for _, e := range x.Explanations {
			for i := range e.Faults {
				if p := e.Faults[i].Part; p != nil && e.Probability > 0.05 && slices.Contains(s.Cleared, p) {
					t.Errorf("%s is cleared, and a suspect with %.2f", p.Ref, e.Probability)
				}
			}
		}
	}
	if len(s.NotConsidered) == 0 {
		t.Error("it does not say what was not considered")
	}
}

const fiveInSeries = `part R1 resistor 1k
part R2 resistor 10k
part R3 resistor 100k
part R4 resistor 22k
part R5 resistor 3k3
solder R1.2 R2.1
solder R2.2 R3.1
solder R3.2 R4.1
solder R4.2 R5.1
`

// A part that has drifted is a suspect by faults that are listed only once the
// usual ones do not fit, and is not cleared by these.
func TestADriftedPartIsNotCleared(t *testing.T) {
	book := build(t, fiveInSeries+`reading R1.1 R1.2 333
reading R2.1 R2.2 10k
reading R3.1 R3.2 100k
reading R4.1 R4.2 22k
reading R5.1 R5.2 3.3k
reading R1.1 R2.2 10.33k
reading R2.1 R3.2 110k
`)
	d := diagnosisOf(book)
	d.Read(book.Readings...)
	s := d.Suspect()
	consistent(t, s)
	if len(s.Cleared) != 4 || s.Cleared[0].Ref != "R2" {
		t.Errorf("cleared are %d parts", len(s.Cleared))
	}
}

// Where nothing of the list explains the readings, no part is cleared by that,
// and the readings are counted all the same.
func TestReadingsThatNothingExplainsClearNothing(t *testing.T) {
	book := build(t, fiveInSeries+`reading R1.1 R1.2 333
reading R2.1 R2.2 2.2k
reading R3.1 R3.2 17k
reading R4.1 R4.2 61k
reading R5.1 R5.2 780
`)
	d := diagnosisOf(book)
	d.Read(book.Readings...)
	s := d.Suspect()
	if s.Unlisted < 0.99 || s.Readings != 5 || len(s.Cleared) != 0 {
		t.Errorf("not on the list %.3f, %d readings, cleared are %d parts", s.Unlisted, s.Readings, len(s.Cleared))
	}
}

func TestEvidence(t *testing.T) {
	_, d := lantern(t, "reading TB1.4 CH.star 15.1k\nreading V1.3 CH.star 1.49k\nreading V1.8 CH.star 15k\n")
	s := d.Suspect()
	e := s.Suspects[0].Evidence
	e = e[len(e)-3:]
	if e[0].Weight < 3 || e[2].Weight < 3 || math.Abs(e[1].Weight) > 0.1 {
		t.Errorf("weights %v, %v, %v", e[0].Weight, e[1].Weight, e[2].Weight)
	}
	if math.Abs(e[0].Under-15e3) > 1 || math.Abs(e[0].Sound-1500) > 1 || e[0].Wild {
		t.Errorf("%+v", e[0])
	}
	refs := map[string]bool{}
	for _, p := range s.Cleared {
		refs[p.Ref] = true
	}
	if refs["R7"] {
		t.Error("R7 is cleared, and is the suspect")
	}
}

// One fault that explains every reading clears no part that none of them came
// near to; a reading that does come near clears it.
func TestCleared(t *testing.T) {
	cleared := func(readings string) map[string]bool {
		_, d := lantern(t, readings)
		refs := map[string]bool{}
		for _, p := range d.Suspect().Cleared {
			refs[p.Ref] = true
		}
		return refs
	}
	const bad = "reading TB1.4 CH.star 15.1k\nreading TB1.4 TB1.26 14.9k\n"
	if refs := cleared(bad); refs["R4"] || refs["R5"] || refs["R10"] || refs["R7"] {
		t.Errorf("cleared without a reading: %v", refs)
	}
	if refs := cleared(bad + "reading R10.1 R10.2 1k\n"); !refs["R10"] || refs["R4"] || refs["R5"] || refs["R7"] {
		t.Errorf("after R10 was read: %v", refs)
	}
}

// A reading that would be right in another unit is told as such, before a part
// is accused.
func TestUnitSlips(t *testing.T) {
	_, d := lantern(t, "reading V1.2 CH.star 34.2\n")
	s := d.Suspect()
	if len(s.Slips) != 1 || s.Slips[0].Factor != 1000 {
		t.Fatalf("%+v", s.Slips)
	}
	if s.Suspects[0].Probability > 0.9 {
		t.Errorf("%s is accused with %.3f", first(s), s.Suspects[0].Probability)
	}
}

// One bad touch of the probes does not kill the truth.
func TestOneWildReading(t *testing.T) {
	_, d := lantern(t, "reading TB1.4 CH.star 15.1k\nreading V1.8 CH.star open\nreading V1.8 TB1.23 15k\nreading R7.1 R7.2 15k\n")
	s := d.Suspect()
	if got := first(s); got != "value R7 15000" && !strings.Contains(got, "R7") {
		t.Errorf("%s", got)
	}
}

// Two faults that one alone does not explain are told as a pair.
func TestPairs(t *testing.T) {
	_, d := lantern(t, `
reading TB1.4 CH.star 15.1k
reading V1.8 CH.star 15.1k
reading TB2.8 V3.2 5.63k
reading V3.2 P4.a-wiper 5.63k
`)
	s := d.Suspect()
	if !s.Pairs {
		t.Error("pairs were not tried")
	}
	got := first(s)
	if got != "value R7 15000 and value R20 5600" {
		t.Errorf("%s", got)
	}
	consistent(t, s)
}

// A part of any other value is found where no value of the series fits, and
// the value is told.
func TestDrifted(t *testing.T) {
	_, d := lantern(t, "reading TB1.5 TB1.27 163k\nreading R8.1 R8.2 162k\nreading V1.6 TB1.20 163k\n")
	s := d.Suspect()
	e := s.Suspects[0].Explanations[0]
	if len(e.Faults) != 1 || e.Faults[0].Slip != Drifted || e.Faults[0].Part.Ref != "R8" || math.Abs(e.Faults[0].Value/162e3-1) > 0.04 {
		t.Errorf("%s", explained(e))
	}
}

// What is not on the list is admitted.
func TestUnlisted(t *testing.T) {
	_, d := lantern(t, `
reading TB1.4 CH.star 6.3k
reading V1.3 CH.star 700
reading V2.2 TB1.31 222k
reading V3.9 TB1.22 1.9k
reading V4.4 CH.star 12
`)
	s := d.Suspect()
	if s.Unlisted < 0.5 {
		t.Errorf("a fault not on the list: %.3f; %s", s.Unlisted, first(s))
	}
	consistent(t, s)
}

// From the drawing alone, with no bench: a missing joint and two terminals
// exchanged.
func TestPlanned(t *testing.T) {
	const text = `
part R1 resistor 68k
part R2 resistor 1M
part V1 ecc83
part P1 pot 220k lin
part IN, GND point
net in IN R1.1
net grid R1.2 R2.1 V1.2-grid
net ground GND R2.2 V1.3 P1.ccw
net in P1.cw
set P1 cw
`
	for _, c := range []struct{ readings, want string }{
		{"reading V1.2 GND open\nreading R1.2 GND 224k\nreading V1.2 R1.2 open\n", "dry"},
		{"reading V1.2 GND 0.3\nreading V1.3 R1.2 0.4\nreading V1.3 GND 224k\n", "exchanged"},
	} {
		b := build(t, text+c.readings)
		d := New(Case{Book: b, Meaning: b.Meanings()[0], Planned: true})
		d.Read(b.Readings...)
		s := d.Suspect()
		if got := first(s); got != c.want {
			t.Errorf("%q: %s, want %s", c.readings, got, c.want)
		}
		consistent(t, s)
	}
}

// What comparison knows raises the odds of what is there.
func TestComparisonRaisesOdds(t *testing.T) {
	b := open(t, "../../examples/lantern-built.buzzout", "reading V1.1 TB1.24 open\n")
	weight := func(found []verify.Finding) float64 {
		d := New(Case{Book: b, Meaning: b.Meanings()[0], Found: found})
		d.Read(b.Readings...)
		d.weigh()
		sum := 0.0
		for h, w := range d.belief.weights {
			if f := d.hyps[h].first; f >= 0 && slices.Contains(d.faults[f].Terminals(), at(t, b, "TB1.24")) {
				sum += w
			}
		}
		return sum
	}
	before := weight(nil)
	after := weight([]verify.Finding{{Rule: "missing-joint", Terminals: []netlist.TerminalID{at(t, b, "TB1.24")}}})
	if after <= before {
		t.Errorf("%v before, %v after", before, after)
	}
	if todo := weight([]verify.Finding{{ToDo: true, Terminals: []netlist.TerminalID{at(t, b, "TB1.24")}}}); todo != before {
		t.Errorf("a thing to do counts as a finding: %v", todo)
	}
}

// A winding that nobody told takes its value from the first reading across it,
// and from then on a bad one stands out.
func TestLearning(t *testing.T) {
	b := build(t, `
part T1 transformer { winding primary a b; winding secondary c d }
part GND point
lead black T1.a GND
lead black T1.c GND
reading T1.a T1.b 47.1
reading T1.d GND 1.3
reading T1.b GND 47.3
`)
	d := diagnosisOf(b)
	d.Read(b.Readings...)
	if p := d.now.n.Pieces[0]; math.Abs(p.Ohms-46.8) > 0.1 {
		t.Errorf("the winding is taken as %v", p.Ohms)
	}
	s := d.Suspect()
	if got := first(s); got != "nothing" {
		t.Errorf("%s", got)
	}
	// Over range is no value.
	b = build(t, "part T1 transformer { winding primary a b }\npart GND point\nlead black T1.a GND\nreading T1.a T1.b OL\nreading T1.b GND OL\n")
	d = diagnosisOf(b)
	d.Read(b.Readings...)
	s = d.Suspect()
	if !slices.ContainsFunc(s.Suspects[0].Explanations, func(e Explanation) bool { return explained(e) == "open T1" }) {
		t.Errorf("%s", first(s))
	}
}

func TestWhereNextLeadsToTheFault(t *testing.T) {
	for _, c := range []struct {
		kind     Kind
		ref      string
		symptom  string
		readings int // at most, after the symptom
	}{
		{OpenPart, "R13", "reading V2.3 CH.star open\n", 8},
		{WrongValue, "R29", "reading TB2.1 TB1.21 100k\n", 8},
		{ShortPart, "C15", "reading TB1.20 CH.star 0.4\n", 10},
	} {
		_, d := lantern(t, c.symptom)
		h := slices.IndexFunc(d.hyps, func(h hypothesis) bool {
			return h.first >= 0 && d.faults[h.first].Kind == c.kind && d.faults[h.first].Part != nil && d.faults[h.first].Part.Ref == c.ref
		})
		if h < 0 {
			t.Fatalf("%s is not on the list", c.ref)
		}
		fault := d.hyps[h].first
		chassis := newChassis(d, seeded(9), d.hyps[h])
		for {
			s := d.WhereNext()
			if s.Done != NotDone {
				if s.Done != Settled || !d.holds(d.classes()[0], fault) {
					t.Errorf("%s: %d, %s", c.ref, s.Done, explained(s.Top.Explanations[0]))
				}
				break
			}
			if s.Red == s.Black || s.Red == netlist.NoTerminal {
				t.Fatalf("probes on %d and %d", s.Red, s.Black)
			}
			share := 0.0
			for _, o := range s.Outcomes {
				share += o.Share
				if o.Low > o.High || len(o.Means) == 0 {
					t.Errorf("outcome %+v", o)
				}
			}
			if share > 1+1e-9 || share < 0.8 {
				t.Errorf("outcomes make up %v", share)
			}
			if chassis.taken > c.readings {
				t.Fatalf("%s: not found in %d readings", c.ref, chassis.taken)
			}
			d.Read(chassis.take(s.Red, s.Black))
		}
	}
}

// Where a reading was taken against one point of the chassis, the same against
// another bears nothing out.
func TestWhereNextDoesNotRepeatItself(t *testing.T) {
	const wired = `part R1 resistor 270
part R2 resistor 500
part TB1 tagstrip 3
part CH chassis
net cathode R1.1 TB1.1
net middle R1.2 R2.1 TB1.2
net ground R2.2 CH.star CH.earth
solder R1.1 TB1.1
solder R1.2 R2.1 TB1.2
solder R2.2 CH.star
wiring complete
`
	for _, point := range []string{"CH.star", "CH.earth"} {
		b := build(t, wired+"reading TB1.1 "+point+" 3.2k\nreading TB1.2 "+point+" 500\n")
		d := diagnosisOf(b)
		d.Read(b.Readings...)
		s := d.WhereNext()
		if got := explained(s.Top.Explanations[0]); got != "value R1 2700" {
			t.Errorf("%s is suspected", got)
		}
		n := d.now.n
		same := func(a, b netlist.TerminalID) bool { return n.Conductor(a) == n.Conductor(b) }
		red, black := at(t, b, "TB1.1"), at(t, b, point)
		if s.Done == NotDone && (same(s.Red, red) && same(s.Black, black) || same(s.Red, black) && same(s.Black, red)) {
			t.Errorf("after TB1.1 %s it wants %s %s", point, b.Name(s.Red), b.Name(s.Black))
		}
	}
}

// The readings that are proposed first keep away from the mains, and where a
// reservoir is near the caution comes with them.
func TestWhereNextIsSafeFirst(t *testing.T) {
	_, d := lantern(t, "")
	chassis := newChassis(d, seeded(3), d.hyps[0])
	cautions := 0
	for range 8 {
		s := d.WhereNext()
		if s.Done != NotDone {
			t.Fatalf("done with %d after %d readings", s.Done, chassis.taken)
		}
		if s.Mains {
			t.Errorf("reading %d is at the mains", chassis.taken)
		}
		cautions += len(s.Expected.Cautions)
		d.Read(chassis.take(s.Red, s.Black))
	}
	if cautions == 0 {
		t.Error("eight readings in an amplifier of 300 V, and no reservoir is cautioned of")
	}
}

// Where there is nothing to learn it says so.
func TestNothingMore(t *testing.T) {
	b := build(t, "part R1 resistor 10k\n")
	d := diagnosisOf(b)
	for range 5 {
		s := d.WhereNext()
		if s.Done != NotDone {
			if s.Red != netlist.NoTerminal {
				t.Errorf("it proposes %d all the same", s.Red)
			}
			return
		}
		c := newChassis(d, seeded(1), d.hyps[0])
		d.Read(c.take(s.Red, s.Black))
	}
	t.Error("one resistor takes five readings")
}

// Whatever the notebook, the answers hold together, and are the same again.
func TestEveryNotebook(t *testing.T) {
	var paths []string
	for _, pattern := range []string{"../../examples/*.buzzout", "../../testdata/circuits/*.buzzout"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatal(pattern, err)
		}
		paths = append(paths, found...)
	}
	for _, path := range paths {
		b := open(t, path, "")
		m := b.Meanings()[0]
		for _, planned := range []bool{false, true} {
			ask := func() (Suspicion, Step) {
				d := New(Case{Book: b, Meaning: m, Planned: planned})
				d.Read(b.Readings...)
				return d.Suspect(), d.WhereNext()
			}
			s, step := ask()
			consistent(t, s)
			if !planned && strings.Contains(path, "built") && s.Unlisted > 0.5 {
				t.Errorf("%s: the readings of a sound build point to what is not on the list: %.3f", path, s.Unlisted)
			}
			if planned || !strings.HasSuffix(path, "lantern-built.buzzout") {
				continue // once more takes time
			}
			again, next := ask()
			if !reflect.DeepEqual(s.Suspects, again.Suspects) || step.Red != next.Red || step.Black != next.Black || step.Gain != next.Gain {
				t.Errorf("%s: asked twice, answered twice", path)
			}
		}
	}
}
