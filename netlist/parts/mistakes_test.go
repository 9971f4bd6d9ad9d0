package parts

import (
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// readBook takes the kinds of a notebook into a library and makes its parts.
func readBook(t testing.TB, text string) (*Library, map[string]Instance, []diag.Diagnostic) {
	t.Helper()
	file := lang.Parse(diag.NewSource("book", text))
	if len(file.Mistakes) > 0 {
		t.Fatalf("%s\n%s", text, tell(file.Mistakes[0]))
	}
	l := Builtin().With()
	var mistakes []diag.Diagnostic
	for _, s := range file.Statements {
		if k, ok := s.(*lang.Kind); ok {
			mistakes = append(mistakes, l.Define(k)...)
		}
	}
	mistakes = append(mistakes, l.Settle()...)
	made := make(map[string]Instance)
	for _, s := range file.Statements {
		if p, ok := s.(*lang.Part); ok {
			in := l.ForPart(p)
			mistakes = append(mistakes, in.Mistakes...)
			for _, r := range p.Refs {
				made[r.Text] = in
			}
		}
	}
	return l, made, mistakes
}

// one makes the only part of a line.
func one(t testing.TB, text string) Instance {
	t.Helper()
	_, made, mistakes := readBook(t, text)
	for _, m := range mistakes {
		t.Fatalf("%s\n%s", text, tell(m))
	}
	for _, in := range made {
		return in
	}
	t.Fatalf("%s: no part", text)
	return Instance{}
}

// A line whose figure stands before its kind is given back in the right order,
// and that one can be read.
func TestTheKindComesFirst(t *testing.T) {
	for text, want := range map[string]string{
		`part R5 100k resistor`:                   `part R5 resistor 100k`,
		`part R1, R2 100k resistor 1W "the load"`: `part R1, R2 resistor 100k 1W "the load"`,
		`part R3..R5 1k RESISTOR`:                 `part R3..R5 RESISTOR 1k`,
		`part P1 1M pot log`:                      `part P1 pot 1M log`,
	} {
		_, _, mistakes := readBook(t, text)
		if len(mistakes) != 1 || len(mistakes[0].Mend) != 1 || mistakes[0].Mend[0] != "type it as: "+want {
			t.Errorf("%s: %v, want %s", text, mistakes, want)
			continue
		}
		if _, _, mistakes = readBook(t, want); len(mistakes) > 0 {
			t.Errorf("%s: %s", want, tell(mistakes[0]))
		}
	}
}

// TestMistakes: each text costs the mistakes given, and no more. One cause is
// one mistake, however many lines it spoils.
func TestMistakes(t *testing.T) {
	tests := []struct {
		name, text string
		want       string // a line for each mistake: line:column rule message (nearest)
	}{
		// names
		{"unknown kind", "part V1 ecx83", "1:9 unknown-name there is no kind of part called ecx83 (ecc83)"},
		{"unknown kind with letters swapped", "part V1 ecc38", "1:9 unknown-name there is no kind of part called ecc38 (ecc83)"},
		{"figure before the kind", "part R5 100k resistor", "1:9 unknown-name 100k stands where the kind of part belongs: the kind comes first, then its figures"},
		{"mistyped figure before the kind", "part R5 100kk resistor", "1:9 unknown-name 100kk stands where the kind of part belongs: the kind comes first, then its figures"},
		{"figure and no kind", "part R5 100k", "1:9 unknown-name 100k is a figure, and the line does not say what kind of part it is of"},
		{"valve that looks like a figure", "part V1 6v7", "1:9 unknown-name there is no kind of part called 6v7 (6v4)"},
		{"unknown like", "kind x { like resitor; terminals 3 }", "1:15 unknown-name there is no kind of part called resitor (resistor)"},
		{"unknown like in a part", "part R1 resistor 1k { like potentiometr }", "1:28 unknown-name there is no kind of part called potentiometr (potentiometer)"},
		{"unknown terminal", "kind x { terminals anode cathode; diode anode catode }", "1:47 unknown-name x has no terminal catode (cathode)"},
		{"unknown terminal on many lines", "kind x { terminals a b; resistance a c; coil b c; tie c }", "1:55 unknown-name x has no terminal c"},
		{"unknown control", "kind x { terminals 1 2; control lever off on; contact 1 2 when leaver on }", "1:64 unknown-name x has no control leaver (lever)"},
		{"no control", "kind x { terminals 1 2; contact 1 2 when lever on }", "1:42 unknown-name x has no control lever"},
		{"unknown position", "kind x { terminals 1 2; control lever off on; contact 1 2 when lever onn }", "1:70 unknown-name lever has no position onn (on)"},
		{"unknown limit", "kind x { terminals a; limit anode-vlts 300V }", "1:29 unknown-name there is no limit called anode-vlts (anode-volts)"},
		{"unknown word", "part P1 pot 1M logg", "1:16 unknown-name logg says nothing of a pot (log)"},
		{"word where none is taken", "part T1 point shiny", "1:15 unknown-name shiny says nothing of a point"},
		{"pot law letter", "part P1 pot 1M A", "1:16 unknown-name A alone does not say which law the track has"},
		// the same name twice
		{"terminal twice", "kind x { terminals a b a }", "1:24 same-name-twice x has two terminals a"},
		{"terminal twice, capitals", "kind x { terminals a b A }", "1:24 same-name-twice x has two terminals A"},
		{"twice in a line", "kind x { terminals a b; resistance a a }", "1:38 same-name-twice a stands twice in this line"},
		{"alias of another", "kind x { terminals a b; call a b }", "1:32 same-name-twice b already names terminal b"},
		{"control twice", "kind x { terminals a; control k on off; control K on off }", "1:41 same-name-twice x has two controls K"},
		{"position twice", "kind x { terminals a; control k on off ON }", "1:40 same-name-twice k has two positions ON"},
		{"winding twice", "part T1 transformer { winding p a b; winding P c d }", "1:46 same-name-twice transformer has two windings P"},
		{"an end in two windings", "part T1 transformer { winding p 0 115; winding q 0 115 }", "1:50 same-name-twice the windings p and q both have an end 0"},
		{"limit twice", "kind x { terminals a; limit anode-volts 1V; limit anode-volts 2V }", "1:51 same-name-twice anode-volts is told twice"},
		{"two kinds of one name", "kind x { terminals a }\nkind X { terminals b }", "2:6 same-name-twice there are two kinds called X"},
		{"a name of the library", "kind Resistor { terminals a b }", "1:6 same-name-twice the library already has a kind called Resistor"},
		{"like the library's kind of its own name", "kind jack { like jack; terminals lug }", "1:6 same-name-twice the library already has a kind called jack"},
		{"another name of the library", "kind x { also 12AX7; terminals a b }", "1:15 same-name-twice the library already has a kind called 12AX7"},
		{"another name is its own", "kind x { also x; terminals a b }", "1:15 same-name-twice x is already a name of this kind"},
		// lines that cannot be
		{"like itself", "kind x { like x }", "1:15 bad-kind the kind x cannot be like itself"},
		{"like itself by others", "kind x { like y }\nkind y { like z; terminals 1 }\nkind z { like x }", "1:6 bad-kind the kind x is like itself, by way of y and z"},
		{"a loop elsewhere", "kind w { like x }\nkind x { like y }\nkind y { like x }", "2:6 bad-kind the kind x is like itself, by way of y"},
		{"too few ends", "kind x { terminals a b; triode a b }", "1:25 bad-kind triode needs anode, grid and cathode"},
		{"too many ends", "kind x { terminals a b c; diode a b c }", "1:37 bad-figure c is not a figure, and diode takes figures here"},
		{"pole too short", "kind x { terminals a a1 a2; control k 1..3; pole a a1 a2 by k }", "1:45 bad-kind this pole has 2 ways and k has 3 positions"},
		{"pole too long", "kind x { terminals a a1 a2; control k on off; pole a a1 a2 none by k }", "1:47 bad-kind this pole has 3 ways and k has 2 positions"},
		{"pole to itself", "kind x { terminals a a1; control k on off; pole a a1 a by k }", "1:54 bad-kind a is the common of this pole and cannot be one of its ways"},
		{"contact of what turns", "kind x { terminals a b; control k 0%..100%; contact a b when k 0% }", "1:62 bad-kind k turns from 0 % to 100 %: a contact needs a control with positions"},
		{"track by what steps", "kind x { terminals 1 2 3; control k on off; track 1 2 3 by k }", "1:60 bad-kind a track needs a control that turns, and k has positions"},
		{"resistance by", "kind x { terminals 1 2; control k 0%..100%; resistance 1 2 by k }", "1:63 bad-kind only a track is turned by something"},
		{"resistance moves", "kind x { terminals 1 2; control k on off; resistance 1 2 moves k }", "1:64 bad-kind only a coil moves something"},
		{"control without positions", "kind x { terminals 1 2; control k }", "1:25 bad-kind a control needs a name and its positions"},
		{"control with one position", "kind x { terminals 1 2; control k on }", "1:25 bad-kind k needs at least two positions"},
		{"control with too many positions", "kind x { terminals 1 2; control k 1..65 }", "1:25 bad-kind k has 65 positions: there may be 64"},
		{"new names for a switch, too few", "part S1 rotary-1x3 { control knob a b }", "1:22 bad-kind knob has 3 positions in a rotary-1x3, and 2 are named"},
		{"new names for a pot", "part P1 pot 1M { control shaft a b }", "1:18 bad-kind shaft of pot turns from 0 % to 100 %: it has no positions to name"},
		{"seat", "kind x { terminals 1 2; socketed in }", "1:25 bad-kind socketed has the positions out and in"},
		{"alike uneven", "kind x { terminals a b c; alike a b with c }", "1:27 bad-kind 2 ends cannot be exchanged with 1"},
		{"alike with itself", "kind x { terminals a b c; alike a b with a c }", "1:42 same-name-twice a stands twice in this line"},
		{"element on empty", "kind x { ring 1..9; empty 6; triode 6 7 8 }", "1:37 bad-kind terminal 6 is empty, and the triode ends on it"},
		{"element on tie", "kind x { terminals 1 2; tie 1; resistance 1 2 }", "1:43 bad-kind terminal 1 is a tie, where no element stands, and the resistance ends on it"},
		{"tie and empty", "kind x { terminals 1 2; tie 1; empty 1 }", "1:38 bad-kind terminal 1 cannot be both a tie and empty"},
		{"joined alone", "kind x { terminals 1 2; joined 1 }", "1:25 bad-kind joined needs at least two terminals"},
		{"joined any", "kind x { terminals 1 2; joined any }", "1:25 bad-kind joined any is for a kind whose terminals are named at will"},
		{"winding alone", "part T1 transformer { winding p a }", "1:23 bad-kind a winding needs a name and at least two ends"},
		{"name with a dot", "kind x { terminals a.b }", "1:20 bad-kind a terminal cannot be called a.b"},
		{"range that falls", "kind x { terminals 9..1 }", "1:20 bad-range a range rises: 9 comes after 1"},
		{"also in a part", "part R1 resistor 1k { also x }", "1:28 bad-kind also gives a kind another name, and x is in the block of a part"},
		{"no terminals", "part T1 transformer", "1:9 bad-kind T1 has no terminals"},
		// figures
		{"no figure", "kind x { terminals 1 2; resistance 1 2 big }", "1:40 bad-figure big is not a figure, and resistance takes figures here"},
		{"wrong unit on a line", "kind x { terminals 1 2; resistance 1 2 22n }", "1:40 bad-figure 22n is in farads, and resistance takes ohms"},
		{"figure where none is", "kind x { terminals a g k; triode a g k 6.3V }", "1:40 bad-figure triode takes no figure, and 6.3V is one"},
		{"could mean something else, on a line", "kind x { terminals 1 2; capacitance 1 2 16MF }", "1:41 bad-figure 16MF is read as 16 µF caution"},
		{"wrong unit of dcr", "kind x { terminals 1 2; dcr 1 2 5V }", "1:33 bad-figure 5V is in volts, and dcr takes ohms"},
		{"volts without volts", "kind x { terminals 1 2; volts 1 2 5A }", "1:25 bad-figure volts needs a figure in volts"},
		{"limit without its unit", "kind x { terminals 1; limit anode-watts 300V }", "1:41 bad-figure 300V is in volts, and anode-watts takes watts"},
		{"limit with two figures", "kind x { terminals 1; limit anode-watts 3W 4W }", "1:23 bad-figure anode-watts takes one figure, in watts"},
		{"capacitor with a bare number", "part C1 capacitor 100", "1:19 bad-figure 100 is in ohms, and a capacitor has nothing that takes ohms"},
		{"resistor in farads", "part R1 resistor 22n", "1:18 bad-figure 22n is in farads, and a resistor has nothing that takes farads"},
		{"two figures for one", "part R1 resistor 22k 33k", "1:18 bad-figure 2 figures in ohms are given, and a resistor takes 1"},
		{"two figures for three", "part C1 can-3 32u 16u 450V", "1:15 bad-figure 2 figures in farads are given, and a can-3 takes 3"},
		{"load on the line", "part T2 output-pp 8k", "1:19 bad-figure 8k is in ohms, and an output-pp has nothing that takes ohms"},
		{"figure that the kind has", "kind x { terminals 1 2; resistance 1 2 47k }\npart R1 x 22k", "2:11 bad-figure 22k cannot be given here: the kind x itself says 47k"},
		{"no count", "part TB1 tagboard", "1:10 bad-figure TB1 does not say how many terminals it has"},
		{"count of none", "part TB1 tagboard 0", "1:19 bad-figure tagboard counts its terminals, from 1 to 500, and 0 is not such a number"},
		{"count too high", "part TB1 tagboard 501", "1:19 bad-figure tagboard counts its terminals, from 1 to 500, and 501 is not such a number"},
		{"a terminal beyond the count", "kind x { terminals 1..n; joined 1 7 }\npart P1 x 7\npart P2 x 6", "1:35 unknown-name x has no terminal 7"},
		{"ohms for a capacitor", "part C1 capacitor 100k", "1:19 bad-figure 100k is in ohms, and a capacitor has nothing that takes ohms"},
		{"a bare number where nothing takes ohms", "part PS1 dc-supply 300", "1:20 bad-figure 300 is in ohms, and a dc-supply has nothing that takes ohms"},
		{"below nought", "part R1 resistor -100k", "1:18 bad-figure -100k is below nought"},
		{"metres for megohms", "part R1 resistor 1m", "1:18 bad-figure 1m is the size of a wire, and says nothing of a resistor"},
		{"could mean something else", "part C1 electrolytic 16MF", "1:22 bad-figure 16MF is read as 16 µF caution"},
		{"length of a cable", "part W1 screened-cable 30cm", ""},
		{"mistyped figure", "part R1 resistor 4kk7", "1:18 bad-figure 4kk7 cannot be read as a figure"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, _, mistakes := readBook(t, test.text)
			var got []string
			for _, m := range mistakes {
				p := m.Place.Position()
				line := strings.Join([]string{strings.TrimPrefix(p.String(), "book:"), m.Rule, m.Message}, " ")
				if m.Nearest != "" {
					line += " (" + m.Nearest + ")"
				}
				if m.Severity != diag.Fault {
					line += " " + m.Severity.String()
				}
				got = append(got, line)
			}
			if strings.Join(got, "\n") != test.want {
				t.Errorf("%s\n got %s\nwant %s", test.text, strings.Join(got, "\n     "), test.want)
			}
		})
	}
}
