package compare

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

// turned tells a part that is wired as a whole otherwise than it should be.
func (t *teller) turned(s *suspect) verify.Finding {
	p := t.book.Parts[s.parts[0]]
	if s.parts[1] >= 0 {
		return t.partsExchanged(p, t.book.Parts[s.parts[1]])
	}
	name := t.parts[s.parts[0]].wrong[s.wrong].name
	if i, j, ok := pinsOf(name); ok {
		return t.pinsExchanged(p.Terminals[i], p.Terminals[j])
	}
	turn := p.Kind.Turns()[name]
	f := verify.Finding{Rule: "pins-shifted", Severity: diag.Fault}
	for _, c := range s.conductors {
		for _, point := range t.parts[s.parts[0]].points {
			if t.verdict.of[point] == c {
				f.Terminals = append(f.Terminals, netlist.TerminalID(point))
			}
		}
	}
	slices.Sort(f.Terminals)
	for _, id := range f.Terminals {
		f.Nets = appendNew(f.Nets, t.netNames(t.labelOf(id))...)
	}
	switch turn.Sort {
	case parts.Reversed:
		f.Rule = "reversed"
		f.Message = fmt.Sprintf("%s sits the other way round", p.Ref)
		f.Action = fmt.Sprintf("turn %s round", p.Ref)
		f.Cause = t.polarCause(p)
		f.Check = t.reversedCheck(p)
		if a, b, ok := t.lugsExchanged(p, turn.Perm); ok {
			f.Message = fmt.Sprintf("%s is wired the other way round: what is at %s belongs at %s, and the other way about", p.Ref, a, b)
			f.Action = fmt.Sprintf("exchange what is at %s and at %s", a, b)
			f.Check = fmt.Sprintf("look which lug of %s is which.", p.Ref)
		}
	case parts.Mirrored:
		f.Message = fmt.Sprintf("all wires at %s are on the wrong pins, counted the wrong way round", p.Ref)
		f.Cause = "The pins were counted as seen from the wrong side: seen from the tags they go round clockwise from the gap or key."
		f.Action = fmt.Sprintf("move them: %s", t.pinMoves(p, turn.Perm))
	default:
		f.Message = fmt.Sprintf("all wires at %s are %s of where they belong", p.Ref, places(turn.By, len(p.Kind.Terminals)))
		f.Cause = "The count began at the wrong pin."
		f.Action = fmt.Sprintf("move them: %s", t.pinMoves(p, turn.Perm))
	}
	if f.Check == "" && len(f.Terminals) > 0 {
		f.Check = fmt.Sprintf("count from the gap or key, seen from the tags, and look which wire is at pin %s.", t.book.Terminals[f.Terminals[0]].Name)
	}
	for _, j := range t.at(f.Terminals) {
		f.Evidence = appendNote(f.Evidence, quoteJoint(j))
	}
	return f
}

func places(by, of int) string {
	if by > of/2 {
		by -= of
	}
	way := "on the far side"
	if by < 0 {
		by, way = -by, "short"
	}
	if by == 1 {
		return "one pin " + way
	}
	return fmt.Sprintf("%d pins %s", by, way)
}

// pinMoves lists where what is at each pin belongs.
func (t *teller) pinMoves(p *netlist.Part, perm []int) string {
	var list []string
	for _, m := range t.moved(p, t.leastMoved(p, perm)) {
		list = append(list, fmt.Sprintf("%s to %s", p.Kind.Terminals[m.at].Name, p.Kind.Terminals[m.to].Name))
	}
	return strings.Join(list, ", ")
}

// A pinMove is what is at one pin and goes to another.
type pinMove struct{ at, to int }

// moved are the pins with something at them that goes elsewhere.
func (t *teller) moved(p *netlist.Part, perm []int) []pinMove {
	var list []pinMove
	for belongs, at := range perm {
		if at >= 0 && at != belongs && len(t.at([]netlist.TerminalID{p.Terminals[at]})) > 0 {
			list = append(list, pinMove{at, belongs})
		}
	}
	return list
}

// leastMoved leaves alone what may stay where it is because the pins are alike,
// as the two of a heater that the mirror exchanges.
func (t *teller) leastMoved(p *netlist.Part, perm []int) []int {
	least := len(t.moved(p, perm))
	for _, e := range p.Kind.Exchanges(p.Values) {
		if e.But != parts.None {
			continue
		}
		other := slices.Clone(perm)
		for i, as := range e.Perm {
			other[i] = perm[as]
		}
		if n := len(t.moved(p, other)); n < least {
			perm, least = other, n
		}
	}
	return perm
}

// pinsExchanged tells that all that is at one terminal of a part belongs at
// another, and what is there at the first.
func (t *teller) pinsExchanged(a, b netlist.TerminalID) verify.Finding {
	atA, atB := t.at([]netlist.TerminalID{a}), t.at([]netlist.TerminalID{b})
	f := verify.Finding{Rule: "exchanged", Severity: diag.Fault, Terminals: []netlist.TerminalID{a, b},
		Nets: t.netNames(t.labelOf(a), t.labelOf(b))}
	for _, j := range slices.Concat(atA, atB) {
		f.Evidence = appendNote(f.Evidence, quoteJoint(j))
	}
	na, nb := t.called(a), t.called(b)
	switch {
	case len(atA) == 0 || len(atB) == 0:
		if len(atA) == 0 {
			na, nb, a, b = nb, na, b, a
		}
		f.Rule, f.Terminals = "misplaced", []netlist.TerminalID{a, b}
		f.Message = fmt.Sprintf("what is at %s belongs at %s", na, nb)
		f.Action = fmt.Sprintf("move it all from %s to %s", na, nb)
		f.Check = fmt.Sprintf("count the terminals of %s, and look which one is wired.", t.book.Terminals[a].Part.Ref)
	case len(atA) == 1 && len(atB) == 1:
		f.Message = fmt.Sprintf("%s, at %s, and %s, at %s, are on each other's places", t.endText(atA[0], otherEnd(atA[0], a)), na, t.endText(atB[0], otherEnd(atB[0], b)), nb)
		f.Action = fmt.Sprintf("exchange them: the one at %s goes to %s, the other to %s", na, nb, na)
	default:
		f.Message = fmt.Sprintf("all that is at %s and all that is at %s are on each other's places", na, nb)
		f.Action = fmt.Sprintf("exchange them: what is at %s goes to %s, what is at %s to %s", na, nb, nb, na)
	}
	if f.Check == "" {
		f.Check = fmt.Sprintf("buzz from %s to %s: it beeps, and must not.", na, t.markOf(t.labelOf(b), b))
	}
	f.Evidence = append(f.Evidence, t.planned(a, b)...)
	return f
}

func otherEnd(j *netlist.Joint, t netlist.TerminalID) netlist.TerminalID { return j.A + j.B - t }

func (t *teller) partsExchanged(p, q *netlist.Part) verify.Finding {
	f := verify.Finding{Rule: "exchanged", Severity: diag.Fault,
		Message: fmt.Sprintf("%s and %s sit in each other's places", p.Ref, q.Ref),
		Action:  fmt.Sprintf("exchange %s and %s", p.Ref, q.Ref),
		Check:   fmt.Sprintf("read the marking of the part where %s should be.", p.Ref),
	}
	for _, part := range []*netlist.Part{p, q} {
		f.Terminals = append(f.Terminals, part.Terminals[:len(part.Kind.Terminals)]...)
	}
	for _, id := range f.Terminals {
		f.Nets = appendNew(f.Nets, t.netNames(t.labelOf(id))...)
	}
	for _, j := range t.at(f.Terminals) {
		f.Evidence = appendNote(f.Evidence, quoteJoint(j))
	}
	return f
}

// lugsExchanged are the two lugs of a part whose wires are on each other's places:
// what is bolted into a panel is not turned round, its wires are.
func (t *teller) lugsExchanged(p *netlist.Part, perm []int) (a, b string, ok bool) {
	var moved []string
	for i, at := range perm {
		if at == i {
			continue
		}
		if t.brought(p.Terminals[i]) {
			return "", "", false
		}
		moved = append(moved, t.called(p.Terminals[i]))
	}
	if len(moved) != 2 {
		return "", "", false
	}
	return moved[0], moved[1], true
}
