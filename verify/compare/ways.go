package compare

import (
	"fmt"
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A turnName says what the exchange of like ends comes to.
type turnName struct {
	but   parts.Consequence
	loose bool // leads of one colour: their tape numbers claim nothing
	kind  parts.TurnSort
	by    int
}

// A turnKey tells the parts apart that turn otherwise: of one kind, and, where
// several elements have to have the same figures, with the same figures.
type turnKey struct {
	kind   *parts.Kind
	values string
}

type turnSet struct {
	alike []turn
	names []turnName
	wrong []turn
}

// turnsOf lists the ways round of a part; parts of one kind share theirs.
func (a *adapted) turnsOf(p *netlist.Part, m netlist.Meaning) ([]turn, []turnName, []turn) {
	as := a.bench.Fitted(p)
	if slices.ContainsFunc(m.Loose, func(g netlist.LooseLeads) bool { return g.Part == p }) {
		alike, names := a.likeTurns(p, &as, m)
		return alike, names, wrongTurns(as.Kind, alike)
	}
	key := turnKey{kind: as.Kind}
	if len(as.Kind.Elements) > 1 {
		for _, v := range as.Values {
			key.values += fmt.Sprint(v.Value, v.Quantity, " ")
		}
	}
	set, ok := a.shared[key]
	if !ok {
		set.alike, set.names = a.likeTurns(p, &as, m)
		set.wrong = wrongTurns(as.Kind, set.alike)
		a.shared[key] = set
	}
	return set.alike, set.names, set.wrong
}

// Bounds on what is turned: a board of hundreds of tags is not turned, and a
// part with more ways round than these is tried in the first of them.
const (
	mostTurnable = 40
	mostWays     = 64
)

// likeTurns lists every way round in which a part does as well, made from its
// alike lines and from leads of one colour.
func (a *adapted) likeTurns(p *netlist.Part, as *netlist.Fitted, m netlist.Meaning) ([]turn, []turnName) {
	n := len(p.Kind.Terminals)
	still := make([]int16, n)
	for i := range still {
		still[i] = int16(i)
	}
	type way struct {
		to   []int16
		name turnName
	}
	var makers []way
	exchanges := as.Kind.Exchanges(as.Values)
	if n == 2 && as.Kind != p.Kind {
		// Where the plan does not ask which way round, it cannot tell either of
		// what is fitted in place of its part.
		exchanges = append(exchanges, p.Kind.Exchanges(p.Values)...)
	}
	for _, e := range exchanges {
		to := make([]int16, n)
		for i, t := range e.Perm {
			to[i] = int16(t)
		}
		makers = append(makers, way{to, turnName{but: e.But}})
	}
	for _, group := range m.Loose {
		if group.Part != p {
			continue
		}
		ends := a.endsOf(group, m)
		for i := range ends {
			for k := i + 1; k < len(ends); k++ {
				to := slices.Clone(still)
				to[ends[i]], to[ends[k]] = int16(ends[k]), int16(ends[i])
				makers = append(makers, way{to, turnName{loose: true}})
			}
		}
	}
	// Exchanges without consequence come first, so that a way round which
	// both kinds lead to is known by the lesser.
	slices.SortStableFunc(makers, func(x, y way) int { return int(x.name.but) - int(y.name.but) })
	ways := []way{{still, turnName{}}}
	for i := 0; i < len(ways); i++ {
		for _, mk := range makers {
			to := make([]int16, n)
			for t := range to {
				to[t] = mk.to[ways[i].to[t]]
			}
			known := slices.ContainsFunc(ways, func(w way) bool { return slices.Equal(w.to, to) })
			if known || len(ways) == mostWays {
				continue
			}
			name := turnName{max(ways[i].name.but, mk.name.but), ways[i].name.loose || mk.name.loose, 0, 0}
			ways = append(ways, way{to, name})
		}
	}
	var turns []turn
	var names []turnName
	for _, w := range ways[1:] {
		turns = append(turns, turn{to: w.to})
		names = append(names, w.name)
	}
	return turns, names
}

// endsOf are the ends, as terminals of the kind, that leads of one colour are.
func (a *adapted) endsOf(g netlist.LooseLeads, m netlist.Meaning) []int {
	var ends []int
	for _, lead := range g.Leads {
		if end, ok := m.Ends[lead]; ok && a.book.Terminals[end].Index >= 0 {
			ends = append(ends, a.book.Terminals[end].Index)
		}
	}
	return ends
}

// wrongTurns lists the ways in which a part of the kind may sit or be wired
// askew, but those in which it does as well. The name of each is its index in
// Kind.Turns.
func wrongTurns(k *parts.Kind, alike []turn) []turn {
	if k.Any {
		return nil
	}
	var list []turn
	for n, t := range k.Turns() {
		to, ok := roles(t.Perm)
		if !ok || slices.ContainsFunc(alike, func(a turn) bool { return slices.Equal(a.to, to) }) {
			continue
		}
		list = append(list, turn{to: to, name: int32(n)})
	}
	return list
}

// pinTurns lists all that is at one terminal on another's place, named by
// pinsName, where several joints are at one of the two: a single one is told
// as such. Where leads fly from a part its ends are no places.
func (a *adapted) pinTurns(p *netlist.Part, alike []turn) []turn {
	n := len(p.Kind.Terminals)
	if n < 3 || a.book.Terminals[p.Terminals[len(p.Terminals)-1]].Lead {
		return nil
	}
	var list []turn
	for i := range n {
		for j := i + 1; j < n; j++ {
			if max(a.degree[p.Terminals[i]], a.degree[p.Terminals[j]]) < 2 {
				continue
			}
			to := make([]int16, n)
			for x := range to {
				to[x] = int16(x)
			}
			to[i], to[j] = int16(j), int16(i)
			if !slices.ContainsFunc(alike, func(a turn) bool { return slices.Equal(a.to, to) }) {
				list = append(list, turn{to: to, name: pinsName(i, j), plain: true})
			}
		}
	}
	return list
}

// pinsName names the exchange of all that is at two terminals.
func pinsName(i, j int) int32 { return int32(-1 - i*mostTurnable - j) }

// pinsOf gives the two terminals of such a name.
func pinsOf(name int32) (i, j int, ok bool) {
	if name >= 0 {
		return 0, 0, false
	}
	n := int(-1 - name)
	return n / mostTurnable, n % mostTurnable, true
}

// roles turns "what belongs at i is at perm[i]" round into "i does the work of
// to[i]". What fell off the end of a row is taken to be at the other end.
func roles(perm []int) ([]int16, bool) {
	to := make([]int16, len(perm))
	for i := range to {
		to[i] = -1
	}
	var fell []int
	moved := false
	for i, at := range perm {
		moved = moved || at != i
		if at < 0 {
			fell = append(fell, i)
		} else if to[at] >= 0 {
			return nil, false
		} else {
			to[at] = int16(i)
		}
	}
	for i := range to {
		if to[i] < 0 {
			to[i] = int16(fell[0])
			fell = fell[1:]
		}
	}
	return to, moved
}
