package legend

import (
	"math/rand/v2"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"

	"buzzout/examples"
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// example builds one of the example notebooks.
func example(t testing.TB, name string) *netlist.Book {
	t.Helper()
	open := func(from, wanted string) (*lang.File, error) {
		name := path.Join(path.Dir(from), wanted)
		text, err := examples.Files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		return lang.Parse(&diag.Source{Name: name, Text: string(text)}), nil
	}
	file, err := open(name, path.Base(name))
	if err != nil {
		t.Fatal(err)
	}
	return netlist.Build(file, open)
}

// The example notebook settles which of orange and white is the 8 Ω tap: the
// sheet said one, the stickers another, two readings and a trust decided, and
// two leads were soldered over.
func TestDisputeOfTheExample(t *testing.T) {
	book := example(t, "lantern-built.buzzout")
	list := Disputes(book, Cheap)
	if len(list) != 2 {
		t.Fatalf("%d disputes", len(list))
	}
	d := list[0]
	if d.Part.Ref != "T2" || d.Kind != BetweenKeys || d.State != Settled || d.Message != "orange and white are exchanged" || d.Weight != Matters {
		t.Errorf("%+v", d)
	}
	var said []string
	for _, s := range d.Said {
		said = append(said, s.Source+": "+names(book, s.Ends))
		if len(s.Facts) == 0 {
			t.Errorf("%s: no fact", s.Source)
		}
	}
	if got := strings.Join(said, "; "); got != "circuit: 4ohm 8ohm; stickers: 8ohm 4ohm; the wiring: 8ohm 4ohm" {
		t.Errorf("said %s", got)
	}
	if d.Decided == nil || d.Decided.Source != "stickers" || d.Decided.Step != d.Decided.Fact.Index || !strings.Contains(d.Decided.Why, "orange reads above white") {
		t.Errorf("decided %+v", d.Decided)
	}
	if len(d.Before) != 2 || len(d.After) != 0 || len(d.Reopened) != 0 || len(d.Rework) != 4 || len(d.Changed) != 2 {
		t.Errorf("%d before, %d after, %d against, %d moved, %d changed", len(d.Before), len(d.After), len(d.Reopened), len(d.Rework), len(d.Changed))
	}
	// As wired then, 8 Ω hung on the 4 Ω tap of 8000 Ω: 16 kΩ, as in G4-32.
	if d.Wired != SomeWrong || len(d.Effects) != 2 || !near(d.Effects[1].Is, 16000) {
		t.Errorf("as wired then: %d, %+v", d.Wired, d.Effects)
	}
	// Two keys, two joints undone and made again, two readings and the decision.
	last := -1
	for _, e := range d.History {
		if e.Fact.Index <= last {
			t.Errorf("out of order: %s", e.Fact.Text())
		}
		last = e.Fact.Index
	}
	if len(d.History) != 11 {
		t.Errorf("%d events", len(d.History))
	}
	if d := list[1]; d.Kind != WithTheWiring || d.State != Settled || len(d.Rework) != 4 {
		t.Errorf("the wiring: %+v", d)
	}
}

const disputed = `part T2 output-pp { load anode-a anode-b 8k }
drawing sheet "revision B"
colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { blue anode-a, red ht, brown anode-b, black common, orange 8ohm, white 4ohm, grey 16ohm }
reading probes 0.2
`

func TestDisputeStates(t *testing.T) {
	for _, c := range []struct {
		name, text string
		state      State
		reopened   int
		instead    string
	}{
		{"undecided", "", Undecided, 0, ""},
		{"decided", "trust T2 stickers \"they are on it\"\n", Settled, 0, ""},
		{"decided twice", "trust T2 sheet\ntrust T2 stickers\n", Settled, 0, "sheet"},
		{"readings since that agree", "trust T2 stickers\nreading T2.black T2.orange 3.9\nreading T2.black T2.white 1.1\n", Settled, 0, ""},
		{"readings since that do not", "trust T2 stickers\nreading T2.black T2.orange 1.1\nreading T2.black T2.white 3.9\n", Reopened, 2, ""},
		{"one before and one since", "reading T2.black T2.orange 1.1\ntrust T2 stickers\nreading T2.black T2.white 3.9\n", Reopened, 1, ""},
		{"decided against readings", "reading T2.black T2.orange 1.1\nreading T2.black T2.white 3.9\ntrust T2 stickers\n", Overridden, 0, ""},
		{"decided the other way then", "trust T2 stickers\nreading T2.black T2.orange 1.1\nreading T2.black T2.white 3.9\ntrust T2 sheet\n", Settled, 0, "stickers"},
	} {
		book := build(t, disputed+c.text)
		list := Disputes(book, Cheap)
		if len(list) != 1 {
			t.Errorf("%s: %d disputes", c.name, len(list))
			continue
		}
		d := list[0]
		if d.State != c.state || len(d.Reopened) != c.reopened {
			t.Errorf("%s: %s, %d against", c.name, d.State, len(d.Reopened))
		}
		if d.Decided != nil && d.Decided.Instead != c.instead {
			t.Errorf("%s: instead of %q", c.name, d.Decided.Instead)
		}
		if d.State == Reopened {
			against := 0
			for _, e := range d.History {
				if slices.Equal(e.Against, []string{"stickers"}) {
					against++
				}
			}
			if against != 2 {
				t.Errorf("%s: %d readings are marked as against it", c.name, against)
			}
		}
	}
}

// A source that is alone with what it says is in dispute with the readings.
func TestDisputeWithTheMeter(t *testing.T) {
	book := build(t, output+"drawing sheet\ncolours T2 sheet { blue anode-a, red common, black ht, orange 4ohm }\n"+cold)
	var found *Dispute
	list := Disputes(book, Cheap)
	for i := range list {
		if list[i].Kind == WithTheMeter {
			found = &list[i]
		}
	}
	if found == nil || found.State != Undecided || !strings.Contains(found.Message, "the readings contradict what sheet says of") {
		t.Fatalf("%+v", list)
	}
	text := Erratum(book, list)
	if !strings.Contains(text, "| red | common | ht |") || !strings.Contains(text, "**Correction proposed:** red is ht") {
		t.Error(text)
	}
}

func TestDisputeWithTheWiring(t *testing.T) {
	book := build(t, wiredOutput+"trust T2 sheet\nunsolder S1 T2.orange\nunsolder S2 T2.white\nsolder S1 T2.white\nsolder S2 T2.orange\n")
	list := Disputes(book, Cheap)
	if len(list) != 1 || list[0].Kind != WithTheWiring || list[0].State != Undecided || list[0].Message != "orange and white are exchanged" {
		t.Fatalf("%+v", list)
	}
}

func TestErratum(t *testing.T) {
	book := build(t, "amplifier \"Village *14*\"\n"+disputed+"reading T2.black T2.orange 3.9\nreading T2.black T2.white 1.1\ntrust T2 stickers \"read | off <them>\"\n")
	got := Erratum(book, Disputes(book, Cheap))
	want := `# Erratum to the drawing of Village \*14\*

## 1. T2: orange and white are exchanged

Drawing “sheet”: revision B.

| lead | sheet | stickers |
| --- | --- | --- |
| orange | 4ohm | 8ohm |
| white | 8ohm | 4ohm |

State: settled.

**What holds:** stickers: “read \| off \<them\>” (test.buzzout, line 9).

**Correction proposed:** orange is 8ohm and white is 4ohm.

**Readings before that:**

- ` + "`reading T2.black T2.orange 3.9`" + ` (test.buzzout, line 7)
- ` + "`reading T2.black T2.white 1.1`" + ` (test.buzzout, line 8)

**What the readings say:**

- sheet: contradicted by readings
- stickers: agrees with the readings

**What it changed:**

- T2.orange is 8ohm from then on
- T2.white is 4ohm from then on
`
	if got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	if text := Erratum(book, nil); !strings.Contains(text, "No drawing is contradicted") {
		t.Error(text)
	}
}

// Text of a notebook makes no marks, no raw control characters and no links.
func TestErratumIsPlain(t *testing.T) {
	for in, want := range map[string]string{
		"a|b":              `a\|b`,
		"[x](y)":           `\[x\]\(y\)`,
		"<script>":         `\<script\>`,
		"\x1b[31m":         `␛\[31m`,
		"\u202Egnp":        `\<U\+202E\>gnp`,
		"\u061Cgnp":        `\<U\+061C\>gnp`,
		"a\u200Bb":         `a\<U\+200B\>b`,
		"a\xE9b":           `a\<E9\>b`,
		"&amp; `code` # _": "\\&amp; \\`code\\` \\# \\_",
	} {
		if got := plain(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	if got := code("a`b\tc\x1b\u2066"); got != "a'b c␛<U+2066>" {
		t.Errorf("%q", got)
	}
}

// everything asks all questions of a part.
func everything(book *netlist.Book, p *netlist.Part) []any {
	return []any{
		Sources(book, p, Cheap), Identify(book, p, Cheap), Settle(book, p, Cheap),
		Consequences(book, p, func(netlist.Meaning) Feedback { return Positive }), Prospects(book, p, Negative),
	}
}

// The same notebook gives the same answers.
func TestSameAnswers(t *testing.T) {
	book := example(t, "lantern-built.buzzout")
	other := build(t, output+cold+driven)
	for range 3 {
		for _, b := range []*netlist.Book{book, other} {
			for _, p := range b.Parts {
				if !reflect.DeepEqual(everything(b, p), everything(b, p)) {
					t.Fatalf("%s is answered in two ways", p.Ref)
				}
			}
			if !reflect.DeepEqual(Disputes(b, Cheap), Disputes(b, Cheap)) {
				t.Fatal("disputes differ")
			}
		}
	}
}

// Whatever a notebook says, every question about every part of it is answered.
func TestAnyNotebookIsAnswered(t *testing.T) {
	files, err := examples.Files.ReadDir(".")
	if err != nil || len(files) == 0 {
		t.Fatal("no examples", err)
	}
	for _, f := range files {
		book := example(t, f.Name())
		for _, p := range book.Parts {
			everything(book, p)
		}
		Erratum(book, Disputes(book, Cheap))
	}
	many := "part T1 transformer { winding w"
	key := "colours T1 found {"
	for i := range 90 {
		many += " e" + string(rune('a'+i/26)) + string(rune('a'+i%26))
		key += " black unknown,"
	}
	for name, text := range map[string]string{
		"no windings":        "part X1 tagboard 3\n",
		"a key of no use":    "part L1 choke 10H\ncolours L1 sheet { red 1, blue 2 }\ncolours L1 stickers { red 2, blue 1 }\n",
		"ninety leads":       many + " }\n" + key + " }\n",
		"leads without ends": "part T1 transformer { winding w a b }\ncolours T1 found { red unknown, blue unknown, green unknown, white unknown, black unknown }\nreading T1.red T1.blue 3\nreading T1.green T1.white 3\n",
		"ends without leads": "part T1 mains-transformer-full\ncolours T1 found { red unknown, blue unknown }\nreading T1.red T1.blue 30\nreading T1.red T1.blue 12V\n",
		"odd figures":        "part T1 transformer { winding w a b c\nvolts a b 0V\nload b c 0 }\ncolours T1 found { red a, blue b, green c }\nreading T1.red T1.blue 0\nreading T1.blue T1.green 0V\nreading T1.red T1.green -5V\nreading T1.red T1.green 1e9\n",
		"one winding as two": "part T1 transformer { winding w a b\nwinding v c d }\ncolours T1 found { red unknown, blue unknown, green unknown, white unknown }\nreading T1.red T1.blue 3\nreading T1.blue T1.green 3\nreading T1.green T1.white 3\nreading T1.red T1.white 9\n",
	} {
		book := netlist.Build(lang.Parse(&diag.Source{Name: name, Text: text}), nil)
		for _, p := range book.Parts {
			everything(book, p)
		}
		Erratum(book, Disputes(book, Cheap))
	}
}

// Readings at random, of leads at random, clipped and wired at random, are
// answered all the same, and what is certain is an end of the part.
func TestReadingsAtRandom(t *testing.T) {
	leads := []string{"blue", "red", "brown", "black", "orange", "white", "grey"}
	says := []string{"open", "0.4", "0.5", "12", "181", "346", "12V", "0.3V", "6.2V", "buzz", "silent", "over 20M", "3k", "2M", "rising", "0", "0V"}
	for i := range 80 {
		r := rand.New(rand.NewPCG(13, uint64(i)))
		lead := func() string { return "T2." + leads[r.IntN(len(leads))] }
		text := output + "part R1 resistor 47R\npart S1, S2 post\n"
		for range r.IntN(30) {
			switch a, b := lead(), lead(); {
			case a == b:
			case r.IntN(6) == 0:
				text += "solder " + a + " " + b + "\nreading " + lead() + " " + lead() + " " + says[r.IntN(len(says))] + "\nunsolder " + a + " " + b + "\n"
			case r.IntN(8) == 0:
				text += "reading " + lead() + " " + lead() + " 0.3V with " + a + " 12V, " + b + " 0V\n"
			case r.IntN(8) == 0:
				text += "reading " + lead() + " " + lead() + " " + says[r.IntN(len(says))] + " with " + a + " " + b + "\n"
			case r.IntN(8) == 0:
				text += "solder " + a + " " + []string{"R1.1", "R1.2", "S1", "S2"}[r.IntN(4)] + "\n"
			default:
				text += "reading " + a + " " + b + " " + says[r.IntN(len(says))] + "\n"
			}
		}
		book := netlist.Build(lang.Parse(&diag.Source{Name: "random", Text: text}), nil)
		part := book.Part("T2")
		everything(book, part)
		Disputes(book, Cheap)
		for _, l := range Identify(book, part, Cheap).Leads {
			if l.Sure == Certain && !l.NoEnd && l.End == netlist.NoTerminal {
				t.Fatalf("%s is certain to be nothing\n%s", book.Name(l.Lead), text)
			}
		}
	}
}
