package legend

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/netlist"
)

// steps writes a settlement in short: the method of each step, and what each
// of its tests reads.
func steps(b *netlist.Book, s *Settlement) string {
	var out []string
	for _, step := range s.Steps {
		line := step.Method.String() + ":"
		if step.Doubt != "" {
			line = step.Method.String() + " (in doubt):"
		}
		for _, test := range step.Tests {
			for _, q := range test.Readings {
				line += fmt.Sprintf(" %s-%s", b.Terminals[q.Red].Name, b.Terminals[q.Black].Name)
			}
			line += ","
		}
		out = append(out, strings.TrimSuffix(line, ","))
	}
	return strings.Join(out, "; ")
}

const figures = `part T2 transformer { winding primary anode-b ht anode-a
winding secondary common 4ohm 8ohm 16ohm
load anode-a anode-b 8k
load common 4ohm 4
load common 8ohm 8
load common 16ohm 16
dcr anode-b ht 165
dcr ht anode-a 180
dcr common 4ohm 0.3
dcr 4ohm 8ohm 0.2
dcr 8ohm 16ohm 0.3 }
`

func TestSettleAsksTheLeast(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"taps too close for ohms", figures + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { blue anode-a, red ht, brown anode-b, black common, orange 8ohm, white 4ohm, grey 16ohm }
`, "ohms (in doubt): black-orange black-white; small alternating volts: blue-brown, black-orange black-white"},
		// Whether there is wire at all: one reading, and nothing else is wanted.
		{"windings exchanged", figures + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm }
colours T2 stickers { blue anode-a, red 4ohm, brown anode-b, black common, orange ht }
`, "ohms: red-blue"},
		// One reading whose ohms differ by far more than any meter is off.
		{"a centre tap and an end", figures + `colours T2 sheet { blue anode-a, red ht, brown anode-b }
colours T2 stickers { blue ht, red anode-a, brown anode-b }
`, "ohms: blue-brown"},
		// Nothing but the sense differs.
		{"primary ends", strings.Replace(figures, "load common 4ohm 4\n", "load common 4ohm 4\nalike anode-a with anode-b but phase\n", 1) + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, grey 16ohm }
colours T2 stickers { blue anode-b, red ht, brown anode-a, black common, grey 16ohm }
`, "ohms (in doubt): red-blue red-brown; small alternating volts: blue-brown; aiding or opposing (in doubt): brown-grey"},
		// Three sources, and one reading does: some ohms, more ohms, or none.
		{"three sources", figures + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm }
colours T2 stickers { blue anode-a, red 4ohm, brown anode-b, black common, orange ht }
colours T2 label { blue ht, red anode-a, brown anode-b, black common, orange 4ohm }
`, "ohms: red-brown"},
	} {
		book := build(t, c.text)
		s := Settle(book, book.Part("T2"), Cheap)
		if got := steps(book, s); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
		if len(s.Apart) > 0 || len(s.Cautions) == 0 {
			t.Errorf("%s: apart %v, %d cautions", c.name, s.Apart, len(s.Cautions))
		}
		for _, step := range s.Steps {
			for _, test := range step.Tests {
				if len(test.Expected) != len(s.Sources) {
					t.Errorf("%s: %d expectations for %d sources", c.name, len(test.Expected), len(s.Sources))
				}
				for i, e := range test.Expected {
					if e.Source != s.Sources[i] || e.Says == "" {
						t.Errorf("%s: %+v", c.name, e)
					}
				}
				for _, q := range test.Readings {
					if len(q.Write) == 0 || len(q.Cautions) == 0 || (q.Quantity == lang.Volts) != (q.Supply[0] != netlist.NoTerminal) {
						t.Errorf("%s: %+v", c.name, q)
					}
				}
			}
		}
	}
}

// What is expected of taps are the ratios of turns: 12 V on 8000 Ω gives
// 12 × √(4/8000) V on the 4 Ω tap, as the examples G4-33 count it.
func TestSettleExpectsRatios(t *testing.T) {
	book := build(t, figures+`colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm }
colours T2 stickers { blue anode-a, red ht, brown anode-b, black common, orange 8ohm, white 4ohm }
`)
	s := Settle(book, book.Part("T2"), Cheap)
	says := s.Steps[1].Tests[1].Expected[0].Says
	for _, want := range []string{"black to orange is the lower", shown(12/math.Sqrt(8000/4), lang.Volts), shown(12/math.Sqrt(8000/8), lang.Volts)} {
		if !strings.Contains(says, want) {
			t.Errorf("%q does not say %s", says, want)
		}
	}
}

// A supply is asked for on no winding but the one with the most turns, and
// only where all sources agree which leads those are.
func TestSettleDrivesNoLowVoltageWinding(t *testing.T) {
	low := `part T2 transformer { winding primary p1 p2
winding heater h1 h2 h3
volts h1 h2 3.15V
volts h1 h3 6.3V }
colours T2 sheet { blue p1, red p2, green h1, white h2, brown h3 }
colours T2 stickers { blue p1, red p2, green h1, white h3, brown h2 }
`
	split := figures + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { blue common, red 4ohm, brown 8ohm, black anode-a, orange ht, white anode-b, grey 16ohm }
`
	// Volts and loads are not counted in one measure: the second winding may have
	// many times the turns of the first.
	measures := `part T2 transformer { winding a a1 a2
winding b b1 b2
winding c c1 c2 c3
load a1 a2 8k
volts b1 b2 600V
load c1 c2 4
load c1 c3 8 }
colours T2 sheet { blue a1, red a2, green b1, white b2, black c1, brown c2, orange c3 }
colours T2 stickers { blue a1, red a2, green b1, white b2, black c1, brown c3, orange c2 }
`
	for name, text := range map[string]string{"no figures for the primary": low, "windings in dispute": split, "volts beside loads": measures} {
		book := build(t, text)
		s := Settle(book, book.Part("T2"), Cheap)
		for _, step := range s.Steps {
			if step.Method != ByOhms {
				t.Errorf("%s: %s", name, steps(book, s))
			}
		}
		if name != "windings in dispute" && s.WithoutSupply == "" {
			t.Errorf("%s: nothing is said of the supply", name)
		}
	}
	// Wherever a supply is asked for, every source has both its leads on the
	// winding of the highest volts or load.
	for i := range 300 {
		book := build(t, mixedUp(i))
		part := book.Part("T2")
		s := Settle(book, part, Cheap)
		for _, step := range s.Steps {
			for _, test := range step.Tests {
				for _, q := range test.Readings {
					if q.Quantity != lang.Volts {
						continue
					}
					for _, k := range book.Keys {
						for _, lead := range q.Supply {
							if end := k.End(lead); end == netlist.NoTerminal || !strings.HasPrefix(book.Terminals[end].Name, "p") {
								t.Fatalf("the supply goes on %s, which %s has as %s\n%s", book.Name(lead), k.Origin, book.Name(end), mixedUp(i))
							}
						}
					}
				}
			}
		}
	}
}

// mixedUp is a part with two keys of which the second has some leads mixed up.
func mixedUp(seed int) string {
	ends := []string{"p1", "p2", "p3", "s1", "s2", "s3", "h1", "h2"}
	colours := []string{"blue", "red", "brown", "black", "orange", "white", "green", "violet"}
	other := append([]string(nil), ends...)
	for n := range 2 + seed%3 {
		i, k := (seed*7+n*3)%len(ends), (seed*5+n*11+1)%len(ends)
		other[i], other[k] = other[k], other[i]
	}
	text := `part T2 transformer { winding p p1 p2 p3
winding s s1 s2 s3
winding h h1 h2
volts p1 p2 200V
volts p1 p3 400V
volts s1 s2 20V
volts s1 s3 40V
volts h1 h2 6.3V }
`
	for _, key := range []struct {
		name string
		ends []string
	}{{"sheet", ends}, {"stickers", other}} {
		text += "colours T2 " + key.name + " {"
		for i, c := range colours {
			text += " " + c + " " + key.ends[i] + ","
		}
		text += " }\n"
	}
	return text
}

func TestSettleNothingToSettle(t *testing.T) {
	for _, text := range []string{
		"part T2 output-pp\n",
		"part T2 output-pp\ncolours T2 sheet { blue anode-a }\n",
		"part T2 output-pp\ncolours T2 sheet { blue anode-a }\ncolours T2 stickers { blue anode-a }\n",
		"part T2 mains-transformer\ncolours T2 sheet { red hv-a, blue hv-b }\ncolours T2 stickers { red hv-b, blue hv-a }\n",
	} {
		book := build(t, text)
		s := Settle(book, book.Part("T2"), Cheap)
		if len(s.Steps) != 0 || len(s.Sources) != 0 || len(s.Apart) != 0 {
			t.Errorf("%s: %+v", text, s)
		}
	}
}

// The settlement does settle: with the leads as one source has them, the
// readings that were asked for speak against every other and not against it.
func TestWhatIsSettledIsSettled(t *testing.T) {
	turns := map[string]float64{"p1": 0, "p2": 200, "p3": 400, "s1": 0, "s2": 20, "s3": 40, "h1": 0, "h2": 6.3}
	ohms := map[string]float64{"p1": 0, "p2": 50, "p3": 103, "s1": 0, "s2": 3.2, "s3": 6.7, "h1": 0, "h2": 0.3}
	told := 0
	for i := range 200 {
		text := mixedUp(i)
		book := build(t, text)
		s := Settle(book, book.Part("T2"), Cheap)
		if len(s.Sources) < 2 || len(s.Apart) > 0 {
			continue
		}
		for _, truth := range book.Keys {
			end := func(lead netlist.TerminalID) string { return book.Terminals[truth.End(lead)].Name }
			read := text + "reading probes 0.2\n"
			for _, step := range s.Steps {
				for _, test := range step.Tests {
					for _, q := range test.Readings {
						red, black := end(q.Red), end(q.Black)
						said := "open"
						switch {
						case q.Quantity == lang.Volts:
							v := turns[red] - turns[black]
							if len(q.Clipped) == 2 {
								v = turns[red] - turns[end(q.Clipped[0])] - turns[black] + turns[end(q.Clipped[1])]
							}
							supply := turns[end(q.Supply[0])] - turns[end(q.Supply[1])]
							said = fmt.Sprintf("%.3fV", max(v, -v)*11.5/max(supply, -supply))
						case red[0] == black[0]:
							said = fmt.Sprintf("%.1f", max(ohms[red], ohms[black])-min(ohms[red], ohms[black])+0.2)
						}
						for _, line := range q.Write {
							read += strings.NewReplacer("…V", said, "…", said).Replace(line) + "\n"
						}
					}
				}
			}
			again := build(t, read)
			table := Sources(again, again.Part("T2"), Cheap)
			for _, source := range table.Sources[:2] {
				verdict := source.Judgement.Verdict
				if right := source.Name == truth.Origin; right && verdict > Agrees || !right && verdict < LeansAgainst {
					t.Errorf("with the leads as %s has them %s is %s\n%s", truth.Origin, source.Name, verdict, read)
				}
			}
			told++
		}
	}
	if told < 200 {
		t.Errorf("only %d were told", told)
	}
}

// The taps of an output transformer are told against the common end, and a
// meter may stand between two of them. With the volts of an ideal transformer,
// which go as the square roots of the loads (G4-33), the readings that were
// asked for decide, each way; so does one from tap to tap that was not.
func TestTapsAreSettled(t *testing.T) {
	const text = `part T2 output-se { load ht anode 5k }
colours T2 sheet { red ht, blue anode, black common, green 4ohm, yellow 8ohm, white 16ohm }
colours T2 stickers { red ht, blue anode, black common, green 4ohm, yellow 16ohm, white 8ohm }
`
	turns := map[string]float64{"ht": 0, "anode": math.Sqrt(5000), "common": 0, "4ohm": 2, "8ohm": math.Sqrt(8), "16ohm": 4}
	book := build(t, text)
	s := Settle(book, book.Part("T2"), Cheap)
	for _, truth := range book.Keys {
		said := func(red, black netlist.TerminalID) string {
			v := turns[book.Terminals[truth.End(red)].Name] - turns[book.Terminals[truth.End(black)].Name]
			return fmt.Sprintf("%.2fV", math.Abs(v)*12/turns["anode"])
		}
		asked := text
		for _, step := range s.Steps {
			for _, test := range step.Tests {
				for _, q := range test.Readings {
					if q.Quantity == lang.Volts {
						asked += strings.ReplaceAll(strings.Join(q.Write, "\n"), "…V", said(q.Red, q.Black)) + "\n"
					} else { // of the ohms no more than that there is wire
						asked += strings.ReplaceAll(strings.Join(q.Write, "\n"), "…", "1") + "\n"
					}
				}
			}
		}
		yellow, _, _ := book.Terminal("T2.yellow")
		green, _, _ := book.Terminal("T2.green")
		tap := text + "reading T2.red T2.blue 280\nreading T2.red T2.blue 12V\nreading T2.yellow T2.green 0.9\nreading T2.yellow T2.green " +
			said(yellow, green) + "\n"
		for _, read := range []string{asked, tap} {
			again := build(t, read)
			for _, source := range Sources(again, again.Part("T2"), Cheap).Sources[:2] {
				want := Contradicted
				if source.Name == truth.Origin {
					want = Agrees
				}
				if source.Judgement.Verdict != want {
					t.Errorf("with the leads as %s has them %s is %s\n%s", truth.Origin, source.Name, source.Judgement.Verdict, read)
				}
			}
		}
	}
}

// Two sources may each be right about something: every exchange gets readings
// of its own, on none of the leads that are exchanged otherwise, and one that
// has none is told as left until the others are decided.
func TestSettleTellsEachExchange(t *testing.T) {
	const three = "part T2 output-pp { load anode-a anode-b 8k }\n" + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { blue anode-b, red ht, brown anode-a, black common, orange 8ohm, white 4ohm, grey 16ohm }
`
	book := build(t, three)
	s := Settle(book, book.Part("T2"), Cheap)
	if len(s.Left) != 0 || len(s.Apart) != 0 {
		t.Errorf("left %+v, apart %+v\n%s", s.Left, s.Apart, steps(book, s))
	}
	in := func(q *Ask, names ...string) bool {
		for _, lead := range append(q.Clipped, q.Red, q.Black) {
			if slices.Contains(names, book.NameWithin(lead)) {
				return true
			}
		}
		return false
	}
	taps, phase := false, false
	for _, step := range s.Steps {
		for _, test := range step.Tests {
			for i := range test.Readings {
				q := &test.Readings[i]
				taps = taps || step.Method == ByVolts && in(q, "orange", "white") && !in(q, "blue", "brown")
				phase = phase || step.Method == ByPhase && in(q, "blue", "brown") && !in(q, "orange", "white")
			}
		}
	}
	if !taps || !phase {
		t.Errorf("taps %v, phase %v:\n%s", taps, phase, steps(book, s))
	}
	// With all taps going round, no reading across the windings is free of them.
	ring := strings.Replace(three, "orange 8ohm, white 4ohm, grey 16ohm }\n", "orange 8ohm, white 16ohm, grey 4ohm }\n", 1)
	book = build(t, ring)
	s = Settle(book, book.Part("T2"), Cheap)
	if len(s.Left) != 1 || names(book, s.Left[0].Leads) != "blue brown" {
		t.Errorf("left %+v\n%s", s.Left, steps(book, s))
	}
	book = build(t, ring+"colours T2 meter { orange 4ohm, white 8ohm, grey 16ohm }\ntrust T2 meter\n")
	s = Settle(book, book.Part("T2"), Cheap)
	if len(s.Left) != 0 || len(s.Steps) != 2 || s.Steps[1].Method != ByPhase {
		t.Errorf("with the taps decided: left %+v\n%s", s.Left, steps(book, s))
	}
}
