package ohms

import (
	"math"
	"slices"
)

// connect finds how to tell what hangs together after the change.
func (u *Update) connect() {
	c, ch := u.c, u.change
	u.joins = asBefore
	opened, across, within := 0, 0, 0
	for i := range u.terms {
		t := &u.terms[i]
		switch {
		case t.cut >= 0:
			opened += 2
		case t.lift >= 0:
			across += 2
		case t.branch >= 0 && u.opens(t.branch):
			opened++
			u.branch = int(t.branch)
		case !c.Joined(u.origin(t.a), u.origin(t.b)):
			across++
			u.merged = [2]int32{c.piece[c.node[u.origin(t.a)]], c.piece[c.node[u.origin(t.b)]]}
		case t.branch < 0 || math.IsInf(c.Branches[t.branch].Ohms, 1):
			within++
		}
	}
	switch {
	case opened == 0 && across == 0:
	case opened == 1 && across+within == 0:
		if c.isSole(u.branch) {
			u.joins = severed
		}
	case opened == 0 && across == 3:
		u.joins = bridged
	default:
		u.joins = relabelled
		u.walk(ch)
	}
}

func (u *Update) opens(branch int32) bool {
	for _, v := range u.change.Values {
		if v.Branch == branch {
			return math.IsInf(v.Ohms, 1)
		}
	}
	return false
}

// walk labels nodes, and cuts behind them, by what hangs together after a
// change.
func (u *Update) walk(ch *Change) {
	c := u.c
	nodes := int32(len(c.piece))
	u.setsWork = grownTo(u.setsWork, int(nodes)+len(ch.Cuts))
	s := u.setsWork
	for i := range s {
		s[i] = int32(i)
	}
	for i := range c.Branches {
		b := &c.Branches[i]
		x, y := c.node[b.A], c.node[b.B]
		if math.IsInf(b.Ohms, 1) || s[x] == s[y] || touches(ch, int32(i)) {
			continue
		}
		s.join(x, y)
	}
	after := func(i int32, second bool) int32 {
		for k, cut := range ch.Cuts {
			if slices.Contains(cut.Ends, End{i, second}) {
				return nodes + int32(k)
			}
		}
		if second {
			return c.node[c.Branches[i].B]
		}
		return c.node[c.Branches[i].A]
	}
	follow := func(i int32) {
		ohms := c.Branches[i].Ohms
		for _, v := range ch.Values {
			if v.Branch == i {
				ohms = v.Ohms
			}
		}
		if !math.IsInf(ohms, 1) {
			s.join(after(i, false), after(i, true))
		}
	}
	for _, v := range ch.Values {
		follow(v.Branch)
	}
	for _, cut := range ch.Cuts {
		for _, e := range cut.Ends {
			follow(e.Branch)
		}
	}
	for _, b := range ch.Bridges {
		s.join(u.nodeAfter(b.A), u.nodeAfter(b.B))
	}
	u.labels = grownTo(u.labels, len(s))
	for i := range s {
		u.labels[i] = s.find(int32(i))
	}
}

// touches says that a change names a branch.
func touches(ch *Change, branch int32) bool {
	for _, v := range ch.Values {
		if v.Branch == branch {
			return true
		}
	}
	for _, cut := range ch.Cuts {
		for _, e := range cut.Ends {
			if e.Branch == branch {
				return true
			}
		}
	}
	return false
}

// Joined says that there is a way between two points after the change.
func (u *Update) Joined(p, q int32) bool {
	c := u.c
	if u.plain != nil {
		return u.plain.Joined(p, q)
	}
	switch u.joins {
	case severed:
		return c.Joined(p, q) && !c.parted(u.branch, p, q)
	case bridged:
		x, y := c.piece[c.node[p]], c.piece[c.node[q]]
		return x == y || x == u.merged[0] && y == u.merged[1] || x == u.merged[1] && y == u.merged[0]
	case relabelled:
		return u.labels[u.nodeAfter(p)] == u.labels[u.nodeAfter(q)]
	}
	return c.Joined(p, q)
}

func (u *Update) nodeAfter(p int32) int32 {
	if int(p) >= u.c.Points {
		return int32(len(u.c.piece)) + p - int32(u.c.Points)
	}
	return u.c.node[p]
}
