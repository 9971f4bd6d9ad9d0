package ohms

import "math"

// Between is the resistance between two points after the change. pr is the
// probe of the network as it was, at the points that p and q were then; they
// differ from p and q only where these are cut off.
func (u *Update) Between(pr *Probe, p, q int32) float64 {
	if u.plain != nil {
		return u.plain.Between(p, q)
	}
	if !u.Joined(p, q) {
		return math.Inf(1)
	}
	m := len(u.terms)
	if m == 1 {
		b := u.effect(0, pr, p, q)
		return remainder(pr.own-b*b*u.solved[0], pr.own)
	}
	var b [mostTerms]float64
	for i := range m {
		b[i] = u.effect(i, pr, p, q)
	}
	r := pr.own
	for i := range m {
		if b[i] == 0 {
			continue
		}
		line := u.solved[i*m : (i+1)*m]
		var sum float64
		for j, x := range line {
			sum += x * b[j]
		}
		r -= b[i] * sum
	}
	return remainder(r, pr.own)
}

// remainder is what is left of a reading after a change: of what rounding
// alone leaves, nothing.
func remainder(left, of float64) float64 {
	const rounding = 2e-15
	if left < rounding*of {
		return 0
	}
	return left
}

// Touches says whether the change can alter the reading between two points. It
// is quick once [Update.Spread] has been asked for; a true answer may still
// come to the same reading.
func (u *Update) Touches(pr *Probe, p, q int32) bool {
	if u.plain != nil || p != pr.P || q != pr.Q || len(u.volts) == 0 {
		return true
	}
	c := u.c
	if math.IsInf(pr.Ohms, 1) {
		return u.joins >= bridged
	}
	x, y := c.rowOf(p), c.rowOf(q)
	rows := len(c.sum)
	for i := range u.terms {
		if u.terms[i].lift >= 0 {
			continue
		}
		v := u.volts[i*rows : (i+1)*rows]
		var a, b float64
		if x >= 0 {
			a = v[x]
		}
		if y >= 0 {
			b = v[y]
		}
		if math.Abs(a-b) > 1e-13*(math.Abs(a)+math.Abs(b)) {
			return true
		}
	}
	return false
}

// effect is what a probe does to a term.
func (u *Update) effect(i int, pr *Probe, p, q int32) float64 {
	t := &u.terms[i]
	if t.lift >= 0 {
		c := u.c
		n := 0.0
		if c.piece[c.node[pr.P]] == t.lift {
			n++
		}
		if c.piece[c.node[pr.Q]] == t.lift {
			n--
		}
		return n
	}
	var sum float64
	if len(u.volts) > 0 {
		rows := len(u.c.sum)
		v := u.volts[i*rows : (i+1)*rows]
		if x := u.c.rowOf(pr.P); x >= 0 {
			sum += v[x]
		}
		if y := u.c.rowOf(pr.Q); y >= 0 {
			sum -= v[y]
		}
		if u.c.node[pr.P] == u.c.node[pr.Q] {
			sum = 0
		}
	} else {
		for a := t.from; a < t.to; a++ {
			sum += u.by[a] * pr.volt[u.rows[a]]
		}
	}
	if t.cut >= 0 {
		side := int32(u.c.Points) + t.cut
		if p == side {
			sum--
		}
		if q == side {
			sum++
		}
	}
	return sum
}

// Currents is [Update.Between] together with how much of the ampere goes
// through every branch after the change, from its A to its B. Branches without
// resistance get none.
func (u *Update) Currents(pr *Probe, p, q int32, into []float64) float64 {
	r := u.Between(pr, p, q)
	c := u.c
	into = into[:len(c.Branches)]
	clear(into)
	if r == 0 || math.IsInf(r, 1) {
		return r
	}
	if u.plain != nil {
		again := u.plain.Probe(p, q)
		for i := range into {
			into[i] = again.Current(i)
		}
		return r
	}
	m, rows := len(u.terms), len(c.sum)
	u.Spread()
	u.work = grown(u.work, rows+m)
	volt, x := u.work[:rows], u.work[rows:]
	u.answer(pr, p, q, volt, x)
	at := func(p int32) float64 {
		if row := c.rowOf(p); row >= 0 {
			return volt[row]
		}
		return 0
	}
	for i := range c.Branches {
		if b := &c.Branches[i]; b.Ohms != 0 && !math.IsInf(b.Ohms, 1) {
			into[i] = (at(b.A) - at(b.B)) / b.Ohms
		}
	}
	u.shiftAtCuts(x, into)
	u.rescale(x, into)
	return r
}

// answer works out the unknowns for a probe, and the potentials, by row, that
// they leave of those that the probe made before the change.
func (u *Update) answer(pr *Probe, p, q int32, volt, unknowns []float64) {
	m, rows := len(u.terms), len(volt)
	copy(volt, pr.volt)
	for i := range m {
		b := u.effect(i, pr, p, q)
		for j := range m {
			unknowns[j] += u.solved[j*m+i] * b
		}
	}
	for k := range m {
		if unknowns[k] == 0 || u.terms[k].lift >= 0 {
			continue
		}
		for row, w := range u.volts[k*rows : (k+1)*rows] {
			volt[row] -= unknowns[k] * w
		}
	}
}

// shiftAtCuts adds what the voltage across each cut drives through the branches
// there.
func (u *Update) shiftAtCuts(unknowns, currents []float64) {
	for k := range u.terms {
		t := &u.terms[k]
		if t.cut < 0 {
			continue
		}
		for _, e := range u.change.Cuts[t.cut].Ends {
			ohms := u.c.Branches[e.Branch].Ohms
			switch {
			case math.IsInf(ohms, 1):
			case e.Second:
				currents[e.Branch] -= unknowns[k] / ohms
			default:
				currents[e.Branch] += unknowns[k] / ohms
			}
		}
	}
}

// rescale turns the currents that changed branches would have with the ohms
// they had into those with the ohms that they have.
func (u *Update) rescale(unknowns, currents []float64) {
	for _, v := range u.change.Values {
		switch old := u.c.Branches[v.Branch].Ohms; {
		case v.Ohms == 0 || math.IsInf(v.Ohms, 1):
			currents[v.Branch] = 0
		case math.IsInf(old, 1):
			currents[v.Branch] = u.through(v.Branch, unknowns)
		default:
			currents[v.Branch] *= old / v.Ohms
		}
	}
}

// through is the current of a branch that was not there before.
func (u *Update) through(branch int32, x []float64) float64 {
	for k := range u.terms {
		if u.terms[k].branch == branch {
			return x[k]
		}
	}
	return 0
}

// Spread works out the potentials that a unit of each term makes, which pays
// where many pairs are to be read: each takes two look-ups for a term then.
func (u *Update) Spread() {
	if len(u.volts) > 0 || len(u.terms) == 0 || u.plain != nil {
		return
	}
	c := u.c
	rows := len(c.sum)
	u.volts = grown(u.volts, rows*len(u.terms))
	for k := range u.terms {
		t := &u.terms[k]
		v := u.volts[k*rows : (k+1)*rows]
		for a := t.from; a < t.to; a++ {
			if c.table == nil {
				v[u.rows[a]] += u.by[a]
				continue
			}
			for row, z := range c.table.z[int(u.rows[a])*rows : (int(u.rows[a])+1)*rows] {
				v[row] += u.by[a] * z
			}
		}
		if c.table == nil && t.from < t.to {
			c.solve(v)
		}
	}
}
