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
