package compare

import (
	"slices"

	"buzzout/netlist"
)

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
