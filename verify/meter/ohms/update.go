package ohms

import "math"

// An Update gives readings of a changed network from those of the network as
// it was, in closed form.
//
// Every part of a change is one unknown: the current that a changed branch or
// a bridge takes beyond what the old network has there, the voltage that opens
// at a cut, and, where a bridge joins pieces that were apart, the potential of
// a whole piece. With M the square matrix of what the unknowns do to each
// other and b what the probe does to each, the reading is
//
//	R' = R − b' M⁻¹ b
//
// For one changed branch of ends a, b and a change g of its conductance that
// is R − w²/(1/g + Rab), the usual formula for a rank-one change, with a dead
// short as its true limit. For one cut, with J the currents that a volt across
// the cut would drive and G the conductance that meets there, it is
// R + (s − w)²/(G − J'ZJ), where s counts the probes on the side cut off.
//
// What is apart after the change is found by walking. Where the numbers leave
// a doubt, the network is factored anew.
type Update struct {
	c      *Circuit
	change *Change
	terms  []term
	solved []float64 // M⁻¹, row after row, for the terms

	joins    joins
	branch   int      // for severed: the branch that is open
	merged   [2]int32 // for bridged: the pieces
	labels   []int32  // for relabelled: by node, then by cut
	plain    *Circuit
	rows     []int32 // working space of the terms
	by       []float64
	products []product
	work     []float64
	volts    []float64 // for Currents: what a unit of each term does, by term and row
	setsWork sets
}

// joins says how to tell what hangs together after a change.
type joins uint8

const (
	asBefore   joins = iota
	severed          // a sole branch is open
	bridged          // two pieces have become one
	relabelled       // labels hold
)

// mostTerms bounds the unknowns of a change; beyond it the network is factored
// anew.
const mostTerms = 10

// A term is one unknown: the pattern of currents that belongs to it, by row.
type term struct {
	from, to int32   // in Update.rows and Update.by
	self     float64 // what stands on the diagonal besides the network: 1/dg
	exact    bool    // the diagonal is nought, and is known to be so by walking
	branch   int32   // of a single changed branch, else -1
	a, b     int32   // of a branch or bridge: its ends as points, cut-off ones too
	cut      int32   // of a cut, else -1
	lift     int32   // of a lifted piece, else -1
}

// Update prepares the readings of a changed network.
func (c *Circuit) Update(ch *Change) *Update {
	u := new(Update)
	u.Prepare(c, ch)
	return u
}

// Prepare makes an update anew, in the memory of the old one. The change must
// stay as it is while the update is used.
func (u *Update) Prepare(c *Circuit, ch *Change) {
	u.c, u.change, u.plain, u.volts = c, ch, nil, u.volts[:0]
	u.terms, u.rows, u.by = u.terms[:0], u.rows[:0], u.by[:0]
	if !u.collect() || len(u.terms) > mostTerms || !u.invert() {
		u.plain = c.Changed(ch)
		return
	}
	u.connect()
}

// collect lists the unknowns. It fails where the change touches a branch
// without resistance, which the factor knows nothing of.
func (u *Update) collect() bool {
	c, ch := u.c, u.change
	crossing := false
	for _, v := range ch.Values {
		b := &c.Branches[v.Branch]
		if b.Ohms == v.Ohms {
			continue
		}
		if b.Ohms == 0 {
			return false
		}
		t := term{branch: v.Branch, a: b.A, b: b.B, cut: -1, lift: -1}
		if len(ch.Cuts) > 0 {
			t.a, t.b = u.endAfter(v.Branch, false), u.endAfter(v.Branch, true)
		}
		switch {
		case v.Ohms == 0:
		case math.IsInf(v.Ohms, 1):
			t.self = -b.Ohms
			t.exact = c.isSole(int(v.Branch))
		case math.IsInf(b.Ohms, 1):
			t.self = v.Ohms
		default:
			t.self = 1 / (1/v.Ohms - 1/b.Ohms)
		}
		crossing = u.dipole(t, b.A, b.B) || crossing
	}
	for _, b := range ch.Bridges {
		t := term{branch: -1, a: b.A, b: b.B, self: b.Ohms, cut: -1, lift: -1}
		crossing = u.dipole(t, u.origin(b.A), u.origin(b.B)) || crossing
	}
	for k := range ch.Cuts {
		if !u.cut(int32(k)) {
			return false
		}
	}
	if crossing {
		u.lifts()
	}
	return true
}

// origin is the point of the old network that a point of the new one was.
func (u *Update) origin(p int32) int32 {
	if int(p) >= u.c.Points {
		return u.change.Cuts[int(p)-u.c.Points].Point
	}
	return p
}

// endAfter is where an end of a branch is after the cuts.
func (u *Update) endAfter(branch int32, second bool) int32 {
	for k, cut := range u.change.Cuts {
		for _, e := range cut.Ends {
			if e.Branch == branch && e.Second == second {
				return int32(u.c.Points + k)
			}
		}
	}
	if second {
		return u.c.Branches[branch].B
	}
	return u.c.Branches[branch].A
}

// dipole adds the term of a branch or bridge between two old points, and says
// whether these are in two pieces.
func (u *Update) dipole(t term, p, q int32) bool {
	t.from = int32(len(u.rows))
	x, y := u.c.rowOf(p), u.c.rowOf(q)
	if u.c.node[p] != u.c.node[q] {
		u.add(x, 1)
		u.add(y, -1)
	}
	t.to = int32(len(u.rows))
	u.terms = append(u.terms, t)
	return !u.c.Joined(p, q)
}

func (u *Update) add(row int32, by float64) {
	if row >= 0 {
		u.rows = append(u.rows, row)
		u.by = append(u.by, by)
	}
}

// cut adds the term of a cut: the currents that a volt between the side cut
// off and the rest would drive through the branches there.
func (u *Update) cut(k int32) bool {
	t := term{branch: -1, cut: k, lift: -1, from: int32(len(u.rows))}
	for _, e := range u.change.Cuts[k].Ends {
		b := &u.c.Branches[e.Branch]
		if b.Ohms == 0 {
			return false
		}
		if math.IsInf(b.Ohms, 1) {
			continue
		}
		g := 1 / b.Ohms
		if e.Second {
			g = -g
		}
		if u.c.node[b.A] != u.c.node[b.B] {
			u.add(u.c.rowOf(b.A), g)
			u.add(u.c.rowOf(b.B), -g)
		}
	}
	t.to = int32(len(u.rows))
	t.exact = u.isolates(k)
	u.terms = append(u.terms, t)
	return true
}

// isolates says that a cut by itself leaves no way from the side cut off to
// the rest.
func (u *Update) isolates(k int32) bool {
	c, ends := u.c, u.change.Cuts[k].Ends
	switch len(ends) {
	case 0:
		return true
	case 1:
		return math.IsInf(c.Branches[ends[0].Branch].Ohms, 1) || c.isSole(int(ends[0].Branch))
	}
	u.walk(&Change{Cuts: u.change.Cuts[k : k+1]})
	return u.labels[len(c.piece)] != u.labels[c.node[u.change.Cuts[k].Point]]
}

// lifts adds a term for each piece that a bridge reaches from another, but for
// one of each set of pieces that come to hang together.
func (u *Update) lifts() {
	c := u.c
	var pieces []int32
	number := func(p int32) int32 {
		for i, x := range pieces {
			if x == p {
				return int32(i)
			}
		}
		pieces = append(pieces, p)
		return int32(len(pieces) - 1)
	}
	var pairs [][2]int32
	for _, t := range u.terms {
		if t.cut >= 0 {
			continue
		}
		a, b := c.piece[c.node[u.origin(t.a)]], c.piece[c.node[u.origin(t.b)]]
		if a != b {
			pairs = append(pairs, [2]int32{number(a), number(b)})
		}
	}
	together := newSets(len(pieces))
	for _, p := range pairs {
		together.join(p[0], p[1])
	}
	for i, p := range pieces {
		if together.find(int32(i)) != int32(i) {
			at := int32(len(u.rows))
			u.terms = append(u.terms, term{branch: -1, cut: -1, lift: p, from: at, to: at})
		}
	}
}

// inside counts the ends of a branch or bridge on the side that a cut takes off.
func (u *Update) inside(t *term, cut int32) float64 {
	side := int32(u.c.Points) + cut
	n := 0.0
	if t.a == side {
		n++
	}
	if t.b == side {
		n--
	}
	return n
}

// reaches counts the ends of a branch or bridge in a piece.
func (u *Update) reaches(t *term, piece int32) float64 {
	c := u.c
	n := 0.0
	if c.piece[c.node[u.origin(t.a)]] == piece {
		n++
	}
	if c.piece[c.node[u.origin(t.b)]] == piece {
		n--
	}
	return n
}

// meeting is the conductance between two cuts, or that meets at one.
func (u *Update) meeting(k, l int32) float64 {
	var sum float64
	for _, e := range u.change.Cuts[k].Ends {
		ohms := u.c.Branches[e.Branch].Ohms
		if math.IsInf(ohms, 1) {
			continue
		}
		for _, f := range u.change.Cuts[l].Ends {
			switch {
			case e.Branch != f.Branch:
			case e.Second == f.Second:
				sum += 1 / ohms
			default:
				sum -= 1 / ohms
			}
		}
	}
	return sum
}

func grown(list []float64, n int) []float64 {
	if cap(list) < n {
		return make([]float64, n)
	}
	list = list[:n]
	clear(list)
	return list
}

func grownTo[S ~[]int32](list S, n int) S {
	if cap(list) < n {
		return make(S, n)
	}
	return list[:n]
}
