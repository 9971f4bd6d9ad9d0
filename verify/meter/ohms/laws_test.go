package ohms

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// networks calls f with networks of all sizes, each connected or not.
func networks(seed uint64, count int, f func(r *rand.Rand, points int, branches []Branch)) {
	r := rand.New(rand.NewPCG(seed, seed+1))
	for range count {
		points := 2 + r.IntN(40)
		f(r, points, someNetwork(r, points, points+r.IntN(points), 6))
	}
}

// Foster's theorem: the sum over all elements of the resistance between its
// ends over its own is the number of nodes less the number of pieces
// (R. M. Foster 1949; stated so by D. J. Klein and M. Randic, Resistance
// distance, J. Math. Chem. 12, 1993).
func TestFoster(t *testing.T) {
	networks(11, 200, func(_ *rand.Rand, points int, branches []Branch) {
		c := New(points, branches)
		sum := 0.0
		for i, b := range branches {
			if b.Ohms != 0 && !math.IsInf(b.Ohms, 1) {
				sum += c.Across(i) / b.Ohms
			}
		}
		if want := float64(len(c.piece) - len(c.ground)); !near(sum, want, 1e-8) {
			t.Fatalf("the sum is %v, want %v: %v", sum, want, branches)
		}
	})
}

// Rayleigh's law: raising any resistance, or opening it, lowers no reading;
// a short raises none (Maxwell, Treatise, as quoted by P. J. Nahin, Mrs.
// Perkins's Electric Quilt, chapter 17).
func TestRayleigh(t *testing.T) {
	networks(12, 60, func(r *rand.Rand, points int, branches []Branch) {
		before := New(points, branches).Table()
		values := make([]float64, len(branches))
		for i, b := range branches {
			values[i] = b.Ohms
			switch r.IntN(3) {
			case 0:
				values[i] = b.Ohms * (1 + r.Float64())
			case 1:
				values[i] = math.Inf(1)
			}
		}
		after := New(points, branches).WithOhms(values).Table()
		for p := range int32(points) {
			for q := range p {
				if x, y := before.Between(p, q), after.Between(p, q); y < x*(1-1e-9) {
					t.Fatalf("%d to %d fell from %v to %v though nothing was made less", p, q, x, y)
				}
			}
		}
	})
}

// Resistance is a distance: the same both ways, nought to itself, and no
// longer than by way of a third point (Klein and Randic, 1993).
func TestResistanceIsADistance(t *testing.T) {
	networks(13, 40, func(_ *rand.Rand, points int, branches []Branch) {
		c := New(points, branches)
		for a := range int32(points) {
			if c.Between(a, a) != 0 {
				t.Fatalf("%d to itself reads %v", a, c.Between(a, a))
			}
		}
		table := c.Table()
		for a := range int32(points) {
			for b := range int32(points) {
				ab := table.Between(a, b)
				if !near(ab, table.Between(b, a), 1e-12) {
					t.Fatalf("%d to %d reads %v, the other way %v", a, b, ab, table.Between(b, a))
				}
				for x := range int32(points) {
					if round := table.Between(a, x) + table.Between(x, b); ab > round*(1+1e-9)+1e-9 {
						t.Fatalf("%d to %d reads %v, and by %d %v", a, b, ab, x, round)
					}
				}
			}
		}
	})
}

// Readings scale with all resistances together, and the shares of a reading
// add up to one (Euler's theorem on functions of the first degree).
func TestScalingAndShares(t *testing.T) {
	networks(14, 100, func(r *rand.Rand, points int, branches []Branch) {
		values := make([]float64, len(branches))
		for i, b := range branches {
			values[i] = 3 * b.Ohms
		}
		c := New(points, branches)
		scaled := c.WithOhms(values)
		p, q := int32(r.IntN(points)), int32(r.IntN(points))
		pr := c.Probe(p, q)
		if got := scaled.Between(p, q); !near(got, 3*pr.Ohms, 1e-11) {
			t.Fatalf("three times all ohms make %v of %v", got, pr.Ohms)
		}
		if pr.Ohms == 0 || math.IsInf(pr.Ohms, 1) {
			return
		}
		sum := 0.0
		for i := range branches {
			sum += pr.Share(i)
		}
		if !near(sum, 1, 1e-9) {
			t.Fatalf("the shares of %d to %d add up to %v: %v", p, q, sum, branches)
		}
	})
}

// A reading is no greater than the sum along any one way.
func TestNoGreaterThanAnyWay(t *testing.T) {
	networks(15, 60, func(_ *rand.Rand, points int, branches []Branch) {
		way := make([][]float64, points)
		for i := range way {
			way[i] = make([]float64, points)
			for j := range way[i] {
				if i != j {
					way[i][j] = math.Inf(1)
				}
			}
		}
		for _, b := range branches {
			way[b.A][b.B] = min(way[b.A][b.B], b.Ohms)
			way[b.B][b.A] = way[b.A][b.B]
		}
		for k := range points {
			for i := range points {
				for j := range points {
					way[i][j] = min(way[i][j], way[i][k]+way[k][j])
				}
			}
		}
		table := New(points, branches).Table()
		for p := range int32(points) {
			for q := range p {
				if got := table.Between(p, q); got > way[p][q]*(1+1e-9)+1e-12 {
					t.Fatalf("%d to %d reads %v, and one way is %v", p, q, got, way[p][q])
				}
			}
		}
	})
}

// dense is the reduced conductance matrix of a connected network, point 0 at
// ground, as gonum has it.
func dense(points int, branches []Branch) *mat.SymDense {
	m := mat.NewSymDense(points-1, nil)
	add := func(i, j int, g float64) {
		if i >= 0 && j >= 0 {
			m.SetSym(i, j, m.At(i, j)+g)
		}
	}
	for _, b := range branches {
		if math.IsInf(b.Ohms, 1) || b.A == b.B {
			continue
		}
		i, j, g := int(b.A)-1, int(b.B)-1, 1/b.Ohms
		add(i, i, g)
		add(j, j, g)
		if i >= 0 && j >= 0 {
			add(max(i, j), min(i, j), -g)
		}
	}
	return m
}

// connected draws a network that hangs together, with nothing at nought.
func connected(r *rand.Rand, points, extra int) []Branch {
	var branches []Branch
	for p := 1; p < points; p++ {
		near := max(0, p-8)
		branches = append(branches, Branch{int32(p), int32(near + r.IntN(p-near)), math.Pow(10, 1+5*r.Float64())})
	}
	for range extra {
		a := r.IntN(points)
		b := min(points-1, a+1+r.IntN(10))
		if r.IntN(4) == 0 {
			b = 0 // many things go to ground
		}
		if a != b {
			branches = append(branches, Branch{int32(a), int32(b), math.Pow(10, 1+5*r.Float64())})
		}
	}
	return branches
}

func TestAgreesWithDenseSolving(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for _, points := range []int{2, 3, 10, 60, 200} {
		branches := connected(r, points, points)
		var chol mat.Cholesky
		if !chol.Factorize(dense(points, branches)) {
			t.Fatal("gonum finds the matrix not positive definite")
		}
		var inverse mat.SymDense
		if err := chol.InverseTo(&inverse); err != nil {
			t.Fatal(err)
		}
		at := func(p, q int) float64 {
			if p == 0 || q == 0 {
				return 0
			}
			return inverse.At(p-1, q-1)
		}
		c := New(points, branches)
		table := c.Table()
		for p := range points {
			for q := range p {
				want := at(p, p) + at(q, q) - 2*at(p, q)
				if got := table.Between(int32(p), int32(q)); !near(got, want, 1e-8) {
					t.Fatalf("%d points: %d to %d reads %v, by gonum %v", points, p, q, got, want)
				}
			}
		}
		for i, b := range branches {
			if got, want := c.Across(i), table.Between(b.A, b.B); !near(got, want, 1e-8) {
				t.Fatalf("%d points: across branch %d %v, in the table %v", points, i, got, want)
			}
		}
	}
}

// Opening a branch parts its ends exactly where walking says so.
func TestSoleBranches(t *testing.T) {
	networks(16, 150, func(_ *rand.Rand, points int, branches []Branch) {
		c := New(points, branches)
		for i, b := range branches {
			if b.Ohms == 0 || math.IsInf(b.Ohms, 1) {
				continue
			}
			without := append([]Branch(nil), branches...)
			without[i].Ohms = math.Inf(1)
			w := New(points, without)
			if want := !w.Joined(b.A, b.B); c.isSole(i) != want {
				t.Fatalf("branch %d is the only way: %v, want %v: %v", i, c.isSole(i), want, branches)
			}
			if !c.isSole(i) {
				continue
			}
			for p := range int32(points) {
				for q := range p {
					if c.Joined(p, q) && c.parted(i, p, q) == w.Joined(p, q) {
						t.Fatalf("branch %d parts %d from %d: %v", i, p, q, c.parted(i, p, q))
					}
				}
			}
		}
	})
}
