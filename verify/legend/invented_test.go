package legend

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// An invented transformer: what its kind says, and what it really is.
type invented struct {
	text  string // the part's block
	lay   *layout
	leads []int     // by lead: the end that it is; none for a screen between the windings
	turns []float64 // by end: along its winding, in any unit that all windings share
	ohms  []float64 // by end: along its winding
	name  string
}

// A coil is a winding to be.
type coil struct {
	name  string
	ends  []string
	turns []float64 // of each end
	ohms  float64   // of the whole
}

// invent makes a transformer of so many leads, by turns an output
// transformer, a mains transformer, and one of which the kind tells no figures.
func invent(t testing.TB, r *rand.Rand, leads int) *invented {
	t.Helper()
	var lines []string
	var coils []coil
	say := func(format string, a ...any) { lines = append(lines, fmt.Sprintf(format, a...)) }
	in := &invented{}
	left := leads
	screen := leads > 5 && r.IntN(10) == 0
	if screen {
		left--
	}
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	near := func(x, by float64) float64 { return x * (1 + by*(2*r.Float64()-1)) }
	switch kind := r.IntN(3); {
	case kind == 0:
		in.name = "output"
		load := []float64{2000, 3400, 5000, 6600, 8000, 10000}[r.IntN(6)]
		n := math.Sqrt(load)
		var p coil
		switch {
		case left >= 9 && r.IntN(2) == 0:
			tap := between(0.2, 0.45)
			p = coil{"primary", []string{"anode-a", "screen-a", "ht", "screen-b", "anode-b"},
				[]float64{0, n * (1 - tap) / 2, n / 2, n * (1 + tap) / 2, n}, between(120, 500)}
			say("load anode-a anode-b %g", load)
			say("alike anode-a screen-a with anode-b screen-b but phase")
		case left >= 5 && r.IntN(3) > 0:
			p = coil{"primary", []string{"anode-a", "ht", "anode-b"}, []float64{0, n / 2, n}, between(120, 500)}
			say("load anode-a anode-b %g", load)
			say("alike anode-a with anode-b but phase")
		default:
			p = coil{"primary", []string{"ht", "anode"}, []float64{0, n}, between(80, 400)}
			say("load ht anode %g", load)
		}
		coils = append(coils, p)
		left -= len(p.ends)
		for i := 0; left >= 2; i++ {
			// The first is for loudspeakers; then a winding for cathode
			// feedback, and small ones for whatever the maker fancied.
			if i == 1 && left >= 3 && left != 4 {
				coils = append(coils, coil{"feedback", []string{"cathode-a", "cathode-ct", "cathode-b"},
					[]float64{0, n / 20, n / 10}, between(3, 20)})
				say("alike cathode-a with cathode-b but phase")
				left -= 3
				continue
			}
			pick := [][]float64{{8}, {4, 8}, {8, 16}, {4, 8, 16}, {2, 4, 8, 16}}[r.IntN(5)]
			if left-1 < len(pick) {
				pick = pick[:left-1]
			}
			switch rest := left - 1 - len(pick); {
			case rest == 1 && len(pick) > 1:
				pick = pick[1:] // so that two leads are left for one more winding
			case rest == 1:
				pick = []float64{4, 8}
			}
			s := coil{name: fmt.Sprintf("secondary-%d", i), ohms: between(0.2, 1.2),
				ends: []string{fmt.Sprintf("common-%d", i)}, turns: []float64{0}}
			for _, z := range pick {
				end := fmt.Sprintf("%gohm-%d", z, i)
				s.ends = append(s.ends, end)
				s.turns = append(s.turns, near(math.Sqrt(z), 0.03))
				say("load common-%d %s %g", i, end, z)
			}
			coils = append(coils, s)
			left -= len(s.ends)
		}
	case kind == 1:
		in.name = "mains"
		switch {
		case left >= 10 && r.IntN(3) == 0:
			coils = append(coils, coil{"primary", []string{"0", "220", "230", "240"}, []float64{0, 220, 230, 240}, between(5, 40)})
			say("volts 0 220 220V")
			say("volts 0 230 230V")
			say("volts 0 240 240V")
			left -= 4
		case left >= 8 && r.IntN(3) == 0:
			coils = append(coils, coil{"primary-a", []string{"a0", "a115"}, []float64{0, 115}, between(3, 20)},
				coil{"primary-b", []string{"b0", "b115"}, []float64{0, 115}, between(3, 20)})
			say("volts a0 a115 115V")
			say("volts b0 b115 115V")
			say("alike a0 a115 with b0 b115")
			say("alike a0 b0 with a115 b115")
			left -= 4
		default:
			coils = append(coils, coil{"primary", []string{"mains-0", "mains-230"}, []float64{0, 230}, between(5, 40)})
			say("volts mains-0 mains-230 230V")
			say("alike mains-0 with mains-230")
			left -= 2
		}
		full := between(1.02, 1.2) // without load
		if left >= 3 {
			volts := []float64{180, 250, 275, 300, 350}[r.IntN(5)]
			ends := []string{"hv-a", "hv-ct", "hv-b"}
			at := []float64{0, volts * full, 2 * volts * full}
			if left >= 6 && r.IntN(3) == 0 {
				ends = []string{"hv-a", "bias", "hv-ct", "hv-b"}
				at = []float64{0, (volts - 50) * full, volts * full, 2 * volts * full}
			} else {
				say("alike hv-a with hv-b")
			}
			if r.IntN(2) == 0 {
				say("volts hv-a hv-ct %gV", volts)
				say("volts hv-ct hv-b %gV", volts)
			}
			coils = append(coils, coil{"hv", ends, at, between(60, 300)})
			left -= len(ends)
		}
		for i := 0; left >= 2; i++ {
			volts := []float64{6.3, 5, 6.3, 12.6, 40}[r.IntN(5)]
			a, ct, b := fmt.Sprintf("l%d-a", i), fmt.Sprintf("l%d-ct", i), fmt.Sprintf("l%d-b", i)
			c := coil{fmt.Sprintf("low-%d", i), []string{a, b}, []float64{0, volts * full}, between(0.05, 0.5)}
			if left == 3 || left > 4 && r.IntN(2) == 0 {
				c.ends, c.turns = []string{a, ct, b}, []float64{0, volts * full / 2, volts * full}
			}
			if volts == 40 {
				c.ohms = between(10, 40)
			}
			say("volts %s %s %gV", a, b, volts)
			say("alike %s with %s", a, b)
			coils = append(coils, c)
			left -= len(c.ends)
		}
	default:
		in.name = "unknown"
		for i := 0; left >= 2; i++ {
			size := 2 + r.IntN(min(left-1, 4))
			if left-size == 1 {
				size++
			}
			c := coil{name: fmt.Sprintf("w%d", i), ohms: math.Exp(between(math.Log(0.1), math.Log(400)))}
			at := 0.0
			for e := range size {
				c.ends = append(c.ends, fmt.Sprintf("w%d-%d", i, e))
				c.turns = append(c.turns, at)
				at += math.Exp(between(math.Log(0.3), math.Log(3)))
			}
			whole := math.Sqrt(c.ohms) * math.Exp(between(-0.5, 0.5))
			for e := range c.turns {
				c.turns[e] *= whole / c.turns[size-1]
			}
			coils = append(coils, c)
			left -= size
		}
	}
	for i := len(coils) - 1; i >= 0; i-- {
		lines = append([]string{fmt.Sprintf("winding %s %s", coils[i].name, strings.Join(coils[i].ends, " "))}, lines...)
	}
	in.text = strings.Join(lines, "\n")
	in.make(t, r, coils, screen)
	return in
}

// make lays the coils down and mixes the leads.
func (in *invented) make(t testing.TB, r *rand.Rand, coils []coil, screen bool) {
	t.Helper()
	book := build(t, "part T1 transformer {\n"+in.text+"\n}\n")
	p := book.Part("T1")
	in.lay = layoutOf(p)
	in.turns, in.ohms = make([]float64, len(p.Kind.Terminals)), make([]float64, len(p.Kind.Terminals))
	for _, c := range coils {
		at, whole := 0.0, 0.0
		var along []float64
		for i := range c.ends {
			if i > 0 {
				// Outer layers are longer: more ohms for a turn.
				at += (c.turns[i] - c.turns[i-1]) * (1 + 0.15*float64(i) + 0.1*r.Float64())
			}
			along = append(along, at)
			whole = at
		}
		for i, name := range c.ends {
			found, _ := p.Kind.Find(name)
			in.turns[found[0]], in.ohms[found[0]] = c.turns[i], along[i]/whole*c.ohms
			in.leads = append(in.leads, found[0])
		}
	}
	if screen {
		in.leads = append(in.leads, none)
	}
	r.Shuffle(len(in.leads), func(i, j int) { in.leads[i], in.leads[j] = in.leads[j], in.leads[i] })
}

// leadColours are what the leads of invented transformers look like.
var leadColours = []string{"black", "white", "red", "blue", "green", "brown", "orange", "yellow", "violet", "grey", "pink", "turquoise", "gold", "silver"}

// notebook writes what was read at a workbench as a person would.
func notebook(in *invented, w *workbench) string {
	text := "part T1 transformer {\n" + in.text + "\n}\ncolours T1 found {"
	for i := range in.leads {
		text += " " + leadColours[i] + " unknown,"
	}
	text += fmt.Sprintf(" }\nreading probes %.1f\n", w.rounded(w.probes*w.gain, 0.1))
	for _, m := range w.taken {
		clip := ""
		for _, c := range m.clips {
			for _, lead := range c {
				clip += " T1." + leadColours[lead]
			}
		}
		said := "open"
		switch m.sort {
		case through:
			said = fmt.Sprintf("%.1f", m.value)
		case span:
			said = fmt.Sprintf("%.3fV", m.value)
		}
		line := fmt.Sprintf("reading T1.%s T1.%s %s\n", leadColours[m.red], leadColours[m.black], said)
		if clip != "" {
			line = "solder" + clip + "\n" + line + "unsolder" + clip + "\n"
		}
		text += line
	}
	return text
}

func build(t testing.TB, text string) *netlist.Book {
	t.Helper()
	book := netlist.Build(lang.Parse(&diag.Source{Name: "test.buzzout", Text: text}), nil)
	for _, m := range book.Mistakes {
		t.Fatalf("%s: %s\n%s", m.Place, m.Message, text)
	}
	return book
}

// A noise is how a meter strays.
type noise struct {
	contact float64 // ohms: spread of what a contact adds or takes
	scale   float64 // the meter's own error, up to this
	volts   float64 // spread of a reading in volts
}

// A workbench answers asks as a cheap meter would.
type workbench struct {
	in      *invented
	r       *rand.Rand
	noise   noise
	meter   Meter
	probes  float64
	gain    float64
	ranges  [3]float64 // the error of each range for volts
	supply  float64
	perTurn float64
	taken   []measure
}

func newWorkbench(in *invented, r *rand.Rand, n noise) *workbench {
	err := func() float64 { return 1 + n.scale*(2*r.Float64()-1) }
	return &workbench{in: in, r: r, noise: n, meter: Cheap,
		probes: 0.1 + 0.3*r.Float64(),
		gain:   err(),
		ranges: [3]float64{err(), err(), err()},
		supply: 9 + 3*r.Float64()}
}

func (w *workbench) joined(a, b int) bool {
	x, y := w.in.leads[a], w.in.leads[b]
	return x != none && y != none && w.in.lay.of[x] == w.in.lay.of[y]
}

// take answers an ask with a measure.
func (w *workbench) take(a ask) measure {
	m := measure{sort: a.sort, red: a.red, black: a.black}
	if a.sort == through && len(a.with) > 0 {
		m.clips = [][]int{append([]int{a.black}, a.with...)}
		near := math.Inf(1)
		joined := 0
		for _, lead := range m.clips[0] {
			if w.joined(a.red, lead) {
				joined++
				near = min(near, math.Abs(w.in.ohms[w.in.leads[a.red]]-w.in.ohms[w.in.leads[lead]]))
			}
		}
		if joined == 0 {
			m.sort = apart
		} else {
			// With several of one winding clipped together the meter reads
			// less than to any of them.
			w.ohms(&m, near/float64(joined))
		}
		w.taken = append(w.taken, m)
		return m
	}
	if a.sort == through {
		if !w.joined(a.red, a.black) {
			m.sort = apart
			w.taken = append(w.taken, m)
			return m
		}
		w.ohms(&m, math.Abs(w.in.ohms[w.in.leads[a.red]]-w.in.ohms[w.in.leads[a.black]]))
		w.taken = append(w.taken, m)
		return m
	}
	at := func(lead int) float64 { return w.in.turns[w.in.leads[lead]] }
	if a.begins {
		w.perTurn = w.supply / math.Abs(at(a.red)-at(a.black))
	}
	var is float64
	if a.clipped {
		is = (at(a.red) - at(a.clip[0])) - (at(a.black) - at(a.clip[1]))
		m.clips = [][]int{{a.clip[0], a.clip[1]}}
	} else {
		is = at(a.red) - at(a.black)
	}
	is = math.Abs(is) * w.perTurn
	digit, gain := 0.01, w.ranges[1]
	switch {
	case is < 2:
		digit, gain = 0.001, w.ranges[0]
	case is >= 20:
		digit, gain = 0.1, w.ranges[2]
	}
	is *= gain * (1 + w.noise.volts*w.r.NormFloat64())
	m.value = w.rounded(is, digit)
	m.is, m.leans = w.meter.volts(m.value, digit)
	m.digit = digit
	w.taken = append(w.taken, m)
	return m
}

// ohms reads a resistance. The probes held together are read as well, to a tenth.
func (w *workbench) ohms(m *measure, is float64) {
	digit := 0.1
	if is >= 200 {
		digit = 1
	}
	m.value = max(0, w.rounded((is+w.probes)*w.gain+w.noise.contact*w.r.NormFloat64(), digit))
	added := w.rounded(w.probes*w.gain, 0.1)
	m.is = w.meter.ohms(m.value, digit, band{added, added})
	m.leans = w.meter.leaning(m.value, digit, added)
}

func (w *workbench) rounded(x, digit float64) float64 { return math.Round(x/digit) * digit }
