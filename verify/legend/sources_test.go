package legend

import (
	"slices"
	"strings"
	"testing"

	"buzzout/netlist"
)

func names(b *netlist.Book, list []netlist.TerminalID) string {
	var out []string
	for _, t := range list {
		out = append(out, b.Terminals[t].Name)
	}
	return strings.Join(out, " ")
}

// plainMains says nothing of which ends are alike.
const plainMains = `part T3 transformer {
	winding h h-a h-b
	winding x x-a x-b
	winding y y-a y-b
	volts h-a h-b 6.3V
	volts x-a x-b 115V
	volts y-a y-b 115V
}
`

// A conflict is found before anything is wired, as a permutation.
func TestConflictsArePermutations(t *testing.T) {
	const part = "part T2 output-pp { load anode-a anode-b 8k }\npart T1 mains-transformer\n" + plainMains
	for _, c := range []struct {
		name, text, ref string
		leads           []string
		message         string
		weight          Weight
	}{
		{"two exchanged", `colours T2 sheet { black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { black common, orange 8ohm, white 4ohm, grey 16ohm }`, "T2",
			[]string{"orange white"}, "orange and white are exchanged", Matters},
		{"three go round", `colours T2 sheet { black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { black common, orange 16ohm, white 4ohm, grey 8ohm }`, "T2",
			[]string{"orange white grey"}, "orange, white and grey go round: what sheet says of each, stickers says of the next", Matters},
		{"one with none to answer", `colours T2 sheet { black common, orange 4ohm }
colours T2 stickers { black common, orange 8ohm, white unknown }`, "T2",
			[]string{"orange"}, "orange is 4ohm by sheet and 8ohm by stickers", Matters},
		{"a silent source", `colours T2 sheet { black common, orange 4ohm }
colours T2 stickers { white 8ohm, orange unknown }`, "T2", nil, "", 0},
		{"phase alone", `colours T2 sheet { blue anode-a, red ht, brown anode-b }
colours T2 stickers { blue anode-b, red ht, brown anode-a }`, "T2",
			[]string{"blue brown"}, "blue and brown are exchanged", PhaseAlone},
		{"no matter", `colours T1 sheet { red hv-a, blue hv-ct, white hv-b }
colours T1 stickers { red hv-b, blue hv-ct, white hv-a }`, "T1",
			[]string{"red white"}, "red and white are exchanged", NoMatter},
		{"a heater winding end for end", `colours T3 sheet { green h-a, grey h-b }
colours T3 stickers { green h-b, grey h-a }`, "T3",
			[]string{"green grey"}, "green and grey are exchanged", NoMatter},
		{"one of two that could be joined", `colours T3 sheet { blue x-a, white x-b, red y-a, black y-b }
colours T3 stickers { blue x-b, white x-a, red y-a, black y-b }`, "T3",
			[]string{"blue white"}, "blue and white are exchanged", PhaseAlone},
		{"the tape tells nothing", `colours T1 sheet { black mains-0, black mains-230, green h-a, green h-b }
colours T1 stickers { black mains-230, black mains-0, green h-b, green h-a }`, "T1", nil, "", 0},
		{"two cycles, the worse first", `colours T2 sheet { blue anode-a, red ht, brown anode-b, orange 4ohm, white 8ohm }
colours T2 stickers { blue anode-b, red ht, brown anode-a, orange 8ohm, white 4ohm }`, "T2",
			[]string{"orange white", "blue brown"}, "orange and white are exchanged", Matters},
	} {
		book := build(t, part+c.text+"\n")
		table := Sources(book, book.Part(c.ref), Cheap)
		var leads []string
		for _, f := range table.Conflicts {
			leads = append(leads, names(book, f.Leads))
		}
		if !slices.Equal(leads, c.leads) {
			t.Errorf("%s: %q", c.name, leads)
			continue
		}
		if len(leads) > 0 && (table.Conflicts[0].Message != c.message || table.Conflicts[0].Weight != c.weight) {
			t.Errorf("%s: %s, weight %d", c.name, table.Conflicts[0].Message, table.Conflicts[0].Weight)
		}
	}
}

const wiredMains = `part X1 inlet
part V1 ecc83
part D1, D2 diode
part HT, GND post
part T1 mains-transformer-ct
net live X1.live T1.mains-230
net neutral X1.neutral T1.mains-0
net hv-a T1.hv-a D1.a
net hv-b T1.hv-b D2.a
net ht D1.k D2.k HT
net gnd T1.hv-ct GND
net ha T1.h-a V1.4 V1.5
net hb T1.h-b V1.9
net hc T1.h-ct GND
`

// The published code stands beside the others, in what it says of each lead,
// and agrees or does not; it never holds.
func TestPublished(t *testing.T) {
	text := strings.Replace(wiredMains, "net hc T1.h-ct GND\n", "net gnd T1.h-ct\n", 1)
	book := build(t, text+`colours T1 sheet { black mains-0, black mains-230, red hv-a, red hv-b, red/yellow hv-ct, brown h-a, green h-b, green/yellow h-ct }
colours T1 stickers { black mains-0, black mains-230, green hv-a, red hv-b, red/yellow hv-ct, brown h-a, violet h-b, green/yellow h-ct }
`)
	table := Sources(book, book.Part("T1"), Cheap)
	last := table.Sources[len(table.Sources)-1]
	if !last.Published || last.Name != netlist.Published || last.Holds || last.Key != nil {
		t.Errorf("%+v", last)
	}
	for _, r := range table.Rows {
		name := book.Terminals[r.Lead].Name
		said := r.Says[len(r.Says)-1]
		if said.End != netlist.NoTerminal {
			t.Errorf("%s: the code names an end by itself", name)
		}
		for _, e := range said.Codes {
			if e.Status == "verified" && len(e.Origins) == 0 || e.Says == "" {
				t.Errorf("%s: %+v has no source", name, e)
			}
		}
		if name == "red/yellow" {
			if len(said.Codes) != 1 || names(book, said.Codes[0].Ends) != "hv-ct" {
				t.Errorf("red/yellow: %+v", said.Codes)
			}
		}
	}
	// Every row of the sheet that the code has for such a winding fits; the
	// stickers have green on the HT.
	var differ []string
	for _, d := range table.Differs {
		differ = append(differ, d.Source+" "+book.Terminals[d.Lead].Name+" "+book.Terminals[d.End].Name)
	}
	if !slices.Equal(differ, []string{"stickers green hv-a"}) {
		t.Errorf("differs: %q", differ)
	}
	// The heater's centre tap has the colours of a protective earth.
	found := false
	for _, c := range table.Collisions {
		found = found || c.Colour.String() == "green/yellow" && c.Hazard == "high"
	}
	if !found {
		t.Error("green/yellow is not told")
	}
	if len(table.Varies) == 0 {
		t.Error("nothing is said of makers that vary")
	}
	for _, v := range table.Varies {
		if v.Item == "speaker taps" {
			t.Error("a mains transformer has no loudspeaker taps")
		}
	}
}

// A source may be called as the code is; it is the builder's own then, and the
// code still never holds.
func TestTrustMakesNoCodeHold(t *testing.T) {
	book := build(t, "part T1 mains-transformer\ncolours T1 sheet { red hv-a }\ntrust T1 sheet \"why\"\n")
	table := Sources(book, book.Part("T1"), Cheap)
	if !table.Sources[0].Holds || table.Sources[0].Reason != "why" || table.Sources[1].Holds {
		t.Errorf("%+v", table.Sources)
	}
}

// Readings judge a source, and say which of them speak against it.
func TestReadingsJudgeSources(t *testing.T) {
	const keys = `part T2 output-pp { load anode-a anode-b 8k }
colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { blue anode-a, red ht, brown anode-b, black common, orange 8ohm, white 4ohm, grey 16ohm }
colours T2 guess { blue common, red ht, brown anode-b, black anode-a }
reading probes 0.2
`
	for _, c := range []struct {
		name, text string
		want       [3]Verdict
		against    int // readings against the sheet
	}{
		{"nothing", "", [3]Verdict{}, 0},
		{"wire", "reading T2.blue T2.red 181\n", [3]Verdict{Agrees, Agrees, Contradicted}, 0},
		{"open", "reading T2.blue T2.black open\n", [3]Verdict{Agrees, Agrees, Agrees}, 0},
		{"close ohms lean", "reading T2.black T2.orange 0.7\nreading T2.black T2.white 0.5\n", [3]Verdict{LeansAgainst, Agrees, Untested}, 2},
		{"plain ohms decide", "reading T2.black T2.orange 3.7\nreading T2.black T2.white 0.5\n", [3]Verdict{Contradicted, Agrees, Untested}, 2},
		{"volts decide", "reading T2.blue T2.brown 12.0V\nreading T2.black T2.orange 0.379V\nreading T2.black T2.white 0.268V\n", [3]Verdict{Contradicted, Agrees, Untested}, 2},
	} {
		book := build(t, keys+c.text)
		table := Sources(book, book.Part("T2"), Cheap)
		for i, want := range c.want {
			if got := table.Sources[i].Judgement.Verdict; got != want && !(want == Untested && got == Agrees) {
				t.Errorf("%s: %s is %s, want %s", c.name, table.Sources[i].Name, got, want)
			}
		}
		if got := len(table.Sources[0].Judgement.Against); got != c.against {
			t.Errorf("%s: %d readings against the sheet", c.name, got)
		}
	}
}

// How windings run is judged by the volts across two of them.
func TestSenseIsJudged(t *testing.T) {
	text := output + cold + driven + phased + `colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, grey 16ohm }
colours T2 stickers { blue anode-b, red ht, brown anode-a, black common, grey 16ohm }
`
	book := build(t, text)
	table := Sources(book, book.Part("T2"), Cheap)
	if j := table.Sources[1].Judgement; j.Verdict != Contradicted || !j.PhaseOnly || len(j.Against) != 1 {
		t.Errorf("sheet: %+v", j)
	}
	if j := table.Sources[2].Judgement; j.Verdict != Agrees {
		t.Errorf("stickers: %+v", j)
	}
}
