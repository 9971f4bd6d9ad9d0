package shell

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// twoInputs is a grid with two inputs on jacks that switch, where R1 and R2 lie
// side by side while no plug is in.
const twoInputs = `part CH chassis
part J1, J2 jack-break
part R1, R2 resistor 68k 1%
part P1 pot 1M log
part V1 ecc83
part TB1 tagboard 3
fit R1 TB1.1 TB1.2
fit R2 TB1.3 TB1.2
lead green TB1.2 V1.2
lead white J1.tip TB1.1
lead white J1.tip J2.break
lead white J2.tip TB1.3
lead black J1.sleeve CH.a
lead black J1.break CH.a
lead black J2.sleeve CH.a
solder P1.ccw CH.b
lead green P1.wiper V1.7
`

func mentions(t *testing.T, text string, parts ...string) {
	t.Helper()
	flat := strings.Join(strings.Fields(strings.ReplaceAll(text, "\u00a0", " ")), " ")
	for _, p := range parts {
		if !strings.Contains(flat, p) {
			t.Errorf("%q is missing from\n%s", p, text)
		}
	}
}

// What where-next says before anything else, and once nothing more can be
// learnt: each with what to type.
func TestWhereNextSaysWhatToType(t *testing.T) {
	s := FromText("x", twoInputs, ".")
	mentions(t, ask(t, s, "where-next").Text(80, NoColour), "Nobody has set P1", "set P1 50%", "Next, the red probe on")

	s = FromText("x", twoInputs+"set P1 50%\nreading V1.2 CH.a 34k\nreading V1.2 CH.a 51k\n", ".")
	mentions(t, ask(t, s, "where-next").Text(80, NoColour), "Not both: V1.2 to CH.a said 34k (line 19) and 51k (line 20)", "strike reading V1.2 CH.a 51k")
	mentions(t, ask(t, s, "suspect").Text(80, NoColour), "Not both:")
	mentions(t, ask(t, s, "readings").Text(80, NoColour), "Not both:")

	s = FromText("x", twoInputs+"set P1 50%\nreading V1.2 CH.a 34\n", ".")
	mentions(t, ask(t, s, "where-next").Text(80, NoColour), "Another unit?", "strike reading V1.2 CH.a 34; reading V1.2 CH.a 34k")
	mentions(t, ask(t, s, "readings").Text(80, NoColour), "If so, type: strike reading V1.2 CH.a 34; reading V1.2 CH.a 34k")

	s = FromText("x", twoInputs+"set P1 50%\nreading V1.2 CH.a 30.7k\nreading TB1.2 CH.a 30.7k\nreading V1.7 CH.a 125k\nreading TB1.2 TB1.3 30.7k\nreading P1.ccw P1.wiper 125k\n", ".")
	text := ""
	for range 20 {
		text = ask(t, s, "where-next").Text(80, NoColour)
		if !strings.Contains(text, "Write down what it says") {
			break
		}
		// The meter says what it should, with R1 as it is.
		var next nextDoc
		decode(t, ask(t, s, "where-next"), &next)
		chassis := FromText("y", twoInputs+"set P1 50%\nfit R1 56k\n", ".")
		var shows struct {
			Shown *float64 `json:"ohms_shown"`
		}
		decode(t, ask(t, chassis, "expect "+next.Red+" "+next.Black), &shows)
		value := "open"
		if shows.Shown != nil {
			value = typedOhms(*shows.Shown)
		}
		s = FromText("x", s.text+"reading "+next.Red+" "+next.Black+" "+value+"\n", ".")
	}
	mentions(t, text, "Another setting would tell them apart: set J", "Once it is mended, what it explains holds no longer: strike reading V1.2 CH.a 30.7k")
}

// A reading is answered by how it stands to what it should be.
func TestReadingsAreAnswered(t *testing.T) {
	for _, c := range []struct{ reading, says string }{
		{"reading V1.2 CH.a 34k", "Within: it should show 34 kΩ. 1 reading now."},
		{"reading V1.2 CH.a 51k", "Out: it should show 34 kΩ."},
		{"reading V1.2 CH.a 34", "Was it another unit? It should show 34 kΩ"},
		{"reading V1.2 V1.1 5k", "Impossible: it should show over range (OL)."},
		{"reading V1.2 CH.a 5V", "Kept. It is no reading of ohms"},
		{"reading probes 0.2", "From here on the meter shows 0.2 Ω with its probes together."},
	} {
		mentions(t, kept(t, twoInputs, c.reading), c.says)
	}
	mentions(t, kept(t, twoInputs+"reading V1.2 CH.a 34k\n", "reading V1.2 CH.a 51k"), "Kept, but V1.2 to CH.a said 34k before", "both cannot be")
}

// kept writes a fact into a notebook of its own, and gives the answer.
func kept(t *testing.T, text, fact string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bench.buzzout")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	r := s.Exec(context.Background(), fact)
	if len(r) != 1 {
		t.Fatalf("%s: %d results", fact, len(r))
	}
	return r[0].Text(200, NoColour)
}

func decode(t *testing.T, r *Result, into any) {
	t.Helper()
	if err := json.Unmarshal(r.Document(), into); err != nil {
		t.Fatal(err)
	}
}

// Where sources of a part's colours disagree, answers say whose word was taken
// where it matters, and the readings are heard.
func TestColoursThatHangOnASource(t *testing.T) {
	text := `part T1 transformer {
  winding primary p ht
  winding secondary 0 4 8
  dcr p ht 300ohm
  dcr 0 4 0.5ohm
  dcr 4 8 20ohm
}
part R1 resistor 1k
part TB1 tagboard 6
colours T1 sheet { blue p, red ht, black 0, green 4, yellow 8 }
colours T1 stickers { blue p, red ht, black 0, yellow 4, green 8 }
solder TB1.1 T1.blue
solder TB1.2 T1.red
solder TB1.3 T1.black R1.1
solder TB1.4 T1.green
solder TB1.5 T1.yellow R1.2
`
	s := FromText("x", text, ".")
	mentions(t, ask(t, s, "expect TB1.3 TB1.4").Text(80, NoColour), "Sources disagree about the colours of T1. That is with T1 by sheet; with T1 by stickers it would be", "settle T1 names the readings that decide")
	if got := ask(t, s, "expect TB1.1 TB1.2").Text(80, NoColour); strings.Contains(got, "Sources disagree") {
		t.Errorf("it makes no difference to\n%s", got)
	}
	mentions(t, ask(t, s, "expect sheet").Text(80, NoColour), "Sources disagree about the colours of T1. The figures are with T1 by sheet; otherwise would read")
	mentions(t, ask(t, s, "where-next").Text(80, NoColour), "Sources disagree about the colours of T1. Taken here: T1 by sheet; the readings do not tell which is right.")

	s = FromText("x", text+"reading TB1.3 TB1.4 20.5\nreading TB1.3 TB1.5 0.8\n", ".")
	mentions(t, ask(t, s, "suspect").Text(80, NoColour), "Taken here: T1 by stickers; the readings speak for that")
	mentions(t, ask(t, s, "readings").Text(80, NoColour), "hangs on the colours of T1: it is out with T1 by sheet; with T1 by stickers it is within")
}
