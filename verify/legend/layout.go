package legend

import (
	"fmt"
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A layout is what a kind says of its windings, in the form in which leads
// are matched with it.
type layout struct {
	kind   *parts.Kind
	groups []group // the windings, then each terminal that is on none by itself
	ends   int     // of all groups together
	of     []int   // by terminal of the kind: its group
	at     []int   // by terminal of the kind: its place in its group
	// same are the ways to use the ends of several groups for one another
	// that make no difference at all; sign those that turn the signal over.
	same, sign [][]int
	// free groups may be put end for end without any difference; groups of
	// one class are as good as one another.
	free  []bool
	class []int
	good  [][]int // by terminal of the kind: see asGood
}

// A group is a winding with its ends in order, or a terminal by itself.
type group struct {
	name  string
	ends  []int // terminals of the kind
	known []turns
	// told are the turns between all ends of which known tells anything.
	told []stretch
	// counted are those of known by their family; copper are ohms of the wire
	// between two ends, from dcr lines, in the place of a count.
	counted [families][]turns
	copper  []turns
	even    bool // the ends may be exchanged end for end, so that turns are alike from both
}

// turns are those between two ends of a group, counted in the unit of their family.
type turns struct {
	from, to int // places in group.ends, from before to
	count    float64
	by       family
}

// A family of turns counts in one unit: square roots of ohms, or volts.
type family uint8

const (
	byLoad family = iota
	byVolts
	families
)

// slack is how far the turns between two ends may be from what the kind
// says, as factors. A load is a nominal figure; volts are told under load and
// read without, which is up to a quarter more in small transformers (common
// practice, no source).
var slack = [families]band{byLoad: {0.9, 1.1}, byVolts: {0.95, 1.25}}

// evenness is how unlike two halves may be that may be used for one another.
const evenness = 1.1

func layoutOf(p *netlist.Part) *layout {
	k := p.Kind
	l := &layout{kind: k, of: make([]int, len(k.Terminals)), at: make([]int, len(k.Terminals))}
	for i := range l.of {
		l.of[i] = -1
	}
	for _, w := range k.Windings {
		g := group{name: w.Name, ends: w.Ends}
		for i := range k.Between {
			g.read(&k.Between[i])
		}
		g.told = g.stretches()
		l.add(g)
	}
	if len(k.Windings) > 0 {
		for t := range k.Terminals {
			if l.of[t] < 0 && k.Terminals[t].Empty == "" {
				l.add(group{name: k.Terminals[t].Name, ends: []int{t}})
			}
		}
	}
	l.exchanges(k.Exchanges(p.Values))
	return l
}

func (l *layout) add(g group) {
	for i, t := range g.ends {
		l.of[t], l.at[t] = len(l.groups), i
	}
	l.ends += len(g.ends)
	l.groups = append(l.groups, g)
}

// read takes what a line says of two ends of the group.
func (g *group) read(b *parts.Between) {
	from, to := slices.Index(g.ends, b.From), slices.Index(g.ends, b.To)
	if from < 0 || to < 0 {
		return
	}
	t := turns{from: min(from, to), to: max(from, to)}
	for _, f := range b.Figures {
		switch {
		case b.Verb == "dcr" && f.Quantity == lang.Ohms:
			t.count = f.Value
			g.copper = append(g.copper, t)
			return
		case b.Verb == "load" && f.Quantity == lang.Ohms:
			t.by, t.count = byLoad, math.Sqrt(f.Value)
		case b.Verb == "volts" && f.Quantity == lang.Volts:
			t.by, t.count = byVolts, f.Value
		}
	}
	if t.count > 0 {
		g.known = append(g.known, t)
		g.counted[t.by] = append(g.counted[t.by], t)
	}
}

// exchanges sorts the ways in which ends may be used for one another. All
// windings turned at once is none that anybody could notice, however much
// each of them alone turns the signal over.
func (l *layout) exchanges(list []parts.Exchange) {
	l.free, l.class = make([]bool, len(l.groups)), make([]int, len(l.groups))
	turned := make([]bool, len(l.groups))
	for _, e := range list {
		alone := -1
		for g := range l.groups {
			if len(l.groups[g].ends) < 2 || !l.turnsOver(e.Perm, g) {
				continue
			}
			l.groups[g].even = true
			if l.turnsOnly(e.Perm, g) {
				alone, turned[g] = g, true
			}
		}
		switch {
		case e.But == parts.Phase && alone >= 0 && l.supplies(alone):
			l.free[alone] = true
		case e.But == parts.Phase:
			l.sign = append(l.sign, e.Perm)
		case alone >= 0:
			l.free[alone] = true
		default:
			l.same = append(l.same, e.Perm)
		}
	}
	all := make([]int, len(l.of))
	whole := len(l.sign) > 0
	for i := range all {
		all[i] = i
	}
	for g := range l.groups {
		ends := l.groups[g].ends
		whole = whole && (len(ends) < 2 || turned[g])
		for i, t := range ends {
			all[t] = ends[len(ends)-1-i]
		}
	}
	if whole {
		l.same = append(l.same, all)
	}
	for g := range l.groups {
		l.class[g] = g
		for other := range g {
			if l.alike(g, other) {
				l.class[g] = l.class[other]
				break
			}
		}
	}
}

// supplies says that a winding gives or takes power and carries no signal, and
// that no other is for the same volts, with which it could be joined: then
// nobody can tell which way round it is used.
func (l *layout) supplies(g int) bool {
	volts, load := l.groups[g].most()
	if volts == 0 || load > 0 {
		return false
	}
	for other := range l.groups {
		if more, _ := l.groups[other].most(); other != g && more == volts {
			return false
		}
	}
	return true
}

// alike says that two windings are as good as one another: the kind gives
// both the same figures, and at least one that tells their turns.
func (l *layout) alike(g, other int) bool {
	a, b := &l.groups[g], &l.groups[other]
	if len(a.ends) != len(b.ends) || len(a.known) == 0 || l.free[g] != l.free[other] || a.even != b.even {
		return false
	}
	return slices.Equal(l.lines(a), l.lines(b))
}

// lines are the figures that stand between the ends of a group, by the places
// of the ends, sorted.
func (l *layout) lines(g *group) []string {
	var list []string
	for i := range l.kind.Between {
		b := &l.kind.Between[i]
		from, to := slices.Index(g.ends, b.From), slices.Index(g.ends, b.To)
		if from < 0 || to < 0 {
			continue
		}
		line := fmt.Sprint(b.Verb, min(from, to), max(from, to))
		for _, f := range b.Figures {
			line += fmt.Sprint(" ", f.Quantity, f.Value)
		}
		list = append(list, line)
	}
	slices.Sort(list)
	return list
}

// turned is the end that does as well as another where its winding is free.
func (l *layout) turned(end int) int {
	if end < 0 || !l.free[l.of[end]] {
		return end
	}
	ends := l.groups[l.of[end]].ends
	return ends[len(ends)-1-l.at[end]]
}

// stands is the one end that stands for all that are as good as it.
func (l *layout) stands(end int) int {
	if end < 0 {
		return end
	}
	end = min(end, l.turned(end))
	return l.groups[l.class[l.of[end]]].ends[l.at[end]]
}

// asGood are the ends that do as well as one, itself among them, rising.
func (l *layout) asGood(end int) []int {
	if l.good == nil {
		l.good = make([][]int, len(l.of))
	}
	if l.good[end] != nil {
		return l.good[end]
	}
	var list []int
	for g := range l.groups {
		if l.class[g] == l.class[l.of[end]] {
			other := l.groups[g].ends[l.at[end]]
			list = append(list, other, l.turned(other))
		}
	}
	slices.Sort(list)
	l.good[end] = slices.Compact(list)
	return l.good[end]
}

// turnsOver says that the exchange puts a winding end for end.
func (l *layout) turnsOver(perm []int, g int) bool {
	ends := l.groups[g].ends
	for i, t := range ends {
		if perm[t] != ends[len(ends)-1-i] {
			return false
		}
	}
	return true
}

// turnsOnly says that it leaves all other ends alone.
func (l *layout) turnsOnly(perm []int, g int) bool {
	for t, to := range perm {
		if t != to && l.of[t] != g {
			return false
		}
	}
	return true
}

// place is where along its winding an end lies, counted in the turns of one
// family from the winding's first known end; ok says that it is known.
func (g *group) place(end int, by family) (at float64, ok bool) {
	steps := g.counted[by]
	if len(steps) == 0 {
		return 0, false
	}
	places, known := along(len(g.ends), steps[0].from, steps)
	return places[end], known[end]
}

// along gives the places of ends on a wire, counted by steps between them from
// the first; known says which of them the steps reach.
func along(ends, first int, steps []turns) (at []float64, known []bool) {
	at, known = make([]float64, ends), make([]bool, ends)
	known[first] = true
	for changed := true; changed; {
		changed = false
		for _, t := range steps {
			switch {
			case known[t.from] && !known[t.to]:
				known[t.to], at[t.to], changed = true, at[t.from]+t.count, true
			case known[t.to] && !known[t.from]:
				known[t.from], at[t.from], changed = true, at[t.to]-t.count, true
			}
		}
	}
	return at, known
}

// between are the turns from one end to another of a kind, signed; ok says
// that both are on one winding and known.
func (l *layout) between(from, to int, by family) (count float64, ok bool) {
	if l.of[from] < 0 || l.of[from] != l.of[to] {
		return 0, false
	}
	g := &l.groups[l.of[from]]
	a, known := g.place(l.at[from], by)
	b, also := g.place(l.at[to], by)
	return b - a, known && also
}

// isCentre says that an end is the centre tap of its winding: the middle one as
// they are listed, unless the figures tell that the turns from there to the two
// outer ends are not alike.
func (l *layout) isCentre(end int) bool {
	ends := l.groups[l.of[end]].ends
	last := len(ends) - 1
	if last < 2 || last%2 != 0 || l.at[end] != last/2 {
		return false
	}
	for by := range families {
		a, known := l.between(ends[0], end, by)
		b, also := l.between(end, ends[last], by)
		if known && also && (a > b*evenness || b > a*evenness) {
			return false
		}
	}
	return true
}

// wire are the ohms of the wire from one end to another, from the kind's dcr
// lines; ok says that they are known.
func (l *layout) wire(from, to int) (ohms float64, ok bool) {
	if l.of[from] < 0 || l.of[from] != l.of[to] {
		return 0, false
	}
	g := &l.groups[l.of[from]]
	low, high := min(l.at[from], l.at[to]), max(l.at[from], l.at[to])
	at, known := along(len(g.ends), low, g.copper)
	return at[high], known[high]
}

// most are the highest volts and the highest load, in ohms, that are told of it;
// 0 where none is.
func (g *group) most() (volts, load float64) {
	for _, t := range g.known {
		if t.by == byVolts {
			volts = max(volts, t.count)
		} else {
			load = max(load, t.count*t.count)
		}
	}
	return volts, load
}

// low says that it is a winding for low volts, high that it is one for high
// volts; neither where nobody tells.
func (g *group) low() bool {
	volts, load := g.most()
	return volts > 0 && volts <= lowVolts || load > 0 && load <= lowLoad
}

func (g *group) high() bool {
	volts, load := g.most()
	return volts > lowVolts || load > lowLoad
}
