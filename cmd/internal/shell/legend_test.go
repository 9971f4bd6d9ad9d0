package shell

import (
	"encoding/json"
	"strings"
	"testing"
)

// The half-built example has a sheet and stickers that differ about T2, and
// no reading at its leads yet.
func TestDisputeFromQuestionToDecision(t *testing.T) {
	s := FromText("../../../examples/lantern-half.buzzout", demoText(t, "lantern-half.buzzout"), "../../../examples")
	holds := func(line string, want ...string) string {
		t.Helper()
		got, status := say(t, s, line)
		if status != Sound {
			t.Errorf("%s: status %d\n%s", line, status, got)
		}
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Errorf("%s does not say %q:\n%s", line, w, got)
			}
		}
		return got
	}
	holds("disputes", "1. T2: orange and white are exchanged. Undecided.", "circuit  stickers", "settle T2 what to read", "lantern-half.buzzout:6")
	// The drawing is only the builder's to send where it is in question.
	holds("disputes T2 --markdown", "# Erratum to the drawing of Lantern 14", "## 1. T2 (Output): orange and white are exchanged", "| orange | 4ohm | 8ohm |", "State: undecided.")
	holds("disputes T1", "Nobody disagrees about the leads of T1.")
	told := holds("settle T2", "1. By ohms", "reading T2.black T2.orange …", "if circuit is right", "if stickers is right", "2. By small alternating volts",
		"on T2.blue and T2.brown")
	if caution, step := strings.Index(told, "Pull the mains plug"), strings.Index(told, "1. By ohms"); caution < 0 || caution > step {
		t.Errorf("the cautions do not come before what they are about:\n%s", told)
	}
	holds("identify T2", "No reading tells anything of the leads of T2 yet.", "Next, read ohms", "Pull the mains plug")
	if text, status := say(t, s, "disputes T2 T1"); status != NotUnderstood || !strings.Contains(text, "disputes takes one part") {
		t.Errorf("status %d: %s", status, text)
	}
	if text, status := say(t, s, "identify T9"); status != NotUnderstood || !strings.Contains(text, "no part is called T9") {
		t.Errorf("status %d: %s", status, text)
	}

	text := demoText(t, "lantern-half.buzzout") + "\nreading T2.black T2.white 0.5\ntrust T2 stickers \"orange reads above \x07white\"\n"
	s = FromText("../../../examples/lantern-half.buzzout", text, "../../../examples")
	got, _ := say(t, s, "disputes")
	if strings.Contains(got, "\x07") || !strings.Contains(got, "Settled for stickers.") || !strings.Contains(got, "Decided for stickers, since “orange reads above") ||
		!strings.Contains(got, "1 reading at these leads when it was decided, none since.") {
		t.Errorf("%q", got)
	}
}

// outputLeads is an output transformer of which nobody has said anything, and
// what a meter shows of it; turns go as the square root of impedance.
const outputLeads = `part T2 output-pp { load anode-a anode-b 8k }
part R1 resistor 1k
colours T2 found { blue unknown, red unknown, brown unknown, black unknown, orange unknown, white unknown, grey unknown }
reading probes 0.2
reading T2.blue T2.red 181
reading T2.blue T2.brown 346
reading T2.red T2.brown 166
reading T2.black T2.orange 0.5
reading T2.black T2.white 0.7
reading T2.black T2.grey 1.0
reading T2.blue T2.black open
`

const outputVolts = `reading T2.blue T2.brown 12.00V
reading T2.black T2.orange 0.268V
reading T2.black T2.white 0.379V
reading T2.black T2.grey 0.537V
solder T2.brown T2.black
reading T2.blue T2.grey 11.46V
unsolder T2.brown T2.black
`

func TestIdentifyFromReadings(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want, not  []string
	}{
		{"cold", outputLeads, []string{
			"The leads of T2, by 7 readings and nothing else:", "red     ht, certain", "blue    open: anode-a or anode-b, by how the winding runs",
			"black   open: common, 4ohm, 8ohm or 16ohm", "blue, red and brown, in this order: primary", "colours T2 meter { red ht }",
			"with a small alternating supply on T2.blue and T2.brown", "reading T2.blue T2.brown …V", "never the mains itself",
		}, []string{"Nothing is left to read"}},
		{"all", outputLeads + outputVolts, []string{
			"blue    anode-b, certain", "orange  4ohm, certain", "Every lead is known. Nothing is left to read.", "The notebook lists the ends of all its windings in one sense",
			"colours T2 meter { blue anode-b, red ht, brown anode-a, black common, orange 4ohm, white 8ohm, grey 16ohm }",
		}, []string{"Next, read", "open"}},
		{"one that contradicts", outputLeads + "reading T2.red T2.grey open\nreading T2.red T2.white 250\n", []string{
			"Most likely wrong, so take it again:", "reading T2.red T2.white 250", "Next, read ohms, the red probe on T2.red and the black one on T2.white.",
		}, nil},
	} {
		s := FromText("box.buzzout", c.text, ".")
		got, status := say(t, s, "identify T2")
		if status != Sound {
			t.Errorf("%s: status %d", c.name, status)
		}
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%s: %q is not in\n%s", c.name, w, got)
			}
		}
		for _, w := range c.not {
			if strings.Contains(got, w) {
				t.Errorf("%s: %q is in\n%s", c.name, w, got)
			}
		}
	}
	s := FromText("box.buzzout", outputLeads, ".")
	for _, line := range []string{"identify R1", "settle R1"} {
		if got, status := say(t, s, line); status != NotUnderstood || !strings.Contains(got, "R1 is a resistor without windings") {
			t.Errorf("%s: status %d: %s", line, status, got)
		}
	}
	s = FromText("box.buzzout", "part T1 output-pp\n", ".")
	if got, _ := say(t, s, "identify T1"); !strings.Contains(got, "no flying lead of T1") {
		t.Error(got)
	}
}

// What is asked for can be typed as it stands, with a figure for the dots, and
// leads to every lead's name.
func TestIdentifyAsksForLinesThatCanBeWritten(t *testing.T) {
	doc := identified(t, outputLeads)
	if doc.Next == nil || doc.Done || doc.Next.Quantity != "volts" || len(doc.Next.Supply) != 2 {
		t.Fatalf("%+v", doc)
	}
	text := outputLeads
	for _, line := range doc.Next.Write {
		text += strings.ReplaceAll(line, "…", "12.00") + "\n"
	}
	s := FromText("box.buzzout", text, ".")
	if wrong := s.book.Mistakes; len(wrong) > 0 {
		t.Errorf("%+v", wrong)
	}
	if next := identified(t, text).Next; next == nil || next.Write[0] == doc.Next.Write[0] {
		t.Errorf("the same is asked again: %+v", next)
	}
	all := identified(t, outputLeads+outputVolts)
	if !all.Done || all.Next != nil || len(all.Leads) != 7 || all.Leads[0].Sure != "certain" || len(all.Leads[0].Readings) == 0 {
		t.Errorf("%+v", all)
	}
	if again := FromText("box.buzzout", outputLeads+outputVolts+all.Key+"\n", "."); len(again.book.Mistakes) > 0 {
		t.Errorf("%+v", again.book.Mistakes)
	}
}

func identified(t *testing.T, text string) (doc identifyAnswer) {
	t.Helper()
	s := FromText("box.buzzout", text, ".")
	results := s.Ask(t.Context(), "identify T2")
	var all map[string]any
	if err := json.Unmarshal(results[0].Document(), &all); err != nil {
		t.Fatal(err)
	}
	for _, wrong := range unkept("", all) {
		t.Error(wrong)
	}
	doc, _ = results[0].answer.(identifyAnswer)
	return doc
}

func TestCompletionOfQuestionsAboutLeads(t *testing.T) {
	s := FromText("box.buzzout", outputLeads, ".")
	for _, c := range []struct{ line, want string }{{"identify ", "T2"}, {"settle T", "T2"}, {"disputes ", "T2 --markdown"}, {"disputes T2 --", "--markdown"}} {
		if _, found := s.Complete(c.line); strings.Join(found, " ") != c.want {
			t.Errorf("%q gives %q", c.line, found)
		}
	}
}

const taps = `drawing sheet "revision A"
part T2 output-pp "Output" { load anode-a anode-b 8k
	dcr common 4ohm 2
	dcr 4ohm 8ohm 1.5 }
part S1, S2, GND post
net t4 T2.4ohm S1
net t8 T2.8ohm S2
net gnd T2.common GND
colours T2 sheet { black common, orange 4ohm, white 8ohm }
colours T2 stickers { black common, orange 8ohm, white 4ohm }
`

// A record says what each said, what was decided, why, on what evidence, when,
// and what it changed; evidence that comes later opens it again.
func TestDisputeAsABenchRecord(t *testing.T) {
	wired := taps + "solder GND T2.black\nsolder S1 T2.orange\nsolder S2 T2.white\n"
	holdsAll(t, taps, "disputes", "Undecided. lead sheet stickers", "No reading was taken at these leads yet.", "sources T2 says what would follow")
	decided := "trust T2 stickers \"the shop swears by them\"\n"
	holdsAll(t, taps+decided, "disputes", "Settled for stickers.", "Decided for stickers, since “the shop swears by them”, at ../../../examples/box.buzzout:11.",
		"it rests on that word alone", "Changed by it: orange is 8ohm; white is 4ohm. None of these leads was wired then.")
	holdsAll(t, wired+decided, "disputes", "As wired then, they sat on wrong places: Fault: a loudspeaker of 4 Ω", "!They were moved since.")
	loose := "unsolder GND T2.black\nunsolder S1 T2.orange\nunsolder S2 T2.white\nreading probes 0.2\n"
	read := "reading T2.black T2.orange 2.2\nreading T2.black T2.white 3.7\n"
	holdsAll(t, wired+decided+loose+read, "disputes", "Reopened.", "reading T2.black T2.white 3.7 speaks against stickers",
		"2 readings at these leads, taken since; none stood there when it was decided. The readings fit what sheet says, and contradict what stickers says.",
		"They were moved since.", "Readings taken since speak against stickers, so that it is open again.")
	holdsAll(t, wired+loose+read+decided, "disputes", "Decided for stickers, against the readings.", "It was decided against readings that stood there already.")
	anew := wired + decided + loose + read + "trust T2 sheet \"measured\"\n"
	holdsAll(t, anew, "disputes", "Settled for sheet.", "instead of stickers, since “measured”", "orange is 4ohm, no longer 8ohm; white is 8ohm, no longer 4ohm", "!open again")
	holdsAll(t, anew, "disputes --markdown", "# Erratum", "- stickers: contradicted by readings", "T2.orange is 4ohm from then on, and no longer 8ohm")
	holdsAll(t, anew, "disputes --markdown", "**The drawing stands:** it says what holds.")
	holdsAll(t, taps, "disputes --markdown", "**Question:** which of these is right?")
	holdsAll(t, taps+decided, "disputes --markdown", "**Correction proposed:** orange is 8ohm and white is 4ohm.", "**What the readings say:** nothing.")
}
