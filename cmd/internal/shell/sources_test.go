package shell

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// holdsAll asks one question of a notebook, and looks for all that the answer
// has to say; a word that begins with ! must not be there. Blanks count as one,
// so that it does not matter where lines are broken.
func holdsAll(t *testing.T, text, line string, want ...string) string {
	t.Helper()
	s := FromText("../../../examples/box.buzzout", text, "../../../examples")
	got, status := say(t, s, line)
	if status > Bad {
		t.Fatalf("%s: status %d\n%s", line, status, got)
	}
	flat := strings.ReplaceAll(strings.Join(strings.Fields(got), " "), "\u00a0", " ")
	for _, w := range want {
		no, not := strings.CutPrefix(w, "!")
		if not && strings.Contains(flat, no) || !not && !strings.Contains(flat, w) {
			t.Errorf("%s: %q:\n%s", line, w, got)
		}
	}
	return got
}

// What would follow is told before a lead in dispute is wired, whichever
// source one wires by. 8000 × 8 / 4, as in G4-32 of the worked examples of
// verify/legend.
func TestSourcesSayWhatWouldFollow(t *testing.T) {
	text := demoText(t, "lantern-half.buzzout")
	holdsAll(t, text, "sources T2", "Between circuit and stickers, orange and white are exchanged.", "None is trusted",
		"No lead in dispute is on a place of the drawing yet.", "Wired by circuit while stickers is right, or the other way about, orange and white are exchanged.",
		"a loudspeaker of 8 Ω on the 8ohm place is on the 4ohm tap: the output valves see 16 kΩ instead of 8 kΩ. About 50 % of the power is left",
		"circuit and stickers agree about 5 leads", "sources T2 published")
	holdsAll(t, text, "sources", "orange 4ohm 8ohm - open", "orange and white are exchanged", "!16 kΩ")
	holdsAll(t, text, "check", "Sources disagree about the leads of T2, and none is trusted", "sources T2")
	holdsAll(t, text+"\ntrust T2 stickers\n", "check", "!none is trusted")
	holdsAll(t, text+"\ncolours T2 meter { orange 4ohm }\ntrust T2 meter\n", "sources T2", "meter is trusted, without a reason given:", "Of white no trusted source speaks.",
		"check judges under each.", "!None is trusted", "Of white it says nothing.")
}

// Who does what settle says is told what it came to, and what does not count.
func TestSettleGoesOnFromTheReadings(t *testing.T) {
	s, _ := onDisk(t, `part V1 6v6gt
part R1 resistor 270 5W
part CH chassis
part T2 output-se {
load ht anode 5k
}
colours T2 sheet { red ht, blue anode, black common, green 4ohm, yellow 8ohm, white 16ohm }
colours T2 stickers { red ht, blue anode, black common, green 4ohm, yellow 16ohm, white 8ohm }
solder T2.blue V1.3
solder T2.black CH.star R1.1
`)
	for _, c := range [][2]string{
		{"settle T2", "!The readings"},
		{"settle T2", "Volts count only while all leads hang free. Take these off first, and write it down: unsolder T2.blue unsolder T2.black Read volts"},
		{"reading T2.black T2.yellow 0.68V", "Kept, but it tells nothing of the leads of T2: volts tell of turns only while the leads hang free"},
		{"unsolder T2.blue", "!Fault"},
		{"unsolder T2.black", "!Fault"},
		{"settle T2", "!Volts count only"},
		{"reading T2.black T2.yellow 1.1", "readings now."},
		{"reading T2.black T2.white 0.8", "readings now."},
		{"settle T2", "The readings fit what stickers says, and lean against what sheet says, though a poor contact could do that."},
		{"settle T2", "!That decides it"},
		{"reading T2.black T2.yellow 0.68V", "Kept. identify T2 says"},
		{"reading T2.black T2.white 0.48V", "Kept. identify T2 says"},
		{"settle T2", "The readings fit what stickers says, and contradict what sheet says. Against sheet:"},
		{"settle T2", "That decides it, and no more readings are wanted: trust T2 stickers \"why\""},
		{"settle T2", "!What tells apart"},
	} {
		got, _ := say(t, s, c[0])
		if absent, not := strings.CutPrefix(c[1], "!"); !not {
			mentions(t, got, c[1])
		} else if strings.Contains(got, absent) {
			t.Errorf("%s says %q:\n%s", c[0], absent, got)
		}
	}
}

// Readings that decide one of two disagreements do not decide the other.
func TestSettleIsNotDoneByHalf(t *testing.T) {
	const half = `part T2 output-pp {
load anode-a anode-b 8k
}
colours T2 sheet { blue anode-a, red ht, brown anode-b, black common, orange 4ohm, white 8ohm, grey 16ohm }
colours T2 stickers { blue anode-a, red anode-b, brown ht, black common, orange 8ohm, white 4ohm, grey 16ohm }
reading T2.black T2.orange 1.1
reading T2.black T2.white 0.8
reading T2.black T2.orange 0.38V
reading T2.black T2.white 0.27V
`
	text := ask(t, FromText("x", half, "."), "settle T2").Text(80, NoColour)
	mentions(t, text, "What tells apart")
	if strings.Contains(text, "That decides it") {
		t.Error(text)
	}
}

// Who writes a key down is told at once where it contradicts another.
func TestColoursThatContradictAreTold(t *testing.T) {
	s, _ := onDisk(t, "part T2 output-pp\ncolours T2 sheet { orange 4ohm, white 8ohm }\n")
	for _, c := range [][2]string{
		{"colours T2 lid { orange 4ohm, grey 16ohm }", "Recorded. No net"},
		{"colours T2 stickers { orange 8ohm, white 4ohm }", "Sources differ about the leads of T2 now, and none is trusted: sources T2 says how"},
		{"trust T2 stickers", "stickers holds for the leads of T2."},
		{"reading T2.orange T2.white 0.2V", "Kept. identify T2 says what it tells of the leads. 1 reading now."},
	} {
		if got, _ := say(t, s, c[0]); !strings.Contains(got, c[1]) {
			t.Errorf("%s: %s", c[0], got)
		}
	}
}

// For the wiring as built, under each source; with a primary turned over, the
// feedback of the amplifier adds.
func TestSourcesOfTheWiringAsBuilt(t *testing.T) {
	text := "use \"lantern-built.buzzout\"\n"
	holdsAll(t, text, "sources T2", "What follows for the wiring as built:", "If circuit is right, orange and white are exchanged.", "If stickers is right, all is well: 7 leads wired",
		"stickers is trusted, since “orange reads above white", "orange 4ohm 8ohm - 8ohm", "The readings fit what stickers says, and lean against what circuit says, though a poor contact could do that. Against circuit:")
	text += "colours T2 meter { blue anode-b, brown anode-a }\n"
	holdsAll(t, text, "sources T2", "Between circuit and meter, and between stickers and meter, blue and brown are exchanged. That is a winding end for end",
		"Fault: the ends of the primary winding are exchanged, and the feedback adds to the signal instead of taking away. The amplifier howls")
	// Without the way of the feedback, nobody hears it.
	holdsAll(t, text+"unsolder S3.a2 TB1.32\n", "sources T2", "!howls")
}

const cordAndPot = `part P1 pot 1M log
part X1 inlet
part T1 mains-transformer-ct
part V1 ecc83
part GND post
net ha T1.h-a V1.4 V1.5
net hb T1.h-b V1.9
net hc T1.h-ct GND
colours P1 sheet { red cw, green wiper, black ccw }
colours P1 bench { red ccw, green wiper, black cw }
colours X1 cord { brown live, blue neutral, green/yellow earth }
colours X1 old { brown neutral, blue live, green/yellow earth }
colours T1 sheet { green h-a, green h-b, green/yellow h-ct }
colours T1 lid { green h-a, yellow h-b, green/yellow h-ct }
`

// Any part with flying leads has its sources: they are not only transformers.
func TestSourcesOfAnyPart(t *testing.T) {
	holdsAll(t, cordAndPot, "sources P1", "red cw ccw HT positive (B+) open", "red and black are exchanged")
	holdsAll(t, cordAndPot, "sources X1", "blue neutral live live or neutral open", "Danger: live and neutral are on each other's places",
		"By the published mains code brown is live; neutral by old.")
	holdsAll(t, cordAndPot, "sources T1", "green/yellow h-ct h-ct h-ct h-ct", "Green/yellow: heater centre tap (American transformer code); protective earth, nothing else (IEC 60445 / 60757).")
	holdsAll(t, cordAndPot, "sources V1", "Nobody has said anything of the leads of V1.")
	s := FromText("box.buzzout", cordAndPot, ".")
	for line, want := range map[string]string{"sources X9": "no part is called X9", "sources X1 published T1": "published", "sources X1 T1": "one part, and the word published"} {
		if got, status := say(t, s, line); status != NotUnderstood || !strings.Contains(got, want) {
			t.Errorf("%s: status %d: %s", line, status, got)
		}
	}
}

// What the codes say is told with its sources, what is from memory as such.
func TestSourcesPublished(t *testing.T) {
	got := holdsAll(t, cordAndPot, "sources T1 published", "power, heater winding no. 1: centre tap; here h-ct; the colours of a protective earth [",
		"voice coil: finish (from memory)", "Where codes contradict each other:", "Where makers differ:", "Read in: [1] ")
	if !strings.Contains(got, "] IEC 60445 in excerpt (2010") {
		t.Errorf("the standard is not named:\n%s", got)
	}
}

// On a narrow screen the published codes give way, and nothing else.
func TestSourcesOnANarrowScreen(t *testing.T) {
	s := FromText("../../../examples/lantern-half.buzzout", demoText(t, "lantern-half.buzzout"), "../../../examples")
	r := s.Ask(t.Context(), "sources T2")[0]
	wide, narrow := r.Text(80, NoColour), r.Text(44, NoColour)
	if !strings.Contains(wide, "stickers  published") || strings.Contains(narrow, "stickers  published") || !strings.Contains(narrow, "stickers  taken as") {
		t.Errorf("%s\n%s", wide, narrow)
	}
}

func TestSourcesAsADocument(t *testing.T) {
	s := FromText("../../../examples/lantern-half.buzzout", demoText(t, "lantern-half.buzzout"), "../../../examples")
	raw := s.Ask(t.Context(), "sources T2")[0].Document()
	var all map[string]any
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	for _, wrong := range unkept("", all) {
		t.Error(wrong)
	}
	var doc struct {
		Parts []struct {
			Sources   []string
			Leads     []leadRow
			Conflicts []conflictRow
			Follows   []followsRow
		}
	}
	if err := json.Unmarshal(raw, &doc); err != nil {
		t.Fatal(err)
	}
	p := doc.Parts[0]
	if len(p.Sources) != 2 || len(p.Conflicts) != 1 || len(p.Follows) != 1 || len(p.Follows[0].Effects) != 2 || math.Round(p.Follows[0].Effects[0].Is) != 4000 {
		t.Errorf("%+v", p.Follows)
	}
	last := p.Leads[0].Says[len(p.Leads[0].Says)-1]
	if last.Source != "published" || last.End != "" || len(last.Codes) == 0 || len(last.Codes[0].Origins) == 0 {
		t.Errorf("%+v", last)
	}
}

// A reading is listed with all that was so for it alone, as it was typed.
func TestReadingsListSupplyAndTestLeads(t *testing.T) {
	text := "part T2 output-pp\ncolours T2 sheet { blue anode-a, brown anode-b, black common, orange 4ohm }\n" +
		"reading T2.black T2.orange 0.27V with T2.blue 12V, T2.brown 0V, T2.brown T2.black\n"
	holdsAll(t, text, "readings", "0.27V with T2.blue 12V, T2.brown 0V, T2.brown T2.black")
}
