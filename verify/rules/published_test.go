package rules

import (
	"fmt"
	"testing"

	"buzzout/netlist/parts"
)

// IEC 62368-1 Table 4, ES1: 60 V d.c., read in translation.
func TestTouchableVoltageIsTheSheets(t *testing.T) {
	if figure := practice("touch-dc").Figure; figure != fmt.Sprintf("%d V", touchableVolts) {
		t.Errorf("the rule uses %d V and the sheet says %s", touchableVolts, figure)
	}
}

func TestNothingFromMemoryDecides(t *testing.T) {
	for _, code := range parts.TransformerLeads() {
		for _, used := range leadCodes(code.Use) {
			if used.Status == "from memory" {
				t.Errorf("%s is from memory, and a rule compares with it", used.ID)
			}
		}
	}
	for _, code := range parts.ChassisWire() {
		if code.Status == "from memory" {
			t.Errorf("%s is from memory, and a rule compares with it", code.Use)
		}
	}
}
