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

// A teller puts a verdict into the builder's words.
type teller struct {
	*adapted
	verdict *verdict
	found   []verify.Finding
	served  []Serving
	byRoot  map[int32][]int32 // the terminals of each piece, once asked for
}

func (t *teller) tell() {
	for i := range t.verdict.knots {
		t.knot(i, &t.verdict.knots[i])
	}
	lacking := map[int32]int{} // joints missing, by net
	for i := range t.verdict.missing {
		lacking[t.verdict.missing[i].label]++
	}
	for i := range t.verdict.missing {
		g := &t.verdict.missing[i]
		t.gap(g, lacking[g.label] == 1)
	}
	for _, p := range t.verdict.unfitted {
		t.unfitted(t.book.Parts[p])
	}
	for _, p := range t.verdict.strangers {
		t.stranger(t.book.Parts[p])
	}
	for i, p := range t.book.Parts {
		t.serving(i)
		if f := t.bench.Fittings[p]; f != nil && f.Absent {
			t.leftOut(p, f)
		}
	}
}

// leftOut tells a part of the plan that the bench says is not there.
func (t *teller) leftOut(p *netlist.Part, fit *netlist.Fitting) {
	f := verify.Finding{Rule: "left-out", Severity: diag.Caution,
		Message:  fmt.Sprintf("%s is in the plan, and the bench says that it is not there", p.Ref),
		Action:   fmt.Sprintf("fit %s, or strike it from the plan", p.Ref),
		Evidence: []diag.Note{{Place: fit.Fact.Place(), Text: fit.Fact.Text()}, {Place: p.Facts[0].Place(), Text: p.Facts[0].Text()}},
	}
	for _, id := range p.Terminals[:len(p.Kind.Terminals)] {
		if net := t.book.Net(id); net != netlist.NoNet {
			f.Terminals = append(f.Terminals, id)
			f.Nets = appendNew(f.Nets, t.book.Nets[net].Name)
			f.ToDo = f.ToDo || !t.bench.Complete(net)
		}
	}
	if len(f.Terminals) == 0 {
		return
	}
	if fit.Reason != "" {
		f.Severity = diag.Remark
		f.Cause = fmt.Sprintf("The notebook says why: %q.", fit.Reason)
	}
	t.found = append(t.found, f)
}

// knot tells what is wrong in one place, with the explanations as small.
func (t *teller) knot(n int, k *told) {
	group := fmt.Sprintf("knot-%d", n)
	first := len(t.found)
	for i := range k.remedies {
		f := t.remedy(&k.remedies[i])
		f.Group = group
		t.found = append(t.found, f)
	}
	most := ends(k.remedies)
	for i := range k.rivals {
		if ends(k.rivals[i].remedies)+len(k.rivals[i].more) > most || turnsRound(k.rivals[i].remedies) && !turnsRound(k.remedies) {
			continue // as few findings, and more to move
		}
		r, ok := t.rival(&k.rivals[i], t.found[first:])
		f := &t.found[first]
		if ok && len(f.Rivals) < mostRivals && !slices.Contains(f.Rivals, r) {
			f.Rivals = append(f.Rivals, r)
		}
	}
}

// mostRivals is how many other explanations are told; a person weighs no more.
const mostRivals = 3

// turnsRound says that an explanation has three ends in a ring.
func turnsRound(remedies []remedy) bool {
	return slices.ContainsFunc(remedies, func(r remedy) bool { return r.deed == ring })
}

// ends counts the ends that an explanation moves; a part that is turned counts
// as the two that a person has in hand.
func ends(remedies []remedy) int {
	n := 0
	for i := range remedies {
		if r := &remedies[i]; r.deed == turnOver {
			n += 2
		} else {
			n += len(r.moves)
		}
	}
	return n
}

// same says that two findings tell of the same thing at the same places.
func same(a, b *verify.Finding) bool {
	x, y := slices.Clone(a.Terminals), slices.Clone(b.Terminals)
	slices.Sort(x)
	slices.Sort(y)
	return a.Rule == b.Rule && (a.Message == b.Message || slices.Equal(x, y))
}

// rival tells another explanation as one sentence, and what would tell the
// two apart.
func (t *teller) rival(r *rival, told []verify.Finding) (verify.Rival, bool) {
	var messages, actions []string
	for i := range r.remedies {
		f := t.remedy(&r.remedies[i])
		if slices.ContainsFunc(told, func(o verify.Finding) bool { return same(&o, &f) }) {
			continue
		}
		messages = append(messages, f.Message)
		actions = append(actions, f.Action)
	}
	for i := range r.more {
		f := t.missing(&r.more[i])
		messages = append(messages, f.Message)
		actions = append(actions, f.Action)
	}
	if len(messages) == 0 {
		return verify.Rival{}, false
	}
	action := strings.Join(actions, "; ")
	if r.tag >= 0 && r.mark >= 0 {
		tag, mark := t.nameOf(r.tag), t.nameOf(r.mark)
		say := "joined"
		if !r.joined {
			say = "apart"
		}
		action += fmt.Sprintf(". To tell the two apart, look what %s was meant for: in the first explanation %s and %s end up %s", tag, tag, mark, say)
	}
	return verify.Rival{Message: strings.Join(messages, "; and "), Action: action}, true
}

// remedy tells one action.
func (t *teller) remedy(r *remedy) verify.Finding {
	switch r.deed {
	case takeOff:
		return t.takeOff(&r.moves[0])
	case put:
		if len(r.moves) > 1 {
			return t.landed(r.moves)
		}
		return t.put(&r.moves[0])
	case exchange, ring:
		return t.exchange(r.moves)
	}
	return t.turned(r.suspect)
}

// takeOff tells a joint that should not be there.
func (t *teller) takeOff(m *move) verify.Finding {
	j := t.of[m.joint]
	here, kept := t.side(m, int(m.side)), t.side(m, 1-int(m.side))
	f := t.finding("bridged", j)
	f.Terminals = []netlist.TerminalID{j.A, j.B}
	f.Nets = t.netNames(m.kept, m.from)
	stranger := t.strange(m.from)
	if t.strange(m.kept) {
		here, kept, stranger = kept, here, true
	}
	if stranger {
		f.Rule = "not-on-drawing"
		f.Message = fmt.Sprintf("%s joins %s, which no net of the plan knows, to %s", t.jointText(j), t.book.Name(here), t.onNet(t.book.Name(kept), f.Nets))
		f.Check = fmt.Sprintf("with it off, %s and %s must not beep.", t.book.Name(here), t.book.Name(kept))
	} else {
		f.Message = fmt.Sprintf("%s joins %s, which the plan keeps apart", t.jointText(j), netPair(f.Nets))
		f.Check = fmt.Sprintf("buzz from %s to %s: it beeps, and must not.", t.markOf(m.kept, kept), t.markOf(m.from, here))
	}
	f.Action = fmt.Sprintf("take %s off", t.shortJoint(j))
	f.Evidence = append(f.Evidence, t.planned(here, kept)...)
	return f
}

// put tells an end that is in the wrong place.
func (t *teller) put(m *move) verify.Finding {
	j := t.of[m.joint]
	here := t.side(m, int(m.side))
	kept := t.side(m, 1-int(m.side))
	f := t.finding("misplaced", j)
	f.Terminals = []netlist.TerminalID{here}
	f.Nets = t.netNames(m.from, m.net)
	sits := "where nothing of the plan is"
	switch {
	case t.strange(m.from):
		sits = "which no net of the plan knows"
	case m.from >= 0:
		sits = "on net " + t.netName(m.from)
	}
	f.Message = fmt.Sprintf("%s sits at %s, %s, and belongs on net %s", t.endText(j, kept), t.book.Name(here), sits, t.netName(m.net))
	to := t.markOf(m.net, netlist.NoTerminal)
	if m.to >= 0 {
		spot := t.spotOf(m.to)
		to = t.book.Name(spot)
		f.Terminals = append(f.Terminals, spot)
	}
	f.Terminals = append(f.Terminals, kept)
	f.Action = fmt.Sprintf("move that end from %s to %s", t.book.Name(here), to)
	f.Check = fmt.Sprintf("buzz from %s to %s: silent now, and it must beep.", t.book.Name(kept), to)
	f.Evidence = append(f.Evidence, t.planned(t.pointOfLabel(m.net), here)...)
	return f
}

// exchange tells two ends on each other's places, or three in a ring.
func (t *teller) exchange(moves []move) verify.Finding {
	j := t.of[moves[0].joint]
	f := t.finding("exchanged", j)
	var ends, places []string
	for i := range moves {
		m := &moves[i]
		here, kept := t.side(m, int(m.side)), t.side(m, 1-int(m.side))
		f.Terminals = append(f.Terminals, here)
		places = append(places, t.book.Name(here))
		ends = append(ends, t.endText(t.of[m.joint], kept))
		f.Nets = append(f.Nets, t.netNames(m.from)...)
		if i > 0 {
			f.Evidence = append(f.Evidence, quoteJoint(t.of[m.joint]))
		}
	}
	if p := t.wholePart(moves); p != nil {
		f.Rule = "reversed"
		f.Terminals = slices.Clone(p.Terminals[:2])
		f.Message = fmt.Sprintf("%s sits the other way round: %s is at %s and %s at %s",
			p.Ref, t.book.Name(t.side(&moves[0], 1-int(moves[0].side))), places[0], t.book.Name(t.side(&moves[1], 1-int(moves[1].side))), places[1])
		f.Action = fmt.Sprintf("turn %s round", p.Ref)
		f.Check = t.reversedCheck(p)
		f.Cause = t.polarCause(p)
		return f
	}
	if len(moves) == 2 {
		f.Message = fmt.Sprintf("%s, at %s, and %s, at %s, are on each other's places", ends[0], places[0], ends[1], places[1])
		f.Action = fmt.Sprintf("exchange them: the one at %s goes to %s, the other to %s", places[0], places[1], places[0])
	} else {
		f.Message = fmt.Sprintf("three ends are on each other's places in a ring: %s at %s, %s at %s, %s at %s",
			ends[0], places[0], ends[1], places[1], ends[2], places[2])
		f.Action = fmt.Sprintf("move what is at %s to %s, what is at %s to %s, and what is at %s to %s",
			places[0], places[1], places[1], places[2], places[2], places[0])
	}
	for i := range moves {
		f.Terminals = append(f.Terminals, t.side(&moves[i], 1-int(moves[i].side)))
	}
	m := &moves[0]
	f.Check = fmt.Sprintf("buzz from %s to %s: it beeps, and must not.", t.book.Name(t.side(m, 1-int(m.side))), places[0])
	f.Evidence = append(f.Evidence, t.planned(f.Terminals...)...)
	return f
}

// wholePart is the part of two ends that the two moved legs are all of.
func (t *teller) wholePart(moves []move) *netlist.Part {
	if len(moves) != 2 {
		return nil
	}
	var p *netlist.Part
	for i := range moves {
		kept := t.side(&moves[i], 1-int(moves[i].side))
		of := t.book.Terminals[kept].Part
		if of == nil || len(of.Kind.Terminals) != 2 || p != nil && of != p {
			return nil
		}
		p = of
	}
	return p
}

func (t *teller) polarCause(p *netlist.Part) string {
	for _, e := range p.Kind.Elements {
		switch {
		case e.Type == parts.Capacitance && e.Polar:
			return "An electrolytic the wrong way round heats up, and may burst."
		case e.Type == parts.Diode:
			return "A diode the wrong way round lets through what it should stop, and stops what it should let through."
		}
	}
	return ""
}

func (t *teller) reversedCheck(p *netlist.Part) string {
	for _, e := range p.Kind.Elements {
		if e.Type == parts.Capacitance && e.Polar || e.Type == parts.Diode {
			return fmt.Sprintf("look at the mark on the body of %s, and at the drawing.", p.Ref)
		}
	}
	return fmt.Sprintf("look which end of %s is which.", p.Ref)
}

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
	for belongs, at := range perm {
		if at < 0 || at == belongs || len(t.at([]netlist.TerminalID{p.Terminals[at]})) == 0 {
			continue
		}
		list = append(list, fmt.Sprintf("%s to %s", p.Kind.Terminals[at].Name, p.Kind.Terminals[belongs].Name))
	}
	return strings.Join(list, ", ")
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
	na, nb := t.book.Name(a), t.book.Name(b)
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

// gap tells a joint that is missing. Where it is the only one that its net
// lacks and a lead of the net ends on a place of its own, that lead was meant
// for it: one mistake and not two.
func (t *teller) gap(g *gap, only bool) {
	besides, wrongPin := t.besidesItsPin(g)
	g.ends = slices.DeleteFunc(g.ends, func(d dangle) bool {
		return t.book.Spare(netlist.TerminalID(t.joints[d.joint].ends[d.side])) != nil
	})
	f := t.missing(g)
	if wrongPin {
		g.ends = []dangle{besides}
		t.found = append(t.found, t.strayEnd(g))
		return
	}
	if only && len(g.ends) == 1 && t.complete(g.label) {
		stray := t.strayEnd(g)
		// A lead that ends in nothing was put wrongly; a leg on a tag of its
		// own rather waits for a lead that was forgotten.
		if t.of[g.ends[0].joint].Kind == netlist.Wire {
			f, stray = stray, f
		}
		f.Rivals = append(f.Rivals, verify.Rival{Message: stray.Message, Action: stray.Action})
		f.Evidence = appendNote(f.Evidence, stray.Evidence[0])
	}
	t.found = append(t.found, f)
}

// besidesItsPin finds a lead that ends at a spare pin of the part that lacks
// it: on the wrong pin, whether the wiring is complete or not.
func (t *teller) besidesItsPin(g *gap) (d dangle, ok bool) {
	for i := range g.ends {
		here := &t.book.Terminals[t.joints[g.ends[i].joint].ends[g.ends[i].side]]
		if t.book.Spare(netlist.TerminalID(t.joints[g.ends[i].joint].ends[g.ends[i].side])) == nil {
			continue
		}
		for _, piece := range []piece{g.a, g.b} {
			points := t.pointsOf(piece)
			if len(points) <= smallPiece && slices.ContainsFunc(points, func(p int32) bool { return t.book.Terminals[p].Part == here.Part && t.class[p] >= 0 }) {
				return g.ends[i], true
			}
		}
	}
	return dangle{}, false
}

func (t *teller) missing(g *gap) verify.Finding {
	a, b := t.nearest(g)
	net := t.netName(g.label)
	f := verify.Finding{
		Rule: "missing-joint", Severity: diag.Fault, ToDo: !t.complete(g.label),
		Terminals: []netlist.TerminalID{a, b}, Nets: []string{net},
		Message: fmt.Sprintf("%s and %s are not joined, and net %s has them as one conductor", t.name(a), t.name(b), net),
		Action:  fmt.Sprintf("join %s to %s", t.book.Name(a), t.book.Name(b)),
		Check:   fmt.Sprintf("buzz from %s to %s: silent now, and it must beep.", t.book.Name(a), t.book.Name(b)),
	}
	f.Evidence = t.planned(t.plannedIn(g.b, g.label), t.plannedIn(g.a, g.label))
	return f
}

// strayEnd tells a missing joint whose lead is there, with one end on a place
// where nothing else is.
func (t *teller) strayEnd(g *gap) verify.Finding {
	d := g.ends[0]
	j := t.of[d.joint]
	here := netlist.TerminalID(t.joints[d.joint].ends[d.side])
	kept := netlist.TerminalID(t.joints[d.joint].ends[1-d.side])
	a, b := t.nearest(g)
	to := a
	if t.verdict.scene.sets.find(t.verdict.of[kept]) == g.a.root {
		to = b
	}
	net := t.netName(g.label)
	f := t.finding("misplaced", j)
	f.Terminals, f.Nets = []netlist.TerminalID{here, to}, []string{net}
	f.Message = fmt.Sprintf("%s sits at %s, where nothing else is, and net %s lacks a joint to %s", t.endText(j, kept), t.book.Name(here), net, t.book.Name(to))
	f.Action = fmt.Sprintf("move that end from %s to %s", t.book.Name(here), t.book.Name(to))
	f.Check = fmt.Sprintf("buzz from %s to %s: silent now, and it must beep.", t.book.Name(kept), t.book.Name(to))
	f.Evidence = append(f.Evidence, t.planned(to)...)
	return f
}

func (t *teller) unfitted(p *netlist.Part) {
	f := verify.Finding{Rule: "unfitted", Severity: diag.Fault, ToDo: true,
		Message: fmt.Sprintf("%s has none of its joints", p.Ref),
		Action:  fmt.Sprintf("fit %s", p.Ref),
		Check:   fmt.Sprintf("look whether %s is there, and how it sits.", p.Ref)}
	var belongs []string
	for _, id := range p.Terminals[:len(p.Kind.Terminals)] {
		net := t.book.Net(id)
		if net == netlist.NoNet || t.class[id] < 0 {
			continue
		}
		f.Terminals = append(f.Terminals, id)
		f.Nets = appendNew(f.Nets, t.book.Nets[net].Name)
		if t.bench.Complete(net) {
			f.ToDo = false
		}
		if len(p.Kind.Terminals) <= 3 {
			belongs = append(belongs, fmt.Sprintf("%s on %s", p.Kind.Terminals[t.book.Terminals[id].Index].Name, t.book.Nets[net].Name))
		}
	}
	if len(belongs) > 0 {
		f.Action += ": " + strings.Join(belongs, ", ")
	}
	f.Evidence = []diag.Note{{Place: p.Facts[0].Place(), Text: p.Facts[0].Text()}}
	t.found = append(t.found, f)
}

// stranger tells a part that is wired in and that no net knows.
func (t *teller) stranger(p *netlist.Part) {
	f := verify.Finding{Rule: "not-on-drawing", Severity: diag.Fault,
		Terminals: slices.Clone(p.Terminals[:len(p.Kind.Terminals)]),
		Message:   fmt.Sprintf("%s is wired in, and no net of the plan knows it", p.Ref),
		Action:    fmt.Sprintf("take %s out, or give the plan its nets", p.Ref),
		Check:     fmt.Sprintf("look %s up in the drawing.", p.Ref),
	}
	for _, j := range t.at(f.Terminals) {
		f.Evidence = appendNote(f.Evidence, quoteJoint(j))
	}
	t.found = append(t.found, f)
}

// serving remembers a part whose like ends are used otherwise than drawn, and
// tells it where that has a consequence.
func (t *teller) serving(i int) {
	chosen := t.verdict.chosen[i]
	if chosen < 0 || t.verdict.asleep[i] {
		return
	}
	p := t.book.Parts[i]
	s := Serving{Part: p, Moved: t.movedBy(i, chosen)}
	if len(s.Moved) == 0 {
		return
	}
	t.served = append(t.served, s)
	// Of the ways round that come to the same on what is wired, the one with
	// the least consequence is meant.
	but := t.turns[i][chosen].but
	for k := range t.turns[i] {
		if slices.Equal(t.movedBy(i, int32(k)), s.Moved) {
			but = min(but, t.turns[i][k].but)
		}
	}
	if but == parts.None {
		return
	}
	f := verify.Finding{Rule: "ends-exchanged", Severity: diag.Caution}
	var list []string
	for _, m := range s.Moved {
		f.Terminals = append(f.Terminals, m[0])
		list = append(list, fmt.Sprintf("%s does the work of %s", t.book.Name(m[0]), t.book.Name(m[1])))
	}
	f.Message = strings.Join(list, ", ")
	f.Cause = "That turns the signal over: inside a feedback loop it makes a howl of the loop; elsewhere it does nothing that is heard."
	if but == parts.Hum {
		f.Severity = diag.Remark
		f.Cause = "The circuit is the same; it may pick up a little more hum."
	}
	f.Action = "exchange them, if it howls or hums; else leave it"
	for _, j := range t.at(f.Terminals) {
		f.Evidence = appendNote(f.Evidence, quoteJoint(j))
	}
	t.found = append(t.found, f)
}

// movedBy are the terminals that do another's work in a way round, as far as
// the plan asks for them.
func (t *teller) movedBy(part int, way int32) [][2]netlist.TerminalID {
	p := t.book.Parts[part]
	var moved [][2]netlist.TerminalID
	for k, role := range t.parts[part].alike[way].to {
		at, does := p.Terminals[k], p.Terminals[role]
		if at != does && t.labelled(at, does) {
			moved = append(moved, [2]netlist.TerminalID{at, does})
		}
	}
	return moved
}

// labelled says that the plan wants something at one of the two.
func (t *teller) labelled(a, b netlist.TerminalID) bool { return t.class[a] >= 0 || t.class[b] >= 0 }
