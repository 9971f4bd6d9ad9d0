package compare

import (
	"fmt"
	"slices"
)

// Mistakes to plant in an invented harness, and how to know them again.

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
