package shell

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// clean is the example that is wired as drawn, with lines of a test's own.
func clean(t testing.TB, more ...string) *Session {
	t.Helper()
	text := demoText(t, "lantern-built.buzzout") + strings.Join(more, "\n") + "\n"
	s := FromText("../../../examples/lantern-built.buzzout", text, "../../../examples")
	if len(s.Mistakes()) > 0 {
		t.Fatal(s.Mistakes()[0].Message)
	}
	return s
}

func ask(t testing.TB, s *Session, line string) *Result {
	t.Helper()
	list := s.Ask(context.Background(), line)
	if len(list) != 1 {
		t.Fatalf("%s: %d results", line, len(list))
	}
	return &list[0]
}

// Two resistances in parallel: R = AB/(A+B) (any handbook of electricity).
func parallel(a, b float64) float64 { return a * b / (a + b) }

func TestExpectNamesTheParallelPathAndTheEndToLift(t *testing.T) {
	r := ask(t, clean(t), "expect R18 with P4 100%")
	got := r.Text(200, NoColour)
	// R18 is 1 megohm, and lies across the whole of P4's track, 220 kilohm.
	want := fmt.Sprintf("reads %.1f\u00a0kΩ where it sits", parallel(1e6, 220e3)/1e3)
	for _, says := range []string{want, "R18 is 1\u00a0MΩ", "220\u00a0kΩ lies beside it", "by way of P4", "To read it alone, lift R18.1 off P4.a"} {
		if !strings.Contains(got, says) {
			t.Errorf("%q is missing from\n%s", says, got)
		}
	}
	if r.Status != Sound {
		t.Errorf("status %d", r.Status)
	}
}

func TestExpectBounds(t *testing.T) {
	for _, c := range []struct{ line, says string }{
		// 68 kilohm and 68 kilohm in parallel, 5 % each: exact.
		{"expect V1.2 CH.star", "At the worst 32.3\u00a0kΩ to 35.7\u00a0kΩ: parts within their tolerances make it no lower and no higher."},
		{"expect V1.2 CH.star with J1 in", "The meter should show 1.034\u00a0MΩ."},
		{"expect TB1.3 TB1.43", "These bounds are not exact: Nobody has set P1"},
		{"expect TB1.3 TB1.43 with P1 60%", "The wiper of P1 has"},
		{"expect TB1.3 TB1.43 with P1 100%", "what lies between the two has no resistance there"},
		{"expect TB2.1 CH.star", "The reading should climb to 220\u00a0kΩ, while a capacitor charges."},
		{"expect TB2.1 CH.star", "C16 charges from the meter"},
		{"expect TB1.16 CH.star", "D1 driven on"},
		{"expect V1.4 V1.9 with V1..V5 in", "heater of V"},
		{"expect X1.live X1.neutral", "over range (OL, open): nothing that carries current leads from one to the other"},
		{"expect X1.live X1.neutral with S1 on", "Pull the plug out of the wall"},
		{"expect J1.tip J1.sleeve", "The meter should beep and show 0.2\u00a0Ω: the two are one conductor"},
		{"expect F2.end F2.side", "from memory"},
	} {
		got := strings.Join(strings.Fields(strings.ReplaceAll(ask(t, clean(t), c.line).Text(80, NoColour), "\u00a0", "~")), " ")
		if want := strings.ReplaceAll(c.says, "\u00a0", "~"); !strings.Contains(got, want) {
			t.Errorf("%s: %q is missing from\n%s", c.line, c.says, got)
		}
	}
}

// A part of which nobody has told the value is named, and the bounds are not
// exact for it.
func TestExpectNamesWhatNobodyTold(t *testing.T) {
	s := FromText("x", "part R1, R2 resistor\npart R3 resistor 1k\nsolder R1.2 R3.1\n", ".")
	got := ask(t, s, "expect R1.1 R3.2").Text(200, NoColour)
	if !strings.Contains(got, "Nobody has told what R1 has") || !strings.Contains(got, "not exact") || strings.Contains(got, "R2") {
		t.Errorf("got\n%s", got)
	}
}

// Where a charge may be, the caution is in full sentences and comes last.
func TestCautionsComeLast(t *testing.T) {
	for _, line := range []string{"expect TB1.22 CH.star", "expect TB1.22", "expect sheet"} {
		got := strings.Join(strings.Fields(ask(t, clean(t), line).Text(80, NoColour)), " ")
		at := strings.Index(got, "Discharge first.")
		if at < len(got)/2 {
			t.Fatalf("%s: the caution is at %d of %d:\n%s", line, at, len(got), got)
		}
		for _, says := range []string{"discharge through a resistor", "verify with the meter on volts", "that nothing is left. Only then put the meter on ohms."} {
			if !strings.Contains(got[at:], says) {
				t.Errorf("%s: %q is missing from\n%s", line, says, got[at:])
			}
		}
	}
	// The heaters have no charge near them.
	if got := ask(t, clean(t), "expect V1.4 V1.9").Text(80, NoColour); strings.Contains(got, "Discharge") {
		t.Errorf("a caution where nothing is charged:\n%s", got)
	}
}

type sheetDoc struct {
	Black string
	Rows  []struct {
		Red, Kind string
		ShownLow  *float64 `json:"ohms_shown_low"`
		ShownHigh *float64 `json:"ohms_shown_high"`
		Shown     *float64 `json:"ohms_shown"`
		Differs   bool
	}
}

func sheetOf(t testing.TB, s *Session, line string) sheetDoc {
	t.Helper()
	var doc sheetDoc
	r := ask(t, s, line)
	if err := json.Unmarshal(r.Document(), &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// A wiring that is as drawn reads as drawn, everywhere; one with mistakes does
// not where they are.
func TestSheetBesideTheDrawing(t *testing.T) {
	for _, r := range sheetOf(t, clean(t), "expect sheet").Rows {
		if r.Differs {
			t.Errorf("clean build: %s is said to differ from the drawing", r.Red)
		}
	}
	differs := map[string]bool{}
	for _, r := range sheetOf(t, demo(t), "expect sheet").Rows {
		differs[r.Red] = r.Differs
	}
	// X1.earth: the demo's earth is never joined. V1.8: R6 is at the cathode's pin.
	// TB1.6: R9 is told to be 47k there.
	for _, at := range []string{"X1.earth", "V1.8", "TB1.6"} {
		if !differs[at] {
			t.Errorf("demo: %s is not said to differ from the drawing", at)
		}
	}
	if differs["TB1.1"] {
		t.Error("demo: TB1.1 is as drawn, and said to differ")
	}
}

// What the sheet calls within is what readings call within.
func TestSheetAndReadingsAgree(t *testing.T) {
	s := clean(t)
	doc := sheetOf(t, s, "expect sheet")
	var lines []string
	tried := 0
	for _, r := range doc.Rows {
		if r.Kind != "figure" || r.ShownHigh == nil || *r.ShownHigh-*r.ShownLow < 10 {
			continue
		}
		tried++
		for _, v := range []float64{*r.ShownLow * 1.003, *r.Shown, *r.ShownHigh * 0.997, *r.ShownHigh*1.02 + 1} {
			lines = append(lines, fmt.Sprintf("reading %s %s %s", r.Red, doc.Black, strconv.FormatFloat(v, 'f', 3, 64)))
		}
	}
	if tried < 10 {
		t.Fatalf("only %d rows tried", tried)
	}
	s = clean(t, lines...)
	var got struct {
		Readings []struct{ Red, Value, Verdict, Reason string }
	}
	r := ask(t, s, "readings")
	if err := json.Unmarshal(r.Document(), &got); err != nil {
		t.Fatal(err)
	}
	mine := got.Readings[len(got.Readings)-len(lines):]
	for i, m := range mine {
		want := "within"
		if i%4 == 3 {
			want = "out"
		}
		if m.Verdict != want {
			t.Errorf("%s %s: %s, want %s", m.Red, m.Value, m.Verdict, want)
		}
	}
}

func TestSheetIsATableOfFigures(t *testing.T) {
	for _, line := range []string{"expect sheet --csv", "expect TB1.31 --csv with P3 50%"} {
		r := ask(t, demo(t), line)
		rows, err := csv.NewReader(strings.NewReader(r.Text(40, NoColour))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) < 20 || !slices.Equal(rows[0][:3], []string{"red", "black", "net"}) || rows[0][8] != "read" {
			t.Fatalf("%s: %d rows, the first %q", line, len(rows), rows[0])
		}
		for _, row := range rows[1:] {
			if row[8] != "" {
				t.Errorf("%s: the column to be filled in has %q", line, row[8])
			}
			for _, cell := range row[4:7] {
				if v, err := strconv.ParseFloat(cell, 64); cell != "" && (err != nil || math.IsNaN(v) || v < 0) {
					t.Errorf("%s: %q is no figure of ohms", line, cell)
				}
			}
		}
	}
}

func TestSheetOfOneWalk(t *testing.T) {
	got := ask(t, demo(t), "expect sheet").Text(80, NoColour)
	for _, says := range []string{"the black\n  probe stays on CH.star", "read", "______", "Nobody has set P1", "V1 out", "~  S1.a1", "!  TB2.1"} {
		if !strings.Contains(got, says) {
			t.Errorf("%q is missing from\n%s", says, got)
		}
	}
	// One walk: the rows of one part stand together.
	var parts []string
	for _, r := range sheetOf(t, demo(t), "expect sheet").Rows {
		if ref, _, _ := strings.Cut(r.Red, "."); len(parts) == 0 || parts[len(parts)-1] != ref {
			if slices.Contains(parts, ref) {
				t.Errorf("the walk comes back to %s", ref)
			}
			parts = append(parts, ref)
		}
	}
	plan := FromText("../../../examples/lantern-plan.buzzout", demoText(t, "lantern-plan.buzzout"), "../../../examples")
	for line := range strings.Lines(got + ask(t, plan, "expect sheet").Text(80, NoColour)) {
		if n := columns(strings.TrimRight(line, "\n")); n > 80 {
			t.Errorf("a line of %d columns: %s", n, line)
		}
	}
	if got := ask(t, FromText("x", "part R1 resistor 1k\n", "."), "expect sheet").Text(80, NoColour); !strings.Contains(got, "nothing to read") {
		t.Errorf("of nothing: %q", got)
	}
}

func TestReadingsAreJudged(t *testing.T) {
	for _, c := range []struct{ reading, verdict, says string }{
		{"V1.2 CH.star 34.2k", "within", ""},
		{"V1.2 CH.star 68k", "out", "higher than parts within their tolerances make it"},
		{"V1.2 CH.star 3.4k", "out", "lower than parts"},
		{"V1.2 CH.star 34M", "out", "a thousandth of it would be within"},
		{"V1.2 CH.star 34", "out", "a thousand times as much would be within"},
		{"V1.2 CH.star open", "out", "a part on it is open, or a joint is dry"},
		{"J1.tip J1.sleeve 12k", "impossible", "a joint between them is dry"},
		{"X1.live CH.star 220k", "impossible", "No way leads from one probe to the other in the notebook"},
		{"V1.2 CH.star rising", "out", "nothing should climb"},
		{"V3.3 CH.star 12V", "not-ohms", ""},
		{"V1.2 CH.star 68.1k with J1 out, J2 in", "within", ""},
	} {
		s := clean(t, "reading "+c.reading)
		var doc struct {
			Readings []struct{ Verdict, Text string }
		}
		r := ask(t, s, "readings")
		if err := json.Unmarshal(r.Document(), &doc); err != nil {
			t.Fatal(err)
		}
		last := doc.Readings[len(doc.Readings)-1]
		if last.Verdict != c.verdict || !strings.Contains(last.Text, c.says) || (c.says == "") != (last.Text == "") {
			t.Errorf("%s: %s, %q; want %s, %q", c.reading, last.Verdict, last.Text, c.verdict, c.says)
		}
		if text := r.Text(2000, NoColour); !strings.Contains(text, last.Text) {
			t.Errorf("%s: the text lacks the reason:\n%s", c.reading, text)
		}
	}
}

// A reading is judged by the bench of its moment: what is soldered later does
// not make it wrong.
func TestReadingsKeepTheirMoment(t *testing.T) {
	s := FromText("x", "part R1, R2 resistor 100k\nsolder R1.2 R2.2\nreading R1.1 R2.1 200k\nsolder R1.1 R2.1\nreading R1.1 R1.2 50k\n", ".")
	if got := ask(t, s, "readings").Text(80, NoColour); !strings.Contains(got, "2 readings. All are within.") {
		t.Errorf("got\n%s", got)
	}
}

func TestExpectRefuses(t *testing.T) {
	for _, c := range []struct{ line, says string }{
		{"expect", "expect needs"},
		{"expect V9.1", "no part is called V9"},
		{"expect V1.2 CH.star J1.tip", "only `with` and positions may follow here"},
		{"expect V1.2 CH.star with J1", "positions come in pairs"},
		{"expect V1.2 CH.star with J1 sideways", "J1 has no position sideways"},
		{"expect with J1 in", "expect needs a terminal before `with`"},
		{"expect R18 --csv", "--csv is for many readings"},
		{"expect sheet TB1", "say which of its terminals"},
	} {
		r := ask(t, demo(t), c.line)
		if r.Status != NotUnderstood || len(r.Mistakes) != 1 || !strings.Contains(r.Mistakes[0].Message, c.says) {
			t.Errorf("%s: status %d, %v", c.line, r.Status, r.Mistakes)
		}
	}
}

func TestExpectCompletes(t *testing.T) {
	s := demo(t)
	for _, c := range []struct{ before, offers string }{
		{"expect ", "sheet"}, {"expect ", "R18"}, {"expect V1.2", "V1.2-grid"}, {"expect V1.2 ", "with"}, {"expect sheet ", "--csv"},
		{"expect V1.2 CH.star with ", "J1"}, {"expect V1.2 CH.star with J1 ", "in"},
	} {
		if _, found := s.Complete(c.before); !slices.Contains(found, c.offers) {
			t.Errorf("%q does not offer %s", c.before, c.offers)
		}
	}
}

// What to type where a unit was mistaken differs from what was typed in the
// figure alone, wherever else its digits stand.
func TestAnotherUnitIsPutInThePlaceOfTheFigure(t *testing.T) {
	for _, c := range []struct{ typed, mend string }{
		{"reading R1.1 R47.1 1", "reading R1.1 R47.1 1k"},
		{"reading R47.1 R47.2 47k \"R47 said 47k\"", "reading R47.1 R47.2 47R \"R47 said 47k\""},
		{"reading R1.1 R47.1 1 ohm", "reading R1.1 R47.1 1k"},
	} {
		s := FromText("x", "part R1 resistor 1k\npart R47 resistor 47\nsolder R1.2 R47.1\n"+c.typed+"\n", ".")
		for _, question := range []string{"readings", "suspect"} {
			if got := ask(t, s, question).Text(2000, NoColour); !strings.Contains(got, "type: strike "+c.typed+"; "+c.mend+"\n") {
				t.Errorf("%s: %s: %q is missing from\n%s", question, c.typed, c.mend, got)
			}
		}
	}
}

// What is proposed in place of a question that is refused can be asked.
func TestExpectProposesWhatCanBeAsked(t *testing.T) {
	s := FromText("x", "part R1 resistor 1k\npart R2 resistor 2k\nsolder R1.2 R2.1\n", ".")
	for _, c := range []struct{ line, mend string }{
		{"expect R1 R2", "expect R1.1 R2.1"}, {"expect R1 R1.1", "expect R1.2 R1.1"}, {"expect R1 R1", "expect R1.2 R1.1"},
		{"expect R1 R2.2", "expect R1.1 R2.2"}, {"expect sheet R1", "expect sheet R1.1"},
	} {
		r := ask(t, s, c.line)
		if len(r.Mistakes) != 1 || !strings.HasSuffix(r.Mistakes[0].Mend[len(r.Mistakes[0].Mend)-1], c.mend) {
			t.Errorf("%s: %+v", c.line, r.Mistakes)
			continue
		}
		if again := ask(t, s, c.mend); len(again.Mistakes) > 0 {
			t.Errorf("%s: %+v", c.mend, again.Mistakes)
		}
	}
}
