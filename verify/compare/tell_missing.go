package compare

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

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

// gap tells a joint that is missing. Where it is the only one that its net
// lacks and a lead of the net ends on a place of its own, that lead was meant
// for it: one mistake and not two.
func (t *teller) gap(g *gap, only bool) {
	besides, wrongPin := t.besidesItsPin(g)
	g.ends = slices.DeleteFunc(g.ends, func(d dangle) bool {
		return t.spare(netlist.TerminalID(t.joints[d.joint].ends[d.side])) != nil
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
		id := netlist.TerminalID(t.joints[g.ends[i].joint].ends[g.ends[i].side])
		if t.spare(id) == nil {
			continue
		}
		here := &t.book.Terminals[id]
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
		Message: fmt.Sprintf("%s and %s are not joined, and net %s has them as one conductor", t.nameOn(a, g.label), t.nameOn(b, g.label), net),
		Action:  fmt.Sprintf("join %s to %s", t.called(a), t.called(b)),
		Check:   fmt.Sprintf("buzz from %s to %s: silent now, and it must beep.", t.called(a), t.called(b)),
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
	f.Message = fmt.Sprintf("%s sits at %s, where nothing else is, and net %s lacks a joint to %s", t.endText(j, kept), t.called(here), net, t.called(to))
	f.Action = fmt.Sprintf("move that end from %s to %s", t.called(here), t.called(to))
	f.Check = fmt.Sprintf("buzz from %s to %s: silent now, and it must beep.", t.called(kept), t.called(to))
	f.Evidence = append(f.Evidence, t.planned(to)...)
	if t.flies(here) && t.book.Terminals[to].Part == t.book.Terminals[here].Part {
		f.Message = fmt.Sprintf("the lead %s is at %s, where net %s wants %s", t.called(here), t.called(kept), net, t.called(to))
		f.Action = fmt.Sprintf("take %s off %s and put %s there", t.called(here), t.called(kept), t.called(to))
	}
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
