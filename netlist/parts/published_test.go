package parts

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"buzzout/lang"
)

// sourced gives the keys of what a row was read in.
func (s *Standing) sourced() string {
	var ids []string
	for _, c := range s.Origins {
		ids = append(ids, c.ID)
	}
	if len(ids) == 0 {
		return noSource
	}
	return strings.Join(ids, " ")
}

// tabled is what a row of testdata names as its sources: "NONE" beside another
// says that a part of it has none.
func (r row) tabled() string {
	list := strings.Fields(r["sources"])
	if len(list) > 1 {
		list = slices.DeleteFunc(list, func(id string) bool { return id == noSource })
	}
	return strings.Join(list, " ")
}

func (r row) like(s *Standing) bool { return r["status"] == s.Status && r.tabled() == s.sourced() }

func letters(c lang.Colour) string { return strings.ReplaceAll(c.Code(), "/", "") }

// The colours, their standing and their sources are those of
// transformer-lead-colours.csv, and their letters those of IEC 60757 in the
// order base, tracer.
func TestTransformerCodeIsThatOfTheTable(t *testing.T) {
	var want []row
	for _, r := range table(t, "transformer-lead-colours.csv") {
		if r["base_colour"] != "" {
			want = append(want, r)
		}
	}
	for _, w := range want {
		i := slices.IndexFunc(TransformerLeads(), func(c LeadCode) bool { return c.ID == w["id"] })
		if i < 0 {
			t.Errorf("%s is missing", w["id"])
			continue
		}
		code := TransformerLeads()[i]
		base, ok := lang.ReadColour(w["base_colour"])
		if letters(code.Colour) != w["pair_code"] || !ok || base.Base != code.Colour.Base {
			t.Errorf("%s is %s, the table has %s, %s", w["id"], code.Colour, w["base_colour"], w["pair_code"])
		}
		if code.Transformer != w["transformer"] || !w.like(&code.Standing) {
			t.Errorf("%s is %+v, the table has %v", w["id"], code, w)
		}
	}
	if len(want) != len(TransformerLeads()) {
		t.Errorf("%d rows, the table has %d", len(TransformerLeads()), len(want))
	}
}

// NAVEDTRA 14040, Fig. 6-15 (chassis-wire-colours.csv). The colours run in the
// order of the resistor digits, which are those of IEC 60757 and IEC 60062.
func TestChassisCodeIsThatOfTheTable(t *testing.T) {
	digits := []string{"black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"}
	want := table(t, "chassis-wire-colours.csv")
	if len(want) != len(ChassisWire()) || len(want) != len(digits) {
		t.Fatalf("%d rows, the table has %d", len(ChassisWire()), len(want))
	}
	for i, code := range ChassisWire() {
		if letters(code.Colour) != want[i]["iec_code"] || code.Circuit != want[i]["circuit"] || code.Colour.Base != digits[i] {
			t.Errorf("row %d: %+v, the table has %v", i+1, code, want[i])
		}
	}
}

var codeWords = regexp.MustCompile(`\b(GNYE|YERD|BK|BN|RD|OG|YE|GN|BU|VT|GY|WH)\b`)

// Mains colours by region (mains-colours.csv), in IEC 60757 letters there.
func TestMainsColoursAreThoseOfTheTable(t *testing.T) {
	want := table(t, "mains-colours.csv")
	if len(want) != len(MainsColours()) {
		t.Fatalf("%d rows, the table has %d", len(MainsColours()), len(want))
	}
	for i, m := range MainsColours() {
		for column, phrase := range map[string]string{"line": m.Line, "neutral": m.Neutral, "protective_earth": m.Earth} {
			var named []string
			for _, word := range strings.FieldsFunc(phrase, func(r rune) bool { return strings.ContainsRune(" ,()", r) }) {
				if c, ok := lang.ReadColour(word); ok {
					named = append(named, letters(c))
				}
			}
			for _, code := range codeWords.FindAllString(want[i][column], -1) {
				if !slices.Contains(named, code) {
					t.Errorf("%s, %s: %q has no %s", m.Region, column, phrase, code)
				}
			}
		}
	}
}

// colour-collisions.csv, among them green/yellow: heater centre tap of the
// transformer code and protective earth of IEC 60445.
func TestCollisionsAreThoseOfTheTable(t *testing.T) {
	want := table(t, "colour-collisions.csv")
	if len(want) != len(Collisions()) {
		t.Fatalf("%d rows, the table has %d", len(Collisions()), len(want))
	}
	for i, c := range Collisions() {
		if c.Colour.Code() != want[i]["iec_code"] || c.Hazard != want[i]["hazard"] || !want[i].like(&c.Standing) {
			t.Errorf("row %d: %+v, the table has %v", i+1, c, want[i])
		}
	}
	green := slices.IndexFunc(Collisions(), func(c Collision) bool { return c.Colour == lang.Colour{Base: "green", Tracer: "yellow"} })
	if green < 0 || Collisions()[green].Hazard != "high" || !strings.Contains(Collisions()[green].Says[1], "protective earth") {
		t.Error("nothing warns of green/yellow as a heater's centre tap")
	}
}

func TestVariationsAreThoseOfTheTable(t *testing.T) {
	for _, w := range table(t, "colour-disagreements.csv") {
		i := slices.IndexFunc(Variations(), func(v Variation) bool { return v.ID == w["id"] })
		if i < 0 || !w.like(&Variations()[i].Standing) {
			t.Errorf("%s is not as the table has it: %v", w["id"], w)
		}
	}
}

// Every row says how sure it is and names sources that are listed, and every
// listed source is used.
func TestPublishedRowsSayWhereTheyAreFrom(t *testing.T) {
	statuses := []string{"verified", "derived", "mixed", "common practice", "from memory"}
	used := map[string]bool{noSource: true}
	hold := func(name string, i int, s Standing) {
		if !slices.Contains(statuses, s.Status) {
			t.Errorf("%s, row %d: the status %q is none", name, i+1, s.Status)
		}
		if len(s.Origins) == 0 && s.Status != "common practice" && s.Status != "from memory" {
			t.Errorf("%s, row %d is %s, and names no source that is listed", name, i+1, s.Status)
		}
		if cited := s.Cited(); !strings.HasPrefix(cited, "(") || !strings.HasSuffix(cited, ")") {
			t.Errorf("%s, row %d: %s", name, i+1, cited)
		}
		for _, c := range s.Origins {
			used[c.ID] = true
		}
	}
	for i, r := range TransformerLeads() {
		hold("transformer_leads", i, r.Standing)
	}
	for i, r := range ChassisWire() {
		hold("chassis_wire", i, r.Standing)
	}
	for i, r := range MainsColours() {
		hold("mains", i, r.Standing)
	}
	for i, r := range Collisions() {
		hold("collisions", i, r.Standing)
	}
	for i, r := range Variations() {
		hold("variations", i, r.Standing)
	}
	for i, r := range Practices() {
		hold("practice", i, r.Standing)
	}
	for _, c := range Citations() {
		if !used[c.ID] || c.Title == "" {
			t.Errorf("the source %s is used by no row, or has no title", c.ID)
		}
	}
}
