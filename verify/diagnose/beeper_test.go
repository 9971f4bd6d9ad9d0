package diagnose

import "testing"

// A beeper that is silent across a joint accuses the joint, and one that sounds
// across a resistor far above any beeper's bound (judge.go of meter) accuses
// what makes a short there.
func TestWhatABeeperSays(t *testing.T) {
	for _, c := range []struct {
		reading string
		kind    Kind
	}{
		{"reading R1.2 R2.1 silent\nreading R1.2 R2.1 silent\n", DryJoint},
		{"reading R3.1 R3.2 buzz\nreading R3.1 R3.2 buzz\n", ShortPart},
	} {
		book := build(t, fiveInSeries+c.reading)
		d := diagnosisOf(book)
		d.Read(book.Readings...)
		s := d.Suspect()
		consistent(t, s)
		if s.Readings != 2 || len(s.Suspects) == 0 || len(s.Suspects[0].Explanations[0].Faults) != 1 || s.Suspects[0].Explanations[0].Faults[0].Kind != c.kind {
			t.Errorf("%s%d readings; %s", c.reading, s.Readings, first(s))
		}
	}
	// As it should be, it accuses nothing.
	book := build(t, fiveInSeries+"reading R1.2 R2.1 buzz\nreading R3.1 R3.2 silent\n")
	d := diagnosisOf(book)
	d.Read(book.Readings...)
	for _, e := range d.Suspect().Suspects[0].Evidence {
		if e.Wild {
			t.Errorf("%s is taken for a slip", e.Reading.Fact.Text())
		}
	}
}
