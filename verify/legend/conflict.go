package legend

import (
	"fmt"
	"slices"

	"buzzout/netlist"
)

// Weight says how much a difference between two sources matters.
type Weight uint8

// The weights, least first.
const (
	_          Weight = iota
	NoMatter          // the ends may be used for one another
	PhaseAlone        // it turns the signal over and does nothing else
	Matters
)

// A Conflict is a difference between two sources, in one cycle: by what A says
// the lead Leads[0] is the end EndsA[0], which by what B says is Leads[1], and
// so on round to the first. Two leads are exchanged; three and more go round;
// one alone is a difference that no other lead answers.
type Conflict struct {
	A, B         string // the sources
	Leads        []netlist.TerminalID
	EndsA, EndsB []netlist.TerminalID // what each says of each of the leads
	Weight       Weight
	Message      string // a sentence without a full stop
}

// A cycle is leads that two namings put on each other's ends.
type cycle struct {
	leads []int
	whole bool // it comes back to its first lead
}

// cycles finds the differences between two namings.
func cycles(a, b naming) []cycle {
	differ := func(i int) bool { return a.ends[i] != none && b.ends[i] != none && a.ends[i] != b.ends[i] }
	done := make([]bool, len(a.ends))
	var list []cycle
	for first := range a.ends {
		if done[first] || !differ(first) {
			continue
		}
		c := cycle{leads: []int{first}}
		done[first] = true
		for at := first; ; {
			next := slices.Index(b.ends, a.ends[at])
			if next == first {
				c.whole = true
				break
			}
			if next < 0 || done[next] || !differ(next) {
				break
			}
			done[next] = true
			c.leads = append(c.leads, next)
			at = next
		}
		list = append(list, c)
	}
	return list
}

// conflicts are the differences between two sources, those that matter first.
func conflicts(book *netlist.Book, p *netlist.Part, l *layout, leads []netlist.TerminalID, a, b naming, loose [][]int) []Conflict {
	b = b.aligned(a, loose)
	found := cycles(a, b)
	all := l.weigh(a.ends, b.ends)
	var list []Conflict
	for _, c := range found {
		// One cycle by itself, all else as A has it.
		only := slices.Clone(a.ends)
		for _, lead := range c.leads {
			only[lead] = b.ends[lead]
		}
		conflict := Conflict{A: a.origin, B: b.origin, Weight: min(all, l.weigh(a.ends, only))}
		for _, lead := range c.leads {
			conflict.Leads = append(conflict.Leads, leads[lead])
			conflict.EndsA = append(conflict.EndsA, p.Terminals[a.ends[lead]])
			conflict.EndsB = append(conflict.EndsB, p.Terminals[b.ends[lead]])
		}
		conflict.Message = c.told(book, conflict)
		list = append(list, conflict)
	}
	slices.SortStableFunc(list, func(x, y Conflict) int { return int(y.Weight) - int(x.Weight) })
	return list
}

func (c *cycle) told(book *netlist.Book, f Conflict) string {
	var names []string
	for _, t := range f.Leads {
		names = append(names, book.Terminals[t].Name)
	}
	end := func(t netlist.TerminalID) string { return book.NameWithin(t) }
	switch {
	case c.whole && len(names) == 2:
		return fmt.Sprintf("%s are exchanged", listed(names))
	case c.whole:
		return fmt.Sprintf("%s go round: what %s says of each, %s says of the next", listed(names), f.A, f.B)
	case len(names) == 1:
		return fmt.Sprintf("%s is %s by %s and %s by %s", names[0], end(f.EndsA[0]), f.A, end(f.EndsB[0]), f.B)
	}
	return fmt.Sprintf("%s are moved along: %s is %s by %s and %s by %s", listed(names), names[0], end(f.EndsA[0]), f.A, end(f.EndsB[0]), f.B)
}

// weigh says how much it matters that ends are named in one way and not in
// another: whether exchanges that the kind allows lead from one to the other.
func (l *layout) weigh(a, b []int) Weight {
	same := slices.Clone(l.same)
	for g := range l.groups {
		if l.free[g] {
			perm := make([]int, len(l.of))
			for i := range perm {
				perm[i] = i
			}
			for i, t := range l.groups[g].ends {
				perm[t] = l.groups[g].ends[len(l.groups[g].ends)-1-i]
			}
			same = append(same, perm)
		}
	}
	switch {
	case reaches(a, b, same):
		return NoMatter
	case reaches(a, b, slices.Concat(same, l.sign)):
		return PhaseAlone
	}
	return Matters
}

// maxWays bounds the namings that exchanges are followed to.
const maxWays = 1024

// reaches says that exchanges, one after another, turn a into b, as far as
// both name a lead.
func reaches(a, b []int, exchanges [][]int) bool {
	arrived := func(ends []int) bool {
		for i, end := range ends {
			if end != none && b[i] != none && end != b[i] {
				return false
			}
		}
		return true
	}
	list := [][]int{a}
	for i := 0; i < len(list) && len(list) < maxWays; i++ {
		if arrived(list[i]) {
			return true
		}
		for _, perm := range exchanges {
			image := exchanged(list[i], perm)
			if !slices.ContainsFunc(list, func(have []int) bool { return slices.Equal(have, image) }) {
				list = append(list, image)
			}
		}
	}
	return slices.ContainsFunc(list, arrived)
}
