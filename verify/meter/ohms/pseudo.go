package ohms

import "math"

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
