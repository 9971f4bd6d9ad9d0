package legend

import (
	"math"
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

// A fitting is one way to lay a whole bunch on a group.
type fitting struct {
	group int
	ends  []int  // by place in the bunch
	scale []band // as in hypothesis
	signs uint64 // by tie: the lead u lies further along the group than x, or v than y
}

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

// fittings are the ways to lay a bunch on a group as the whole of it.
func (p *picture) fittings(bunch, supplies int) []fitting {
	var list []fitting
	k := len(p.bunches[bunch])
	missing := max(0, p.lay.ends-p.n)
	for g := range p.lay.groups {
		size := len(p.lay.groups[g].ends)
		if size < k || size-k > missing {
			continue
		}
		lines := p.linesOf(bunch)
		if !lines.known || choices(size, k) > maxChoices {
			// More ways than can be gone through: nothing is said of any of them.
			list = append(list, fitting{group: g})
			continue
		}
		for i := range lines.orders {
			each(size, k, func(chosen []int) {
				for _, back := range []bool{false, true} {
					if back && (k == 1 || k == size && p.lay.free[g]) {
						continue
					}
					if f, ok := p.lay.lay(g, &lines.orders[i], chosen, back, supplies); ok {
						f.signs = p.signs(bunch, f.ends)
						list = append(list, f)
					}
				}
			})
		}
	}
	return list
}

// maxChoices bounds the ways to leave ends of a winding without a lead.
const maxChoices = 200

// choices counts the ways to choose k of n, as far as it matters.
func choices(n, k int) int {
	count := 1
	for i := range min(k, n-k) {
		if count = count * (n - i) / (i + 1); count > maxChoices {
			break
		}
	}
	return count
}

// each calls with every rising choice of k among n.
func each(n, k int, call func([]int)) {
	chosen := make([]int, k)
	var from func(i, next int)
	from = func(i, next int) {
		if i == k {
			call(chosen)
			return
		}
		for c := next; c <= n-(k-i); c++ {
			chosen[i] = c
			from(i+1, c+1)
		}
	}
	from(0, 0)
}

// lay puts an order onto places of a group and looks whether the volts read
// fit what the kind says of the turns.
func (l *layout) lay(group int, o *order, chosen []int, back bool, supplies int) (fitting, bool) {
	g := &l.groups[group]
	k := len(o.row)
	f := fitting{group: group, ends: make([]int, k), scale: make([]band, supplies*int(families))}
	row := make([]int, len(g.ends)) // by place of the group: place in the order, or -1
	for i := range row {
		row[i] = -1
	}
	for i, place := range chosen {
		at := i
		if back {
			at = k - 1 - i
		}
		f.ends[o.row[at]] = g.ends[place]
		row[place] = at
	}
	for i := range f.scale {
		f.scale[i] = anything
	}
	for supply, w := range o.supply {
		if w == nil {
			continue
		}
		for _, t := range g.known {
			if row[t.from] < 0 || row[t.to] < 0 {
				continue
			}
			d := w.distance(row[t.from], row[t.to])
			s := &f.scale[supply*int(families)+int(t.by)]
			*s = s.meet(band{d.lo / (t.count * slack[t.by].hi), d.hi / (t.count * slack[t.by].lo)})
			if s.lo > s.hi {
				return f, false
			}
		}
		if g.even && k == len(g.ends) && !evenly(w, row) {
			return f, false
		}
	}
	return f, true
}

// evenly says that the turns can be alike from both ends.
func evenly(w *web, row []int) bool {
	n := len(row)
	for i := 0; i < n/2; i++ {
		a := w.distance(row[i], row[i+1])
		b := w.distance(row[n-1-i], row[n-2-i])
		if a.lo > b.hi*evenness || b.lo > a.hi*evenness {
			return false
		}
	}
	return true
}

func (b band) meet(other band) band { return band{max(b.lo, other.lo), min(b.hi, other.hi)} }

// signs says for each tie that touches the bunch which way it runs under
// these names.
func (p *picture) signs(bunch int, ends []int) uint64 {
	var signs uint64
	for i, t := range p.ties[:min(len(p.ties), 64)] {
		from, to := t.x, t.u
		if p.bunch[t.x] != bunch {
			from, to = t.y, t.v
			if p.bunch[t.y] != bunch {
				continue
			}
		}
		if p.lay.at[ends[p.index(to)]] > p.lay.at[ends[p.index(from)]] {
			signs |= 1 << i
		}
	}
	return signs
}

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
	size := len(n.p.bunches[b])
	for i := range n.whole[b] {
		f := &n.whole[b][i]
		short := len(n.p.lay.groups[f.group].ends) - size
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
	for g := range n.room {
		if n.closed[g] || n.room[g] < size || size == len(n.p.lay.groups[g].ends) || n.splits(b, g) || !n.inTurn(g) {
			continue
		}
		n.pieces[g] = append(n.pieces[g], b)
		n.room[g] -= size
		for _, lead := range n.p.bunches[b] {
			n.ends[lead] = someOf(g)
		}
		n.try(depth + 1)
		n.room[g] += size
		n.pieces[g] = n.pieces[g][:len(n.pieces[g])-1]
	}
	if n.spare >= size {
		n.spare -= size
		for _, lead := range n.p.bunches[b] {
			n.ends[lead] = none
		}
		n.try(depth + 1)
		n.spare += size
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

func (n *namer) write(b int, f *fitting) {
	for i, lead := range n.p.bunches[b] {
		if f.ends == nil {
			n.ends[lead] = someOf(f.group)
		} else {
			n.ends[lead] = f.ends[i]
		}
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
	for i, t := range n.p.ties[:min(len(n.p.ties), 64)] {
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
		if len(pieces) == 1 && n.room[g] == 0 {
			return // a whole bunch, which has been tried as such
		}
		missing -= n.room[g]
		if missing < 0 {
			return
		}
		if len(pieces) == 1 && n.room[g] > 0 {
			// A bunch with fewer leads than the winding has ends has been
			// tried as the whole of it.
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

// predict is the band of what a reading between two leads would show under a
// hypothesis, as far as it can be told.
func (p *picture) predict(h *hypothesis, a, b, supply int) band {
	is := p.rowUnder(h, a, b, func(o *order) *web { return o.volts(supply) })
	ga, gb := h.ends[a], h.ends[b]
	if ga < 0 || gb < 0 || p.lay.of[ga] != p.lay.of[gb] {
		return is
	}
	for by := range families {
		count, ok := p.lay.between(ga, gb, by)
		if !ok || supply*int(families)+int(by) >= len(h.scale) {
			continue
		}
		s := h.scale[supply*int(families)+int(by)]
		count = math.Abs(count)
		is = is.meet(band{s.lo * count * slack[by].lo, s.hi * count * slack[by].hi})
	}
	return is
}

// rowUnder is the distance of two leads of a bunch in the orders that agree
// with the names of a hypothesis.
func (p *picture) rowUnder(h *hypothesis, a, b int, which func(*order) *web) band {
	bunch := p.bunch[a]
	l := p.linesOf(bunch)
	if !l.known || len(l.orders) == 0 {
		return anything
	}
	i, j := p.index(a), p.index(b)
	is := band{math.Inf(1), 0}
	for n := range l.orders {
		o := &l.orders[n]
		if !p.runsLike(h, bunch, o) {
			continue
		}
		d := which(o).distance(o.at[i], o.at[j])
		is = band{min(is.lo, d.lo), max(is.hi, d.hi)}
	}
	if is.lo > is.hi {
		return anything
	}
	return is
}

// runsLike says that the names rise or fall along the order.
func (p *picture) runsLike(h *hypothesis, bunch int, o *order) bool {
	leads := p.bunches[bunch]
	rising, falling := true, true
	for i := 1; i < len(o.row); i++ {
		a, b := h.ends[leads[o.row[i-1]]], h.ends[leads[o.row[i]]]
		if a < 0 || b < 0 {
			return true
		}
		if p.lay.at[a] < p.lay.at[b] {
			falling = false
		} else {
			rising = false
		}
	}
	return rising || falling
}
