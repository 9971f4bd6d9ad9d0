package rules

import (
	"fmt"
	"strings"
	"testing"

	"buzzout/lang"
)

// Every row of a table says how sure it is and names sources that are listed.
func TestRowsSayWhereTheyAreFrom(t *testing.T) {
	statuses := []string{"verified", "derived", "mixed", "common practice", "from memory"}
	used := map[string]bool{}
	for name, rows := range map[string][]row{"chassis_wire": chassisWire(), "transformer_leads": transformerLeads(), "practice": practice()} {
		if len(rows) == 0 {
			t.Errorf("%s is empty", name)
		}
		for i, r := range rows {
			known := false
			for _, s := range statuses {
				known = known || r["status"] == s
			}
			if !known {
				t.Errorf("%s, row %d: the status %q is none", name, i+1, r["status"])
			}
			if len(strings.Fields(r["sources"])) == 0 {
				t.Errorf("%s, row %d has no source", name, i+1)
			}
			for _, id := range strings.Fields(r["sources"]) {
				used[id] = true
				if find(sources(), "id", id)["title"] == "" {
					t.Errorf("%s, row %d: the source %s has no title", name, i+1, id)
				}
			}
			if o := r.origin(); !strings.HasPrefix(o, "(") || !strings.HasSuffix(o, ")") {
				t.Errorf("%s, row %d: %s", name, i+1, o)
			}
			for _, column := range []string{"colour", "base_colour", "tracer_colour"} {
				if colour := r[column]; colour != "" {
					if c, ok := lang.ReadColour(colour); !ok || c.Base != colour {
						t.Errorf("%s, row %d: %q is no printed name of a colour", name, i+1, colour)
					}
				}
			}
		}
	}
	for _, r := range sources() {
		if !used[r["id"]] {
			t.Errorf("the source %s is used by no row", r["id"])
		}
	}
}

// IEC 62368-1 Table 4, ES1: 60 V d.c. (read in translation; data/practice.csv).
func TestTouchableVoltageIsTheSheets(t *testing.T) {
	if figure := find(practice(), "id", "touch-dc")["figure"]; figure != fmt.Sprintf("%d V", touchableVolts) {
		t.Errorf("the rule uses %d V and the sheet says %s", touchableVolts, figure)
	}
}

// The chassis-wire colours run in the order of the resistor digits: NAVEDTRA
// 14040, Fig. 6-15. The digits are those of IEC 60757 and IEC 60062.
func TestChassisCodeRunsInResistorOrder(t *testing.T) {
	digits := []string{"black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"}
	rows := chassisWire()
	if len(rows) != len(digits) {
		t.Fatalf("%d rows", len(rows))
	}
	for i, r := range rows {
		if r["colour"] != digits[i] {
			t.Errorf("row %d is %s, not %s", i, r["colour"], digits[i])
		}
	}
}

func TestNothingFromMemoryDecides(t *testing.T) {
	for _, rows := range [][]row{chassisWire(), transformerLeads()} {
		for _, r := range rows {
			if r["status"] == "from memory" {
				t.Errorf("a row from memory is in a table that rules compare with: %v", r)
			}
		}
	}
}
