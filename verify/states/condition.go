package states

import (
	"slices"
	"strings"

	"buzzout/netlist"
)

// A Condition is a set of settings told by what each control may be: for each
// control of a list the positions allowed, as bits. Every combination of
// allowed positions belongs to it.
type Condition []uint64

// A Table says in which settings of some controls something holds: that two
// conductors are one, unless another question was asked.
type Table struct {
	Controls []netlist.ControlRef
	Settings int // how many were looked at
	Joined   int // in how many of them it holds
	// Holds covers those settings, each once, in few conditions; at most
	// MaxConditions of them.
	Holds []Condition
	Cut   bool // there are more conditions
	// Left are controls that could matter and were not moved, because there
	// are more than Bound settings.
	Left []netlist.ControlRef
}

// Always says that it holds in every setting that was looked at.
func (t *Table) Always() bool { return t.Joined == t.Settings }

// Never says that it holds in no setting that was looked at.
func (t *Table) Never() bool { return t.Joined == 0 }

// Bound is how many settings a question looks at, at most: some tenths of a
// second of walking. MaxConditions is how many conditions it tells.
const (
	Bound         = 1 << 22
	MaxConditions = 64
)

// Table finds the settings in which two conductors are one, over the controls
// that can decide it. at says where all others stand.
func (w *Web) Table(a, b int32, at []uint8) Table {
	return w.tableWhere(w.Between(a, b), at, func(walk *Walk) bool { return walk.Joined(a, b) })
}

// tableWhere finds the settings of some controls in which something holds. It
// may depend on no other control.
func (w *Web) tableWhere(controls []int, at []uint8, holds func(*Walk) bool) Table {
	controls, left := w.within(controls, Bound)
	d := &diagram{walk: w.begin(controls, at), holds: holds, known: map[branch]int32{}}
	root := d.node(0)
	t := Table{Settings: d.settings, Joined: d.joined, Left: left}
	order := d.walk.order
	t.Controls = w.refs(order)
	open := make(Condition, len(order))
	for i, c := range order {
		open[i] = 1<<w.positions(c) - 1
	}
	d.conditions(root, open, &t)
	slices.SortFunc(t.Holds, slices.Compare)
	return t
}

func (w *Web) refs(controls []int) []netlist.ControlRef {
	var list []netlist.ControlRef
	for _, c := range controls {
		list = append(list, w.Controls[c])
	}
	return list
}

// A diagram is a table of settings as a decision for one control after the
// other, in which equal rests are one: node 0 is no, node 1 is yes.
type diagram struct {
	walk     *Walk
	holds    func(*Walk) bool
	nodes    [][]int32 // from node 2: where each position leads
	places   []int     // and which control it decides
	known    map[branch]int32
	settings int
	joined   int
}

// A branch is the key of a node: its control and where its positions lead,
// taken together pair by pair.
type branch struct{ place, left, right int32 }

func (d *diagram) node(place int) int32 {
	w := d.walk
	if place == len(w.order) {
		d.settings++
		if d.holds(w) {
			d.joined++
			return 1
		}
		return 0
	}
	length := len(w.sets.trail)
	leads := make([]int32, 0, 8)
	for p, joins := range w.closed[place] {
		w.At[w.order[place]] = uint8(p)
		for _, j := range joins {
			w.sets.join(j[0], j[1])
		}
		leads = append(leads, d.node(place+1))
		w.sets.undo(length)
	}
	return d.share(place, leads)
}

// share gives the node with these leads, one for all that are equal; a
// control that changes nothing has none.
func (d *diagram) share(place int, leads []int32) int32 {
	same := true
	for _, n := range leads {
		same = same && n == leads[0]
	}
	if same {
		return leads[0]
	}
	key := branch{int32(place), leads[0], leads[1]}
	for _, n := range leads[2:] {
		// A control of more than two positions is a chain of pairs.
		pair, ok := d.known[branch{-1, key.left, key.right}]
		if !ok {
			pair = -int32(len(d.known)) - 1
			d.known[branch{-1, key.left, key.right}] = pair
		}
		key.left, key.right = pair, n
	}
	if n, ok := d.known[key]; ok {
		return n
	}
	n := int32(len(d.nodes)) + 2
	d.nodes = append(d.nodes, slices.Clone(leads))
	d.places = append(d.places, place)
	d.known[key] = n
	return n
}

// conditions lists the ways from a node to yes. Positions that lead to the
// same node are told together.
func (d *diagram) conditions(node int32, so Condition, t *Table) {
	switch {
	case node == 0:
		return
	case len(t.Holds) == MaxConditions:
		t.Cut = true
		return
	case node == 1:
		t.Holds = append(t.Holds, slices.Clone(so))
		return
	}
	leads := d.nodes[node-2]
	place := d.places[node-2]
	for p, to := range leads {
		if slices.Contains(leads[:p], to) {
			continue
		}
		var together uint64
		for q := p; q < len(leads); q++ {
			if leads[q] == to {
				together |= 1 << q
			}
		}
		next := slices.Clone(so)
		next[place] = together
		d.conditions(to, next, t)
	}
}

// Words tells a condition: "J1 in, S3 8ohm or 16ohm". A control that may be
// anywhere is left out; "always" if all may.
func (t *Table) Words(c Condition) string {
	var list []string
	for i, ref := range t.Controls {
		control := &ref.Part.Kind.Controls[ref.Control]
		if c[i] == 1<<len(control.Positions)-1 {
			continue
		}
		var names []string
		for p, name := range control.Positions {
			if c[i]>>p&1 != 0 {
				names = append(names, name)
			}
		}
		list = append(list, ref.Name()+" "+strings.Join(names, " or "))
	}
	if len(list) == 0 {
		return "always"
	}
	return strings.Join(list, ", ")
}
