package ohms

import "math"

// A product is an entry of the matrix of the terms as far as the network makes
// it, and the size of what it is the sum of.
type product struct{ sum, size float64 }

// A sum below nought times what it is the sum of is rounding; what is below
// doubt may be. An update that is in doubt is worked out the plain way.
const (
	nought = 1e-12
	doubt  = 1e-9
)

// invert makes the matrix of the terms and inverts it. It fails where the
// numbers leave a doubt whether something in it is nought.
func (u *Update) invert() bool {
	m := len(u.terms)
	u.solved = grown(u.solved, m*m)
	if m == 0 {
		return true
	}
	u.multiply()
	for i := range u.terms {
		for j := 0; j <= i; j++ {
			p, beside := u.products[i*m+j], u.beside(i, j)
			x, size := p.sum+beside, p.size+math.Abs(beside)
			switch {
			case i == j && u.terms[i].exact, math.Abs(x) <= nought*size:
				x = 0
			case math.Abs(x) <= doubt*size:
				return false
			}
			u.solved[i*m+j], u.solved[j*m+i] = x, x
		}
	}
	if m == 1 {
		if x := u.solved[0]; x != 0 {
			u.solved[0] = 1 / x
		}
		return true
	}
	u.work = grown(u.work, m*m)
	return pseudoInverse(u.solved, u.work, m)
}

// beside is what stands in the matrix besides the products with the network.
func (u *Update) beside(i, j int) float64 {
	s, t := &u.terms[i], &u.terms[j]
	switch {
	case s.lift >= 0 && t.lift >= 0:
		return 0
	case s.lift >= 0:
		if t.cut >= 0 {
			return 0
		}
		return u.reaches(t, s.lift)
	case t.lift >= 0:
		return u.beside(j, i)
	case s.cut >= 0 && t.cut >= 0:
		return -u.meeting(s.cut, t.cut)
	case s.cut >= 0:
		return -u.inside(t, s.cut)
	case t.cut >= 0:
		return -u.inside(s, t.cut)
	case i == j:
		return s.self
	}
	return 0
}

// multiply fills products with those of the terms with the inverse of the
// network, row after row, as far as the diagonal.
func (u *Update) multiply() {
	m := len(u.terms)
	if cap(u.products) < m*m {
		u.products = make([]product, m*m)
	}
	u.products = u.products[:m*m]
	c := u.c
	if m == 1 && c.table == nil && u.terms[0].branch >= 0 {
		u.products[0] = c.resist(int(u.terms[0].branch))
		return
	}
	if c.table == nil {
		u.multiplyBySolving()
		return
	}
	for i := range u.terms {
		for j := 0; j <= i; j++ {
			s, t := &u.terms[i], &u.terms[j]
			var p product
			for a := s.from; a < s.to; a++ {
				line := c.table.z[int(u.rows[a])*c.table.n:]
				for b := t.from; b < t.to; b++ {
					x := u.by[a] * u.by[b] * line[u.rows[b]]
					p.sum += x
					p.size += math.Abs(x)
				}
			}
			u.products[i*m+j] = p
		}
	}
}

func (u *Update) multiplyBySolving() {
	m := len(u.terms)
	rows := len(u.c.sum)
	v, size := make([]float64, rows), make([]float64, rows)
	for i := range u.terms {
		s := &u.terms[i]
		clear(v)
		clear(size)
		for a := s.from; a < s.to; a++ {
			v[u.rows[a]] += u.by[a]
			size[u.rows[a]] += math.Abs(u.by[a])
		}
		if s.from < s.to {
			u.c.solve(v)
			u.c.solve(size)
		}
		for j := 0; j <= i; j++ {
			t := &u.terms[j]
			var p product
			for b := t.from; b < t.to; b++ {
				p.sum += u.by[b] * v[u.rows[b]]
				p.size += math.Abs(u.by[b]) * size[u.rows[b]]
			}
			u.products[i*m+j] = p
		}
	}
}

// pseudoInverse turns a symmetric matrix of m rows into its inverse, taking
// the greatest entry each time. Rows and columns that are left with nothing
// get noughts: the systems that are asked of it have an answer all the same,
// and any will do. It fails where an entry is so small that it may be nothing.
// work is as large as the matrix.
func pseudoInverse(a, work []float64, m int) bool {
	var scale [mostTerms]float64
	balance(a, scale[:m], m)
	copy(work, a)
	clear(a)
	// Gauss and Jordan in place of work, with the pivots' rows and columns noted.
	var rowUsed, columnUsed [mostTerms]bool
	var pivotRow, pivotColumn [mostTerms]int
	rank := 0
	for rank < m {
		r, c, best := -1, -1, 0.0
		for i := range m {
			for j := range m {
				if x := math.Abs(work[i*m+j]); !rowUsed[i] && !columnUsed[j] && x > best {
					r, c, best = i, j, x
				}
			}
		}
		if best < nought {
			break
		}
		if best < doubt {
			return false
		}
		rowUsed[r], columnUsed[c] = true, true
		pivotRow[rank], pivotColumn[rank] = r, c
		rank++
		inverse := 1 / work[r*m+c]
		work[r*m+c] = 1
		for j := range m {
			work[r*m+j] *= inverse
		}
		for i := range m {
			f := work[i*m+c]
			if i == r || f == 0 {
				continue
			}
			work[i*m+c] = 0
			for j := range m {
				work[i*m+j] -= f * work[r*m+j]
			}
		}
	}
	// Entry (pivot row k, pivot column l) of work belongs to unknown
	// pivotColumn[k] and right side pivotRow[l].
	for k := range rank {
		for l := range rank {
			i, j := pivotColumn[k], pivotRow[l]
			a[i*m+j] = work[pivotRow[k]*m+pivotColumn[l]] * scale[i] * scale[j]
		}
	}
	return true
}

// balance scales rows and columns alike until the greatest entry of each is
// near one: ohms, siemens and plain numbers stand side by side.
func balance(a, scale []float64, m int) {
	for i := range scale {
		scale[i] = 1
	}
	for range 4 {
		for i := range m {
			most := 0.0
			for j := range m {
				most = max(most, math.Abs(a[i*m+j]))
			}
			if most == 0 {
				continue
			}
			f := 1 / math.Sqrt(most)
			scale[i] *= f
			for j := range m {
				a[i*m+j] *= f
				a[j*m+i] *= f
			}
		}
	}
}
