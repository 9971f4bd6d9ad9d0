package parts

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// write tells what a kind is made of, one thing a line, terminals by name.
func write(k *Kind) string {
	var b strings.Builder
	names := func(list []int) string {
		var s []string
		for _, t := range list {
			s = append(s, k.Terminals[t].Name)
		}
		return strings.Join(s, " ")
	}
	for _, t := range k.Terminals {
		fmt.Fprint(&b, t.Name)
		for _, a := range t.Aliases {
			fmt.Fprintf(&b, "=%s", a)
		}
		if t.Tie {
			fmt.Fprint(&b, " tie")
		}
		if t.Empty != "" {
			fmt.Fprintf(&b, " empty: %s", t.Empty)
		}
		fmt.Fprintln(&b)
	}
	if k.Any {
		fmt.Fprintln(&b, "any", k.JoinedAny)
	}
	for _, r := range k.Rings {
		fmt.Fprintln(&b, "ring", names(r))
	}
	for _, r := range k.Rows {
		fmt.Fprintln(&b, "row", names(r))
	}
	for _, r := range k.Joined {
		fmt.Fprintln(&b, "joined", names(r))
	}
	for _, w := range k.Windings {
		fmt.Fprintln(&b, "winding", w.Name, names(w.Ends))
	}
	for _, e := range k.Elements {
		fmt.Fprint(&b, e.Type, " ", names(e.Ends))
		if e.Polar {
			fmt.Fprint(&b, " polar")
		}
		if e.Nominal {
			fmt.Fprint(&b, " nominal")
		}
		for _, f := range e.Figures {
			fmt.Fprint(&b, " ", f)
		}
		if e.By >= 0 {
			fmt.Fprint(&b, " by ", k.Controls[e.By].Name)
		}
		if e.Moves >= 0 {
			fmt.Fprint(&b, " moves ", k.Controls[e.Moves].Name)
		}
		fmt.Fprintln(&b)
	}
	for i, c := range k.Controls {
		fmt.Fprint(&b, "control ", c.Name, " ", strings.Join(c.Positions, " "))
		if c.Turns {
			fmt.Fprint(&b, "turns")
		}
		if i == k.Seat {
			fmt.Fprint(&b, " (seat)")
		}
		fmt.Fprintln(&b)
	}
	for _, c := range k.Contacts {
		fmt.Fprint(&b, "contact ", k.Terminals[c.A].Name, " ", k.Terminals[c.B].Name, " when ", k.Controls[c.Control].Name)
		for _, p := range c.Positions {
			fmt.Fprint(&b, " ", k.Controls[c.Control].Positions[p])
		}
		fmt.Fprintln(&b)
	}
	for _, a := range k.Alike {
		fmt.Fprintf(&b, "alike %s with %s but %d\n", names(a.These), names(a.Those), a.But)
	}
	for _, x := range k.Between {
		fmt.Fprintf(&b, "%s %s %s %v\n", x.Verb, k.Terminals[x.From].Name, k.Terminals[x.To].Name, x.Figures[0])
	}
	for _, l := range k.Limits {
		fmt.Fprintln(&b, "limit", l.Name, l.Figure)
	}
	for _, o := range k.Origins {
		fmt.Fprintln(&b, "source", o.Status, o.Remark)
	}
	if len(k.Words) > 0 {
		fmt.Fprintln(&b, "words", strings.Join(k.Words, " "))
	}
	return b.String()
}

// TestKindLines makes a kind of every sort of line, with the examples of the
// language's own table of lines among them.
func TestKindLines(t *testing.T) {
	tests := []struct{ name, block, want string }{
		{"terminals and names", `terminals + -; call + plus positive 1`, "+=plus=positive=1\n-\n"},
		{"numbered", `terminals 1..4; row 1..3; tie 2 4`, "1\n2 tie\n3\n4 tie\nrow 1 2 3\n"},
		{"ring declares", `ring 1..3; empty 2 "joined inside"`, "1\n2 empty: joined inside\n3\nring 1 2 3\n"},
		{"empty without a reason", `terminals a; empty a`, "a empty: nothing may be soldered here\n"},
		{"lines in any order", `resistance 1 2; call 1 hot; terminals 1 2`, "1=hot\n2\nresistance 1 2\n"},
		{"any", `terminals any; joined any`, "any true\n"},
		{"any, with names of its own", `terminals any; tie star`, "star tie\nany false\n"},
		{"joined", `terminals 2 4 7; joined 2 4 7`, "2\n4\n7\njoined 2 4 7\n"},
		{"winding, dcr, volts, load", `winding hv hv-a hv-ct hv-b; dcr hv-a hv-ct 95; volts hv-a hv-b 300V 120mA; load hv-a hv-b 8k`,
			"hv-a\nhv-ct\nhv-b\nwinding hv hv-a hv-ct hv-b\ndcr hv-a hv-ct 95 Ω\nvolts hv-a hv-b 300 V\nload hv-a hv-b 8 kΩ\n"},
		{"a bare number is an end or a figure by where it stands", `winding p 0 115; volts 0 115 115; dcr 0 115 10`,
			"0\n115\nwinding p 0 115\nvolts 0 115 115 V\ndcr 0 115 10 Ω\n"},
		{"elements", `terminals + - a k; capacitance + - 22u polar; resistance a k 0.6 ohm; diode a k`,
			"+\n-\na\nk\ncapacitance + - polar 22 µF\nresistance a k 600 mΩ\ndiode a k\n"},
		{"valves", `ring 1..9; triode 6 7 8; pentode 1 2 3 9; heater 4 5 6.3V 0.15A`,
			"1\n2\n3\n4\n5\n6\n7\n8\n9\nring 1 2 3 4 5 6 7 8 9\ntriode 6 7 8\npentode 1 2 3 9\nheater 4 5 6.3 V 150 mA\n"},
		{"suppressor", `terminals 1..5; pentode 3 4 5 2 1`, "1\n2\n3\n4\n5\npentode 3 4 5 2 1\n"},
		{"track", `terminals 1 2 3; control shaft 0%..100%; track 1 2 3 by shaft`, "1\n2\n3\ntrack 1 2 3 by shaft\ncontrol shaft turns\n"},
		{"coil of which the impedance is told", `terminals + -; coil + - 8ohm nominal`, "+\n-\ncoil + - nominal 8 Ω\n"},
		{"coil that moves", `terminals c1 c2 a b; control armature off on; coil c1 c2 moves armature; contact a b when armature on`,
			"c1\nc2\na\nb\ncoil c1 c2 moves armature\ncontrol armature off on\ncontact a b when armature on\n"},
		{"contact in several positions, named in any order", `terminals a b; control k 1..4; contact a b when k 4 2`, "a\nb\ncontrol k 1 2 3 4\ncontact a b when k 2 4\n"},
		{"pole", `terminals a a1..a3; control knob 1..3; pole a a1..a3 by knob`,
			"a\na1\na2\na3\ncontrol knob 1 2 3\ncontact a a1 when knob 1\ncontact a a2 when knob 2\ncontact a a3 when knob 3\n"},
		{"pole with none and a way twice", `terminals a b c; control k 1..4; pole a b none c b by k`,
			"a\nb\nc\ncontrol k 1 2 3 4\ncontact a b when k 1 4\ncontact a c when k 3\n"},
		{"socketed", `terminals 1 2; socketed out in; lamp 1 2`, "1\n2\nlamp 1 2\ncontrol seat out in (seat)\n"},
		{"alike", `terminals a b c d; alike a b with c d; alike a with b but phase; alike c with d but hum`,
			"a\nb\nc\nd\nalike a b with c d but 0\nalike a with b but 2\nalike c with d but 1\n"},
		{"limit, source, words", `terminals a; limit anode-volts 300V; limit reservoir 50u; source memory "S25"; words lin Log`,
			"a\nlimit anode-volts 300 V\nlimit reservoir 50 µF\nsource memory S25\nwords lin Log\n"},
		// taken over and replaced
		{"like", `like resistor; terminals tap`, "1\n2\ntap\nresistance 1 2\nalike 1 with 2 but 0\nwords carbon film metal-film metal-oxide wirewound flameproof fusible\n"},
		{"a later alike about the same ends", `like resistor; alike 2 with 1 but hum; words film`,
			"1\n2\nresistance 1 2\nalike 2 with 1 but 1\nwords carbon film metal-film metal-oxide wirewound flameproof fusible\n"},
		{"a later element between the same ends", `like dc-supply; resistance + - 1; resistance + - 2`,
			"+=plus=positive\n-=minus=negative\nresistance + - 1 Ω\nresistance + - 2 Ω\n"},
		{"a later control names positions anew", `like toggle-1x1; control lever standby play`,
			"1\n2\ncontrol lever standby play\ncontact 1 2 when lever play\nalike 1 with 2 but 0\n"},
		{"a later control keeps the old names and adds one", `like toggle-1x1; control lever test off on`,
			"1\n2\ncontrol lever test off on\ncontact 1 2 when lever on\nalike 1 with 2 but 0\n"},
		{"a later contact between the same ends", `like toggle-1x1; contact 2 1 when lever off`,
			"1\n2\ncontrol lever off on\ncontact 2 1 when lever off\nalike 1 with 2 but 0\n"},
		{"a later pole of the same common", `like voltage-selector-3; pole common 3 2 1 by carrier`,
			"common\n1\n2\n3\ncontrol carrier 1 2 3\ncontact common 3 when carrier 1\ncontact common 2 when carrier 2\ncontact common 1 when carrier 3\n"},
		{"a later winding of the same name", `like interstage; winding secondary grid-a grid-b`,
			"anode\nht\ngrid-a\ngrid-b\nwinding primary anode ht\nwinding secondary grid-a grid-b\nalike grid-a with grid-b but 2\n"},
		{"what stood on an end that is gone goes with it", `like output-se; winding secondary common 8ohm`,
			"ht\nanode\ncommon\n8ohm\nwinding primary ht anode\nwinding secondary common 8ohm\nload common 8ohm 8 Ω\n"},
		{"later limit and source", `like 0b2; limit anode-volts 1V; source memory`, "1=anode\n2=cathode\n3 empty: joined inside: nothing may be soldered here\n4\n5\n6 empty: joined inside: nothing may be soldered here\n7\nring 1 2 3 4 5 6 7\njoined 1 5\njoined 2 4 7\ncontrol seat out in (seat)\nlimit anode-volts 1 V\nsource memory \n"},
		{"an element where there was none", `like 0b2; heater 3 6 6.3V; joined 3 6`, "1=anode\n2=cathode\n3\n4\n5\n6\n7\nring 1 2 3 4 5 6 7\njoined 1 5\njoined 2 4 7\njoined 3 6\nheater 3 6 6.3 V\ncontrol seat out in (seat)\nsource quoted pins: a web tutorial on a regulated supply\n"},
		{"a later row", `like pot; row 3 2 1`, "1\n2\n3\nrow 3 2 1\ntrack 1 2 3 by shaft\ncontrol shaft turns\nsource practice end numbers; one account numbers them the other way, hence ccw and cw\nwords lin linear log audio antilog reverse-log\n"},
		{"an alias gives way", `like electrolytic; terminals 1`, "+=plus=positive\n-=minus=negative=2\n1\ncapacitance + - polar\nwords axial radial can\n"},
		{"an alias moves", `like jack-break; terminals x; call x normal`, "tip=t\nsleeve=s\nbreak=tn=tip-break\nx=normal\ncontrol plug out in\ncontact tip break when plug out\nsource quoted contact states from a jack reference page\n"},
		{"capitals do not count", `TERMINALS Anode Cathode; Diode ANODE cathode`, "Anode\nCathode\ndiode Anode Cathode\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			l, _, mistakes := readBook(t, "kind x { "+test.block+" }")
			for _, m := range mistakes {
				t.Error(tell(m))
			}
			k, _ := l.Kind("X")
			if got := write(k); got != test.want {
				t.Errorf("%s\n got %q\nwant %q", test.block, got, test.want)
			}
			// A part's own block is read as a kind's is.
			in := one(t, "part P1 board { "+strings.ReplaceAll(test.block, "terminals any", "")+" }")
			if in.Kind == nil || len(k.Terminals) > len(in.Kind.Terminals) {
				t.Errorf("in the block of a part: %v", in.Kind)
			}
		})
	}
}

// TestAnyBlock throws lines together at random: whatever they say, there is a
// kind, and nothing in it points outside it.
func TestAnyBlock(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	words := strings.Fields("1 2 3 a b c + - 1..3 a1..a4 1..n n any none k lever shaft 0%..100% out in on off 22n 47k 6.3V polar plus A N 3..1 x.y seat anode-volts memory")
	verbs := strings.Fields("also like words terminals call ring row tie empty joined winding control socketed dcr volts load resistance capacitance track diode triode pentode heater lamp fuse coil contact pole alike limit source")
	kinds := strings.Fields("pot can-3 ecc83 tagboard output-pp toggle-2x2 chassis 0a2 jack-stereo-break x")
	word := func() string { return words[random.IntN(len(words))] }
	read := 0
	for range 4000 {
		var b strings.Builder
		b.WriteString("kind x {\n")
		for range 1 + random.IntN(8) {
			verb := verbs[random.IntN(len(verbs))]
			switch verb {
			case "like":
				fmt.Fprintf(&b, "like %s\n", kinds[random.IntN(len(kinds))])
			case "contact":
				fmt.Fprintf(&b, "contact %s %s when %s %s\n", word(), word(), word(), word())
			case "pole":
				fmt.Fprintf(&b, "pole %s %s %s by %s\n", word(), word(), word(), word())
			case "alike":
				fmt.Fprintf(&b, "alike %s %s with %s %s\n", word(), word(), word(), word())
			default:
				b.WriteString(verb)
				for range 1 + random.IntN(5) {
					b.WriteString(" " + word())
				}
				if verb == "track" {
					b.WriteString(" by " + word())
				}
				b.WriteString("\n")
			}
		}
		b.WriteString("}\npart P1 x 3\npart P2 x 22n { terminals a b c; call a q }\n")
		file := lang.Parse(diag.NewSource("book", b.String()))
		l := Builtin().With()
		for _, s := range file.Statements {
			switch s := s.(type) {
			case *lang.Kind:
				l.Define(s)
				l.Settle()
				k, _ := l.Kind("x")
				sound(t, b.String(), k)
				read++
			case *lang.Part:
				if in := l.ForPart(s); in.Kind != nil {
					sound(t, b.String(), in.Kind)
					if len(in.Values) != len(in.Kind.Elements) {
						t.Fatalf("%s\n%d values for %d elements", b.String(), len(in.Values), len(in.Kind.Elements))
					}
					in.Kind.Exchanges(in.Values)
				}
			}
		}
	}
	if read < 3000 {
		t.Errorf("only %d blocks could be read", read)
	}
}

// sound fails if a kind has an index outside it.
func sound(t *testing.T, text string, k *Kind) {
	t.Helper()
	n := len(k.Terminals)
	ok := true
	all := func(lists ...[]int) {
		for _, list := range lists {
			ok = ok && !slices.ContainsFunc(list, func(i int) bool { return i < 0 || i >= n })
		}
	}
	all(k.Rings...)
	all(k.Rows...)
	all(k.Joined...)
	for _, w := range k.Windings {
		all(w.Ends)
	}
	for _, e := range k.Elements {
		all(e.Ends)
		ok = ok && e.By < len(k.Controls) && e.Moves < len(k.Controls) && forms[e.Type].least <= len(e.Ends) && len(e.Ends) <= forms[e.Type].most
	}
	for _, c := range k.Contacts {
		all([]int{c.A, c.B})
		ok = ok && c.Control < len(k.Controls) && len(c.Positions) > 0 && slices.IsSorted(c.Positions)
		for _, p := range c.Positions {
			ok = ok && p >= 0 && p < len(k.Controls[c.Control].Positions)
		}
	}
	for _, a := range k.Alike {
		all(a.These, a.Those)
		ok = ok && len(a.These) == len(a.Those)
	}
	for _, b := range k.Between {
		all([]int{b.From, b.To})
	}
	for _, turn := range k.Turns() {
		ok = ok && len(turn.Perm) == n
	}
	for i := range k.Terminals {
		if list, _ := k.Find(k.Terminals[i].Name); len(list) != 1 || list[0] != i {
			ok = false
		}
	}
	if !ok {
		t.Fatalf("%s\nmakes a kind that is not sound:\n%s", text, write(k))
	}
}
