package lang

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"buzzout/lang/diag"
)

func notebooks(t testing.TB) []*diag.Source {
	t.Helper()
	names, err := filepath.Glob("testdata/notebooks/*.buzzout")
	if err != nil || len(names) < 5 {
		t.Fatalf("%d notebooks, %v", len(names), err)
	}
	var list []*diag.Source
	for _, name := range names {
		list = append(list, readSource(t, name))
	}
	return list
}

func TestNotebooksAreUnderstood(t *testing.T) {
	facts := 0
	for _, src := range notebooks(t) {
		file := Parse(src)
		for _, m := range file.Mistakes {
			t.Errorf("%s: %s", m.Place, m.Message)
		}
		facts += len(file.Statements)
	}
	if facts < 400 {
		t.Errorf("only %d facts", facts)
	}
}

func TestTree(t *testing.T) {
	for text, want := range map[string]string{
		`amplifier "Lantern 14"`:                                    `Amplifier(amplifier "Lantern 14")`,
		`USE “parts.buzzout” # comment`:                             `Use(use "parts.buzzout")`,
		`kind x "what" { terminals 1..n; }`:                         `Kind(kind x "what" [Declare(terminals [1..n] -)])`,
		`part R5, R9 resistor 100k 5% "anodes"`:                     `Part(part [R5 R9] resistor [100k 5%] "anodes" [])`,
		`part V1 ecc83`:                                             `Part(part [V1] ecc83 [] - [])`,
		`part S4 toggle "Mode" { control lever up down }`:           `Part(part [S4] toggle [] "Mode" [Declare(control [lever up down] -)])`,
		`net screen A,B C { }`:                                      ``,
		`net screen A,B, C "x"`:                                     `Net(net false screen [A B C] "x")`,
		"copper g {\n A B, C;D # x\n}":                              `Net(copper true g [A B C D] -)`,
		`net g { } "empty"`:                                         `Net(net false g [] "empty")`,
		`spare V3.6 V3.7 "spare half"`:                              `Spare(spare [V3.6 V3.7] "spare half")`,
		`drawing layout "sheet 2"`:                                  `Drawing(drawing layout "sheet 2")`,
		`colours T2 label { red ht,, blue a; white unknown, }`:      `Colours(colours T2 label [Pair( red ht) Pair( blue a) Pair( white unknown)] -)`,
		`colours T2 label red ht, blue a "x"`:                       `Colours(colours T2 label [Pair( red ht) Pair( blue a)] "x")`,
		`trust T2 stickers "why"`:                                   `Trust(trust T2 stickers "why")`,
		`lead white TS1.1 V1.2 screen J1.sleeve 22awg "W7"`:         `Lead(lead white [TS1.1 V1.2] [J1.sleeve 22awg] "W7")`,
		`lead red A 12cm B`:                                         `Lead(lead red [A 12cm B] [] -)`,
		`solder TB1.4, R1.2`:                                        `Spot(solder [TB1.4 R1.2] -)`,
		`unsolder R5.1 "dry"`:                                       `Spot(unsolder [R5.1] "dry")`,
		`fit C1 + TB1.1 - TB1.23`:                                   `Fit(fit [C1] [+ TB1.1 - TB1.23] -)`,
		`fit R1..R5, R7 "all"`:                                      `Fit(fit [R1..R5 R7] [] "all")`,
		`reading G GND 1,03M with J1 in, P1 50% "note"`:             `Reading(reading [G GND 1,03M] [Pair( J1 in) Pair( P1 50%)] "note")`,
		`reading probes 0.2`:                                        `Reading(reading [probes 0.2] [] -)`,
		`set { J1 in; V1..V5 out }`:                                 `Set(set [Pair( J1 in) Pair( V1..V5 out)] -)`,
		`wiring complete heater-a`:                                  `Wiring(wiring true [heater-a] -)`,
		`WIRING Open`:                                               `Wiring(wiring false [] -)`,
		`note "a # is no comment; nor is ; an end"`:                 `Remark(note "a # is no comment; nor is ; an end")`,
		`strike lead green TB1.1 V1.3 "slip"`:                       `Strike(strike Lead(lead green [TB1.1 V1.3] [] "slip"))`,
		"\uFEFFnote \"after a byte order mark\"":                    `Remark(note "after a byte order mark")`,
		"part\u00A0R1\u202Fresistor":                                `Part(part [R1] resistor [] - [])`,
		`part J1#2 jack`:                                            `Part(part [J1#2] jack [] - [])`,
		`kind k { diode a k; triode 1 2 3 "t" }`:                    `Kind(kind k - [Element(diode [a k] - - -) Element(triode [1 2 3] - - "t")])`,
		`kind k { track 1 2 3 by shaft; coil a b moves armature }`:  `Kind(kind k - [Element(track [1 2 3] shaft - -) Element(coil [a b] - armature -)])`,
		`kind k { contact tip break when plug out in "x" }`:         `Kind(kind k - [Contact(contact tip break plug [out in] "x")])`,
		`kind k { pole a a1..a6 none by knob }`:                     `Kind(kind k - [Pole(pole a [a1..a6 none] knob -)])`,
		`kind k { alike 1 2 WITH 3 4 but HUM; alike a with b }`:     `Kind(kind k - [Alike(alike [1 2] [3 4] hum -) Alike(alike [a] [b]  -)])`,
		`kind k { limit anode-volts 300V "each"; source SEEN "s" }`: `Kind(kind k - [Limit(limit anode-volts [300V] "each") Origin(source seen "s")])`,
		`kind k { load a b 8k; volts a b 6.3V 4A "x"; dcr a b 95 }`: `Kind(kind k - [Between(load a b [8k] -) Between(volts a b [6.3V 4A] "x") Between(dcr a b [95] -)])`,
	} {
		file := parseText(text)
		got := strings.Join(dumpFacts(file), " ")
		if got != want {
			t.Errorf("%s\ngot  %s\nwant %s", text, got, want)
		}
		if (want == "") != (len(file.Mistakes) == 1) {
			t.Errorf("%s: %d mistakes", text, len(file.Mistakes))
		}
	}
}

// Words that part a line are ordinary words everywhere else.
func TestWordsThatPartALine(t *testing.T) {
	for _, text := range []string{
		"net with screen by", "net screen A B", "spare moves when", "lead screen A B", "solder with but", "set screen with",
		"kind by { terminals with when by moves but; call by with; winding with by but }",
		"kind k { alike with with a but hum }", "note \"screen\"", "wiring complete open complete",
		"part R1 by", "fit R1 with", "colours T1 with { screen with }",
	} {
		if file := parseText(text); len(file.Mistakes) > 0 {
			t.Errorf("%s: %s", text, file.Mistakes[0].Message)
		}
	}
}

func TestSpans(t *testing.T) {
	src := diag.NewSource("test", "# first\nlead  red A B  # comment\nnet g {\n A\n} ; note \"x\"\nstrike solder A B\nprat x y\nkind k { coil 1 2 \"c\" }\n")
	file := Parse(src)
	var spans []string
	for _, s := range file.Statements {
		spans = append(spans, s.Verb()+"|"+s.Span().Text())
	}
	struck := file.Statements[3].(*Strike).Struck
	line := file.Statements[5].(*Kind).Lines[0]
	spans = append(spans, struck.Verb()+"|"+struck.Span().Text(), line.Verb()+"|"+line.Span().Text())
	want := []string{"lead|lead  red A B", "net|net g {\n A\n}", `note|note "x"`, "strike|strike solder A B", "prat|prat x y", `kind|kind k { coil 1 2 "c" }`, "solder|solder A B", `coil|coil 1 2 "c"`}
	if !slices.Equal(spans, want) {
		t.Errorf("got  %q\nwant %q", spans, want)
	}
	if r := file.Statements[0].(*Lead).Points[1]; r.Place.Position().String() != "test:2:13" {
		t.Error(r.Place.Position())
	}
}

func TestPrompt(t *testing.T) {
	questions := []string{"check", "about", "why", "help", "ask", "where-next"}
	for text, want := range map[string]string{
		"CHECK plan":                 `Question(check [Argument( check false) Argument( plan false)] -)`,
		`ask "a; b", c`:              `Question(ask [Argument( ask false) Argument( a; b true) Argument( c false)] -)`,
		"try lead red A B":           `Question(try [Argument( try false)] Lead(lead red [A B] [] -))`,
		"try strike net x A":         `Question(try [Argument( try false)] Strike(strike Net(net false x [A] -)))`,
		"help part":                  `Question(help [Argument( help false) Argument( part false)] -)`,
		"check; lead red A B; about": `Question(check [Argument( check false)] -) Lead(lead red [A B] [] -) Question(about [Argument( about false)] -)`,
	} {
		file := ParseLine(diag.NewSource("prompt", text), questions...)
		if got := strings.Join(dumpFacts(file), " "); got != want || len(file.Mistakes) > 0 {
			t.Errorf("%s\ngot  %s\nwant %s\n%v", text, got, want, file.Mistakes)
		}
	}
	for text, want := range map[string]string{
		"chekc":             "`chekc` begins no fact and no question",
		"try":               "after `try` a fact is wanted",
		"try foo":           "`foo` begins no fact",
		"try check":         "`check` begins no fact",
		"try winding a":     "`winding` begins a line of a kind or part, and no fact",
		"check { A }":       "the brace { cannot stand in a question",
		"check \"x":         "this text is not closed",
		"try lead red":      "the line ends where a terminal is wanted",
		"try try net x A":   "`try` begins no fact",
		"try part set fuse": "no part may be called `set`: the word has a meaning of its own",
	} {
		file := ParseLine(diag.NewSource("prompt", text), questions...)
		if len(file.Mistakes) != 1 || file.Mistakes[0].Message != want {
			t.Errorf("%s: %v, want %s", text, file.Mistakes, want)
		}
	}
	if m := ParseLine(diag.NewSource("prompt", "chekc"), questions...).Mistakes[0]; m.Nearest != "check" {
		t.Errorf("nearest to chekc: %q", m.Nearest)
	}
	file := Parse(diag.NewSource("file", "why A B\ntry net x A"), questions...)
	for i, want := range []string{"`why` is a question, and a notebook holds facts alone", "`try` is a question, and a notebook holds facts alone"} {
		if len(file.Mistakes) != 2 || file.Mistakes[i].Message != want {
			t.Errorf("%v, want %s", file.Mistakes, want)
		}
	}
}

func TestNeedsMore(t *testing.T) {
	for text, want := range map[string]bool{
		"":                                 false,
		"part T1 transformer {":            true,
		"part T1 transformer {\n coil 1 2": true,
		"part T1 transformer {\n}":         false,
		"net g { A\n# }":                   true,
		"net g { A \"}\"":                  true,
		"net g { A ; B":                    true,
		"strike net g {":                   true,
		"try net g {":                      true,
		"set { J1 in":                      true,
		"lead red {":                       false, // it takes no braces: the answer comes at once
		"prat x {":                         false,
		"{":                                false,
		"check {":                          false,
		"note \"{\"":                       false,
		"note \"{":                         false,
		"net g {\nnet h A":                 false, // the next fact proves that something is wrong
		"net g { }\npart T1 x {":           true,
	} {
		if got := NeedsMore(text); got != want {
			t.Errorf("%q: %t", text, got)
		}
	}
}

// Sorts of wrong line. Wherever one is put, it costs one message and no fact.
var wrongLines = []string{
	"prat R1 resistor 100k",
	"part R1",
	"lead red",
	"lead red A { B }",
	`note "not closed`,
	"}",
	"{",
	`net x A "r" B`,
	"wire red A B",
	"check",
	"\x01\x02 A",
	"lead r\xe9d A B",
	"note \u201Cnot closed",
	"set J1",
	"colours T1 x { red }",
	", R1",
	`"text"`,
	"winding",
	"strike foo",
	"wiring done",
	"part with resistor 1k",
	"part R1 resistor 1k }",
	"net x { A { B } C }",
	strings.Repeat("x", 300),
}

var rightInLists = []string{"prat R1 resistor 100k", "wire red A B", "check", ", R1", "winding"}

const smallNotebook = `# A notebook with every sort of braces.
amplifier "Small"

kind odd "with lines" {
    # a comment
    terminals 1 2

    coil 1 2  # another
    alike 1 with 2
}
part T1 transformer "Mains" {
    winding a a1 a2
}
net ground {
    A B
    C, D

    E
}
colours T1 label {
    black a1, white a2
    red a3
}
set { J1 in
    J2 out
}
kind one { terminals 1 }
note "end"
`

func TestOneWrongLineCostsOneMessage(t *testing.T) {
	checkWrongLines(t, smallNotebook)
}

func TestOneWrongLineAnywhere(t *testing.T) {
	all := notebooks(t)
	rapid.Check(t, func(rt *rapid.T) {
		src := all[rapid.IntRange(0, len(all)-1).Draw(rt, "notebook")]
		lines := strings.SplitAfter(src.Text, "\n")
		at := rapid.IntRange(0, len(lines)-1).Draw(rt, "line")
		wrong := rapid.SampledFrom(wrongLines).Draw(rt, "wrong")
		checkWrongLine(rt, lines, at, wrong, dumpFacts(Parse(src)))
	})
}

func checkWrongLines(t *testing.T, text string) {
	lines := strings.SplitAfter(text, "\n")
	want := dumpFacts(parseText(text))
	for at := range lines {
		for _, wrong := range wrongLines {
			checkWrongLine(t, lines, at, wrong, want)
		}
	}
}

// insideList reports whether a line stands in the braces of a list of
// terminals, where a line of words is right, whatever they are.
func insideList(lines []string, at int) bool {
	for i := at - 1; i >= 0; i-- {
		switch {
		case strings.HasPrefix(lines[i], "}"):
			return false
		case strings.Contains(lines[i], "{"):
			f := formOf(strings.Fields(lines[i])[0])
			return !strings.Contains(lines[i], "}") && !f.block && f.pairs == ""
		}
	}
	return false
}

func checkWrongLine(t interface{ Errorf(string, ...any) }, lines []string, at int, wrong string, want []string) {
	if insideList(lines, at) && slices.Contains(rightInLists, wrong) {
		return
	}
	text := strings.Join(lines[:at], "") + wrong + "\n" + strings.Join(lines[at:], "")
	file := Parse(diag.NewSource("test", text), "check")
	file.Statements = slices.DeleteFunc(file.Statements, func(s Statement) bool {
		return s.Span().Position().Line == at+1 // what could be read of the wrong line
	})
	if len(file.Mistakes) != 1 {
		var messages []string
		for _, m := range file.Mistakes {
			messages = append(messages, m.Place.String()+" "+m.Message)
		}
		t.Errorf("%q in line %d costs %d messages:\n%s", wrong, at+1, len(messages), strings.Join(messages, "\n"))
	}
	if got := dumpFacts(file); !slices.Equal(got, want) {
		for i := range want {
			if i >= len(got) || got[i] != want[i] {
				t.Errorf("%q in line %d costs a fact:\n%s", wrong, at+1, want[i])
				return
			}
		}
		t.Errorf("%q in line %d adds facts: %d of %d", wrong, at+1, len(got), len(want))
	}
}
