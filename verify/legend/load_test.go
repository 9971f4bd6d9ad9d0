package legend

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"buzzout/netlist/parts"
)

// answer is what a worked example comes to.
func answer(t *testing.T, rows []row, id string) float64 {
	t.Helper()
	r := rowOf(rows, "id", id)
	if r == nil {
		t.Fatalf("no example %s", id)
	}
	v, err := strconv.ParseFloat(r["answer"], 64)
	if err != nil {
		t.Fatal(id, err)
	}
	return v
}

// turnsOf are the turns between two ends by their loads.
func turnsOf(t *testing.T, l *layout, from, to string) float64 {
	t.Helper()
	index := func(name string) int {
		return slices.IndexFunc(l.kind.Terminals, func(t parts.Terminal) bool { return t.Name == name })
	}
	turns, known := l.between(index(from), index(to), byLoad)
	if !known {
		t.Fatalf("the turns from %s to %s are not known", from, to)
	}
	return turns
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Abs(b) }

// Worked examples of testdata/worked_examples.csv; each row names its book.
func TestTurnsGoAsTheRootOfImpedance(t *testing.T) {
	rows := testdata(t, "worked_examples")
	for _, c := range []struct {
		id                 string
		primary, secondary float64
	}{
		{"G4-01", 600, 4},  // question pool G5C07
		{"G4-02", 2000, 5}, // Fitzpatrick, example 10.6
		{"G4-03", 7200, 8},
		{"G4-05", 112, 7},    // Bird, example 20.21
		{"G4-15", 75, 300},   // Schultz, example 19-17(a)
		{"G4-15b", 600, 300}, // Schultz, example 19-17(b)
		{"G4-17", 10000, 16}, // Mehta, example 11.17
		{"G4-30a", 4, 4},
		{"G4-30b", 8, 4},
		{"G4-30c", 16, 4},
		{"G4-33b", 8000, 8},
		{"G4-33c", 3400, 16},
		{"G4-33d", 2000, 8},
	} {
		l := layoutOf(build(t, fmt.Sprintf("part T1 transformer { winding a a1 a2; winding b b1 b2; load a1 a2 %g; load b1 b2 %g }\n", c.primary, c.secondary)).Part("T1"))
		if got, want := turnsOf(t, l, "a1", "a2")/turnsOf(t, l, "b1", "b2"), answer(t, rows, c.id); !near(got, want) {
			t.Errorf("%s: %g, the example has %g", c.id, got, want)
		}
	}
}

func TestReflectedLoad(t *testing.T) {
	rows := testdata(t, "worked_examples")
	for _, c := range []struct {
		id                   string
		primary, tap, hanger float64
	}{
		{"G4-06", 4 * 4, 1, 100},    // Bird, example 20.20: 4:1
		{"G4-07", 1.0 / 25, 1, 150}, // Bird, example 20.22: 5:1, seen from the other side
		{"G4-14", 4 * 4, 1, 8},      // Schultz, example 19-16
		{"G4-21", 20 * 20, 1, 16},
		{"G4-32a", 6600, 4, 8},
		{"G4-32c", 6600, 8, 16},
		{"G4-32d", 6600, 16, 8},
		{"G4-32e", 6600, 4, 16},
	} {
		if got, want := reflectedLoad(c.primary, c.tap, c.hanger), answer(t, rows, c.id); !near(got, want) {
			t.Errorf("%s: %g, the example has %g", c.id, got, want)
		}
	}
	for id, taps := range map[string][2]float64{"G4-31b": {8, 16}, "G4-31c": {4, 16}} {
		l := layoutOf(build(t, fmt.Sprintf("part T1 transformer { winding a common low high; load common low %g; load common high %g }\n", taps[0], taps[1])).Part("T1"))
		turns := turnsOf(t, l, "low", "high")
		if got, want := turns*turns, answer(t, rows, id); !near(got, want) {
			t.Errorf("%s: %g, the example has %g", id, got, want)
		}
	}
}

// Windings in series aid or oppose: the sums and differences of G4-40 and
// G4-42 are told for what they are.
func TestAidingAndOpposing(t *testing.T) {
	rows := testdata(t, "worked_examples")
	for _, c := range []struct {
		id   string
		a, b float64
		want int
	}{{"G4-40", 120, 30, -1}, {"G4-40b", 120, 30, 1}, {"G4-42", 120, 240, -1}, {"G4-42b", 120, 240, 1}} {
		book := build(t, `part T1 transformer { winding a a1 a2; winding b b1 b2; volts a1 a2 `+strconv.FormatFloat(c.a, 'g', -1, 64)+`V
volts b1 b2 `+strconv.FormatFloat(c.b, 'g', -1, 64)+`V }
colours T1 found { red unknown, blue unknown, green unknown, white unknown }
reading T1.red T1.blue 100
reading T1.green T1.white 50
reading T1.red T1.green open
reading T1.red T1.blue `+strconv.FormatFloat(c.a, 'f', 1, 64)+`V
reading T1.green T1.white `+strconv.FormatFloat(c.b, 'f', 1, 64)+`V
solder T1.red T1.green
reading T1.blue T1.white `+strconv.FormatFloat(answer(t, rows, c.id), 'f', 1, 64)+`V
unsolder T1.red T1.green
`)
		id := Identify(book, book.Part("T1"), Cheap)
		if len(id.Phases) != 1 {
			t.Fatalf("%s: %d senses", c.id, len(id.Phases))
		}
		p := id.Phases[0]
		from := book.Terminals[p.B[0]].Name
		if same := from == "green"; same != (c.want > 0) {
			t.Errorf("%s: the second winding runs from %s", c.id, from)
		}
	}
}

// An 8 Ω loudspeaker on the 4 Ω tap of a 6600 Ω transformer: 13,200 Ω, and the
// other combinations of G4-32, as the consequence of exchanged leads.
func TestExchangedTapsGiveTheLoadsOfTheExamples(t *testing.T) {
	rows := testdata(t, "worked_examples")
	for _, c := range []struct {
		id    string
		a, b  string // tap ends that are exchanged
		place string // on whose place the loudspeaker hangs
	}{{"G4-32a", "4ohm", "8ohm", "8ohm"}, {"G4-32c", "8ohm", "16ohm", "16ohm"}, {"G4-32d", "8ohm", "16ohm", "8ohm"}, {"G4-32e", "4ohm", "16ohm", "16ohm"}} {
		other := map[string]string{c.a: c.b, c.b: c.a}
		key := func(origin string, swap bool) string {
			text := "colours T1 " + origin + " { blue anode-a, red ht, brown anode-b, black common"
			for _, pair := range [][2]string{{"orange", "4ohm"}, {"white", "8ohm"}, {"grey", "16ohm"}} {
				end := pair[1]
				if o, ok := other[end]; ok && swap {
					end = o
				}
				text += ", " + pair[0] + " " + end
			}
			return text + " }\n"
		}
		book := build(t, "part T1 output-pp { load anode-a anode-b 6600 }\n"+key("sheet", false)+key("stickers", true))
		u := ifWiredBy(book, book.Part("T1"), book.Keys[0], book.Keys[1], NotAsked)
		found := false
		for _, e := range u.Effects {
			if e.Kind == LoadChanged && strings.Contains(e.Message, "on the "+c.place+" place") {
				found = true
				if want := answer(t, rows, c.id); !near(e.Is, want) || e.Was != 6600 {
					t.Errorf("%s: %g, the example has %g: %s", c.id, e.Is, want, e.Message)
				}
			}
		}
		if !found {
			t.Errorf("%s: nothing of the %s place in %+v", c.id, c.place, u.Effects)
		}
	}
}
