package compare

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// An invented harness of the size and shape of an amplifier, and mistakes to
// plant in it.

type harness struct {
	*wiring
	r      *rand.Rand
	kind   []string // by part
	tags   []int32
	spares []int32 // points that no net knows
	tagNet map[int32]int32
}

// nineRing are the ways in which a nine-pin socket may be wired wrongly: all
// pins off by n, or mirrored.
func nineRing() []turn {
	var list []turn
	for n := 1; n < 9; n++ {
		t := turn{name: int32(n)}
		for i := range 9 {
			t.to = append(t.to, int16((i+n)%9))
		}
		list = append(list, t)
	}
	t := turn{name: 100}
	for i := range 9 {
		t.to = append(t.to, int16(8-i))
	}
	return append(list, t)
}

// doubleTriode are the ways in which an ecc83 serves: its halves exchanged
// (1 2 3 with 6 7 8), its heater ends exchanged (4 with 5), and both.
func doubleTriode() []turn {
	halves := []int16{5, 6, 7, 3, 4, 0, 1, 2, 8}
	heater := []int16{0, 1, 2, 4, 3, 5, 6, 7, 8}
	both := []int16{5, 6, 7, 4, 3, 0, 1, 2, 8}
	return []turn{{to: halves}, {to: heater}, {to: both}}
}

var (
	twoEnds = []turn{{to: []int16{1, 0}}}
	rowOf3  = []turn{{to: []int16{2, 1, 0}, name: 100}, {to: []int16{1, 2, 0}, name: 1}, {to: []int16{2, 0, 1}, name: 2}}
	socket  = nineRing()
	halves  = doubleTriode()
)

func (h *harness) point(class int32, part int) int32 {
	h.class = append(h.class, class)
	h.part = append(h.part, int32(part))
	return int32(len(h.class) - 1)
}

func (h *harness) addPart(kind string) *wiredPart {
	n := map[string]int{"two": 2, "polar": 2, "pot": 3, "valve": 9, "jack": 3}[kind]
	p := wiredPart{shape: -1, whole: true}
	switch kind {
	case "two":
		p.alike, p.shape = twoEnds, 1
	case "polar":
		p.wrong, p.shape = twoEnds, 2
	case "pot":
		p.wrong, p.shape = rowOf3, 3
	case "valve":
		p.alike, p.wrong, p.shape = halves, socket, 4
	}
	for range n {
		p.points = append(p.points, h.point(means, len(h.parts)))
	}
	h.parts = append(h.parts, p)
	h.kind = append(h.kind, kind)
	return &h.parts[len(h.parts)-1]
}

// newHarness makes about so many parts, wired as planned, with every part
// serving in one of its ways.
func newHarness(seed uint64, parts int) *harness {
	h := &harness{wiring: &wiring{}, r: rand.New(rand.NewPCG(seed, 14)), tagNet: map[int32]int32{}}
	h.nets = 1 // ground
	var heater [2]int32
	for i := range heater {
		heater[i] = int32(h.nets)
		h.nets++
	}
	var open []int32 // ends waiting for a net
	for len(h.parts) < parts {
		switch x := h.r.IntN(20); {
		case x < 11:
			open = append(open, h.addPart("two").points...)
		case x < 14:
			open = append(open, h.addPart("polar").points...)
		case x < 16:
			open = append(open, h.addPart("pot").points...)
		case x < 18:
			p := h.addPart("valve").points
			h.class[p[3]], h.class[p[4]] = heater[0], heater[0]
			h.class[p[8]] = heater[1]
			open = append(open, p[0], p[1], p[2], p[5], p[6], p[7])
		default:
			p := h.addPart("jack").points
			h.class[p[2]] = 0
			open = append(open, p[0])
			h.class[p[1]] = alien
			h.spares = append(h.spares, p[1])
		}
	}
	h.r.Shuffle(len(open), func(i, j int) { open[i], open[j] = open[j], open[i] })
	for len(open) > 0 {
		if h.r.IntN(5) == 0 { // a fifth of all ends to ground
			h.class[open[0]] = 0
			open = open[1:]
			continue
		}
		n := min(2+h.r.IntN(3), len(open))
		for _, p := range open[:n] {
			h.class[p] = int32(h.nets)
		}
		h.nets++
		open = open[n:]
	}
	h.wire()
	return h
}

// wire joins what the plan wants, as a builder might: legs to tags, tags in a
// bus, leads from tag to pin or from pin to pin.
func (h *harness) wire() {
	serve := slices.Clone(h.class) // the net to which each point is wired
	for i := range h.parts {
		p := &h.parts[i]
		if n := h.r.IntN(len(p.alike) + 1); n > 0 {
			for x, point := range p.points {
				serve[point] = h.class[p.points[p.alike[n-1].to[x]]]
			}
		}
	}
	members := make([][]int32, h.nets)
	for p, net := range serve {
		if net >= 0 {
			members[net] = append(members[net], int32(p))
		}
	}
	for net, list := range members {
		h.wireNet(int32(net), list)
	}
}

func (h *harness) wireNet(net int32, list []int32) {
	var legs, pins []int32
	for _, p := range list {
		if k := h.kind[h.part[p]]; k == "two" || k == "polar" {
			legs = append(legs, p)
		} else {
			pins = append(pins, p)
		}
	}
	var spots []int32
	tag := func() int32 {
		t := h.point(means, -1)
		h.part[t] = -1
		h.tags = append(h.tags, t)
		h.tagNet[t] = net
		if len(spots) > 0 {
			h.lead(spots[len(spots)-1], t)
		}
		spots = append(spots, t)
		return t
	}
	at := int32(-1)
	for i, p := range legs {
		if i%3 == 0 && (i > 0 || len(list) > 1) {
			at = tag()
		}
		if at >= 0 {
			h.joints = append(h.joints, joint{ends: [2]int32{p, at}, stuck: [2]bool{true, false}, leg: true})
		}
	}
	for _, p := range pins {
		if len(spots) > 0 {
			h.lead(spots[h.r.IntN(len(spots))], p)
		}
		if len(spots) == 0 || h.r.IntN(3) == 0 {
			spots = append(spots, p)
		}
	}
}

func (h *harness) lead(a, b int32) {
	h.joints = append(h.joints, joint{ends: [2]int32{a, b}})
}

// A planted mistake, and by what it is known again.
type planted struct {
	what   string
	joints []int
	net    int32 // where the first of them belongs
	part   int32
}

func (p planted) String() string {
	return fmt.Sprintf("%s %v net %d part %d", p.what, p.joints, p.net, p.part)
}

var mistakes = []string{
	"missing", "misplaced", "dangling", "exchanged", "ring", "bridged", "alien", "stray", "reversed", "shifted", "unfitted",
}

// netAt is the net of a point as it was wired.
func (h *harness) netAt(p int32) int32 {
	if net, tag := h.tagNet[p]; tag {
		return net
	}
	return h.class[p]
}

// plant plants a mistake of a kind; joints in used are left alone. It reports
// false if there is no place for it.
func (h *harness) plant(what string, used map[int]bool) (planted, bool) {
	wired := make([]int32, len(h.class)) // the net that each point is joined to
	fill(wired, means)
	for range 20 {
		for _, j := range h.joints {
			for side, p := range j.ends {
				if q := j.ends[1-side]; wired[p] == means {
					switch {
					case h.netAt(q) >= 0 && h.part[q] < 0:
						wired[p] = h.netAt(q)
					case wired[q] >= 0:
						wired[p] = wired[q]
					case h.part[q] >= 0 && len(h.parts[h.part[q]].alike) == 0 && h.class[q] >= 0:
						wired[p] = h.class[q]
					}
				}
			}
		}
	}
	for range 200 {
		p := planted{what: what, part: -1, net: -1}
		pick := func() (int, int, bool) {
			j := h.r.IntN(len(h.joints))
			side := h.r.IntN(2)
			return j, side, !used[j] && !h.joints[j].stuck[side] && h.joints[j].ends[0] != h.joints[j].ends[1]
		}
		switch what {
		case "missing":
			j, _, ok := pick()
			if !ok {
				continue
			}
			p.joints, p.net = []int{j}, wired[h.joints[j].ends[0]]
			h.joints[j].ends[1] = h.joints[j].ends[0]
		case "misplaced", "dangling", "stray":
			j, side, ok := pick()
			to := int32(h.r.IntN(len(h.class)))
			switch what {
			case "dangling":
				to = -1
			case "stray":
				if len(h.spares) == 0 {
					return p, false
				}
				to = h.spares[h.r.IntN(len(h.spares))]
			default:
				ok = ok && wired[to] >= 0
			}
			kept := h.joints[j].ends[1-side]
			if !ok || wired[kept] < 0 || to >= 0 && wired[to] == wired[kept] {
				continue
			}
			if to < 0 {
				to = h.point(means, -1)
			}
			p.joints, p.net = []int{j}, wired[kept]
			h.joints[j].ends[side] = to
		case "exchanged", "ring":
			n := 2
			if what == "ring" {
				n = 3
			}
			var sides []int
			good := true
			var places []int32
			for range n {
				j, side, ok := pick()
				good = good && ok && !slices.Contains(p.joints, j)
				p.joints = append(p.joints, j)
				sides = append(sides, side)
				places = append(places, h.joints[j].ends[side])
			}
			if !good {
				continue
			}
			nets := map[int32]bool{}
			for _, place := range places {
				nets[wired[place]] = true
			}
			if len(nets) < n || nets[means] {
				continue
			}
			for i, j := range p.joints {
				h.joints[j].ends[sides[i]] = places[(i+1)%n]
			}
		case "bridged":
			a, b := int32(h.r.IntN(len(h.class))), int32(h.r.IntN(len(h.class)))
			if wired[a] < 0 || wired[b] < 0 || wired[a] == wired[b] {
				continue
			}
			p.joints = []int{len(h.joints)}
			h.lead(a, b)
		case "alien":
			a := int32(h.r.IntN(len(h.class)))
			if wired[a] < 0 || len(h.spares) == 0 {
				continue
			}
			p.joints = []int{len(h.joints)}
			h.lead(a, h.spares[h.r.IntN(len(h.spares))])
		case "reversed", "shifted":
			part := h.r.IntN(len(h.parts))
			w := &h.parts[part]
			if (h.kind[part] == "polar") != (what == "reversed") || len(w.wrong) == 0 {
				continue
			}
			t := w.wrong[h.r.IntN(len(w.wrong))]
			back := map[int32]int32{} // what was at to[i] is now at i
			for i, point := range w.points {
				back[w.points[t.to[i]]] = point
			}
			changes, busy := 0, false
			for j := range h.joints {
				for _, end := range h.joints[j].ends {
					if to, of := back[end]; of {
						busy = busy || used[j]
						if wired[to] != wired[end] {
							changes++
						}
					}
				}
			}
			if busy || changes < 2 {
				continue
			}
			for j := range h.joints {
				for side, end := range h.joints[j].ends {
					if to, of := back[end]; of {
						h.joints[j].ends[side] = to
						p.joints = append(p.joints, j)
					}
				}
			}
			p.part = int32(part)
		case "unfitted":
			part := h.r.IntN(len(h.parts))
			if h.kind[part] != "two" && h.kind[part] != "polar" {
				continue
			}
			for j, joint := range h.joints {
				if h.part[joint.ends[0]] == int32(part) || h.part[joint.ends[1]] == int32(part) {
					p.joints = append(p.joints, j)
				}
			}
			if len(p.joints) != 2 || used[p.joints[0]] || used[p.joints[1]] {
				continue
			}
			for _, j := range p.joints {
				h.joints[j].ends[1] = h.joints[j].ends[0]
			}
			p.part = int32(part)
		}
		for _, j := range p.joints {
			used[j] = true
		}
		return p, true
	}
	return planted{}, false
}

// tells reports whether a verdict tells of a planted mistake, or lists it as
// another explanation.
func (v *verdict) tells(p planted) bool {
	match := func(r *remedy) bool {
		switch p.what {
		case "reversed", "shifted":
			if r.deed == turnOver && r.suspect.parts[0] == p.part {
				return true
			}
			return r.deed == exchange && sameJoints(r, p)
		case "misplaced", "dangling", "stray":
			return r.deed == put && int(r.moves[0].joint) == p.joints[0] && r.moves[0].net == v.netOf[p.net]
		case "exchanged":
			return r.deed == exchange && sameJoints(r, p)
		case "ring":
			return r.deed == ring && sameJoints(r, p)
		case "bridged", "alien":
			return r.deed == takeOff && int(r.moves[0].joint) == p.joints[0]
		}
		return false
	}
	for i := range v.knots {
		k := &v.knots[i]
		for n := range k.remedies {
			if match(&k.remedies[n]) {
				return true
			}
		}
		for m := range k.rivals {
			for n := range k.rivals[m].remedies {
				if match(&k.rivals[m].remedies[n]) {
					return true
				}
			}
			if p.what == "missing" && len(k.rivals[m].more) > 0 {
				return true
			}
		}
	}
	switch p.what {
	case "unfitted":
		return slices.Contains(v.unfitted, p.part)
	case "missing", "dangling":
		for i := range v.missing {
			g := &v.missing[i]
			if p.net >= 0 && g.label != v.netOf[p.net] {
				continue
			}
			if p.what == "missing" || slices.ContainsFunc(g.ends, func(d dangle) bool { return int(d.joint) == p.joints[0] }) {
				return true
			}
		}
		if p.what == "missing" { // a part with its last joint gone
			return len(v.unfitted) > 0
		}
	}
	return false
}

func sameJoints(r *remedy, p planted) bool {
	if len(r.moves) != len(p.joints) {
		return false
	}
	for _, m := range r.moves {
		if !slices.Contains(p.joints, int(m.joint)) {
			return false
		}
	}
	return true
}
