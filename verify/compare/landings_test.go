package compare

import "testing"

// A lead that goes on through a wrong point is one slip, and so is a spot
// whose terminals were soldered to the wrong tag together.
func TestEndsBroughtTogether(t *testing.T) {
	// Net 0 is 0, 1, 2; net 1 is 3, 4, 5. The lead runs 0 to 3 to 1 and was
	// meant to run 0 to 2 to 1.
	w := &wiring{
		nets:  2,
		class: []int32{0, 0, 0, 1, 1, 1},
		part:  []int32{-1, -1, -1, -1, -1, -1},
		joints: []joint{
			{ends: [2]int32{0, 3}, landing: [2]int32{0, 1}},
			{ends: [2]int32{3, 1}, landing: [2]int32{1, 0}},
			{ends: [2]int32{3, 4}}, {ends: [2]int32{4, 5}},
		},
	}
	v := explain(w)
	if v.total() != 1 || len(v.knots) != 1 || v.knots[0].remedies[0].deed != put {
		t.Fatalf("%d findings, %+v", v.total(), v.knots)
	}
	moves := v.knots[0].remedies[0].moves
	if len(moves) != 2 || moves[0].to != 2 || moves[1].to != 2 || moves[0].from != 1 {
		t.Errorf("moves %+v", moves)
	}
	w.joints[0].landing, w.joints[1].landing = [2]int32{}, [2]int32{}
	if v := explain(w); v.total() != 2 {
		t.Errorf("two ends that came alone: %d findings", v.total())
	}
}

// A leg, and then the lead that belongs to it, on a tag that is on another net:
// one slip, whichever of the two like ends of the part was written first. Net 0
// is 0 and the resistor's 6; net 1 is 2 to 5 and 7; the tag is 1.
func TestEndsGatheredAtATag(t *testing.T) {
	for _, second := range []bool{false, true} {
		resistor := []int32{6, 7}
		if second {
			resistor = []int32{7, 6}
		}
		w := &wiring{
			nets:  2,
			class: []int32{0, means, 1, 1, 1, 1, 0, 1},
			part:  []int32{-1, -1, -1, -1, -1, -1, 0, 0},
			place: []bool{true, true, true, true, true, true, false, false},
			parts: []wiredPart{{points: []int32{6, 7}, alike: twoEnds, shape: -1, whole: true}},
			joints: []joint{
				{ends: [2]int32{resistor[0], 1}, stuck: [2]bool{true, false}, leg: true},
				{ends: [2]int32{resistor[1], 3}, stuck: [2]bool{true, false}, leg: true},
				{ends: [2]int32{1, 0}}, // the lead that belongs to it
				{ends: [2]int32{1, 2}}, {ends: [2]int32{2, 3}}, {ends: [2]int32{3, 4}}, {ends: [2]int32{1, 5}}, {ends: [2]int32{1, 4}},
			},
		}
		v := explain(w)
		if v.total() != 1 || len(v.knots) != 1 || v.knots[0].remedies[0].deed != put {
			t.Fatalf("second leg %v: %d findings, %+v", second, v.total(), v.knots)
		}
		moves := v.knots[0].remedies[0].moves
		if len(moves) != 2 || moves[0].joint != 0 || moves[1].joint != 2 || moves[0].from != 1 || moves[0].net != 0 {
			t.Errorf("second leg %v: moves %+v", second, moves)
		}
	}
}
