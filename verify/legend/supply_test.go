package legend

import (
	"slices"
	"strings"
	"testing"
)

// What was held at a voltage and what was clipped together may stand in the
// reading itself: it comes to the same as a reading of the supply and a clip
// soldered on and off.
func TestReadingsThatNameTheirSupplyAndClips(t *testing.T) {
	const with = " with T2.blue 12.00V, T2.brown 0V"
	named := `reading T2.black T2.orange 0.268V` + with + `
reading T2.black T2.white 0.379V` + with + `
reading T2.black T2.grey 0.537V` + with + `
reading T2.blue T2.grey 11.46V` + with + `, T2.brown T2.black
`
	plainBook, plainly := identified(t, output+cold+driven+phased)
	book, id := identified(t, output+cold+named)
	if got, want := tell(book, id), tell(plainBook, plainly); got != want || !id.Done {
		t.Errorf("%s\nwant %s", got, want)
	}
	if len(id.Aside)+len(id.Contradictions) != 0 {
		t.Errorf("aside %+v, contradictions %+v", id.Aside, id.Contradictions)
	}
	// Half as much beside half the supply is no contradiction.
	_, id = identified(t, output+cold+strings.Replace(named, "0.379V"+with, "0.190V with T2.blue 6.00V, T2.brown 0V", 1))
	if len(id.Contradictions) != 0 {
		t.Errorf("at half the volts: %+v", id.Contradictions)
	}
}

// Whole volts are those that a supply is called by, and it may give a quarter
// more: what is read beside them is not held to the figure.
func TestSupplyCalledByItsVolts(t *testing.T) {
	for said, contradicted := range map[string]bool{"12V": false, "12.00V": true} {
		with := " with T2.blue " + said + ", T2.brown 0V\n"
		// In truth 14.4 V, on 8000 Ω to 16 Ω; and half of it at the centre tap.
		_, id := identified(t, output+cold+"reading T2.black T2.grey 0.644V"+with+"reading T2.blue T2.red 7.20V"+with+"reading T2.red T2.brown 7.20V"+with)
		if (len(id.Contradictions) > 0) != contradicted {
			t.Errorf("%s: %+v", said, id.Contradictions)
		}
	}
}

// A supply that cannot be told is said so, and its reading tells nothing.
func TestSupplyThatCannotBeUsed(t *testing.T) {
	for with, why := range map[string]string{
		"T2.blue 12V":                         "a supply stands on two points",
		"T2.blue 12V, S1 0V":                  "S1 is on no lead of the part",
		"T2.blue 12V, T2.brown 12V":           "at the same volts",
		"T2.blue 12V, T2.black 0V, T2.red 6V": "a supply stands on two points",
	} {
		_, id := identified(t, output+"part S1 post\n"+cold+"reading T2.black T2.orange 0.268V with "+with+"\n")
		if !slices.ContainsFunc(id.Aside, func(a SetAside) bool { return strings.Contains(a.Why, why) }) {
			t.Errorf("%s: %+v", with, id.Aside)
		}
	}
}
