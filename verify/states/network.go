package states

import (
	"math/cmplx"
	"slices"

	"buzzout/netlist"
)

// A network is what stands between the inputs of one point and that point:
// passives and contacts, as far as a signal gets from either without passing
// what holds still. What a switch or plug can join is part of it, whether it
// is joined now or not.
type network struct {
	web      *Web
	inputs   []Input
	point    int32 // all conductors by their number in the network
	tips     []int32
	list     []passive
	contacts []*Contact
	ends     [][2]int32      // of the contacts
	still    []int32         // the sleeves, and all at which a signal's way ends
	joined   *sets           // with two conductors to spare, for legs that are lifted
	unset    []*netlist.Part // in it, with a track that nobody has set
	bare     []*netlist.Part // in it, without a figure
}

// newNetwork finds the network of a web around some inputs. s says which
// parts are in their places and where the tracks are.
func newNetwork(w *Web, s netlist.Setting, inputs []Input, point netlist.TerminalID) *network {
	n := &network{web: w, inputs: inputs}
	list := passives(w.Harness, s)
	still, _ := stops(w.Harness, func(t netlist.TerminalID) int32 { return w.conductor[t] })
	delete(still, w.conductor[point])
	for _, in := range inputs {
		still[w.conductor[in.Sleeve]] = true
	}

	around := make([][]int32, w.conductors)
	link := func(a, b int32) {
		around[a] = append(around[a], b)
		around[b] = append(around[b], a)
	}
	for i := range list {
		p := &list[i]
		p.a, p.b = w.conductor[p.ends[0]], w.conductor[p.ends[1]]
		link(p.a, p.b)
	}
	for i := range w.Contacts {
		link(w.Contacts[i].a, w.Contacts[i].b)
	}
	number := make([]int32, w.conductors) // counted from 1
	var order []int32
	reach := func(conductor int32) {
		if number[conductor] == 0 {
			order = append(order, conductor)
			number[conductor] = int32(len(order))
		}
	}
	reach(w.conductor[point])
	for _, in := range inputs {
		reach(w.conductor[in.Tip])
	}
	for i := 0; i < len(order); i++ {
		if still[order[i]] {
			n.still = append(n.still, int32(i))
			continue
		}
		for _, next := range around[order[i]] {
			reach(next)
		}
	}

	// What has an end on a conductor that moves has both its ends in the network.
	inside := func(a, b int32) bool {
		return number[a] > 0 && number[b] > 0 && !(still[a] && still[b])
	}
	for _, p := range list {
		if !inside(p.a, p.b) {
			continue
		}
		p.a, p.b = number[p.a]-1, number[p.b]-1
		n.list = append(n.list, p)
		if p.unset && !slices.Contains(n.unset, p.part) {
			n.unset = append(n.unset, p.part)
		}
		if p.bare && !slices.Contains(n.bare, p.part) {
			n.bare = append(n.bare, p.part)
		}
	}
	for i := range w.Contacts {
		if c := &w.Contacts[i]; c.a != c.b && inside(c.a, c.b) {
			n.contacts = append(n.contacts, c)
			n.ends = append(n.ends, [2]int32{number[c.a] - 1, number[c.b] - 1})
		}
	}
	n.point = number[w.conductor[point]] - 1
	for _, in := range inputs {
		n.tips = append(n.tips, number[w.conductor[in.Tip]]-1)
	}
	n.joined = newSets(len(order) + 2)
	return n
}

// switches are the controls, other than plugs and sockets, with a contact in
// the network, in the order of their parts: indices in Web.Controls.
func (n *network) switches() []int {
	var list []int
	for _, c := range n.contacts {
		if n.web.isSwitch(c.Control) && !slices.Contains(list, c.Control) {
			list = append(list, c.Control)
		}
	}
	return list
}

// A trial is a network in one setting, perhaps with something changed.
type trial struct {
	at      []uint8     // where each control of the web stands
	plugs   uint        // the inputs that something is plugged into, as bits
	toggled [2]*Contact // taken the other way; nil for none
	silent  int         // an input whose plug feeds nothing; -1 for none
	// Lifted legs are off their conductor: each is on one of its own, and the
	// chosen one of them is joined to the conductor again, as by a switch.
	lifted *[2]netlist.TerminalID
	chosen int
}

// level is what input i, at 1, gives at the point, with the other plugged
// inputs at zero (what is plugged in is of low resistance beside a grid's
// resistors: common practice, no source).
func (n *network) level(t trial, i int) float64 {
	defer n.joined.undo(0)
	n.join(t)
	list, tips := n.list, n.tips
	if t.lifted != nil {
		list, tips = n.lift(t)
	}
	var feeders []feeder
	for k := range n.inputs {
		if t.plugs>>k&1 == 0 || k == t.silent {
			continue
		}
		f := feeder{conductor: tips[k]}
		if k == i {
			f.volts = 1
		}
		feeders = append(feeders, f)
	}
	return cmplx.Abs(voltageAt(list, n.joined, feeders, n.still, n.point))
}

func (n *network) join(t trial) {
	for k, c := range n.contacts {
		if c.At(int(t.at[c.Control])) != (c == t.toggled[0] || c == t.toggled[1]) {
			n.joined.join(n.ends[k][0], n.ends[k][1])
		}
	}
}

// lift puts the lifted legs on conductors of their own.
func (n *network) lift(t trial) ([]passive, []int32) {
	own := int32(len(n.joined.up) - 2)
	list, tips := slices.Clone(n.list), slices.Clone(n.tips)
	for leg, terminal := range t.lifted {
		from := int32(-1)
		put := func(at *int32, end netlist.TerminalID) {
			if end == terminal {
				from, *at = *at, own+int32(leg)
			}
		}
		for k := range list {
			put(&list[k].a, list[k].ends[0])
			put(&list[k].b, list[k].ends[1])
		}
		for k, in := range n.inputs {
			put(&tips[k], in.Tip)
		}
		if leg == t.chosen && from >= 0 {
			n.joined.join(own+int32(leg), from)
		}
	}
	return list, tips
}
