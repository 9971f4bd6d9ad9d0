package legend

import (
	"slices"
)

// A hypothesis is one way to name the leads that no reading speaks against:
// by lead, a terminal of the kind; none for a lead that is no end of it; or,
// for leads of a bunch that is a piece of a winding yet, someOf(group).
type hypothesis struct {
	ends []int
	// scale is, for each application of the supply and family, the volts of
	// one of the kind's turns.
	scale []band
}

// none is a lead that is no end that the kind knows.
const none = -1

// someOf stands for "some end of that group".
func someOf(group int) int { return -2 - group }

// groupOf undoes someOf, and gives the group of an end; -1 for none.
func (l *layout) groupOf(end int) int {
	switch {
	case end >= 0:
		return l.of[end]
	case end == none:
		return -1
	}
	return -2 - end
}

const (
	maxNamings = 256  // that are kept
	maxSteps   = 6000 // that are tried for them
	maxPieces  = 3    // more bunches than windings, beyond which nothing is tried
)

// A namer tries hypotheses, bunch by bunch.
type namer struct {
	p        *picture
	supplies int
	sequence []int       // bunches, large ones first
	whole    [][]fitting // by bunch
	room     []int       // by group: ends that are free
	closed   []bool      // by group: a whole bunch is on it
	pieces   [][]int     // by group: bunches that are pieces of it
	placed   []*fitting  // by bunch
	ends     []int
	scale    []band
	missing  int // ends that may go without a lead
	spare    int // leads that may be no end
	found    []hypothesis
	steps    int
	over     bool
}

// namings gives every hypothesis that the readings leave, if they are not too
// many; settled says so.
func (p *picture) namings() []hypothesis {
	if p.named {
		return p.hyps
	}
	p.named = true
	windings := len(p.lay.groups)
	if windings == 0 || len(p.bunches) > windings+maxPieces+max(0, p.n-p.lay.ends) {
		return nil
	}
	n := &namer{p: p, room: make([]int, windings), closed: make([]bool, windings), pieces: make([][]int, windings),
		placed: make([]*fitting, len(p.bunches)), ends: make([]int, p.n),
		missing: max(0, p.lay.ends-p.n), spare: max(0, p.n-p.lay.ends)}
	for g := range p.lay.groups {
		n.room[g] = len(p.lay.groups[g].ends)
	}
	n.supplies = p.supplies()
	n.scale = make([]band, n.supplies*int(families))
	for i := range n.scale {
		n.scale[i] = anything
	}
	for b := range p.bunches {
		n.sequence = append(n.sequence, b)
		n.whole = append(n.whole, p.fittings(b, n.supplies))
	}
	slices.SortStableFunc(n.sequence, func(a, b int) int { return len(p.bunches[b]) - len(p.bunches[a]) })
	n.try(0)
	p.settled = !n.over
	if p.settled {
		p.hyps = n.found
	}
	return p.hyps
}

// supplies counts the applications of the supply.
func (p *picture) supplies() int {
	count := 0
	for i := range p.measures {
		count = max(count, p.measures[i].supply+1)
	}
	return count
}

// try gives the bunches that are left all names that they can have: each is a
// whole winding, a piece of one, or no end at all.
func (n *namer) try(depth int) {
	if n.over {
		return
	}
	if n.steps++; n.steps > maxSteps {
		n.over = true
		return
	}
	if depth == len(n.sequence) {
		n.keep()
		return
	}
	b := n.sequence[depth]
	n.tryWhole(depth, b)
	n.tryPiece(depth, b)
	n.tryNoEnd(depth, b)
}

func (n *namer) tryWhole(depth, b int) {
	for i := range n.whole[b] {
		f := &n.whole[b][i]
		short := len(n.p.lay.groups[f.group].ends) - len(n.p.bunches[b])
		if n.closed[f.group] || len(n.pieces[f.group]) > 0 || short > n.missing || !n.inTurn(f.group) || !n.agrees(b, f) {
			continue
		}
		saved := slices.Clone(n.scale)
		if n.narrow(f) {
			n.closed[f.group], n.placed[b] = true, f
			n.missing -= short
			n.write(b, f)
			n.try(depth + 1)
			n.missing += short
			n.closed[f.group], n.placed[b] = false, nil
		}
		copy(n.scale, saved)
	}
}

func (n *namer) tryPiece(depth, b int) {
	size := len(n.p.bunches[b])
	for g := range n.room {
		if n.closed[g] || n.room[g] < size || size == len(n.p.lay.groups[g].ends) || n.splits(b, g) || !n.inTurn(g) {
			continue
		}
		n.pieces[g] = append(n.pieces[g], b)
		n.room[g] -= size
		n.writeAll(b, someOf(g))
		n.try(depth + 1)
		n.room[g] += size
		n.pieces[g] = n.pieces[g][:len(n.pieces[g])-1]
	}
}

func (n *namer) tryNoEnd(depth, b int) {
	size := len(n.p.bunches[b])
	if n.spare < size {
		return
	}
	n.spare -= size
	n.writeAll(b, none)
	n.try(depth + 1)
	n.spare += size
}

// writeAll gives all leads of a bunch one name.
func (n *namer) writeAll(b, end int) {
	for _, lead := range n.p.bunches[b] {
		n.ends[lead] = end
	}
}

// inTurn says that a group may be used: of several that are as good as one
// another, the first that is free.
func (n *namer) inTurn(g int) bool {
	for other := range g {
		if n.p.lay.class[other] == n.p.lay.class[g] && !n.closed[other] && len(n.pieces[other]) == 0 {
			return false
		}
	}
	return true
}

// write gives the leads of a bunch the names of a fitting.
func (n *namer) write(b int, f *fitting) {
	if f.ends == nil {
		n.writeAll(b, someOf(f.group))
		return
	}
	for i, lead := range n.p.bunches[b] {
		n.ends[lead] = f.ends[i]
	}
}

// splits says that a piece of the group is known to be apart from the bunch.
func (n *namer) splits(b, g int) bool {
	for _, other := range n.pieces[g] {
		if n.p.isSplit(b, other) {
			return true
		}
	}
	return false
}

// narrow takes the scale that the fitting wants together with that of the others.
func (n *namer) narrow(f *fitting) bool {
	for i := range f.scale {
		n.scale[i] = n.scale[i].meet(f.scale[i])
		if n.scale[i].lo > n.scale[i].hi {
			return false
		}
	}
	return true
}

// agrees compares the sense of the bunch with those of the bunches that it
// was tied to.
func (n *namer) agrees(b int, f *fitting) bool {
	for i, t := range n.p.ties[:min(len(n.p.ties), mostSigns)] {
		if t.sense == 0 || f.ends == nil {
			continue
		}
		other := n.p.bunch[t.x]
		if other == b {
			other = n.p.bunch[t.y]
		} else if n.p.bunch[t.y] != b {
			continue
		}
		g := n.placed[other]
		if g == nil || g.ends == nil || n.p.lay.free[f.group] || n.p.lay.free[g.group] {
			continue
		}
		same := (f.signs>>i)&1 == (g.signs>>i)&1
		if same != (t.sense > 0) {
			return false
		}
	}
	return true
}

// keep takes a hypothesis whose pieces make whole windings.
func (n *namer) keep() {
	missing := n.missing
	for g, pieces := range n.pieces {
		if n.closed[g] {
			continue
		}
		if len(pieces) == 1 {
			return // one bunch alone has been tried as the whole winding, with ends that have no lead too
		}
		missing -= n.room[g]
		if missing < 0 {
			return
		}
	}
	for _, i := range n.p.vague {
		if !n.explains(&n.p.measures[i]) {
			return
		}
	}
	if len(n.found) == maxNamings {
		n.over = true
		return
	}
	n.found = append(n.found, hypothesis{ends: slices.Clone(n.ends), scale: slices.Clone(n.scale)})
}

// explains says that the names have wire where a vague reading found some.
func (n *namer) explains(m *measure) bool {
	for _, a := range m.clipped(m.red) {
		for _, b := range m.clipped(m.black) {
			if g := n.p.lay.groupOf(n.ends[a]); g >= 0 && g == n.p.lay.groupOf(n.ends[b]) {
				return true
			}
		}
	}
	return false
}
