package meter

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
	"buzzout/verify/meter/ohms"
)

func near(a, b, tolerance float64) bool {
	return a == b || math.Abs(a-b) <= tolerance*max(math.Abs(a), math.Abs(b))
}

// bench draws the network of a notebook as it stands at its end.
func bench(t testing.TB, text string) *Network {
	t.Helper()
	b := build(t, text)
	return Built(b.Bench(), b.Meanings()[0], nil)
}

func expect(t testing.TB, n *Network, red, black string) Expectation {
	t.Helper()
	return n.Expect(at(t, n.Book, red), at(t, n.Book, black))
}

// Values of single things, by the rules told in values.go. Each is measured
// across a part that is joined to nothing.
func TestSingleParts(t *testing.T) {
	for _, c := range []struct {
		part, red, black    string
		nominal, low, high  float64
		basis               Basis
		also                string // more lines of the notebook
		exact, open, rising bool
	}{
		{part: "part X resistor 100k", red: "X.1", black: "X.2", nominal: 100e3, low: 95e3, high: 105e3, exact: true},
		{part: "part X resistor 100k 1%", red: "X.1", black: "X.2", nominal: 100e3, low: 99e3, high: 101e3, exact: true},
		{part: "part X resistor 100k carbon", red: "X.1", black: "X.2", nominal: 100e3, low: 90e3, high: 110e3, exact: true},
		{part: "part X resistor 100k metal-film", red: "X.1", black: "X.2", nominal: 100e3, low: 99e3, high: 101e3, exact: true},
		{part: "part X resistor", red: "X.1", black: "X.2", nominal: 10e3, low: 1, high: 10e6, basis: Unknown},
		{part: "part X resistor 100k", also: "fit X 91k", red: "X.1", black: "X.2", nominal: 91e3, low: 86450, high: 95550, exact: true},
		{part: "part X resistor 100k 2%", also: "fit X 0.6 ohm", red: "X.1", black: "X.2", nominal: 0.6, low: 0.588, high: 0.612, exact: true},
		{part: "part X resistor 100k", also: "fit X none", red: "X.1", black: "X.2", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, open: true},
		{part: "part X choke 10H 180R", red: "X.1", black: "X.2", nominal: 180, low: 162, high: 198, exact: true},
		{part: "part X choke 10H", red: "X.1", black: "X.2", nominal: 120, low: 5, high: 3000, basis: Unknown},
		{part: "part X choke", red: "X.1", black: "X.2", nominal: 20, low: 0.05, high: 1000, basis: Unknown},
		{part: "part X choke 10H 180R", also: "fit X resistor 1k 5W", red: "X.1", black: "X.2", nominal: 1000, low: 950, high: 1050, exact: true},
		// An 8 ohm loudspeaker reads about three quarters of that (common
		// practice, no source).
		{part: "part X loudspeaker 8", red: "X.+", black: "X.-", nominal: 6, low: 4.4, high: 7.6, basis: Derived, exact: true},
		{part: "part X loudspeaker 8 { dcr + - 6.9 }", red: "X.+", black: "X.-", nominal: 6.9, low: 6.21, high: 7.59, exact: true},
		{part: "part X fuse 1A slow", also: "set X in", red: "X.end", black: "X.side", nominal: 0.2, low: 0.2 / 3, high: 0.6, basis: Supposed, exact: true},
		{part: "part X fuse 1A slow", red: "X.end", black: "X.side", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, open: true, also: "set X out"},
		{part: "part X lamp-wired 6.3V 0.3A", red: "X.1", black: "X.2", nominal: 2.1, low: 1.05, high: 4.2, basis: Supposed, exact: true},
		{part: "part X ecc83", also: "set X in", red: "X.4", black: "X.9", nominal: 6.3, low: 2.94, high: 12.6, basis: Supposed, exact: true},
		{part: "part X ecc83", also: "set X out", red: "X.4", black: "X.9", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, open: true},
		{part: "part X ecc83", also: "set X in", red: "X.6", black: "X.8", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, open: true},
		{part: "part X ez81", also: "set X in", red: "X.1", black: "X.3", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, open: true},
		{part: "part X capacitor 22n", red: "X.1", black: "X.2", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, open: true},
		{part: "part X electrolytic 47u 450V", red: "X.+", black: "X.-", nominal: math.Inf(1), low: math.Inf(1), high: math.Inf(1), exact: true, rising: true},
		{part: "part X pot 1M log", red: "X.1", black: "X.3", nominal: 1e6, low: 0.8e6, high: 1.2e6, exact: true},
		{part: "part X pot 1M log", also: "set X ccw", red: "X.2", black: "X.3", nominal: 1e6, low: 0.8e6, high: 1.2e6, exact: true},
		{part: "part X pot 1M log", also: "set X cw", red: "X.2", black: "X.3", nominal: 0, low: 0, high: 0, exact: true},
		// A log track has 10 to 15 % below the wiper at half its travel, an
		// antilog one 85 to 90 % (pages of pot makers and builders on tapers).
		{part: "part X pot 1M log 0.001%", also: "set X 50%", red: "X.2", black: "X.1", nominal: 125e3, low: 100e3, high: 150e3},
		{part: "part X pot 1M antilog 0.001%", also: "set X 50%", red: "X.2", black: "X.1", nominal: 875e3, low: 850e3, high: 900e3},
		{part: "part X pot 1M lin 0.001%", also: "set X 50%", red: "X.2", black: "X.1", nominal: 500e3, low: 450e3, high: 550e3},
		{part: "part X pot 1M lin 0.001%", also: "set X 25%", red: "X.2", black: "X.1", nominal: 250e3, low: 225e3, high: 275e3},
		{part: "part X pot 1M", red: "X.1", black: "X.2", nominal: 500e3, low: 0, high: 1.2e6},
	} {
		n := bench(t, c.part+"\n"+c.also+"\n")
		e := expect(t, n, c.red, c.black)
		if !near(e.Ohms, c.nominal, 1e-9) || !near(e.Low, c.low, 1e-4) || !near(e.High, c.high, 1e-4) {
			t.Errorf("%s; %s: %g, %g to %g; want %g, %g to %g", c.part, c.also, e.Ohms, e.Low, e.High, c.nominal, c.low, c.high)
		}
		if e.Exact != c.exact || (e.Kind == Open) != c.open || (e.Kind == Rising) != c.rising {
			t.Errorf("%s; %s: exact %v, kind %d", c.part, c.also, e.Exact, e.Kind)
		}
		if len(e.Shares) > 0 && e.Shares[0].Basis != c.basis {
			t.Errorf("%s; %s: basis %d", c.part, c.also, e.Shares[0].Basis)
		}
	}
}

func TestWindings(t *testing.T) {
	for _, c := range []struct {
		dcr       string
		ends      []string
		each      []float64
		basis     Basis
		wideShare bool
	}{
		{"dcr a b 10; dcr b c 20", []string{"a", "b", "c"}, []float64{10, 20}, Stated, false},
		{"dcr a c 30; dcr b c 20", []string{"a", "b", "c"}, []float64{10, 20}, Stated, false},
		{"dcr c a 30", []string{"a", "b", "c"}, []float64{15, 15}, Derived, true},
		{"", []string{"a", "b", "c"}, []float64{20, 20}, Unknown, true},
		{"dcr a d 60; dcr a c 30; dcr a b 10", []string{"a", "b", "c", "d"}, []float64{10, 20, 30}, Stated, false},
		// From load and volts lines: a twentieth (from memory), taps by the roots
		// of their impedances.
		{"load a b 4; load a c 16", []string{"a", "b", "c"}, []float64{0.4, 0.4}, Supposed, false},
		{"volts a c 250V 100mA", []string{"a", "b", "c"}, []float64{62.5, 62.5}, Supposed, false},
		{"volts a b 6.3V", []string{"a", "b"}, []float64{20}, Unknown, false},
		{"dcr a d 60; dcr b c 20", []string{"a", "b", "c", "d"}, []float64{20, 20, 20}, Derived, true},
	} {
		n := bench(t, fmt.Sprintf("part T transformer {\n winding w %s\n %s\n}\n", strings.Join(c.ends, " "), strings.ReplaceAll(c.dcr, "; ", "\n")))
		for i, want := range c.each {
			e := expect(t, n, "T."+c.ends[i], "T."+c.ends[i+1])
			if !near(e.Ohms, want, 1e-9) {
				t.Errorf("%q: %s to %s is %g, want %g", c.dcr, c.ends[i], c.ends[i+1], e.Ohms, want)
			}
			if i == 0 && e.Shares[0].Basis != c.basis {
				t.Errorf("%q: basis %d, want %d", c.dcr, e.Shares[0].Basis, c.basis)
			}
		}
		sum := 0.0
		for _, x := range c.each {
			sum += x
		}
		if e := expect(t, n, "T."+c.ends[0], "T."+c.ends[len(c.ends)-1]); !near(e.Ohms, sum, 1e-9) {
			t.Errorf("%q: end to end %g, want the sum %g", c.dcr, e.Ohms, sum)
		}
	}
}

// The worst case is exact: no choice of the parts within their tolerances goes
// beyond it, and the corners reach it (Rayleigh's law).
func TestBoundsHoldForAllCorners(t *testing.T) {
	n := bench(t, `
part R1 resistor 100k 10%
part R2 resistor 47k 5%
part R3 resistor 220k 20%
part R4 resistor 1M 1%
part R5 resistor 33k 5%
part R6 resistor 10k 10%
part TB tagboard 5
fit R1 TB.1 TB.2
fit R2 TB.2 TB.3
fit R3 TB.3 TB.1
fit R4 TB.2 TB.4
fit R5 TB.4 TB.3
fit R6 TB.4 TB.5
`)
	r := rand.New(rand.NewPCG(1, 1))
	for _, pair := range [][2]string{{"TB.1", "TB.2"}, {"TB.1", "TB.5"}, {"TB.2", "TB.5"}, {"TB.3", "TB.4"}} {
		e := expect(t, n, pair[0], pair[1])
		if !e.Exact {
			t.Errorf("%v: not exact", pair)
		}
		p, q := n.Conductor(e.Red), n.Conductor(e.Black)
		least, most := math.Inf(1), 0.0
		for corner := range 1<<6 + 2000 {
			branches := append([]ohms.Branch(nil), n.Circuit().Branches...)
			for i := range branches {
				piece := &n.Pieces[i]
				x := float64(corner >> i & 1)
				if corner >= 1<<6 {
					x = r.Float64()
				}
				branches[i].Ohms = piece.Low + x*(piece.High-piece.Low)
			}
			reading := ohms.New(n.Circuit().Points, branches).Between(p, q)
			least, most = min(least, reading), max(most, reading)
		}
		if !near(least, e.Low, 1e-9) || !near(most, e.High, 1e-9) {
			t.Errorf("%v: bounds %g to %g, over all corners %g to %g", pair, e.Low, e.High, least, most)
		}
		outside := 0
		for range 2000 {
			branches := append([]ohms.Branch(nil), n.Circuit().Branches...)
			for i := range branches {
				piece := &n.Pieces[i]
				branches[i].Ohms = piece.Low + r.Float64()*(piece.High-piece.Low)
			}
			if reading := ohms.New(n.Circuit().Points, branches).Between(p, q); reading < e.LikelyLow || reading > e.LikelyHigh {
				outside++
			}
		}
		if outside > 120 {
			t.Errorf("%v: %d of 2000 outside the likely band", pair, outside)
		}
	}
}

// A wiper breaks the law: with the ends of the track joined the reading from
// wiper to ends is nought at both stops and a quarter of the track in the
// middle, and the bounds say that they are not exact.
func TestWiperIsNotMonotone(t *testing.T) {
	text := "part X pot 100k lin 0.001%\nlead bare X.1 X.3\n"
	e := expect(t, bench(t, text), "X.2", "X.1")
	if e.Exact || !near(e.High, 25e3, 1e-4) || e.Low > 1e-6 || !near(e.Ohms, 25e3, 1e-9) || len(e.Wipers) == 0 && e.High != e.Low {
		t.Errorf("%g, %g to %g, exact %v, wipers %d", e.Ohms, e.Low, e.High, e.Exact, len(e.Wipers))
	}
	for _, c := range []struct {
		turn string
		want float64
	}{{"0%", 0}, {"100%", 0}, {"25%", 18750}} {
		e := expect(t, bench(t, text+"set X "+c.turn+"\n"), "X.2", "X.1")
		if !near(e.Ohms, c.want, 1e-9) {
			t.Errorf("at %s it reads %g, want %g", c.turn, e.Ohms, c.want)
		}
	}
	// Ganged tracks turn together: their wipers meet at one potential.
	n := bench(t, "part X pot-dual 100k lin 0.001%\nlead bare X.a1 X.b3\n")
	e = expect(t, n, "X.a2", "X.b2")
	if !near(e.Low, 100e3, 1e-4) || !near(e.High, 100e3, 1e-4) {
		t.Errorf("a rising and a falling track in series read %g to %g, want 100k at every turn", e.Low, e.High)
	}
}

// What a megohm reads in circuit, and why: the lesson of the meter.
func TestBesides(t *testing.T) {
	n := bench(t, `
part R1 resistor 1M
part R2 resistor 180k
part R3 resistor 100k
part TB tagboard 6
part V1 ecc83
fit R1 TB.1 TB.2
fit R2 TB.1 TB.3
fit R3 TB.3 TB.2
lead green TB.1 V1.2
lead black TB.2 V1.3
`)
	e := expect(t, n, "R1.1", "R1.2")
	if !near(e.Ohms, 218750, 1e-9) || len(e.Besides) != 1 {
		t.Fatalf("%g, %d besides", e.Ohms, len(e.Besides))
	}
	b := e.Besides[0]
	if b.Part.Ref != "R1" || !near(b.Around, 280e3, 1e-9) {
		t.Errorf("%s reads low because of %g across it", b.Part.Ref, b.Around)
	}
	if way := links(b.Way); way != "R2 R3" {
		t.Errorf("the way round is %q", way)
	}
	if b.Lift.End != at(t, n.Book, "R1.1") || !slices.Equal(b.Lift.From, []netlist.TerminalID{at(t, n.Book, "TB.1")}) {
		t.Errorf("lift %s from %v", n.Book.Name(b.Lift.End), b.Lift.From)
	}
	if got := shares(e); got != "R2 50% R3 28% R1 22%" {
		t.Errorf("shares: %s", got)
	}
	// With the end lifted it reads alone.
	b2 := build(t, strings.ReplaceAll("part R1 resistor 1M\npart R2 resistor 180k\npart TB tagboard 2\nfit R1 TB.1 TB.2\nfit R2 TB.1 TB.2\nunsolder R1.1 TB.1\n", "R1.1 TB.1", "R1.1"))
	alone := Built(b2.Bench(), b2.Meanings()[0], nil)
	if e := expect(t, alone, "R1.1", "R1.2"); !near(e.Ohms, 1e6, 1e-9) || len(e.Besides) != 0 {
		t.Errorf("lifted, it reads %g", e.Ohms)
	}
}

func links(way []Link) string {
	var list []string
	for _, l := range way {
		list = append(list, l.Part.Ref)
	}
	return strings.Join(list, " ")
}

func shares(e Expectation) string {
	var list []string
	for _, s := range e.Shares {
		list = append(list, fmt.Sprintf("%s %.0f%%", s.Part.Ref, 100*s.Share))
	}
	return strings.Join(list, " ")
}

func TestChain(t *testing.T) {
	b := open(t, "../../examples/lantern-built.buzzout")
	n := Built(b.Bench(), b.Meanings()[0], nil)
	for _, c := range []struct{ red, black, way string }{
		{"TB2.1", "CH.star", "R31"},
		{"V1.1", "TB1.22", "R5 R30 R29"},
		{"V2.2", "V2.3", "R10 R11 R13"},
		{"J1.tip", "CH.star", ""},
		{"V3.2", "V3.3", "R20 P4 P5 R27 R24"},
	} {
		e := expect(t, n, c.red, c.black)
		if got := links(e.Chain); got != c.way {
			t.Errorf("%s to %s goes by %s, want %s", c.red, c.black, got, c.way)
		}
		at := e.Red
		for i, l := range e.Chain {
			if n.Conductor(l.From) != n.Conductor(at) {
				t.Errorf("%s to %s: link %d begins elsewhere", c.red, c.black, i)
			}
			at = l.To
		}
		if len(e.Chain) > 0 && !n.Circuit().One(n.Conductor(at), n.Conductor(e.Black)) {
			t.Errorf("%s to %s: the chain does not arrive", c.red, c.black)
		}
	}
}

// Semiconductors: a meter may drive a junction on in one direction and never
// in the other.
func TestJunctions(t *testing.T) {
	n := bench(t, `
part D1 diode 1A
part R1 resistor 10k
part BR bridge
part R2 resistor 47k
part TB tagboard 4
fit D1 a TB.1 k TB.2
fit R1 TB.2 TB.3
fit R2 BR.+ BR.-
`)
	names := func(list []Junction) string {
		var out []string
		for _, j := range list {
			out = append(out, fmt.Sprintf("%s.%d", j.Part.Ref, j.Element))
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct {
		red, black        string
		forward, reversed string
		ohms, driven      float64
	}{
		{"D1.a", "D1.k", "D1.0", "", math.Inf(1), 700},
		{"D1.k", "D1.a", "", "D1.0", math.Inf(1), math.Inf(1)},
		{"TB.1", "TB.3", "D1.0", "", math.Inf(1), 10700},
		// Through a bridge the meter finds two junctions, either way.
		{"BR.ac-1", "BR.ac-2", "BR.0 BR.3", "BR.1 BR.2", math.Inf(1), 48400},
		{"BR.-", "BR.+", "BR.2 BR.0 BR.3 BR.1", "", 47e3, 0},
		{"BR.+", "BR.-", "", "BR.2 BR.0 BR.3 BR.1", 47e3, 47e3},
	} {
		e := expect(t, n, c.red, c.black)
		same := func(a, b string) bool { // in whatever order they came on
			return len(a) == len(b) && len(strings.Fields(a)) == len(strings.Fields(b)) && sorted(a) == sorted(b)
		}
		if got := names(e.Forward.Junctions); !same(got, c.forward) {
			t.Errorf("%s to %s: forward %q, want %q", c.red, c.black, got, c.forward)
		}
		if got := names(e.Reversed.Junctions); !same(got, c.reversed) {
			t.Errorf("%s to %s: reversed %q, want %q", c.red, c.black, got, c.reversed)
		}
		if e.Ohms != c.ohms && !near(e.Ohms, c.ohms, 1e-9) {
			t.Errorf("%s to %s: without junctions %g, want %g", c.red, c.black, e.Ohms, c.ohms)
		}
		if c.driven != 0 && e.Forward.Driven != c.driven && !near(e.Forward.Driven, c.driven, 1e-9) {
			t.Errorf("%s to %s: driven %g, want %g", c.red, c.black, e.Forward.Driven, c.driven)
		}
		if (e.Kind == OneWay) != (c.forward != "") {
			t.Errorf("%s to %s: kind %d", c.red, c.black, e.Kind)
		}
	}
}

func sorted(words string) string {
	list := strings.Fields(words)
	for i := range list {
		for j := range i {
			if list[i] < list[j] {
				list[i], list[j] = list[j], list[i]
			}
		}
	}
	return strings.Join(list, " ")
}

// A reading climbs while an electrolytic charges through what lies across it:
// five time constants. What has no way round goes on to over range.
func TestClimbs(t *testing.T) {
	n := bench(t, `
part C1 electrolytic 32u 450V
part R1 resistor 220k
part C2 capacitor 22n
part R2 resistor 1M
part C3 electrolytic 22u 25V
part TB tagboard 8
fit C1 + TB.1 - TB.2
fit R1 TB.1 TB.2
fit C2 TB.3 TB.4
fit R2 TB.3 TB.4
fit C3 + TB.5 - TB.6
`)
	e := expect(t, n, "TB.1", "TB.2")
	if e.Kind != Rising || len(e.Climbs) != 1 || !near(e.Climbs[0].Seconds, 5*220e3*32e-6, 1e-9) || e.Climbs[0].From != 0 {
		t.Errorf("kind %d, climbs %+v", e.Kind, e.Climbs)
	}
	if e := expect(t, n, "TB.3", "TB.4"); e.Kind != Figure {
		t.Errorf("22 nF over 1 M stand in a ninth of a second: kind %d", e.Kind)
	}
	if e := expect(t, n, "TB.5", "TB.6"); e.Kind != Rising || !math.IsInf(e.Climbs[0].Seconds, 1) || !math.IsInf(e.Ohms, 1) {
		t.Errorf("kind %d, climbs %+v", e.Kind, e.Climbs)
	}
}

func TestMeterShows(t *testing.T) {
	m := Handheld()
	m.Probes, m.Told = 0.2, true
	for _, c := range []struct{ ohms, shown float64 }{
		{0, 0.2}, {0.3, 0.5}, {47.04, 47.2}, {1000, 1000}, {34000, 34000}, {1.034e6, 1.034e6},
		{19.99e6, 19.99e6}, {20.1e6, math.Inf(1)}, {math.Inf(1), math.Inf(1)},
	} {
		if got := m.Shows(c.ohms); !near(got, c.shown, 1e-9) {
			t.Errorf("%g shows %g, want %g", c.ohms, got, c.shown)
		}
	}
	e := expect(t, bench(t, "part R1 resistor 22M\n"), "R1.1", "R1.2")
	if e.Kind != Open || !near(e.Ohms, 22e6, 1e-9) {
		t.Errorf("22 M is over range of a 20 M meter: kind %d, %g", e.Kind, e.Ohms)
	}
}

func TestPlannedAndBuiltAgreeOnAFinishedBuild(t *testing.T) {
	b := open(t, "../../testdata/circuits/inverter-long-tailed-pair-built.buzzout")
	m := b.Meanings()[0]
	built := Built(b.Bench(), m, nil)
	planned := Planned(b, m, b.Bench().Setting)
	count := 0
	for _, net := range b.Nets {
		for _, other := range b.Nets {
			x, y := net.Members[0].Terminal, other.Members[0].Terminal
			if p, q := built.Expect(x, y), planned.Expect(x, y); !near(p.Ohms, q.Ohms, 1e-9) || !near(p.Low, q.Low, 1e-9) {
				t.Errorf("%s to %s: built %g, planned %g", net.Name, other.Name, p.Ohms, q.Ohms)
			}
			count++
		}
	}
	if count < 100 {
		t.Errorf("%d pairs", count)
	}
}

// Where a coloured lead flies from an end, the probe goes to the lead: the end
// is inside the transformer.
func TestProbesGoToColouredLeads(t *testing.T) {
	b := build(t, "part T1 output-se\ncolours T1 sheet { green 4ohm, black common }\n")
	n := Built(b.Bench(), b.Meanings()[0], nil)
	var got []string
	for _, c := range n.Conductors() {
		got = append(got, b.Name(c.Probe))
	}
	if strings.Join(got, " ") != "T1.black T1.green" && strings.Join(got, " ") != "T1.green T1.black" {
		t.Errorf("probes go to %v", got)
	}
}
