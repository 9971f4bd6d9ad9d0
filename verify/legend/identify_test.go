package legend

import (
	"fmt"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/netlist"
)

// output is an output transformer of which nobody has said anything but the
// windings.
const output = `part T2 output-pp { load anode-a anode-b 8k }
colours T2 found { blue unknown, red unknown, brown unknown, black unknown, orange unknown, white unknown, grey unknown }
`

// cold has what a meter shows of it with nothing wired.
const cold = `reading probes 0.2
reading T2.blue T2.red 181
reading T2.blue T2.brown 346
reading T2.red T2.brown 166
reading T2.black T2.orange 0.5
reading T2.black T2.white 0.7
reading T2.black T2.grey 1.0
reading T2.blue T2.black open
`

// driven is the same with 12.0 V on the primary: turns as the square root of
// impedance, 8000 Ω to 4, 8 and 16 Ω.
const driven = `reading T2.blue T2.brown 12.00V
reading T2.black T2.orange 0.268V
reading T2.black T2.white 0.379V
reading T2.black T2.grey 0.537V
`

// phased has brown and black clipped together: they are starts, so that the
// secondary takes away.
const phased = `solder T2.brown T2.black
reading T2.blue T2.grey 11.46V
unsolder T2.brown T2.black
`

func identified(t *testing.T, text string) (*netlist.Book, *Identification) {
	t.Helper()
	book := build(t, text)
	return book, Identify(book, book.Part("T2"), Cheap)
}

// tell writes what is known of each lead: "black=common" certain,
// "blue~anode-a" either way, "red?" open, with what it can be.
func tell(book *netlist.Book, id *Identification) string {
	var list []string
	for _, l := range id.Leads {
		name := book.Terminals[l.Lead].Name
		switch {
		case l.NoEnd:
			list = append(list, name+"=none")
		case l.Sure == Certain:
			list = append(list, name+"="+book.Terminals[l.End].Name)
		case l.Sure == EitherWay:
			list = append(list, name+"~"+book.Terminals[l.End].Name)
		default:
			var may []string
			for _, end := range l.Choices {
				may = append(may, book.Terminals[end].Name)
			}
			list = append(list, name+"?"+strings.Join(may, "|"))
		}
	}
	return strings.Join(list, " ")
}

// A winding that reads the same from either end is told as such, with what
// would end the question.
func TestIdentifyEvenWindings(t *testing.T) {
	text := `part T2 transformer {
	winding primary p1 p2
	winding hv a ct b
	volts p1 p2 230V
	volts a ct 300V
	volts ct b 300V
}
colours T2 found { black unknown, brown unknown, red unknown, orange unknown, white unknown }
reading probes 0.2
reading T2.black T2.brown 18.2
reading T2.red T2.orange 95.2
reading T2.orange T2.white 106.2
reading T2.red T2.white 201.2
reading T2.black T2.red open
reading T2.red T2.white 11.50V
reading T2.black T2.brown 4.41V
reading T2.red T2.orange 5.75V
reading T2.orange T2.white 5.75V
`
	book, id := identified(t, text)
	if id.Next != nil || id.Done || len(id.Even) != 1 || names(book, id.Even[0][:]) != "a b" {
		t.Errorf("next %+v, done %v, even %v: %s", id.Next, id.Done, id.Even, tell(book, id))
	}
	_, id = identified(t, strings.Replace(text, "volts ct b 300V\n", "volts ct b 300V\nalike a with b\n", 1))
	if !id.Done || len(id.Even) != 0 {
		t.Errorf("done %v, even %v", id.Done, id.Even)
	}
}

func TestIdentifyStepByStep(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing read", output,
			"blue? red? brown? black? orange? white? grey?"},
		{"ohms", output + cold,
			"blue?anode-a|anode-b red=ht brown?anode-a|anode-b black?common|4ohm|8ohm|16ohm orange?common|4ohm|8ohm|16ohm white?common|4ohm|8ohm|16ohm grey?common|4ohm|8ohm|16ohm"},
		{"volts", output + cold + driven,
			"blue?anode-a|anode-b red=ht brown?anode-a|anode-b black=common orange=4ohm white=8ohm grey=16ohm"},
		// The library lists anode-a first, so that it is a start as common is.
		{"phase", output + cold + driven + phased,
			"blue=anode-b red=ht brown=anode-a black=common orange=4ohm white=8ohm grey=16ohm"},
	} {
		book, id := identified(t, c.text)
		if got := tell(book, id); got != c.want && !(c.name == "nothing read" && !strings.Contains(got, "=")) {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
		if len(id.Contradictions) > 0 {
			t.Errorf("%s: %s", c.name, id.Contradictions[0].Message)
		}
	}
}

func TestIdentifyGivesAKey(t *testing.T) {
	text := output + cold + driven + phased
	book, id := identified(t, text)
	if !id.Done || id.Next != nil {
		t.Errorf("done %v, next %v", id.Done, id.Next)
	}
	key := id.KeyFact(book)
	want := "colours T2 meter { blue anode-b, red ht, brown anode-a, black common, orange 4ohm, white 8ohm, grey 16ohm }"
	if key != want {
		t.Errorf("got  %s\nwant %s", key, want)
	}
	again := build(t, text+key+"\n")
	table := Sources(again, again.Part("T2"), Cheap)
	if s := table.Sources[1]; s.Name != "meter" || s.Judgement.Verdict != Agrees {
		t.Errorf("the key of the meter: %+v", s.Judgement)
	}
	for _, l := range id.Leads {
		if len(l.Evidence) == 0 {
			t.Errorf("%s has no evidence", book.Name(l.Lead))
		}
	}
	if id.Counted != 12 {
		t.Errorf("%d readings counted, of 12", id.Counted)
	}
	if len(id.Windings) != 2 || !id.Windings[0].Ordered || !id.Windings[0].Whole || id.Windings[1].Names[0] != "secondary" {
		t.Errorf("windings: %+v", id.Windings)
	}
	if len(id.Assumes) != 2 {
		t.Errorf("assumes %q", id.Assumes)
	}
}

// Asked for one reading after another, and answered, it comes to an end with
// everything named.
func TestNextReadingLeadsToTheEnd(t *testing.T) {
	truth := map[string]string{"blue": "anode-b", "red": "ht", "brown": "anode-a", "black": "common", "orange": "4ohm", "white": "8ohm", "grey": "16ohm"}
	turns := map[string]float64{"anode-a": 0, "ht": 44.72, "anode-b": 89.44, "common": 0, "4ohm": 2, "8ohm": 2.828, "16ohm": 4}
	ohms := map[string]float64{"anode-a": 0, "ht": 165, "anode-b": 345, "common": 0, "4ohm": 0.3, "8ohm": 0.5, "16ohm": 0.8}
	primary := func(lead string) bool { return strings.Contains("blue red brown", lead) }
	text := output + "reading probes 0.2\n"
	for i := range 40 {
		book, id := identified(t, text)
		if id.Next == nil {
			if !id.Done {
				t.Errorf("nothing more is asked, and it is not done: %s", tell(book, id))
			}
			t.Logf("%d readings", i)
			return
		}
		next := id.Next
		name := func(t netlist.TerminalID) string { return book.Terminals[t].Name }
		red, black := name(next.Red), name(next.Black)
		var said string
		switch {
		case next.Quantity == lang.Ohms:
			said = "open"
			near := 1e9
			for _, other := range append([]netlist.TerminalID{next.Black}, next.Clipped...) {
				if o := name(other); primary(o) == primary(red) {
					near = min(near, max(ohms[truth[o]], ohms[truth[red]])-min(ohms[truth[o]], ohms[truth[red]]))
					said = fmt.Sprintf("%.1f", near+0.2)
				}
			}
		default:
			if !primary(name(next.Supply[0])) || !primary(name(next.Supply[1])) {
				t.Fatalf("the supply goes on %s and %s", name(next.Supply[0]), name(next.Supply[1]))
			}
			at := func(lead string) float64 { return turns[truth[lead]] }
			v := at(red) - at(black)
			if len(next.Clipped) == 2 {
				v = at(red) - at(name(next.Clipped[0])) - at(black) + at(name(next.Clipped[1]))
			}
			said = fmt.Sprintf("%.3fV", max(v, -v)*12/89.44)
		}
		for _, line := range next.Write {
			text += strings.NewReplacer("…V", said, "…", said).Replace(line) + "\n"
		}
	}
	t.Error("it asks for ever")
}

// A winding of few ohms is never driven, and without one of many no supply is
// asked for at all.
func TestNoSupplyOnALowVoltageWinding(t *testing.T) {
	book := build(t, `part T2 transformer { winding a a1 a2 a3
winding b b1 b2 }
colours T2 found { blue unknown, red unknown, brown unknown, black unknown, orange unknown }
reading T2.blue T2.red 0.4
reading T2.blue T2.brown 0.4
reading T2.black T2.orange 1.1
reading T2.blue T2.black open
`)
	id := Identify(book, book.Part("T2"), Cheap)
	if id.Next != nil && id.Next.Quantity == lang.Volts {
		t.Errorf("a supply is asked for: %v", id.Next.Write)
	}
	if id.Done {
		t.Error("nothing can be done with such readings")
	}
}

func TestContradictionsAreNamed(t *testing.T) {
	for _, c := range []struct{ name, text, suspect, says string }{
		{"open inside a winding", output + cold + "reading T2.blue T2.brown open\n", "reading T2.blue T2.brown open", "no wire"},
		{"open beside two that join", output + cold + "reading T2.white T2.orange open\n", "reading T2.white T2.orange open", "no wire"},
		{"one wire against many open", output + cold + "reading T2.red T2.black open\nreading T2.blue T2.grey open\nreading T2.brown T2.orange 12\n", "reading T2.brown T2.orange 12", "no wire"},
		{"a prefix", strings.Replace(output+cold, "T2.brown 346", "T2.brown 346k", 1), "", ""},
		{"a point", strings.Replace(output+cold, "T2.brown 346", "T2.brown 34.6", 1), "reading T2.blue T2.brown 34.6", "no order"},
		{"volts that fit no taps", output + cold + strings.Replace(driven, "0.537V", "5.37V", 1), "reading T2.black T2.grey 5.37V", "not with the windings"},
		{"volts across two windings", output + cold + driven + strings.Replace(phased, "11.46V", "6.1V", 1), "reading T2.blue T2.grey 6.1V", "neither the sum"},
		{"a shorted winding", output + cold + driven + "solder T2.black T2.grey\nreading T2.blue T2.red 3.1V\nunsolder T2.black T2.grey\n", "reading T2.blue T2.red 3.1V", "shorted"},
	} {
		book, id := identified(t, c.text)
		if c.suspect == "" {
			if len(id.Contradictions) > 0 {
				t.Errorf("%s: %s", c.name, id.Contradictions[0].Message)
			}
			continue
		}
		if len(id.Contradictions) != 1 {
			t.Errorf("%s: %d contradictions", c.name, len(id.Contradictions))
			continue
		}
		found := id.Contradictions[0]
		if found.Suspect == nil || found.Suspect.Fact.Text() != c.suspect || !strings.Contains(found.Message, c.says) {
			t.Errorf("%s: %s\n%s\nsuspect %v", c.name, found.Message, found.Why, found.Suspect)
		}
		if found.Suspect.Value.Quantity == lang.Volts {
			continue // what the ohms tell is not in doubt
		}
		for _, l := range id.Leads {
			if (l.Lead == found.Suspect.Red || l.Lead == found.Suspect.Black) && l.Sure == Certain {
				t.Errorf("%s: %s is certain all the same", c.name, book.Name(l.Lead))
			}
		}
	}
}

// The factor that would put a reading right is told.
func TestContradictionTellsTheFactor(t *testing.T) {
	_, id := identified(t, strings.Replace(output+cold, "T2.brown 346", "T2.brown 34.6", 1))
	if len(id.Contradictions) != 1 || !strings.Contains(id.Contradictions[0].Why, "346 Ω") {
		t.Errorf("%+v", id.Contradictions)
	}
}

// The same leads read again replace what was read before.
func TestReadAgain(t *testing.T) {
	book, id := identified(t, output+cold+"reading T2.blue T2.brown 34.6\nreading T2.brown T2.blue 347\n")
	if len(id.Contradictions) != 0 || len(id.Aside) != 2 {
		t.Errorf("%d contradictions, %d aside: %s", len(id.Contradictions), len(id.Aside), tell(book, id))
	}
}

// What is wired to the leads is allowed for: a resistor across two windings
// does not join them, and one across a winding is taken out of its ohms.
func TestWhatIsWiredReadsAlong(t *testing.T) {
	wired := output + `part R1 resistor 100R
part X1 post
`
	for _, c := range []struct{ name, text, leads string }{
		{"joined by a resistor", "solder T2.blue R1.1\nsolder T2.black R1.2\nreading T2.blue T2.black 98\n", ""},
		{"far less than the resistor", "solder T2.blue R1.1\nsolder T2.black R1.2\nreading T2.blue T2.black 12\n", "blue black"},
		{"open all the same", "solder T2.blue R1.1\nreading T2.blue T2.black open\n", ""},
		{"by way of a post", "solder X1 T2.blue\nreading X1 T2.red 180\n", "blue red"},
		{"leads of two windings on one post", "solder X1 T2.blue T2.black\nreading X1 T2.red 180\n", ""},
	} {
		book, id := identified(t, wired+c.text)
		joined := ""
		for _, w := range id.Windings {
			if len(w.Leads) > 1 {
				for _, l := range w.Leads {
					joined = strings.TrimSpace(joined + " " + book.Terminals[l].Name)
				}
			}
		}
		if joined != c.leads {
			t.Errorf("%s: %q joined, want %q; aside %v", c.name, joined, c.leads, id.Aside)
		}
	}
}

// Volts in an amplifier are its own: what stands across a wired winding tells
// of its current and not of its turns.
func TestVoltsInTheAmplifierTellNothing(t *testing.T) {
	for wired, counts := range map[string]bool{"": true, "solder S1 T2.blue\n": true, "solder T2.blue R1.1\n": false, "solder T2.grey R1.1\n": false} {
		_, id := identified(t, output+"part R1 resistor 470k\npart S1 post\n"+cold+wired+driven)
		if got := id.Counted > 7; got != counts {
			t.Errorf("%q: %d readings counted, %d set aside", wired, id.Counted, len(id.Aside))
		}
	}
}

func TestWhatSaysNothingIsSetAside(t *testing.T) {
	_, id := identified(t, output+`reading T2.blue T2.red silent
reading T2.blue T2.red rising
reading T2.blue T2.red over 200k
reading T2.blue T2.red 300k
reading T2.blue T2.black 3.1V
`)
	if len(id.Aside) != 5 {
		t.Errorf("%d set aside", len(id.Aside))
	}
	for _, a := range id.Aside {
		if a.Why == "" || strings.HasSuffix(a.Why, ".") {
			t.Errorf("%q", a.Why)
		}
	}
	for _, w := range id.Windings {
		if len(w.Leads) > 1 {
			t.Error("leads are joined by nothing")
		}
	}
}

// A beeper joins, and a winding that only beeped has no ohms.
func TestBuzz(t *testing.T) {
	book, id := identified(t, output+"reading T2.black T2.grey buzz\n")
	for _, w := range id.Windings {
		if len(w.Leads) == 2 && book.Terminals[w.Leads[0]].Name == "black" {
			return
		}
	}
	t.Error("the beeper joined nothing")
}

func TestLastDigit(t *testing.T) {
	for text, want := range map[string]float64{"0.6": 0.1, "181": 1, "0.60": 0.01, "1.03M": 1e4, "34k": 1000, "4k7": 100, "0,6": 0.1, "12.4V": 0.1, "0.268V": 0.001, "268mV": 0.001, "2R2": 0.1, "0.6 ohm": 0.1, "0.01meg": 1e4, "R47": 0.01, "0mV": 1e-3, "-12.4V": 0.1} {
		if got := lastDigit(lang.Figure{Text: text}); !near(got, want) {
			t.Errorf("%s: %g, want %g", text, got, want)
		}
	}
}
