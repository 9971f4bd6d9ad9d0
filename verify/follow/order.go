package follow

import (
	"math"
	"slices"

	"buzzout/netlist"
)

// reaches is the least of a signal that counts as arriving: a thousandth
// (-60 dB) of what was sent. What creeps through a supply line is less, a
// volume control at one per cent is more.
const reaches = 1e-3

// outweighs is how many times more a longer way must bring than a shorter one
// before the longer one is the signal's way and the shorter one a leak.
const outweighs = 10

// A flow says in what order the signal reaches the valves, and from where:
// each is given a drive by those before it alone, so that nothing comes back
// and signs are those of the first passage. Whatever comes back is feedback.
type flow struct {
	*network
	w      [][]complex128 // what valve j's slope gives valve i: w[i][j]
	direct []complex128   // what the source gives each valve with the others still
	group  []int          // by valve: those with coupled cathodes or tied side by side share a number
	u      []complex128   // the drive of each valve that is reached
	parent []int          // the valve it has most of it from; source, or unreached
	depth  []int          // stages to pass up to it, itself included
	order  []int          // valves as they are reached
	total  state          // the signal everywhere, of the first passage
}

const (
	source    = -1
	unreached = -2
)

func newFlow(n *network) *flow {
	count := len(n.valves)
	f := &flow{network: n, direct: make([]complex128, count), u: make([]complex128, count), parent: make([]int, count), depth: make([]int, count)}
	f.w = make([][]complex128, count)
	for i := range n.valves {
		f.w[i] = make([]complex128, count)
		for j := range n.valves {
			f.w[i][j] = n.control(i, &n.each[j]) * complex(n.valves[j].figures.Slope, 0)
		}
		f.direct[i] = n.control(i, &n.rest)
		f.parent[i] = unreached
	}
	f.groups()
	f.run()
	f.total = state{slices.Clone(f.rest.x), 1}
	for _, j := range f.order {
		for i, x := range f.each[j].x {
			f.total.x[i] += x * f.u[j] * complex(f.valves[j].figures.Slope, 0)
		}
	}
	return f
}

// control is what drives a valve in a state: its grid against its cathode,
// and the screen grid with its smaller part.
func (n *network) control(i int, s *state) complex128 {
	grid, cathode, screen := n.controls(i, s)
	return grid + cathode + screen
}

func (n *network) controls(i int, s *state) (grid, cathode, screen complex128) {
	v := &n.valves[i]
	grid, cathode = n.volts(s, v.grid), -n.volts(s, v.cathode)
	if v.screen != netlist.NoTerminal {
		share := complex(1/v.figures.Screen, 0)
		screen = (n.volts(s, v.screen) - n.volts(s, v.cathode)) * share
	}
	return grid, cathode, screen
}

// groups puts valves together that work as one stage: systems whose cathodes
// move each other, as in a long-tailed pair, and systems side by side.
func (f *flow) groups() {
	f.group = make([]int, len(f.valves))
	for i := range f.group {
		f.group[i] = i
	}
	for a := range f.valves {
		for b := range a {
			if f.pair(a, b) && f.pair(b, a) || f.beside(a, b) {
				old, with := f.group[a], f.group[b]
				for i := range f.group {
					if f.group[i] == old {
						f.group[i] = with
					}
				}
			}
		}
	}
}

// pair says that the current of a raises the cathode of b nearly as much as
// its own, enough to matter, and more than it moves b's grid.
func (f *flow) pair(a, b int) bool {
	s := &f.each[a]
	own := f.volts(s, f.valves[a].cathode)
	grid, cathode, _ := f.controls(b, s)
	return abs(own)*f.valves[a].figures.Slope > 0.1 && abs(cathode) > abs(own)/5 && abs(cathode) > abs(grid)
}

func (f *flow) beside(a, b int) bool {
	x, y := &f.valves[a], &f.valves[b]
	return f.same(x.grid, y.grid) && f.same(x.anode, y.anode) && !f.same(x.anode, f.earth) && !f.same(x.grid, f.earth)
}

func (f *flow) members(group int) []int {
	var list []int
	for i, g := range f.group {
		if g == group {
			list = append(list, i)
		}
	}
	return list
}

// from is what valve i gets from outside its group by way of a parent: the
// source, or all of the parent's group.
func (f *flow) fromParent(i, parent int) complex128 {
	if parent == source {
		return f.direct[i]
	}
	var sum complex128
	for _, j := range f.members(f.group[parent]) {
		if f.parent[j] != unreached {
			sum += f.w[i][j] * f.u[j]
		}
	}
	return sum
}

// best finds the parent outside its group from which valve i gets most, with
// how much; nought where none of it reaches.
func (f *flow) best(i int) (parent int, drive complex128) {
	parent = unreached
	if d := f.direct[i]; abs(d) >= reaches {
		parent, drive = source, d
	}
	for _, j := range f.order {
		if f.group[j] == f.group[i] {
			continue
		}
		if abs(f.control(i, &f.each[j])) < reaches*f.sent(j) {
			continue
		}
		if d := f.w[i][j] * f.u[j]; abs(d) > abs(drive) {
			parent, drive = j, d
		}
	}
	return parent, drive
}

// sent is how much a valve moves what it is soldered to, with one ampere.
func (n *network) sent(j int) float64 {
	v := &n.valves[j]
	return max(abs(n.volts(&n.each[j], v.anode)), abs(n.volts(&n.each[j], v.cathode)))
}

// run reaches the valves, one round of stages after the other. A stage waits
// while a valve that is not reached yet could bring it ten times more.
func (f *flow) run() {
	for {
		direct := make([]float64, len(f.valves))
		parents := make([]int, len(f.valves))
		for i := range f.valves {
			parents[i] = unreached
			if f.parent[i] == unreached {
				var d complex128
				parents[i], d = f.best(i)
				direct[i] = abs(d)
			}
		}
		var ready []int
		second, ratio := -1, 0.0
		for i := range f.valves {
			if f.parent[i] != unreached || direct[i] == 0 {
				continue
			}
			later := f.potential(i, direct)
			if direct[i]*outweighs >= later {
				ready = append(ready, f.group[i])
			} else if r := direct[i] / later; r > ratio {
				second, ratio = f.group[i], r
			}
		}
		if len(ready) == 0 && second >= 0 {
			ready = append(ready, second)
		}
		if len(ready) == 0 {
			return
		}
		slices.Sort(ready)
		f.reach(slices.Compact(ready), parents)
	}
}

// potential is the most that valve i could get through valves that are not
// reached yet, none of its own group among them. Ways are looked at up to
// five valves long.
func (f *flow) potential(i int, direct []float64) float64 {
	level := make([]float64, len(f.valves))
	open := make([]bool, len(f.valves))
	for k := range f.valves {
		open[k] = f.parent[k] == unreached && f.group[k] != f.group[i]
		if open[k] {
			level[k] = direct[k] / f.resists(k)
		}
	}
	for range 5 {
		for k := range f.valves {
			for l := range f.valves {
				if open[k] && open[l] && k != l {
					level[k] = max(level[k], abs(f.w[k][l])*level[l]/f.resists(k))
				}
			}
		}
	}
	most := 0.0
	for k := range f.valves {
		if open[k] {
			most = max(most, abs(f.w[i][k])*level[k])
		}
	}
	return most
}

// resists is by how much a valve's own current takes its drive back.
func (f *flow) resists(i int) float64 { return max(abs(1-f.w[i][i]), 1e-6) }

// reach gives the valves of some groups their drives, parents and depths.
func (f *flow) reach(groups, parents []int) {
	type arrival struct {
		valve  int
		drive  complex128
		parent int
		depth  int
	}
	var arrivals []arrival
	for _, g := range groups {
		members := f.members(g)
		outside := make([]complex128, len(f.valves))
		head, depth := -1, 0
		for _, i := range members {
			if parents[i] != unreached {
				outside[i] = f.fromParent(i, parents[i])
				if head < 0 || abs(outside[i]) > abs(outside[head]) {
					head = i
				}
			}
		}
		depth = 1
		if parents[head] != source {
			depth = f.depth[parents[head]] + 1
		}
		u := drive(f.w, members, outside)
		at := func(i int) complex128 { return u[slices.Index(members, i)] }
		for _, i := range members {
			if f.parent[i] != unreached {
				continue
			}
			parent := parents[i]
			if i != head {
				// A mate may have its drive from another of the group.
				most := abs(outside[i])
				for _, j := range members {
					if i == j || abs(f.control(i, &f.each[j])) < reaches*f.sent(j) {
						continue
					}
					if d := abs(f.w[i][j] * at(j)); d > most {
						most, parent = d, j
					}
				}
				if parent == unreached {
					continue
				}
			}
			arrivals = append(arrivals, arrival{i, at(i), parent, depth})
		}
	}
	for _, a := range arrivals {
		f.u[a.valve], f.parent[a.valve], f.depth[a.valve] = a.drive, a.parent, a.depth
		f.order = append(f.order, a.valve)
	}
}

// ancestors are the valves whose drive a valve has its own from, the nearest
// first; itself is not among them.
func (f *flow) ancestors(i int) []int {
	var list []int
	for p := f.parent[i]; p >= 0 && !slices.Contains(list, p); p = f.parent[p] {
		list = append(list, p)
	}
	return list
}

// heard is what a voice gets from valve j, or from the source itself.
func (f *flow) heard(v voice, j int) (signal complex128, reached bool) {
	s, slope, sent := &f.rest, complex128(1), 1.0
	if j >= 0 {
		s, slope, sent = &f.each[j], f.u[j]*complex(f.valves[j].figures.Slope, 0), f.sent(j)
	}
	d := f.volts(s, v.a)
	if v.b != netlist.NoTerminal {
		d -= f.volts(s, v.b)
	}
	return d * slope, abs(d) >= reaches*sent
}

// What a valve brings to a voice beside the one that brings most: less than a
// fifth is a leak. A loudspeaker's winding has leaks from within the stage
// alone, so that a thirtieth from another valve is still a half of the
// amplifier, and one that is driven far too little.
const (
	aLane     = 1.0 / 5
	aWeakLane = 1.0 / 30
)

// speakers gives the valves that a voice has its signal from, those reached
// first in front; source stands for none in between. Of valves side by side
// one stands for all. What comes back to a grid from the valves that it drives
// is feedback, and no way there.
func (f *flow) speakers(v voice) []int {
	most, loudest := 0.0, source
	candidates := slices.DeleteFunc(append([]int{source}, f.order...), func(j int) bool { return f.drivenFrom(v.a, j) })
	for _, j := range candidates {
		if d, ok := f.heard(v, j); ok && abs(d) > most {
			most, loudest = abs(d), j
		}
	}
	least := func(j int) float64 {
		if v.b != netlist.NoTerminal && j >= 0 && loudest >= 0 && f.group[j] != f.group[loudest] && f.depth[j] == f.depth[loudest] {
			return most * aWeakLane
		}
		return most * aLane
	}
	var list []int
	for _, j := range candidates {
		if j >= 0 && slices.ContainsFunc(list, func(i int) bool { return i >= 0 && f.beside(i, j) }) {
			continue
		}
		if d, ok := f.heard(v, j); ok && abs(d) > least(j) && !math.IsNaN(abs(d)) {
			list = append(list, j)
		}
	}
	return list
}

// drivenFrom says that a valve has its drive from the grid on a terminal's
// conductor: its own, or that of one before it.
func (f *flow) drivenFrom(x netlist.TerminalID, j int) bool {
	if j < 0 {
		return false
	}
	return slices.ContainsFunc(append(f.ancestors(j), j), func(i int) bool { return f.same(f.valves[i].grid, x) })
}
