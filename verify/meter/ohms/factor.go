package ohms

import "math"

// factor eliminates the nodes with the values as they are.
func (c *Circuit) factor() {
	rows := len(c.start) - 1
	c.share = make([]float64, len(c.below))
	c.sum = make([]float64, rows)
	leak := make([]float64, rows) // to ground
	for i, b := range c.Branches {
		if b.Ohms == 0 || math.IsInf(b.Ohms, 1) {
			continue
		}
		switch at := c.slot[i]; at {
		case nowhere:
		case toGround:
			leak[max(c.rowOf(b.A), c.rowOf(b.B))] += 1 / b.Ohms
		default:
			c.share[at] += 1 / b.Ohms
		}
	}
	for k := range rows {
		column := c.share[c.start[k]:c.start[k+1]]
		rowsBelow := c.below[c.start[k]:c.start[k+1]]
		sum := leak[k]
		for _, g := range column {
			sum += g
		}
		c.sum[k] = sum
		for a, g := range column {
			if g == 0 {
				continue
			}
			part := g / sum
			row := rowsBelow[a]
			leak[row] += part * leak[k]
			at := c.start[row]
			for b := a + 1; b < len(column); b++ {
				for c.below[at] != rowsBelow[b] {
					at++
				}
				c.share[at] += part * column[b]
			}
		}
		for a := range column {
			column[a] /= sum
		}
	}
}

// solve turns currents into the nodes, by row, into potentials against ground.
func (c *Circuit) solve(v []float64) {
	for k := range c.sum {
		f := v[k]
		if f == 0 {
			continue
		}
		for a := c.start[k]; a < c.start[k+1]; a++ {
			v[c.below[a]] += c.share[a] * f
		}
	}
	for k := len(c.sum) - 1; k >= 0; k-- {
		x := v[k] / c.sum[k]
		for a := c.start[k]; a < c.start[k+1]; a++ {
			x += c.share[a] * v[c.below[a]]
		}
		v[k] = x
	}
}

// A Probe is a pair of points with an ampere from the first to the second, and
// the potentials that it makes.
type Probe struct {
	P, Q int32
	Ohms float64 // +Inf where there is no way

	c    *Circuit
	own  float64   // power of the ampere against the grounds of both pieces
	volt []float64 // by row
}

// Probe sends an ampere from p to q.
func (c *Circuit) Probe(p, q int32) *Probe {
	pr := &Probe{P: p, Q: q, c: c, volt: make([]float64, len(c.sum))}
	x, y := c.rowOf(p), c.rowOf(q)
	if c.node[p] != c.node[q] {
		if x >= 0 {
			pr.volt[x]++
		}
		if y >= 0 {
			pr.volt[y]--
		}
		c.solve(pr.volt)
		pr.own = pr.at(x) - pr.at(y)
	}
	pr.Ohms = pr.own
	if !c.Joined(p, q) {
		pr.Ohms = math.Inf(1)
	}
	return pr
}

func (pr *Probe) at(row int32) float64 {
	if row < 0 {
		return 0
	}
	return pr.volt[row]
}

// Volts is the potential of a point against its piece's ground. Where the
// probe's points are apart it means nothing.
func (pr *Probe) Volts(p int32) float64 { return pr.at(pr.c.rowOf(p)) }

// drop is the voltage along a branch, from its A to its B, in volts for an
// ampere; also ohms.
func (pr *Probe) drop(branch int) float64 {
	b := &pr.c.Branches[branch]
	return pr.Volts(b.A) - pr.Volts(b.B)
}

// Current is how much of the ampere goes through a branch, from its A to its
// B; 0 where the probe's points are apart, and for a branch without resistance.
func (pr *Probe) Current(branch int) float64 {
	r := pr.c.Branches[branch].Ohms
	if r == 0 || math.IsInf(r, 1) || math.IsInf(pr.Ohms, 1) {
		return 0
	}
	return pr.drop(branch) / r
}

// Share is how much of the reading a branch answers for: by how many per cent
// the reading changes when the branch changes by one per cent. All shares add
// up to one.
func (pr *Probe) Share(branch int) float64 {
	r := pr.c.Branches[branch].Ohms
	if pr.Ohms == 0 {
		return 0
	}
	i := pr.Current(branch)
	if i == 0 {
		return 0
	}
	return i * i * r / pr.Ohms
}
