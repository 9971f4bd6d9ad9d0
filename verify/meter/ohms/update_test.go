package ohms

import (
	"math"
	"math/rand/v2"
	"testing"
)

// someChange draws a change of one to three parts: values, bridges between any
// points, and cuts that take some of the branches of a point off it, with
// bridges to the side cut off.
func someChange(r *rand.Rand, points int, branches []Branch) *Change {
	ch := &Change{}
	taken := map[End]bool{}
	for range 1 + r.IntN(3) {
		switch r.IntN(4) {
		case 0, 1:
			v := Value{int32(r.IntN(len(branches))), branches[r.IntN(len(branches))].Ohms}
			switch r.IntN(4) {
			case 0:
				v.Ohms = 0
			case 1:
				v.Ohms = math.Inf(1)
			}
			used := false
			for _, w := range ch.Values {
				used = used || w.Branch == v.Branch
			}
			if !used {
				ch.Values = append(ch.Values, v)
			}
		case 2:
			b := Bridge{int32(r.IntN(points)), int32(r.IntN(points)), 0}
			if r.IntN(3) == 0 {
				b.Ohms = 50
			}
			ch.Bridges = append(ch.Bridges, b)
		case 3:
			cut := Cut{Point: int32(r.IntN(points))}
			for i, b := range branches {
				for _, e := range []End{{int32(i), false}, {int32(i), true}} {
					at := b.A
					if e.Second {
						at = b.B
					}
					if at == cut.Point && !taken[e] && r.IntN(2) == 0 {
						taken[e] = true
						cut.Ends = append(cut.Ends, e)
					}
				}
			}
			ch.Cuts = append(ch.Cuts, cut)
			if r.IntN(2) == 0 {
				side := int32(points + len(ch.Cuts) - 1)
				ch.Bridges = append(ch.Bridges, Bridge{side, int32(r.IntN(points)), 0})
			}
		}
	}
	return ch
}

// The closed form against fractions, on all pairs, cut-off points too, and
// with and without the table of all pairs.
func TestUpdatesAgreeWithFractions(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	plain, closed := 0, 0
	for trial := range 400 {
		points := 3 + r.IntN(7)
		branches := someNetwork(r, points, points+r.IntN(points), 4)
		c := New(points, branches)
		if r.IntN(2) == 0 {
			c.Table()
		}
		ch := someChange(r, points, branches)
		u := c.Update(ch)
		if r.IntN(2) == 0 {
			u.Spread()
		}
		if u.plain != nil {
			plain++
		} else {
			closed++
		}
		after := c.Changed(ch)
		origin := func(p int32) int32 {
			if int(p) >= points {
				return ch.Cuts[int(p)-points].Point
			}
			return p
		}
		for p := range int32(after.Points) {
			for q := range int32(after.Points) {
				want := exactFloat(exactly(after.Points, after.Branches, p, q))
				got := u.Between(c.Probe(origin(p), origin(q)), p, q)
				if math.IsInf(got, 1) != math.IsInf(want, 1) || math.Abs(got-want) > 1e-6*want+1e-7 {
					t.Fatalf("trial %d: %d to %d reads %v, in fractions %v\n%v\n%+v", trial, p, q, got, want, branches, ch)
				}
				if pr := c.Probe(origin(p), origin(q)); !u.Touches(pr, p, q) && !near(got, pr.Ohms, 1e-9) {
					t.Fatalf("trial %d: %d to %d is said not to be touched, and reads %v for %v\n%v\n%+v", trial, p, q, got, pr.Ohms, branches, ch)
				}
				currents := make([]float64, len(branches))
				u.Currents(c.Probe(origin(p), origin(q)), p, q, currents)
				probe := after.Probe(p, q)
				for i, got := range currents {
					if want := probe.Current(i); math.Abs(got-want) > 1e-5 {
						t.Fatalf("trial %d: %d to %d sends %v through branch %d, anew %v\n%v\n%+v", trial, p, q, got, i, want, branches, ch)
					}
				}
				if again := after.Between(p, q); !near(again, want, 1e-9) {
					t.Fatalf("trial %d: factored anew %v, in fractions %v", trial, again, want)
				}
			}
		}
	}
	if closed < 4*plain {
		t.Errorf("%d of %d changes were worked out the plain way", plain, plain+closed)
	}
}

// The same on networks of the size of an amplifier, against factoring anew.
func TestUpdatesAgreeWithFactoringAnew(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	for range 6 {
		points := 150
		branches := connected(r, points, 120)
		for i := range branches {
			if r.IntN(12) == 0 {
				branches[i].Ohms = math.Inf(1)
			}
		}
		c := New(points, branches)
		if r.IntN(2) == 0 {
			c.Table()
		}
		var u Update
		for range 100 {
			ch := someChange(r, points, branches)
			u.Prepare(c, ch)
			after := c.Changed(ch)
			for range 10 {
				p, q := int32(r.IntN(points)), int32(r.IntN(points))
				got, want := u.Between(c.Probe(p, q), p, q), after.Between(p, q)
				if math.IsInf(got, 1) != math.IsInf(want, 1) || math.Abs(got-want) > 1e-6*want+1e-4 {
					t.Fatalf("%d to %d reads %v, anew %v\n%+v", p, q, got, want, ch)
				}
			}
		}
	}
}
