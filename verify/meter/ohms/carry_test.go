package ohms

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A branch is marked if and only if it carries current once the values are
// drawn at random: then none balances by chance. The currents are those of the
// solver, which is held against gonum and exact arithmetic elsewhere.
func TestCarryIsWhereCurrentGoes(t *testing.T) {
	marked, unmarked := 0, 0
	networks(31, 400, func(r *rand.Rand, points int, branches []Branch) {
		for i := range branches {
			if b := &branches[i]; b.Ohms != 0 && !math.IsInf(b.Ohms, 1) {
				b.Ohms = 1 + 9*r.Float64()
			}
		}
		c := New(points, branches)
		p, q := int32(r.IntN(points)), int32(r.IntN(points))
		carry, pr := c.Carry(p, q), c.Probe(p, q)
		for i, b := range branches {
			if b.Ohms == 0 || math.IsInf(b.Ohms, 1) {
				continue // shorts are one point, and take what they take
			}
			flows := !math.IsInf(pr.Ohms, 1) && math.Abs(pr.Current(i)) > 1e-9
			if carry[i] != flows {
				t.Fatalf("%d to %d: branch %d, %v, is marked %v and carries %v: %v", p, q, i, b, carry[i], pr.Current(i), branches)
			}
			if carry[i] {
				marked++
			} else {
				unmarked++
			}
		}
	})
	if marked < 1000 || unmarked < 1000 {
		t.Errorf("%d marked and %d not: too few to tell", marked, unmarked)
	}
}

// What is not marked may have any value, a short and an open branch too.
func TestReadingsDoNotDependOnWhatCarriesNothing(t *testing.T) {
	networks(32, 200, func(r *rand.Rand, points int, branches []Branch) {
		c := New(points, branches)
		p, q := int32(r.IntN(points)), int32(r.IntN(points))
		carry := c.Carry(p, q)
		if !c.Joined(p, q) {
			return
		}
		values := make([]float64, len(branches))
		for i, b := range branches {
			values[i] = b.Ohms
			if !carry[i] && b.Ohms != 0 && !math.IsInf(b.Ohms, 1) {
				values[i] = []float64{0, math.Inf(1), b.Ohms * 100}[r.IntN(3)]
			}
		}
		if before, after := c.Between(p, q), c.WithOhms(values).Between(p, q); !near(before, after, 1e-9) {
			t.Fatalf("%d to %d was %v and is %v: %v", p, q, before, after, branches)
		}
	})
}
