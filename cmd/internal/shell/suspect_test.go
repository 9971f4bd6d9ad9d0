package shell

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

type nextDoc struct {
	Done, Red, Black string
	Top              []struct {
		Explanations []struct{ Text string }
	}
}

// From a symptom to the fault: whoever does what where-next says, and writes
// down what a meter says on a chassis with that fault, is told the fault. The
// chassis is the clean build with lines of its own, which the other notebook
// does not have.
func TestWhereNextLeadsToTheFault(t *testing.T) {
	for _, c := range []struct {
		fault string // on the chassis
		says  string
	}{
		{"fit R7 15k", "R7 is 15\u00a0kΩ in place of 1.5\u00a0kΩ: ten times"},
		{"unsolder TB1.4 V1.8", "the yellow lead from TB1.4 to V1.8 does not join"},
	} {
		chassis := clean(t, c.fault)
		s := clean(t)
		var next nextDoc
		for step := 0; ; step++ {
			next = nextDoc{}
			if err := json.Unmarshal(ask(t, s, "where-next").Document(), &next); err != nil {
				t.Fatal(err)
			}
			if next.Done != "not-done" {
				break
			}
			if step == 40 {
				t.Fatalf("%s: still not done after %d readings", c.fault, step)
			}
			var shows struct {
				Shown *float64 `json:"ohms_shown"`
			}
			if err := json.Unmarshal(ask(t, chassis, "expect "+next.Red+" "+next.Black).Document(), &shows); err != nil {
				t.Fatal(err)
			}
			value := "open"
			if shows.Shown != nil {
				value = fmt.Sprintf("%.4gR", *shows.Shown)
				if *shows.Shown >= 1e4 {
					value = fmt.Sprintf("%.4gk", *shows.Shown/1e3)
				}
			}
			if r := ask(t, s, fmt.Sprintf("reading %s %s %s", next.Red, next.Black, value)); r.Status >= NotUnderstood {
				t.Fatalf("%s: %v", value, r.Mistakes)
			}
		}
		told := false
		for _, top := range next.Top {
			for _, e := range top.Explanations {
				told = told || strings.Contains(e.Text, c.says)
			}
		}
		if !told {
			t.Errorf("%s: where-next ends %s with %v", c.fault, next.Done, next.Top)
		}
	}
}

func TestSuspectTellsForAndAgainst(t *testing.T) {
	s := clean(t, "reading TB1.4 CH.star 15.1k", "reading TB1.4 TB1.26 15k", "reading TB1.4 V1.8 0.2")
	got := ask(t, s, "suspect").Text(300, NoColour)
	for _, says := range []string{"R7 is 15\u00a0kΩ in place of 1.5\u00a0kΩ: ten times, as by a misread multiplier band.", "For it:",
		"TB1.4 to CH.star said 15.1k: 15\u00a0kΩ if so, 1.5\u00a0kΩ if sound", "To be sure: lift one end of R7", "Not considered:", "a builder's guess"} {
		if !strings.Contains(got, says) {
			t.Errorf("%q is missing from\n%s", says, got)
		}
	}
	if got = ask(t, s, "suspect --odds").Text(100, NoColour); !strings.Contains(got, "wrong-value, ten-times") || !strings.Contains(got, "common practice, no source") {
		t.Errorf("the odds are missing from\n%s", got)
	}
	if r := ask(t, s, "suspect R7"); r.Status != NotUnderstood {
		t.Errorf("suspect R7: status %d", r.Status)
	}
}

// With nothing read there are the odds alone, and a place to begin; with
// nothing joined there is nothing to read.
func TestSuspectWithoutReadings(t *testing.T) {
	s := FromText("x", "part R1, R2 resistor 100k\nsolder R1.2 R2.2\n", ".")
	if got := ask(t, s, "suspect").Text(80, NoColour); !strings.Contains(got, "There are no readings of ohms yet") {
		t.Errorf("got\n%s", got)
	}
	if got := ask(t, s, "where-next").Text(80, NoColour); !strings.Contains(got, "Next, the red probe on") {
		t.Errorf("got\n%s", got)
	}
	for _, text := range []string{"", "part R1 resistor 1k\n", "part V1 ecc83\nreading V1.1 V1.2 open\n"} {
		for _, q := range []string{"suspect", "where-next"} {
			if r := ask(t, FromText("x", text, "."), q); r.Status > Sound || r.Text(80, NoColour) == "" {
				t.Errorf("%q, %s: status %d %q", text, q, r.Status, r.Text(80, NoColour))
			}
		}
	}
}

// A charge near the probes is told of before they go there.
func TestWhereNextCautions(t *testing.T) {
	s := clean(t)
	for range 3 {
		var next struct {
			Red, Black string
			Cautions   []struct{ Part string }
		}
		r := ask(t, s, "where-next")
		if err := json.Unmarshal(r.Document(), &next); err != nil {
			t.Fatal(err)
		}
		var plain struct{ Cautions []struct{ Part string } }
		if err := json.Unmarshal(ask(t, s, "expect "+next.Red+" "+next.Black).Document(), &plain); err != nil {
			t.Fatal(err)
		}
		if len(plain.Cautions) != len(next.Cautions) || (len(next.Cautions) > 0) != strings.Contains(r.Text(80, NoColour), "Discharge first.") {
			t.Errorf("%s %s: %v, and expect says %v", next.Red, next.Black, next.Cautions, plain.Cautions)
		}
		ask(t, s, "reading "+next.Red+" "+next.Black+" 1k")
	}
}
