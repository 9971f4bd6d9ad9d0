package legend

import (
	"strings"
	"testing"
)

// Of three windings the first runs with the second and the second with the
// third, and the first against the third: one of the three readings is wrong,
// most likely that in which the smaller winding shows least.
func TestSensesThatComeBackTurnedOver(t *testing.T) {
	book := build(t, `part T1 transformer { winding a a1 a2; winding b b1 b2; winding c c1 c2; volts a1 a2 120V; volts b1 b2 30V; volts c1 c2 50V }
colours T1 found { red unknown, blue unknown, green unknown, white unknown, black unknown, brown unknown }
reading probes 0.2
reading T1.red T1.blue 100
reading T1.green T1.white 50
reading T1.black T1.brown 60
reading T1.red T1.green open
reading T1.red T1.black open
reading T1.green T1.black open
reading T1.red T1.blue 120.0V
reading T1.green T1.white 30.0V
reading T1.black T1.brown 50.0V
reading T1.blue T1.white 90.0V with T1.red T1.green
reading T1.white T1.brown 20.0V with T1.green T1.black
reading T1.blue T1.brown 170.0V with T1.red T1.black
`)
	id := Identify(book, book.Part("T1"), Cheap)
	if len(id.Contradictions) != 1 {
		t.Fatalf("%d contradictions", len(id.Contradictions))
	}
	c := id.Contradictions[0]
	if !strings.Contains(c.Message, "the sense comes back turned over") || len(c.Readings) != 3 || c.Suspect == nil || c.Suspect.Value.Text != "170.0V" {
		t.Errorf("%+v", c)
	}
	// What the other two tell stands: a, b and c run the same way.
	if len(id.Phases) != 2 {
		t.Errorf("%d senses", len(id.Phases))
	}
}

// Of a part without windings nothing is worked out, and no reading asked for: a
// supply on leads of which nobody knows what they are would be dangerous.
func TestNothingIsAskedOfAPartWithoutWindings(t *testing.T) {
	book := build(t, `part X1 inlet
colours X1 found { red unknown, blue unknown, green unknown }
reading probes 0.2
reading X1.red X1.blue 10.2
reading X1.blue X1.green 20.2
`)
	if id := Identify(book, book.Part("X1"), Cheap); id.Next != nil || id.Done || len(id.Assumes) != 1 {
		t.Errorf("next %+v, done %v, assumes %q", id.Next, id.Done, id.Assumes)
	}
}
