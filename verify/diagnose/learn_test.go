package diagnose

import (
	"math"
	"testing"
)

// What one reading tells of a winding may make of an earlier one that it tells
// of another: both are learnt, and both readings are weighed.
func TestAReadingTeachesOnceAnotherHas(t *testing.T) {
	book := build(t, `part T1 transformer { winding x x1 x2 }
part T2 transformer { winding y y1 y2 }
solder T1.x2 T2.y1
reading probes 0.2
reading T1.x1 T2.y2 21.2
reading T2.y1 T2.y2 1.2
`)
	d := diagnosisOf(book)
	d.Read(book.Readings...)
	if len(d.seen) != 2 || len(d.learnt) != 2 {
		t.Fatalf("%d readings are weighed, and %d values learnt", len(d.seen), len(d.learnt))
	}
	// In series they read 21 ohm, of which the second has 1: little enough for
	// the reading to count as straight across the first.
	for i := range d.now.n.Pieces {
		p := &d.now.n.Pieces[i]
		if want := map[string]float64{"T1": 21, "T2": 1}[p.Part.Ref]; math.Abs(p.Ohms-want) > 0.1*want {
			t.Errorf("%s is taken to have %g ohm", p.Part.Ref, p.Ohms)
		}
	}
}
