package compare

import (
	"math/rand/v2"
	"testing"
)

// A socketed double triode on pins 1 to 9, each pin wired to a tag of its own
// on which one leg of a two-ended part holds the net. Pin p is point p-1, tag
// p is point 8+p, the leg of pin p is point 17+p.
func socketWired(pinAt [9]int) *wiring {
	w := &wiring{nets: 9}
	for p := range 9 {
		w.class = append(w.class, int32(p))
	}
	for range 9 {
		w.class = append(w.class, means)
	}
	for p := range 9 {
		w.class = append(w.class, int32(p))
	}
	w.part = make([]int32, len(w.class))
	for i := range w.part {
		w.part[i] = -1
	}
	valve := wiredPart{alike: doubleTriode(), wrong: nineRing(), shape: -1, whole: true}
	for p := range 9 {
		w.part[p] = 0
		valve.points = append(valve.points, int32(p))
	}
	w.parts = []wiredPart{valve}
	for tag, pin := range pinAt {
		w.joints = append(w.joints,
			joint{ends: [2]int32{int32(9 + tag), int32(pin)}, stuck: [2]bool{true, false}},
			joint{ends: [2]int32{int32(18 + tag), int32(9 + tag)}, stuck: [2]bool{true, true}, leg: true})
	}
	return w
}

func TestSockets(t *testing.T) {
	for _, c := range []struct {
		name  string
		pinAt [9]int // by tag, the pin to which its lead goes, from 0
		want  int
		deed  deed
	}{
		{"as planned", [9]int{0, 1, 2, 3, 4, 5, 6, 7, 8}, 0, 0},
		{"halves exchanged as a whole", [9]int{5, 6, 7, 3, 4, 0, 1, 2, 8}, 0, 0},
		{"heater ends exchanged", [9]int{0, 1, 2, 4, 3, 5, 6, 7, 8}, 0, 0},
		{"halves and heater ends exchanged", [9]int{5, 6, 7, 4, 3, 0, 1, 2, 8}, 0, 0},
		{"grids alone exchanged", [9]int{0, 6, 2, 3, 4, 5, 1, 7, 8}, 1, exchange},
		{"grids exchanged in halves that are exchanged", [9]int{5, 1, 7, 3, 4, 0, 6, 2, 8}, 1, exchange},
		{"mirrored", [9]int{8, 7, 6, 5, 4, 3, 2, 1, 0}, 1, turnOver},
		{"one pin on", [9]int{1, 2, 3, 4, 5, 6, 7, 8, 0}, 1, turnOver},
		{"two pins back", [9]int{7, 8, 0, 1, 2, 3, 4, 5, 6}, 1, turnOver},
		{"three leads in a ring", [9]int{1, 5, 2, 3, 4, 0, 6, 7, 8}, 1, ring},
	} {
		v := explain(socketWired(c.pinAt))
		if v.total() != c.want {
			t.Errorf("%s: %d findings", c.name, v.total())
			continue
		}
		if c.want > 0 && v.knots[0].remedies[0].deed != c.deed {
			t.Errorf("%s: told as %d", c.name, v.knots[0].remedies[0].deed)
		}
		if err := v.mends(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// twoEnded wires a part with two ends, points 0 and 1, between nets 0 and 1,
// which two more terminals each hold, points 2 to 5.
func twoEnded(p wiredPart, first, second int32) *wiring {
	p.points = []int32{0, 1}
	w := &wiring{
		nets: 2, class: []int32{0, 1, 0, 0, 1, 1}, part: []int32{0, 0, -1, -1, -1, -1},
		parts: []wiredPart{p},
		joints: []joint{
			{ends: [2]int32{2, 3}}, {ends: [2]int32{4, 5}},
		},
	}
	for end, place := range []int32{first, second} {
		if place >= 0 {
			w.joints = append(w.joints, joint{ends: [2]int32{int32(end), place}, stuck: [2]bool{true, false}, leg: true})
		}
	}
	return w
}

func TestTwoEndedParts(t *testing.T) {
	resistor := wiredPart{alike: twoEnds, shape: -1, whole: true}
	electrolytic := wiredPart{wrong: twoEnds, shape: -1, whole: true}
	for _, c := range []struct {
		name          string
		part          wiredPart
		first, second int32
		want          int
		deed          deed // 0 where nothing is wrong, only missing
	}{
		{"resistor as drawn", resistor, 2, 4, 0, 0},
		{"resistor the other way round", resistor, 5, 3, 0, 0},
		{"resistor with both legs on one net", resistor, 2, 3, 1, put},
		{"resistor with one leg", resistor, 4, -1, 1, 0},
		{"resistor not fitted", resistor, -1, -1, 1, 0},
		{"electrolytic as drawn", electrolytic, 2, 4, 0, 0},
		{"electrolytic the other way round", electrolytic, 4, 2, 1, turnOver},
		{"electrolytic with both legs on one net", electrolytic, 2, 3, 1, put},
		{"electrolytic not fitted", electrolytic, -1, -1, 1, 0},
	} {
		v := explain(twoEnded(c.part, c.first, c.second))
		if v.total() != c.want {
			t.Errorf("%s: %d findings", c.name, v.total())
			continue
		}
		switch {
		case c.deed == 0 && len(v.knots) > 0:
			t.Errorf("%s: told as wrong", c.name)
		case c.deed != 0 && (len(v.knots) != 1 || v.knots[0].remedies[0].deed != c.deed):
			t.Errorf("%s: told otherwise", c.name)
		}
	}
	if v := explain(twoEnded(resistor, -1, -1)); len(v.unfitted) != 1 || v.wanted != 4 || v.done != 2 {
		t.Errorf("not fitted: %d parts, %d of %d joints", len(v.unfitted), v.done, v.wanted)
	}
}

// Two resistors between nets of their own, each in the other's place.
func TestPartsInEachOthersPlaces(t *testing.T) {
	w := &wiring{nets: 4}
	for net := range int32(4) {
		w.class = append(w.class, net, net) // two terminals that hold the net
		w.part = append(w.part, -1, -1)
		w.joints = append(w.joints, joint{ends: [2]int32{2 * net, 2*net + 1}})
	}
	for part := range int32(2) {
		w.class = append(w.class, 2*part, 2*part+1)
		w.part = append(w.part, part, part)
		w.parts = append(w.parts, wiredPart{points: []int32{8 + 2*part, 9 + 2*part}, alike: twoEnds, shape: 7, whole: true})
	}
	for leg, place := range []int32{4, 6, 2, 0} { // the second the other way round
		w.joints = append(w.joints, joint{ends: [2]int32{int32(8 + leg), place}, stuck: [2]bool{true, false}, leg: true})
	}
	v := explain(w)
	if v.total() != 1 || v.knots[0].remedies[0].deed != turnOver || v.knots[0].remedies[0].suspect.parts != [2]int32{0, 1} {
		t.Errorf("%d findings", v.total())
	}
}

// A lead whose end is on an empty tag is offered for the joint that is missing.
func TestDanglingLead(t *testing.T) {
	w := &wiring{
		nets: 1, class: []int32{0, 0, 0, means}, part: []int32{-1, -1, -1, -1},
		joints: []joint{{ends: [2]int32{0, 1}}, {ends: [2]int32{1, 3}}},
	}
	v := explain(w)
	if v.total() != 1 || len(v.missing) != 1 || len(v.missing[0].ends) != 1 || v.missing[0].ends[0] != (dangle{1, 1}) {
		t.Errorf("%+v", v.missing)
	}
	w.joints = append(w.joints, joint{ends: [2]int32{2, 0}})
	if v := explain(w); v.total() != 0 {
		t.Errorf("%d findings for an end that nothing misses", v.total())
	}
}

// What is too muddled to be searched is explained all the same, and said to be
// perhaps more than needed.
func TestMuddle(t *testing.T) {
	if testing.Short() {
		t.Skip("counted over many trials")
	}
	v := explain(randomWiring(rand.New(rand.NewPCG(2, 6)), 200, 30, 200))
	if !v.unproven {
		t.Error("the search claims to have looked at everything")
	}
	if err := v.mends(); err != nil && !v.hasChains() {
		t.Error(err)
	}
}
