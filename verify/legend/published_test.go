package legend

import (
	"encoding/csv"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
)

// testdata reads a table of testdata, by column.
func testdata(t testing.TB, name string) []row {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, record := range records[1:] {
		r := row{}
		for i, column := range records[0] {
			r[column] = record[i]
		}
		rows = append(rows, r)
	}
	return rows
}

func rowOf(rows []row, column, value string) row {
	for _, r := range rows {
		if r[column] == value {
			return r
		}
	}
	return nil
}

// The colours, their standing and their sources are those of the table of
// lead colours (testdata/transformer_lead_colours.csv), and their letters those
// of IEC 60757 in the order base, tracer.
func TestTransformerCodeIsThatOfTheTable(t *testing.T) {
	want := testdata(t, "transformer_lead_colours")
	seen := 0
	for _, w := range want {
		if w["base_colour"] == "" {
			continue
		}
		r := rowOf(transformerLeads(), "id", w["id"])
		if r == nil {
			t.Errorf("%s is missing", w["id"])
			continue
		}
		seen++
		c := r.colour("base_colour", "tracer_colour")
		if code := strings.ReplaceAll(c.Code(), "/", ""); code != w["pair_code"] {
			t.Errorf("%s is %s, the table has %s", w["id"], code, w["pair_code"])
		}
		if read, ok := lang.ReadColour(w["base_colour"]); !ok || read.Base != c.Base {
			t.Errorf("%s: %s is not %s", w["id"], c.Base, w["base_colour"])
		}
		for _, column := range []string{"status", "sources", "transformer"} {
			if r[column] != w[column] {
				t.Errorf("%s: %s is %q, the table has %q", w["id"], column, r[column], w[column])
			}
		}
	}
	if seen != len(transformerLeads()) {
		t.Errorf("%d rows, the table has %d", len(transformerLeads()), seen)
	}
}

// NAVEDTRA 14040, Fig. 6-15 (testdata/chassis_wire_colours.csv).
func TestChassisCodeIsThatOfTheTable(t *testing.T) {
	want := testdata(t, "chassis_wire_colours")
	if len(want) != len(chassisWire()) {
		t.Fatalf("%d rows, the table has %d", len(chassisWire()), len(want))
	}
	for i, r := range chassisWire() {
		c := lang.Colour{Base: r["colour"]}
		if c.Code() != want[i]["iec_code"] || r["circuit"] != want[i]["circuit"] {
			t.Errorf("row %d: %v, the table has %v", i, r, want[i])
		}
	}
}

var codeWords = regexp.MustCompile(`\b(GNYE|YERD|BK|BN|RD|OG|YE|GN|BU|VT|GY|WH)\b`)

// Mains colours by region (testdata/mains_colours.csv), in IEC 60757 letters there.
func TestMainsColoursAreThoseOfTheTable(t *testing.T) {
	want := testdata(t, "mains_colours")
	if len(want) != len(mainsColours()) {
		t.Fatalf("%d rows, the table has %d", len(mainsColours()), len(want))
	}
	for i, r := range mainsColours() {
		for _, column := range []string{"line", "neutral", "protective_earth"} {
			for _, code := range codeWords.FindAllString(want[i][column], -1) {
				found := slices.ContainsFunc(strings.FieldsFunc(r[column], func(r rune) bool { return strings.ContainsRune(" ,()", r) }), func(w string) bool {
					c, ok := lang.ReadColour(w)
					return ok && strings.ReplaceAll(c.Code(), "/", "") == code
				})
				if !found {
					t.Errorf("%s, %s: %q has no %s", r["region"], column, r[column], code)
				}
			}
		}
	}
}

// testdata/colour_collisions.csv, among them green/yellow: heater centre tap
// of the transformer code and protective earth of IEC 60445.
func TestCollisionsAreThoseOfTheTable(t *testing.T) {
	want := testdata(t, "colour_collisions")
	if len(want) != len(collisions()) {
		t.Fatalf("%d rows, the table has %d", len(collisions()), len(want))
	}
	for i, r := range collisions() {
		c, _ := lang.ReadColour(r["colour"])
		if c.Code() != want[i]["iec_code"] || r["hazard"] != want[i]["hazard"] || r["sources"] != want[i]["sources"] {
			t.Errorf("row %d: %v, the table has %v", i, r, want[i])
		}
	}
	green := collide([]lang.Colour{{Base: "green", Tracer: "yellow"}})
	if len(green) != 1 || green[0].Hazard != "high" || !strings.Contains(green[0].Says[1], "protective earth") || len(green[0].Origins) == 0 {
		t.Errorf("green/yellow: %+v", green)
	}
}

func TestVariationsAreThoseOfTheTable(t *testing.T) {
	for _, w := range testdata(t, "colour_disagreements") {
		r := rowOf(variations(), "id", w["id"])
		if r == nil || r["status"] != w["status"] || r["sources"] != w["sources"] {
			t.Errorf("%s: %v, the table has %v", w["id"], r, w)
		}
	}
}

// Every row says how sure it is and names sources that are listed, and every
// listed source is used.
func TestRowsSayWhereTheyAreFrom(t *testing.T) {
	statuses := []string{"verified", "derived", "mixed", "common practice", "from memory"}
	used := map[string]bool{}
	for name, rows := range map[string][]row{"leads": transformerLeads(), "chassis": chassisWire(), "mains": mainsColours(), "collisions": collisions(), "variations": variations()} {
		for i, r := range rows {
			if !slices.Contains(statuses, r["status"]) || r["sources"] == "" {
				t.Errorf("%s, row %d: status %q, sources %q", name, i+1, r["status"], r["sources"])
			}
			for _, id := range strings.Fields(r["sources"]) {
				used[id] = true
				if rowOf(sourceRows(), "id", id) == nil {
					t.Errorf("%s, row %d: no source %s", name, i+1, id)
				}
			}
		}
	}
	for _, r := range sourceRows() {
		if !used[r["id"]] {
			t.Errorf("no row uses the source %s", r["id"])
		}
	}
}
