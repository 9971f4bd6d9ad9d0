package compare

import (
	"fmt"
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// An adapted wiring is the numbers that stand for a plan and a bench, with
// what the numbers mean. Point p is terminal p of the book.
type adapted struct {
	*wiring
	bench *netlist.Bench
	book  *netlist.Book
	turns [][]turnName // by part: of each way round that is as good, what it means
	// of says which joint of the bench stands behind each joint.
	of     []*netlist.Joint
	shared map[turnKey]turnSet
	degree []int32 // by point: joints there
}

// A turnName says what the exchange of like ends comes to.
type turnName struct {
	but   parts.Consequence
	loose bool // leads of one colour: their tape numbers claim nothing
	kind  parts.TurnSort
	by    int
}

// adapt makes numbers of a bench under one meaning of its leads' colours.
func adapt(b *netlist.Bench, m netlist.Meaning) *adapted {
	book := b.Book
	a := &adapted{wiring: &wiring{nets: len(book.Nets)}, bench: b, book: book, shared: map[turnKey]turnSet{}}
	a.class = make([]int32, len(book.Terminals))
	a.part = make([]int32, len(book.Terminals))
	for t := range book.Terminals {
		a.class[t] = a.classOf(netlist.TerminalID(t), m)
		a.part[t] = -1
	}
	a.addFixed(m)
	a.addJoints()
	a.addParts(m)
	return a
}

// A doubtful pin is a terminal at which nothing belongs, because the plan says
// that it is spare or because the kind says so, and at which something is
// soldered all the same. It may serve as a tag, and no net is any different
// for it; or what is there belongs elsewhere.
//
// doubtful lists them part by part.
func (a *adapted) doubtful() [][]int32 {
	byPart := map[int32][]int32{}
	for p := range a.class {
		term := &a.book.Terminals[p]
		if term.Part == nil || term.Index < 0 || a.degree[p] == 0 || a.book.Net(netlist.TerminalID(p)) != netlist.NoNet || term.Tie {
			continue
		}
		if a.book.Spare(netlist.TerminalID(p)) != nil || term.Part.Kind.Terminals[term.Index].Empty != "" {
			byPart[a.part[p]] = append(byPart[a.part[p]], int32(p))
		}
	}
	var list [][]int32
	for i := range a.parts {
		if pins := byPart[int32(i)]; len(pins) > 0 {
			list = append(list, pins)
		}
	}
	return list
}

// mostDoubtful bounds how many parts with doubtful pins are tried both ways.
const mostDoubtful = 8

// explained explains the wiring. The doubtful pins of a part count as tags, or
// as places where nothing may be, whichever takes fewer findings: that
// something is soldered there is told by rules of their own.
func (a *adapted) explained() *verdict {
	doubtful := a.doubtful()
	for _, pins := range doubtful {
		// One pin with several joints is a tag nearly always; several are a
		// socket that was wired askew.
		if len(pins) == 1 && a.degree[pins[0]] > 1 {
			a.class[pins[0]] = means
		}
	}
	best := explain(a.wiring)
	tried := 0
	for _, pins := range doubtful {
		if tried == mostDoubtful || !a.concerned(best, pins) {
			continue
		}
		tried++
		var before []int32
		for _, p := range pins {
			before = append(before, a.class[p])
			switch {
			case a.class[p] == means:
				a.class[p] = alien
			case a.degree[p] > 1: // a single joint holds nothing together
				a.class[p] = means
			}
		}
		if v := explain(a.wiring); v.total() < best.total() {
			best = v
			continue
		}
		for i, p := range pins {
			a.class[p] = before[i]
		}
	}
	return a.asWritten(best)
}

// mostAsWritten bounds how many parts are tried as written.
const mostAsWritten = 4

// asWritten tries, where a knot takes more than one finding, whether it takes
// fewer when a part in it serves as written: two parts that serve another way
// round together, as a switch and the winding behind it, hide that from the
// search, which turns them one by one.
func (a *adapted) asWritten(best *verdict) *verdict {
	tried := 0
	for i := range a.parts {
		if best.chosen[i] < 0 || tried == mostAsWritten || !a.inCostlyKnot(best, i) {
			continue
		}
		tried++
		ways := a.parts[i].alike
		a.parts[i].alike = nil
		if v := explain(a.wiring); v.total() < best.total() {
			best = v
		} else {
			a.parts[i].alike = ways
		}
	}
	return best
}

// inCostlyKnot says that a part has an end in a knot of several findings.
func (a *adapted) inCostlyKnot(v *verdict, part int) bool {
	for i := range v.knots {
		k := &v.knots[i]
		if len(k.remedies) < 2 {
			continue
		}
		for _, point := range a.parts[part].points {
			if slices.Contains(k.answer.labels, v.base[v.of[point]]) {
				return true
			}
		}
	}
	return false
}

// smallPiece is up to how many conductors a piece of a net is taken for one
// that was cut off, though the others are smaller.
const smallPiece = 4

// concerned says that the doubtful pins of a part may have to do with what a
// verdict tells: an end is moved at one of them, or what is cut off from its
// net is another pin of the part.
func (a *adapted) concerned(v *verdict, pins []int32) bool {
	for i := range v.knots {
		for _, r := range v.knots[i].remedies {
			for _, m := range r.moves {
				e := a.joints[m.joint].ends
				if slices.Contains(pins, e[0]) || slices.Contains(pins, e[1]) {
					return true
				}
			}
		}
	}
	for i := range v.missing {
		for _, point := range a.parts[a.part[pins[0]]].points {
			if v.label[v.of[point]] < 0 {
				continue
			}
			// A pin of its own that lacks its net, or all of a small net.
			root, g := v.scene.sets.find(v.of[point]), &v.missing[i]
			if root == v.scene.sets.find(g.b.root) || root == v.scene.sets.find(g.a.root) && g.a.size <= smallPiece {
				return true
			}
		}
	}
	return false
}

// classOf is the net that a terminal is wanted on.
func (a *adapted) classOf(t netlist.TerminalID, m netlist.Meaning) int32 {
	term := &a.book.Terminals[t]
	net := a.book.Net(t)
	if term.Part != nil {
		if f := a.bench.Fittings[term.Part]; f != nil && f.Absent {
			return means
		}
	}
	_, known := m.Ends[t]
	switch {
	case term.Print != nil:
		return means
	case net != netlist.NoNet && (!term.Tie || term.Part.Kind.JoinedAny):
		return int32(net)
	case term.Tie, term.Lead && known, a.book.Spare(t) != nil, term.Index < 0 && !term.Lead:
		return means
	}
	return alien
}

// addFixed joins what is one conductor whatever the builder does: inside
// parts without a socket, a lead with its end, a pad with its print.
func (a *adapted) addFixed(m netlist.Meaning) {
	join := func(x, y netlist.TerminalID) { a.fixed = append(a.fixed, [2]int32{int32(x), int32(y)}) }
	for _, p := range a.book.Parts {
		if p.Kind.JoinedAny {
			for _, t := range p.Terminals[min(1, len(p.Terminals)):] {
				join(p.Terminals[0], t)
			}
		}
		if p.Kind.Seat < 0 {
			for _, set := range p.Kind.Joined {
				for _, t := range set[1:] {
					join(p.Terminals[set[0]], p.Terminals[t])
				}
			}
		}
		for _, t := range p.Terminals[len(p.Kind.Terminals):] {
			if end, ok := m.Ends[t]; ok {
				join(t, end)
			}
		}
	}
	for _, print := range a.book.Prints {
		for _, pad := range print.Pads {
			join(print.ID, pad)
		}
	}
}

func (a *adapted) addParts(m netlist.Meaning) {
	shapes := map[*parts.Kind]int32{}
	for i, p := range a.book.Parts {
		w := wiredPart{shape: -1, whole: !p.Kind.Any}
		for _, t := range p.Terminals[:len(p.Kind.Terminals)] {
			a.part[t] = int32(i)
			w.points = append(w.points, int32(t))
		}
		if !p.Kind.Any && len(w.points) > 1 {
			if _, ok := shapes[p.Kind]; !ok {
				shapes[p.Kind] = int32(len(shapes))
			}
			w.shape = shapes[p.Kind]
		}
		var names []turnName
		if len(w.points) > 1 && len(w.points) <= mostTurnable && a.asked(w.points) {
			w.alike, names, w.wrong = a.turnsOf(p, m)
			if pins := a.pinTurns(p, w.alike); len(pins) > 0 {
				w.wrong = slices.Concat(w.wrong, pins)
			}
		}
		a.parts = append(a.parts, w)
		a.turns = append(a.turns, names)
	}
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
	if slices.ContainsFunc(m.Loose, func(g netlist.LooseLeads) bool { return g.Part == p }) {
		alike, names := a.likeTurns(p, m)
		return alike, names, wrongTurns(p.Kind, alike)
	}
	key := turnKey{kind: p.Kind}
	if len(p.Kind.Elements) > 1 {
		for _, v := range p.Values {
			key.values += fmt.Sprint(v.Value, v.Quantity, " ")
		}
	}
	set, ok := a.shared[key]
	if !ok {
		set.alike, set.names = a.likeTurns(p, m)
		set.wrong = wrongTurns(p.Kind, set.alike)
		a.shared[key] = set
	}
	return set.alike, set.names, set.wrong
}

// asked says that the plan asks for some point.
func (a *adapted) asked(points []int32) bool {
	return slices.ContainsFunc(points, func(p int32) bool { return a.class[p] >= 0 })
}

// Bounds on what is turned: a board of hundreds of tags is not turned, and a
// part with more ways round than these is tried in the first of them.
const (
	mostTurnable = 40
	mostWays     = 64
)

// likeTurns lists every way round in which a part does as well, made from its
// alike lines and from leads of one colour.
func (a *adapted) likeTurns(p *netlist.Part, m netlist.Meaning) ([]turn, []turnName) {
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
	for _, e := range p.Kind.Exchanges(p.Values) {
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

func (a *adapted) addJoints() {
	a.joints = make([]joint, 0, len(a.bench.Joints))
	a.degree = make([]int32, len(a.book.Terminals))
	for i := range a.bench.Joints {
		j := &a.bench.Joints[i]
		if j.Kind == netlist.Pad {
			continue
		}
		made := joint{ends: [2]int32{int32(j.A), int32(j.B)}}
		switch j.Kind {
		case netlist.Leg, netlist.Hole:
			made.stuck[0], made.leg = true, true
		case netlist.Solder:
			// What is brought to the spot is held by its part.
			made.stuck[1], made.leg = a.brought(j.B), true
		}
		a.joints = append(a.joints, made)
		a.degree[j.A]++
		a.degree[j.B]++
		a.of = append(a.of, j)
	}
	a.land()
}

// brought says that a terminal is a wire that comes with its part, so that
// only its other end can be put elsewhere: a leg, or a flying lead. A pin or a
// lug stays where it is, and so does the end of what is soldered to it.
func (a *adapted) brought(t netlist.TerminalID) bool {
	term := &a.book.Terminals[t]
	return term.Part != nil && (term.Lead || len(term.Part.Kind.Terminals) == 2 && term.Part.Kind.Seat < 0)
}
