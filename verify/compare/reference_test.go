package compare

import (
	"math/rand/v2"
	"slices"
)

// A slow second way of comparing, which knows nothing of the first: it tries
// every action on every joint, one after another, and takes the fewest. It
// works on points and nets alone.

type slowWiring struct {
	points int
	net    []int // by point; -1 for a tag
	joints []slowJoint
	turns  [][]int // permutations of all points, each one action, each strict
	// strict: no end of a joint is put anywhere twice, and none where its
	// other end does not belong.
	strict bool
	// alike are pairs of points that serve either way round.
	alike [][2]int
}

type slowJoint struct {
	ends  [2]int
	stuck [2]bool
	off   bool
	moved [2]bool
}

type slowState struct {
	joints []slowJoint
	net    []int
	used   []bool
}

func (s slowState) clone() slowState {
	return slowState{slices.Clone(s.joints), slices.Clone(s.net), slices.Clone(s.used)}
}

func (s slowState) key() string {
	var b []byte
	for _, j := range s.joints {
		if j.off {
			b = append(b, 255, 255)
			continue
		}
		b = append(b, byte(j.ends[0]), byte(j.ends[1]))
		for _, moved := range j.moved {
			if moved {
				b = append(b, 254)
			}
		}
	}
	for _, n := range s.net {
		b = append(b, byte(n+1))
	}
	return string(b)
}

// missing counts missing joints, or gives -1 if two nets are joined.
func (s slowState) missing(points int) int {
	island := make([]int, points)
	for i := range island {
		island[i] = i
	}
	for changed := true; changed; {
		changed = false
		for _, j := range s.joints {
			if j.off {
				continue
			}
			a, b := island[j.ends[0]], island[j.ends[1]]
			if m := min(a, b); a != b {
				island[j.ends[0]], island[j.ends[1]] = m, m
				changed = true
			}
		}
	}
	netOf := map[int]int{}
	pieces := map[[2]int]bool{}
	nets := map[int]bool{}
	for p, n := range s.net {
		if n < 0 {
			continue
		}
		if other, met := netOf[island[p]]; met && other != n {
			return -1
		}
		netOf[island[p]] = n
		pieces[[2]int{n, island[p]}] = true
		nets[n] = true
	}
	return len(pieces) - len(nets)
}

// near gives the nets that are at a point, or next to it through tags, without
// going through a joint.
func (s slowState) near(from, without int) map[int]bool {
	nets := map[int]bool{}
	met := map[int]bool{from: true}
	queue := []int{from}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		if s.net[p] >= 0 {
			nets[s.net[p]] = true
			continue
		}
		for i, j := range s.joints {
			if i == without || j.off || j.ends[0] != p && j.ends[1] != p {
				continue
			}
			if q := j.ends[0] + j.ends[1] - p; !met[q] {
				met[q] = true
				queue = append(queue, q)
			}
		}
	}
	return nets
}

// fits reports whether one end of a joint may belong where an end of another is.
func (s slowState) fits(joint, side, other, otherSide int) bool {
	kept := s.near(s.joints[joint].ends[1-side], joint)
	place := s.near(s.joints[other].ends[otherSide], other)
	for n := range kept {
		if place[n] {
			return true
		}
	}
	return len(kept) == 0 || len(place) == 0
}

// between reports whether a joint has different nets at its two ends, or
// several at one of them: only such joints can have changed places by mistake.
func (s slowState) between(joint int) bool {
	a, b := s.near(s.joints[joint].ends[0], joint), s.near(s.joints[joint].ends[1], joint)
	all := map[int]bool{}
	for n := range a {
		all[n] = true
	}
	for n := range b {
		all[n] = true
	}
	return len(a) > 0 && len(b) > 0 && len(all) > 1
}

// fewest is the least number of actions and missing joints, looking at no more
// than deep actions; exact says that more actions could not be fewer in all.
func (w slowWiring) fewest(deep int) (best int, exact bool) {
	best = 1 << 30
	start := slowState{w.joints, w.net, make([]bool, len(w.turns))}
	level := []slowState{start}
	met := map[string]bool{start.key(): true}
	for depth := 0; depth < best; depth++ {
		for _, s := range level {
			if m := s.missing(w.points); m >= 0 && depth+m < best {
				best = depth + m
			}
		}
		if depth == deep {
			return best, best <= deep+1
		}
		if depth+1 >= best {
			break
		}
		var next []slowState
		for _, s := range level {
			w.neighbours(s, func(n slowState) {
				if k := n.key(); !met[k] {
					met[k] = true
					next = append(next, n)
				}
			})
		}
		level = next
	}
	return best, true
}

func (w slowWiring) neighbours(s slowState, yield func(slowState)) {
	type end struct{ joint, side int }
	try := func(ends []end, places []int) { // no joint has both ends at one point
		n := s.clone()
		for i, e := range ends {
			j := &n.joints[e.joint]
			j.ends[e.side] = places[i]
			j.moved[e.side] = w.strict
		}
		for i, e := range ends {
			if j := n.joints[e.joint]; j.ends[0] == j.ends[1] {
				return
			}
			if next := ends[(i+1)%len(ends)]; w.strict && len(ends) > 1 && !s.fits(e.joint, e.side, next.joint, next.side) {
				return
			}
		}
		yield(n)
	}
	var ends []end
	for i, j := range s.joints {
		if j.off {
			continue
		}
		if !j.moved[0] && !j.moved[1] {
			n := s.clone()
			n.joints[i].off = true
			yield(n)
		}
		for side := range 2 {
			if j.stuck[side] || j.moved[side] {
				continue
			}
			if s.between(i) {
				ends = append(ends, end{i, side})
			}
			fits := s.near(j.ends[1-side], i)
			for p := range w.points {
				if s.net[p] >= 0 && (!w.strict || fits[s.net[p]]) { // it belongs on a net, wherever there
					try([]end{{i, side}}, []int{p})
				}
			}
		}
	}
	at := func(e end) int { return s.joints[e.joint].ends[e.side] }
	for x, a := range ends {
		for _, b := range ends[x+1:] {
			if a.joint != b.joint {
				try([]end{a, b}, []int{at(b), at(a)})
			}
			for _, c := range ends {
				if a.joint != b.joint && b.joint != c.joint && a.joint != c.joint {
					try([]end{a, b, c}, []int{at(b), at(c), at(a)})
				}
			}
		}
	}
	for i, turn := range w.turns {
		if s.used[i] {
			continue
		}
		n := s.clone()
		n.used[i] = true
		for p, from := range turn {
			n.net[p] = s.net[from]
		}
		yield(n)
	}
}

// fewestEitherWay is the fewest over all ways in which parts may serve.
func (w slowWiring) fewestEitherWay(deep int) (best int, exact bool) {
	best, exact = 1<<30, true
	for ways := range 1 << len(w.alike) {
		v := w
		v.net = slices.Clone(w.net)
		for i, pair := range w.alike {
			if ways>>i&1 == 1 {
				v.net[pair[0]], v.net[pair[1]] = v.net[pair[1]], v.net[pair[0]]
			}
		}
		n, sure := v.fewest(deep)
		best = min(best, n)
		exact = exact && (sure || n > best)
	}
	return best, exact && best <= deep+1
}

// wiring makes the same question for the fast way.
func (w slowWiring) wiring() *wiring {
	f := &wiring{part: make([]int32, w.points), class: make([]int32, w.points)}
	for p, n := range w.net {
		f.part[p] = -1
		f.class[p] = int32(n)
		f.nets = max(f.nets, n+1)
	}
	swap := []turn{{to: []int16{1, 0}}}
	add := func(p wiredPart) {
		for _, point := range p.points {
			f.part[point] = int32(len(f.parts))
		}
		f.parts = append(f.parts, p)
	}
	for _, pair := range w.alike {
		add(wiredPart{points: []int32{int32(pair[0]), int32(pair[1])}, alike: swap, shape: -1})
	}
	for _, turned := range w.turns {
		var points []int32
		for p, from := range turned {
			if p != from {
				points = append(points, int32(p))
			}
		}
		add(wiredPart{points: points, wrong: swap, shape: -1})
	}
	for _, j := range w.joints {
		f.joints = append(f.joints, joint{ends: [2]int32{int32(j.ends[0]), int32(j.ends[1])}, stuck: j.stuck})
	}
	return f
}

// randomTree makes a few points of a few nets with tags among them, joined
// without a ring.
func randomTree(r *rand.Rand, points, nets, joints int) slowWiring {
	w := slowWiring{points: points}
	for p := range points {
		n := r.IntN(nets+1) - 1
		if p < nets {
			n = p
		}
		w.net = append(w.net, n)
	}
	island := make([]int, points)
	for i := range island {
		island[i] = i
	}
	for tries := 0; tries < 50 && len(w.joints) < joints; tries++ {
		a, b := r.IntN(points), r.IntN(points)
		if island[a] == island[b] {
			continue
		}
		from, to := island[a], island[b]
		for i := range island {
			if island[i] == from {
				island[i] = to
			}
		}
		j := slowJoint{ends: [2]int{a, b}}
		if r.IntN(4) == 0 {
			j.stuck[r.IntN(2)] = true
		}
		w.joints = append(w.joints, j)
	}
	return w
}
