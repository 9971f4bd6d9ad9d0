package legend

// A fitting is one way to lay a whole bunch on a group.
type fitting struct {
	group int
	ends  []int  // by place in the bunch
	scale []band // as in hypothesis
	signs uint64 // by tie: the lead u lies further along the group than x, or v than y
}

// mostSigns ties are heeded, a bit of fitting.signs for each.
const mostSigns = 64

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
		for _, t := range g.told {
			if row[t.from] < 0 || row[t.to] < 0 {
				continue
			}
			d := w.distance(row[t.from], row[t.to])
			s := &f.scale[supply*int(families)+int(t.by)]
			*s = s.meet(t.perTurn(d))
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

// signs says for each tie that touches the bunch which way it runs under
// these names.
func (p *picture) signs(bunch int, ends []int) uint64 {
	var signs uint64
	for i, t := range p.ties[:min(len(p.ties), mostSigns)] {
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
