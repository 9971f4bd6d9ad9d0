package follow

import (
	"math"
	"math/cmplx"
)

// A matrix is square and dense, row by row. A signal's network has some
// hundred unknowns, and most of what is eliminated is nought and is passed over.
type matrix struct {
	n    int
	a    []complex128
	rows []int // after factor: which row of the right side each pivot takes
}

func newMatrix(n int) *matrix {
	m := &matrix{n: n, a: make([]complex128, n*n), rows: make([]int, n)}
	for i := range m.rows {
		m.rows[i] = i
	}
	return m
}

func (m *matrix) add(row, col int, v complex128) { m.a[row*m.n+col] += v }

// size is as good as the modulus for choosing a pivot, and needs no root.
func size(c complex128) float64 {
	re, im := real(c), imag(c)
	if re < 0 {
		re = -re
	}
	if im < 0 {
		im = -im
	}
	return re + im
}

// factor turns the matrix into its two triangles in place (Gauss, with the
// largest pivot of each column) and gives the determinant. An unknown that
// nothing holds gets a pivot of one, and comes out as nought.
func (m *matrix) factor() (determinant complex128) {
	n := m.n
	determinant = 1
	for col := range n {
		best := col
		for row := col + 1; row < n; row++ {
			if size(m.a[row*n+col]) > size(m.a[best*n+col]) {
				best = row
			}
		}
		if best != col {
			x, y := m.a[best*n:(best+1)*n], m.a[col*n:(col+1)*n]
			for k := range x {
				x[k], y[k] = y[k], x[k]
			}
			m.rows[best], m.rows[col] = m.rows[col], m.rows[best]
			determinant = -determinant
		}
		pivot := m.a[col*n+col]
		determinant *= pivot
		if pivot == 0 {
			m.a[col*n+col] = 1
			continue
		}
		upper := m.a[col*n+col+1 : (col+1)*n]
		for row := col + 1; row < n; row++ {
			f := m.a[row*n+col]
			if f == 0 {
				continue
			}
			f /= pivot
			m.a[row*n+col] = f
			lower := m.a[row*n+col+1 : (row+1)*n]
			for k, u := range upper {
				if u != 0 {
					lower[k] -= f * u
				}
			}
		}
	}
	return determinant
}

// solve gives the unknowns for a right side; factor comes first.
func (m *matrix) solve(right []complex128) []complex128 {
	n := m.n
	x := make([]complex128, n)
	for i, row := range m.rows {
		x[i] = right[row]
	}
	for i := range n {
		sum := x[i]
		for k, l := range m.a[i*n : i*n+i] {
			if l != 0 {
				sum -= l * x[k]
			}
		}
		x[i] = sum
	}
	for i := n - 1; i >= 0; i-- {
		sum := x[i]
		for k := i + 1; k < n; k++ {
			if u := m.a[i*n+k]; u != 0 {
				sum -= u * x[k]
			}
		}
		x[i] = sum / m.a[i*n+i]
	}
	return x
}

// difference is the determinant of one less w, taken over some of its rows
// and columns: what is left of the gain of the valves there if all that comes
// back to them is counted (Bode's return difference).
func difference(w [][]complex128, of []int) complex128 {
	m := newMatrix(len(of))
	for r, i := range of {
		m.add(r, r, 1)
		for c, j := range of {
			m.add(r, c, -w[i][j])
		}
	}
	return m.factor()
}

// drive solves u = d + w·u over some of the valves.
func drive(w [][]complex128, of []int, d []complex128) []complex128 {
	m := newMatrix(len(of))
	right := make([]complex128, len(of))
	for r, i := range of {
		m.add(r, r, 1)
		right[r] = d[i]
		for c, j := range of {
			m.add(r, c, -w[i][j])
		}
	}
	m.factor()
	return m.solve(right)
}

func abs(c complex128) float64 { return cmplx.Abs(c) }

// finite is nought for what is no number: a share of nothing.
func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}

// along is positive where a and b have the same direction, give or take a
// quarter turn.
func along(a, b complex128) float64 { return real(a)*real(b) + imag(a)*imag(b) }
