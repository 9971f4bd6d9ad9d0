package follow

import (
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// TestSolve takes random systems of known answer apart: the answer put in must
// come out, and the determinant of a product is the product of determinants.
func TestSolve(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	random := func(n int) *matrix {
		m := newMatrix(n)
		for i := range m.a {
			m.a[i] = complex(r.NormFloat64(), r.NormFloat64())
		}
		return m
	}
	for n := 1; n <= 40; n += 3 {
		m := random(n)
		whole := append([]complex128(nil), m.a...)
		want := make([]complex128, n)
		right := make([]complex128, n)
		for i := range want {
			want[i] = complex(r.NormFloat64(), r.NormFloat64())
		}
		for i := range n {
			for k := range n {
				right[i] += whole[i*n+k] * want[k]
			}
		}
		m.factor()
		for i, x := range m.solve(right) {
			if cmplx.Abs(x-want[i]) > 1e-9 {
				t.Fatalf("of %d: unknown %d is %v, want %v", n, i, x, want[i])
			}
		}
		a, b, ab := random(n), random(n), newMatrix(n)
		for i := range n {
			for k := range n {
				for l := range n {
					ab.a[i*n+k] += a.a[i*n+l] * b.a[l*n+k]
				}
			}
		}
		product := a.factor() * b.factor()
		if whole := ab.factor(); cmplx.Abs(whole-product) > 1e-9*cmplx.Abs(product) {
			t.Errorf("of %d: determinant %v, want %v", n, whole, product)
		}
	}
}

// TestUnheld has an unknown that no equation holds: it comes out as nought and
// spoils nothing.
func TestUnheld(t *testing.T) {
	m := newMatrix(2)
	m.add(0, 0, 2)
	m.factor()
	if x := m.solve([]complex128{6, 0}); x[0] != 3 || x[1] != 0 {
		t.Errorf("%v, want 3 and 0", x)
	}
}

// TestDifference checks one loop around an amplifier against the textbook's
// A/(1+AB): worked examples G5-60 (V. K. Mehta and R. Mehta, Principles of
// Electronics, Example 13.1: A 3000, B 0.01, 97), G5-61 (Example 13.11: A
// 10,000 with a divider 2k/18k, 10) and G5-64 (Example 13.3: 100 falls to 50).
func TestDifference(t *testing.T) {
	for _, c := range []struct{ a, b, with float64 }{
		{3000, 0.01, 3000.0 / 31},
		{10000, 0.1, 10000.0 / 1001},
		{100, 0.01, 50},
	} {
		w := [][]complex128{{complex(-c.a*c.b, 0)}}
		if got := c.a / real(difference(w, []int{0})); got/c.with < 0.99999 || got/c.with > 1.00001 {
			t.Errorf("A %g, B %g: %g, want %g", c.a, c.b, got, c.with)
		}
	}
}
