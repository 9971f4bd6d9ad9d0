package compare

import (
	"math/rand/v2"
	"slices"
)

// An invented harness of the size and shape of an amplifier.

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
