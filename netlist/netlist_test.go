package netlist

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

func read(t *testing.T, text string) *Book {
	t.Helper()
	return Build(lang.Parse(diag.NewSource("bench.buzzout", text)), nil)
}

// sound is a book that must have no mistakes.
func sound(t *testing.T, text string) *Book {
	t.Helper()
	b := read(t, text)
	for _, m := range b.Mistakes {
		t.Errorf("%s: %s: %s", m.Place, m.Rule, m.Message)
	}
	return b
}

// joints tells the joints of a bench, one a line, by how they are made.
func joints(bench *Bench) string {
	names := map[JointKind]string{Leg: "leg", Wire: "lead", Screen: "screen", Solder: "solder", Bolt: "bolt", Hole: "hole"}
	var lines []string
	for _, j := range bench.Joints {
		lines = append(lines, fmt.Sprintf("%s %s %s", names[j.Kind], bench.Book.Name(j.A), bench.Book.Name(j.B)))
	}
	return strings.Join(lines, "\n")
}

func expectJoints(t *testing.T, text, want string) *Book {
	t.Helper()
	b := sound(t, text)
	want = strings.ReplaceAll(strings.TrimSpace(want), "\t", "")
	if got := joints(b.Bench()); got != want {
		t.Errorf("joints:\n%s\nwant:\n%s", got, want)
	}
	return b
}

// TestMistakes reads the notebooks of testdata/mistakes. A comment
//
//	# want RULE "pattern"
//
// stands on each line with a mistake; both a missing and an extra one fail.
func TestMistakes(t *testing.T) {
	files, err := filepath.Glob("testdata/mistakes/*.buzzout")
	if err != nil || len(files) == 0 {
		t.Fatal("no notebooks in testdata/mistakes", err)
	}
	want := regexp.MustCompile(`# want ([a-z-]+) "(.*)"$`)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".buzzout"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := map[int][]diag.Diagnostic{}
			for _, m := range read(t, string(text)).Mistakes {
				line := m.Place.Position().Line
				got[line] = append(got[line], m)
			}
			for i, line := range strings.Split(string(text), "\n") {
				found := got[i+1]
				w := want.FindStringSubmatch(line)
				if w == nil {
					for _, m := range found {
						t.Errorf("line %d: not wanted: %s: %s", i+1, m.Rule, m.Message)
					}
					continue
				}
				if len(found) != 1 {
					t.Errorf("line %d: %d mistakes, want one: %+v", i+1, len(found), found)
					continue
				}
				if found[0].Rule != w[1] || !regexp.MustCompile(w[2]).MatchString(found[0].Message) {
					t.Errorf("line %d: %s: %q, want %s: %q", i+1, found[0].Rule, found[0].Message, w[1], w[2])
				}
			}
		})
	}
}

const small = `
part R1, R2, R3 resistor 100k
part C1 electrolytic 22u
part TB1 tagboard 10
part GND post
part V1 ecc83
part J1 jack-break
part CH chassis
`

func TestPlanInAnyOrder(t *testing.T) {
	plan := "net grid-1 R1.2 V1.2-grid\nnet GND R2.1 C1.-\nnet grid-1 R2.2\nspare V1.4..5 V1.9\n"
	before, after := sound(t, plan+small), sound(t, small+plan)
	for _, b := range []*Book{before, after} {
		net := b.NetNamed("GRID-1")
		if net == nil || len(net.Members) != 3 {
			t.Fatalf("grid-1 is %+v", net)
		}
		if gnd, _, _ := b.Terminal("gnd"); b.Net(gnd) != b.NetNamed("GND").ID {
			t.Error("the net GND does not hold the post GND")
		}
		if pin, _, _ := b.Terminal("V1.5"); b.Spare(pin) == nil {
			t.Error("V1.5 is not spare")
		}
	}
}

func TestJointsAreSpotToEach(t *testing.T) {
	expectJoints(t, small+`
solder R1.2 TB1.4 R2.1
solder R1.1 R3.1 R2.2
bolt CH.star GND
net GND CH.star
`, `solder TB1.4 R1.2
	solder TB1.4 R2.1
	solder R1.1 R3.1
	solder R1.1 R2.2
	bolt CH.star GND`)
}

func TestLeadGoesPieceByPiece(t *testing.T) {
	b := expectJoints(t, small+`lead green/yellow TB1.1 TB1.2 22awg V1.2 0.6m screen GND TB1.9 "W7"
net x CH.a`, `lead TB1.1 TB1.2
	lead TB1.2 V1.2
	screen GND TB1.9`)
	lead := b.Bench().Leads[0]
	if lead.Label != "W7" || lead.Colour != (lang.Colour{Base: "green", Tracer: "yellow"}) || len(lead.Figures) != 2 {
		t.Errorf("lead %+v", lead)
	}
	if bench := b.Bench(); bench.Joints[0].Lead != 0 || bench.Joints[1].Lead != 0 {
		t.Error("the pieces do not know that they are one lead")
	}
}

func TestUnsolder(t *testing.T) {
	expectJoints(t, small+`
solder TB1.4 R1.2 R2.1 R3.1
lead black TB1.4 TB1.5
lead black TB1.5 TB1.4
unsolder TB1.4 R2.1
unsolder TB1.4 TB1.5
unsolder R3.1
`, `solder TB1.4 R1.2`)
}

func TestFit(t *testing.T) {
	b := expectJoints(t, small+`
fit R1 TB1.1 TB1.2
fit C1 + TB1.3 - TB1.4
fit R2 TB1.5 TB1.6
fit R2 TB1.7 TB1.8
fit R3 TB1.9 TB1.10
fit R3 none "not in the bag"
fit R1 91k "from the drawer"
`, `leg R1.1 TB1.1
	leg R1.2 TB1.2
	leg C1.+ TB1.3
	leg C1.- TB1.4
	leg R2.1 TB1.7
	leg R2.2 TB1.8`)
	bench := b.Bench()
	if f := bench.Fittings[b.Part("R3")]; f == nil || !f.Absent || f.Reason != "not in the bag" {
		t.Errorf("R3: %+v", f)
	}
	if f := bench.Fittings[b.Part("R1")]; len(f.Figures) != 1 || f.Figures[0].Value != 91e3 {
		t.Errorf("R1: %+v", f)
	}
	if len(bench.Undone) != 4 {
		t.Errorf("%d joints undone, want those of R2's first place and of R3", len(bench.Undone))
	}
}

// A part whose legs are named at tags is turned there.
func TestTurnedAtItsTags(t *testing.T) {
	b := expectJoints(t, small+"fit C1 + TB1.3 - TB1.4\nfit C1 turned\n", "leg C1.- TB1.3\nleg C1.+ TB1.4")
	if b.Bench().Fittings[b.Part("C1")].Turned {
		t.Error("its places say how it sits, and it is said to be turned in its holes as well")
	}
}

const board = `
part PCB board
part R1 resistor 10k
part C1 electrolytic 22u
copper a PCB.in R1.1 C1.+
copper b R1.2 C1.-
copper b PCB.out
`

func TestLegIsInItsHoleOnceFitted(t *testing.T) {
	expectJoints(t, board, "")
	expectJoints(t, board+"fit R1\nfit R1 9k1", "hole R1.1 the print a\nhole R1.2 the print b")
	expectJoints(t, board+"fit C1 turned", "hole C1.+ the print b\nhole C1.- the print a")
	expectJoints(t, board+"fit C1 turned\nunsolder C1.+\nunsolder C1.-\nfit C1", "hole C1.+ the print a\nhole C1.- the print b")
	expectJoints(t, board+"fit C1 turned\nfit C1", "hole C1.+ the print a\nhole C1.- the print b")
	b := sound(t, board)
	in, _, _ := b.Terminal("PCB.in")
	built := b.Bench().Built(Meaning{}, nil)
	if !built.Joined(in, b.Prints[0].ID) {
		t.Error("a pad is not in its print")
	}
	if built.Joined(b.Prints[1].ID, b.Prints[2].ID) {
		t.Error("two pieces of print of one net are joined before anybody joined them")
	}
}

func TestBenchAtAnyMoment(t *testing.T) {
	b := sound(t, small+`solder TB1.1 R1.1
unsolder TB1.1 R1.1
set J1 in
reading R1.1 GND open with V1 in
set J1 out
`)
	count := func(verb string) int {
		return slices.IndexFunc(b.Facts, func(f *Fact) bool { return f.Statement.Verb() == verb })
	}
	if got := len(b.BenchAt(count("unsolder")).Joints); got != 1 {
		t.Errorf("before unsolder there are %d joints, want 1", got)
	}
	if got := len(b.Bench().Joints); got != 0 {
		t.Errorf("at the end there are %d joints, want none", got)
	}
	r := b.Readings[0]
	j1 := ControlRef{b.Part("J1"), 0}
	if p := b.BenchAt(r.Step).Setting.PositionOf(j1); j1.PositionName(p) != "in" {
		t.Errorf("at the reading J1 is %s, want in", j1.PositionName(p))
	}
	if p := b.Bench().Setting.PositionOf(j1); j1.PositionName(p) != "out" {
		t.Errorf("at the end J1 is %s, want out", j1.PositionName(p))
	}
	if r.Sign != "open" || len(r.With) != 1 {
		t.Errorf("reading %+v", r)
	}
}

func TestWiringComplete(t *testing.T) {
	b := sound(t, small+"net a R1.1 R2.1\nnet b R1.2 R2.2\nwiring complete a\n")
	bench := b.Bench()
	if !bench.Complete(b.NetNamed("a").ID) || bench.Complete(b.NetNamed("b").ID) || bench.AllComplete() {
		t.Error("wiring complete a is not a alone")
	}
	b = sound(t, small+"net a R1.1 R2.1\nwiring complete\nwiring open a\n")
	if bench = b.Bench(); bench.Complete(b.NetNamed("a").ID) || !bench.AllComplete() {
		t.Error("wiring open a does not take a out")
	}
}

func TestReadings(t *testing.T) {
	b := sound(t, small+`reading probes 0.2
reading R1.1 R1.2 99.6k
reading R1.1 GND over 20M
reading C1.+ C1.- rising
reading R1.1 R1.2 OL
reading R1.1 R1.2 47 ohm
reading V1.1 GND 212V
`)
	var got []string
	for _, r := range b.Readings {
		got = append(got, strings.TrimSpace(r.Sign+" "+fmt.Sprint(r.Value.Value)))
	}
	want := []string{"99600", "over 2e+07", "rising 0", "open 0", "47", "212"}
	if !slices.Equal(got, want) {
		t.Errorf("readings %q, want %q", got, want)
	}
	if b.Bench().Probes != 0.2 {
		t.Errorf("probes read %v, want 0.2", b.Bench().Probes)
	}
}

const transformer = `
drawing sheet
part T2 transformer {
	winding primary a1 ht a2
	winding secondary common 4ohm 8ohm
}
part S1 post
part S2 post
net out S1 T2.orange
`

func TestColourKeys(t *testing.T) {
	b := sound(t, transformer+`
colours T2 sheet { blue a1, blue a2, red ht, black common, orange 4ohm, white 8ohm }
colours T2 stickers { black common, orange 8ohm, white 4ohm, violet unknown }
solder S1 T2.orange
`)
	var leads []string
	for _, id := range b.Part("T2").Terminals {
		if b.Terminals[id].Lead {
			leads = append(leads, b.Terminals[id].Name)
		}
	}
	if want := []string{"blue-1", "blue-2", "red", "black", "orange", "white", "violet"}; !slices.Equal(leads, want) {
		t.Errorf("leads %q, want %q", leads, want)
	}
	end := func(name string) TerminalID {
		id, problem, _ := b.Terminal("T2." + name)
		if id == NoTerminal {
			t.Fatal(problem)
		}
		return id
	}
	// A colour in the plan is what the key of the same drawing says.
	if b.Net(end("4ohm")) != b.NetNamed("out").ID || b.Net(end("orange")) != NoNet {
		t.Error("orange on the sheet is not the 4 ohm end")
	}
	meanings := b.Meanings()
	if len(meanings) != 2 {
		t.Fatalf("%d meanings, want one by each source", len(meanings))
	}
	for i, want := range []string{"4ohm", "8ohm"} {
		if got := meanings[i].Ends[end("orange")]; got != end(want) {
			t.Errorf("meaning %d: orange is %s, want %s", i, b.Name(got), want)
		}
	}
	if len(meanings[0].Loose) != 1 || len(meanings[0].Loose[0].Leads) != 2 {
		t.Errorf("loose leads %+v, want the two blue ones", meanings[0].Loose)
	}
}

func TestTrust(t *testing.T) {
	keys := transformer + `
colours T2 sheet { black common, orange 4ohm, white 8ohm, red ht }
colours T2 stickers { black common, orange 8ohm, white 4ohm, violet a1 }
`
	b := sound(t, keys+`trust T2 stickers "read off the leads"`)
	meanings := b.Meanings()
	if len(meanings) != 1 {
		t.Fatalf("%d meanings, want one", len(meanings))
	}
	for lead, end := range map[string]string{"orange": "8ohm", "white": "4ohm", "red": "ht", "violet": "a1", "black": "common"} {
		l, _, _ := b.Terminal("T2." + lead)
		e, _, _ := b.Terminal("T2." + end)
		if meanings[0].Ends[l] != e {
			t.Errorf("%s is %s, want %s", lead, b.Name(meanings[0].Ends[l]), end)
		}
	}
	b = sound(t, keys+"trust T2 stickers\ntrust T2 sheet\n")
	l, _, _ := b.Terminal("T2.orange")
	e, _, _ := b.Terminal("T2.4ohm")
	if got := b.Meanings(); len(got) != 1 || got[0].Ends[l] != e {
		t.Error("the latest trust does not hold")
	}
}

func TestStrike(t *testing.T) {
	b := sound(t, small+`net a R1.1 R2.1 R3.1
lead green TB1.1 R1.1
strike lead GREEN TB1.1 R1.1 "a slip"
strike net a R2.1
net b R2.1
`)
	if n := len(b.Bench().Joints); n != 0 {
		t.Errorf("%d joints, want none", n)
	}
	if got := len(b.NetNamed("a").Members); got != 2 {
		t.Errorf("net a has %d members, want 2", got)
	}
}

func TestContactsAndSeats(t *testing.T) {
	b := sound(t, `
part J1 jack-break
part V1 0a2
part LS loudspeaker 8
part PL plug
part CH chassis
net a J1.tip
net b CH.one CH.two
`)
	joined := func(s Setting, x, y string) bool {
		a, _, _ := b.Terminal(x)
		c, _, _ := b.Terminal(y)
		if a == NoTerminal || c == NoTerminal {
			t.Fatalf("no terminal %s or %s", x, y)
		}
		return b.Planned(Meaning{}, s).Joined(a, c)
	}
	j1, v1 := ControlRef{b.Part("J1"), 0}, ControlRef{b.Part("V1"), b.Part("V1").Kind.Seat}
	in := Setting{j1: {Index: 1}, v1: {Index: 1}}
	if !joined(nil, "J1.tip", "J1.break") || joined(in, "J1.tip", "J1.break") {
		t.Error("the break contact is not closed out and open in")
	}
	if joined(nil, "V1.1", "V1.5") || !joined(in, "V1.1", "V1.5") {
		t.Error("what is joined inside a valve does not count only while it is in")
	}
	if !joined(nil, "CH.one", "CH.two") {
		t.Error("two bolts of a chassis are not joined")
	}
	if plugged := (Setting{j1: {Index: 1, Plug: b.Part("PL")}}); !joined(plugged, "J1.tip", "PL.tip") {
		t.Error("a plug's tip does not meet the jack's")
	}
}

func TestUse(t *testing.T) {
	books := map[string]string{
		"parts.buzzout": "part R1 resistor 10k\nuse \"more.buzzout\"\n",
		"more.buzzout":  "drawing old\npart R2 resistor 22k\n",
		"ring.buzzout":  "use \"bench.buzzout\"\n",
	}
	open := func(_, path string) (*lang.File, error) {
		text, ok := books[path]
		if !ok {
			return nil, errors.New(path + " is not there")
		}
		return lang.Parse(diag.NewSource(path, text)), nil
	}
	main := `use "parts.buzzout"
use "more.buzzout"
net a R1.1 R2.1
use "ring.buzzout"
use "lost.buzzout"
`
	b := Build(lang.Parse(diag.NewSource("bench.buzzout", main)), open)
	if len(b.Parts) != 2 || len(b.NetNamed("a").Members) != 2 {
		t.Errorf("parts %d, want the two of the used books", len(b.Parts))
	}
	if f := b.NetNamed("a").Members[0].Fact; f.Drawing != nil {
		t.Error("a drawing does not end with its file")
	}
	var rules []string
	for _, m := range b.Mistakes {
		rules = append(rules, fmt.Sprintf("%s %s", m.Place.Position(), m.Rule))
	}
	if want := []string{"bench.buzzout:5:5 cannot-use", "ring.buzzout:1:5 cannot-use"}; !slices.Equal(rules, want) {
		t.Errorf("mistakes %q, want %q", rules, want)
	}
}

func TestPathQuotesItsFacts(t *testing.T) {
	b := sound(t, small+"solder TB1.1 R1.1\nlead green TB1.1 V1.2\n")
	from, _, _ := b.Terminal("R1.1")
	to, _, _ := b.Terminal("V1.2")
	path := b.Bench().Built(Meaning{}, nil).Path(from, to)
	var got []string
	for _, s := range path {
		if s.By != nil {
			got = append(got, s.By.Fact.Text())
		}
		got = append(got, b.Name(s.At))
	}
	want := []string{"R1.1", "solder TB1.1 R1.1", "TB1.1", "lead green TB1.1 V1.2", "V1.2"}
	if !slices.Equal(got, want) {
		t.Errorf("path %q, want %q", got, want)
	}
}

// The published codes are no source of the notebook, and nobody can trust them.
func TestPublishedIsNoSourceOfTheNotebook(t *testing.T) {
	for line, want := range map[string]string{
		"colours T2 Published { orange 4ohm }": "which the tool has itself",
		"trust T2 published":                   "never trusted by themselves",
	} {
		b := read(t, transformer+"colours T2 sheet { orange 4ohm }\n"+line+"\n")
		if len(b.Mistakes) != 1 || b.Mistakes[0].Rule != "reserved-name" || !strings.Contains(b.Mistakes[0].Message, want) {
			t.Errorf("%s: %+v", line, b.Mistakes)
		}
	}
}

func TestTrustsInTheirOrder(t *testing.T) {
	b := sound(t, transformer+`
colours T2 sheet { orange 4ohm, white 8ohm }
colours T2 stickers { orange 8ohm, white 4ohm }
trust T2 Stickers "read off the leads"
trust T2 sheet
trust T2 sheet "typed twice"
strike trust T2 sheet
`)
	got := b.Trusts(b.Part("T2"))
	if len(got) != 2 || got[0].Key.Origin != "stickers" || got[0].Reason != "read off the leads" || got[1].Key.Origin != "sheet" {
		t.Errorf("%+v", got)
	}
}

// A reading can name what was held at a voltage and what was joined for it, and
// for it alone.
func TestReadingWithTestLeads(t *testing.T) {
	keys := transformer + "\ncolours T2 sheet { black common, orange 4ohm, white 8ohm, blue a1, brown a2 }\npart P1 pot 1k\n"
	b := sound(t, keys+"reading T2.black T2.orange 0.27V with T2.blue 12V, T2.brown 0V\nreading T2.blue T2.white 11.7V with T2.brown T2.black, P1 50%\nreading T2.black T2.white 2\n")
	at := func(name string) TerminalID { id, _, _ := b.Terminal("T2." + name); return id }
	held, joined, bare := b.Readings[0], b.Readings[1], b.Readings[2]
	if len(held.Held) != 2 || held.Held[0].At != at("blue") || held.Held[0].Volts.Value != 12 || held.Held[1].At != at("brown") || len(held.Joined) != 0 {
		t.Errorf("%+v", held)
	}
	if len(joined.Joined) != 1 || joined.Joined[0] != [2]TerminalID{at("brown"), at("black")} || len(joined.With) != 1 {
		t.Errorf("%+v", joined)
	}
	for _, c := range []struct {
		step int
		want bool
	}{{held.Step, false}, {joined.Step, true}, {joined.Step + 1, false}, {bare.Step, false}, {len(b.Facts), false}} {
		h := b.BenchAt(c.step).Built(Meaning{}, Setting{})
		if got := h.Joined(at("brown"), at("black")); got != c.want {
			t.Errorf("before fact %d: joined is %v", c.step, got)
		}
	}
	for line, want := range map[string]string{
		"reading T2.black T2.orange 0.3V with T2.bleu 12V":           "T2 has no terminal bleu",
		"reading T2.black T2.orange 0.3V with T2.blue T2.bron":       "T2 has no terminal bron",
		"reading T2.black T2.orange 0.3V with T2.blue hot":           "hot is neither volts nor a point",
		"reading T2.black T2.orange 0.3 with T2.blue 12V":            "ohms are read without a supply",
		"reading T2.black T2.orange 0.3V with T2 12V, T2.brown 0V":   "T2 is a part: say which of its terminals",
		"reading T2.black T2.orange 0.3V with P1 12V, T2.brown 0V":   "P1 is a part: say which of its terminals",
		"reading T2.black T2.orange 0.3V with Q1.c 12V, T2.brown 0V": "no part is called Q1",
	} {
		book := read(t, keys+line+"\n")
		if len(book.Mistakes) != 1 || !strings.Contains(book.Mistakes[0].Message, want) {
			t.Errorf("%s: %+v", line, book.Mistakes)
		}
	}
}

// A net where a terminal is wanted is told as one, with what is on it.
func TestANetIsNoTerminal(t *testing.T) {
	const plan = "part R1, R2 resistor 1k\npart CH chassis\nnet ground R1.2 R2.2 CH.star\n"
	for _, line := range []string{"reading R1.1 ground 1k", "lead black R1.1 GROUND", "unsolder ground"} {
		b := read(t, plan+line+"\n")
		if len(b.Mistakes) != 1 || b.Mistakes[0].Message != "ground is a net: name one of its terminals" ||
			len(b.Mistakes[0].Notes) != 1 || b.Mistakes[0].Notes[0] != "On it: R1.2, R2.2 and CH.star." || len(b.Mistakes[0].Mend) != 0 {
			t.Errorf("%s: %+v", line, b.Mistakes)
		}
	}
}
