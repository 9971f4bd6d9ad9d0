package ohms

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// exactly solves a network in fractions, by elimination on the conductance
// matrix of the piece that both points are in. It is the reference for
// everything that the factor does; nil stands for no way.
func exactly(points int, branches []Branch, p, q int32) *big.Rat {
	one, piece := newSets(points), newSets(points)
	for _, b := range branches {
		if b.Ohms == 0 {
			one.join(b.A, b.B)
		}
		if !math.IsInf(b.Ohms, 1) {
			piece.join(b.A, b.B)
		}
	}
	if piece.find(p) != piece.find(q) {
		return nil
	}
	if one.find(p) == one.find(q) {
		return new(big.Rat)
	}
	ground := one.find(q)
	index := map[int32]int{}
	for x := range int32(points) {
		if root := one.find(x); root != ground && piece.find(x) == piece.find(q) {
			if _, ok := index[root]; !ok {
				index[root] = len(index)
			}
		}
	}
	n := len(index)
	m := make([][]*big.Rat, n)
	for i := range m {
		m[i] = make([]*big.Rat, n+1)
		for j := range m[i] {
			m[i][j] = new(big.Rat)
		}
	}
	for _, b := range branches {
		x, y := one.find(b.A), one.find(b.B)
		if x == y || math.IsInf(b.Ohms, 1) || piece.find(x) != piece.find(q) {
			continue
		}
		g := new(big.Rat).Inv(new(big.Rat).SetFloat64(b.Ohms))
		i, known := index[x]
		j, also := index[y]
		if known {
			m[i][i].Add(m[i][i], g)
		}
		if also {
			m[j][j].Add(m[j][j], g)
		}
		if known && also {
			m[i][j].Sub(m[i][j], g)
			m[j][i].Sub(m[j][i], g)
		}
	}
	at := index[one.find(p)]
	m[at][n].SetInt64(1)
	// The wanted row last, so that it is solved without going back.
	m[at], m[n-1] = m[n-1], m[at]
	for i := range m {
		m[i][at], m[i][n-1] = m[i][n-1], m[i][at]
	}
	for k := range n {
		for i := k + 1; i < n; i++ {
			if m[i][k].Sign() == 0 {
				continue
			}
			f := new(big.Rat).Quo(m[i][k], m[k][k])
			for j := k; j <= n; j++ {
				m[i][j] = new(big.Rat).Sub(m[i][j], new(big.Rat).Mul(f, m[k][j]))
			}
		}
	}
	return new(big.Rat).Quo(m[n-1][n], m[n-1][n-1])
}

func exactFloat(r *big.Rat) float64 {
	if r == nil {
		return math.Inf(1)
	}
	f, _ := r.Float64()
	return f
}

// near compares two readings, in parts of the greater.
func near(a, b, tolerance float64) bool {
	if math.IsInf(a, 1) || math.IsInf(b, 1) {
		return a == b
	}
	return math.Abs(a-b) <= tolerance*max(math.Abs(a), math.Abs(b))
}

// someNetwork draws a network as amplifiers have them: mostly a tree with some
// ways round, values over the decades given, a few that are nought or not
// there, and several pieces.
func someNetwork(r *rand.Rand, points, branches int, decades float64) []Branch {
	list := make([]Branch, 0, branches)
	for range branches {
		a := int32(r.IntN(points))
		b := int32(r.IntN(points))
		if r.IntN(3) > 0 {
			b = max(0, a-1-int32(r.IntN(4)))
		}
		// Whole numbers of tenths, so that fractions stay short.
		ohms := math.Round(10*math.Pow(10, r.Float64()*decades)) / 8
		switch r.IntN(20) {
		case 0:
			ohms = 0
		case 1:
			ohms = math.Inf(1)
		}
		list = append(list, Branch{a, b, ohms})
	}
	return list
}

func TestReadingsAgreeWithFractions(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for trial := range 25 {
		points := 3 + r.IntN(10)
		branches := someNetwork(r, points, points+r.IntN(points), 7)
		c := New(points, branches)
		table := c.Table()
		for p := range int32(points) {
			for q := range int32(points) {
				want := exactFloat(exactly(points, branches, p, q))
				if got := c.Probe(p, q).Ohms; !near(got, want, 1e-9) {
					t.Fatalf("trial %d: %d to %d reads %g, in fractions %g\n%v", trial, p, q, got, want, branches)
				}
				if got := table.Between(p, q); !near(got, want, 1e-7) {
					t.Fatalf("trial %d: %d to %d reads %g in the table, in fractions %g", trial, p, q, got, want)
				}
			}
		}
		for i, b := range branches {
			want := exactFloat(exactly(points, branches, b.A, b.B))
			if got := c.Across(i); !near(got, want, 1e-7) {
				t.Fatalf("trial %d: across branch %d %g, in fractions %g", trial, i, got, want)
			}
		}
	}
}

// Ten decades in one network cost no digits: nothing is subtracted.
func TestFarSpreadValuesKeepTheirDigits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 80 {
		points := 4 + r.IntN(8)
		var branches []Branch
		for p := 1; p < points; p++ {
			branches = append(branches, Branch{int32(p), int32(r.IntN(p)), math.Pow(10, -3+10*r.Float64())})
		}
		for range points {
			branches = append(branches, Branch{int32(r.IntN(points)), int32(r.IntN(points)), math.Pow(10, -3+10*r.Float64())})
		}
		c := New(points, branches)
		// Against the point that is held at zero there is no difference of
		// potentials either.
		g := c.ground[0]
		q := int32(0)
		for c.node[q] != g {
			q++
		}
		for p := range int32(points) {
			want := exactFloat(exactly(points, branches, p, q))
			if got := c.Probe(p, q).Ohms; !near(got, want, 1e-14) {
				t.Fatalf("%d to %d reads %v, in fractions %v", p, q, got, want)
			}
		}
	}
}
