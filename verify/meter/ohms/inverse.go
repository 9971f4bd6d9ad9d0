package ohms

import "math"

// A Table has the resistance between every two points.
type Table struct {
	c *Circuit
	n int
	z []float64 // by row and row: the inverse of the conductance matrix
}

// Table works out all pairs: the whole inverse, from the last row to the first
// (the recurrence of Takahashi, Fagan and Chen, 1973, for all entries), which
// only adds. It is kept.
func (c *Circuit) Table() *Table {
	if c.table != nil {
		return c.table
	}
	n := len(c.sum)
	t := &Table{c: c, n: n, z: make([]float64, n*n)}
	for k := n - 1; k >= 0; k-- {
		own := t.z[k*n : (k+1)*n]
		for a := c.start[k]; a < c.start[k+1]; a++ {
			share := c.share[a]
			if share == 0 {
				continue
			}
			other := t.z[int(c.below[a])*n : (int(c.below[a])+1)*n]
			for i := k + 1; i < n; i++ {
				own[i] += share * other[i]
			}
		}
		diagonal := 1 / c.sum[k]
		for a := c.start[k]; a < c.start[k+1]; a++ {
			diagonal += c.share[a] * own[c.below[a]]
		}
		own[k] = diagonal
		for i := k + 1; i < n; i++ {
			t.z[i*n+k] = own[i]
		}
	}
	c.table = t
	return t
}

// at is an entry of the inverse; rows below nought are at ground.
func (t *Table) at(x, y int32) float64 {
	if x < 0 || y < 0 {
		return 0
	}
	return t.z[int(x)*t.n+int(y)]
}

// Between is the resistance between two points, +Inf where there is no way.
func (t *Table) Between(p, q int32) float64 {
	c := t.c
	switch {
	case c.node[p] == c.node[q]:
		return 0
	case !c.Joined(p, q):
		return math.Inf(1)
	}
	x, y := c.rowOf(p), c.rowOf(q)
	return t.at(x, x) + t.at(y, y) - 2*t.at(x, y)
}

// Across is the resistance between the two ends of a branch with all that lies
// across it, itself too; +Inf where it is not there and nothing else joins its
// ends. For all branches it takes the entries of the inverse on the pattern of
// the factor and no others (the same recurrence), in about the time of some
// factorings.
func (c *Circuit) Across(branch int) float64 {
	b := c.Branches[branch]
	if !c.Joined(b.A, b.B) {
		return math.Inf(1)
	}
	return c.resist(branch).sum
}

// resist is Across, but where the ends are in two pieces what is between them
// and their grounds.
func (c *Circuit) resist(branch int) product {
	if c.across == nil {
		c.selectInverse()
	}
	return c.across[branch]
}

func (c *Circuit) selectInverse() {
	rows := len(c.sum)
	diagonal := make([]float64, rows)
	z := make([]float64, len(c.below))
	for k := rows - 1; k >= 0; k-- {
		from, to := c.start[k], c.start[k+1]
		for a := from; a < to; a++ {
			row := c.below[a]
			z[a] += c.share[a] * diagonal[row]
			at := c.start[row]
			for b := a + 1; b < to; b++ {
				for c.below[at] != c.below[b] {
					at++
				}
				z[a] += c.share[b] * z[at]
				z[b] += c.share[a] * z[at]
			}
		}
		d := 1 / c.sum[k]
		for a := from; a < to; a++ {
			d += c.share[a] * z[a]
		}
		diagonal[k] = d
	}
	c.across = make([]product, len(c.Branches))
	for i, b := range c.Branches {
		x, y := c.rowOf(b.A), c.rowOf(b.B)
		switch at := c.slot[i]; at {
		case nowhere:
		case toGround:
			d := diagonal[max(x, y)]
			c.across[i] = product{d, d}
		default:
			d := diagonal[x] + diagonal[y]
			c.across[i] = product{d - 2*z[at], d + 2*z[at]}
		}
	}
}
