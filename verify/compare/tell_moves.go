package compare

import (
	"fmt"
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

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
		f.Message = fmt.Sprintf("%s joins %s, which no net of the plan knows, to %s", t.jointText(j), t.called(here), t.onNet(t.called(kept), f.Nets))
		f.Check = fmt.Sprintf("with it off, %s and %s must not beep.", t.called(here), t.called(kept))
	} else {
		f.Message = fmt.Sprintf("%s joins %s, which the plan keeps apart", t.jointText(j), netPair(f.Nets))
		f.Check = fmt.Sprintf("buzz from %s to %s: it beeps, and must not.", t.markOf(m.kept, kept), t.markOf(m.from, here))
	}
	f.Action = fmt.Sprintf("take %s off", t.shortJoint(j))
	if nets := t.netNames(m.kept); (j.Kind == netlist.Leg || j.Kind == netlist.Hole) && len(nets) == 1 && !stranger {
		f.Action += fmt.Sprintf(" %s; it belongs on net %s", t.called(here), nets[0])
	}
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
	f.Message = fmt.Sprintf("%s sits at %s, %s, and belongs on net %s", t.endText(j, kept), t.called(here), t.sits(m.from), t.netName(m.net))
	to := t.markOf(m.net, netlist.NoTerminal)
	if m.to >= 0 {
		spot := t.spotOf(m.to, kept)
		to = t.called(spot)
		f.Terminals = append(f.Terminals, spot)
	}
	f.Terminals = append(f.Terminals, kept)
	f.Action = fmt.Sprintf("move that end from %s to %s", t.called(here), to)
	f.Check = fmt.Sprintf("buzz from %s to %s: silent now, and it must beep.", t.called(kept), to)
	f.Evidence = append(f.Evidence, t.planned(t.pointOfLabel(m.net), here)...)
	return f
}

// sits says what a place is to which an end was brought.
func (t *teller) sits(from int32) string {
	switch {
	case t.strange(from):
		return "which no net of the plan knows"
	case from >= 0:
		return "on net " + t.netName(from)
	}
	return "where nothing of the plan is"
}

// exchange tells two ends on each other's places, or three in a ring.
func (t *teller) exchange(moves []move) verify.Finding {
	j := t.of[moves[0].joint]
	f := t.finding("exchanged", j)
	var ends, places []string
	moves = t.byLeads(moves)
	for i := range moves {
		m := &moves[i]
		here, kept := t.side(m, int(m.side)), t.side(m, 1-int(m.side))
		f.Terminals = append(f.Terminals, here)
		places = append(places, t.called(here))
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
			p.Ref, t.called(t.side(&moves[0], 1-int(moves[0].side))), places[0], t.called(t.side(&moves[1], 1-int(moves[1].side))), places[1])
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
	f.Check = fmt.Sprintf("buzz from %s to %s: it beeps, and must not.", t.called(t.side(m, 1-int(m.side))), places[0])
	f.Evidence = append(f.Evidence, t.planned(f.Terminals...)...)
	return f
}

// byLeads looks at two joints that changed places from their other ends, where
// what is at them flies from a part: the leads go elsewhere, not the lugs.
func (t *teller) byLeads(moves []move) []move {
	if len(moves) != 2 {
		return moves
	}
	for i := range moves {
		m := &moves[i]
		if !t.flies(t.side(m, int(m.side))) || t.flies(t.side(m, 1-int(m.side))) {
			return moves
		}
	}
	turned := slices.Clone(moves)
	for i := range turned {
		turned[i].side = 1 - turned[i].side
	}
	return turned
}

// flies says that a terminal is a lead that comes with its part.
func (t *teller) flies(id netlist.TerminalID) bool { return t.book.Terminals[id].Lead }

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
	for _, e := range t.bench.Fitted(p).Kind.Elements {
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
	for _, e := range t.bench.Fitted(p).Kind.Elements {
		if e.Type == parts.Capacitance && e.Polar || e.Type == parts.Diode {
			return fmt.Sprintf("look at the mark on the body of %s, and at the drawing.", p.Ref)
		}
	}
	return fmt.Sprintf("look which end of %s is which.", p.Ref)
}
