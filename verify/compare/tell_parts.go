package compare

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

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
		list = append(list, fmt.Sprintf("%s does the work of %s", t.called(m[0]), t.called(m[1])))
	}
	f.Message = parts.Listed(list)
	f.Cause = "That turns the signal over: inside a feedback loop it makes a howl of the loop; elsewhere it does nothing that is heard."
	if but == parts.Hum {
		f.Severity = diag.Remark
		f.Cause = "The circuit is the same; it may pick up a little more hum."
	}
	f.Action = "exchange them, if it howls or hums; else leave it"
	for _, j := range t.at(t.withLeads(f.Terminals)) {
		f.Evidence = appendNote(f.Evidence, quoteJoint(j))
	}
	t.found = append(t.found, f)
}

// withLeads are terminals and the coloured leads that fly from them: it is
// those that were soldered.
func (t *teller) withLeads(ids []netlist.TerminalID) []netlist.TerminalID {
	all := slices.Clone(ids)
	for _, id := range ids {
		term := &t.book.Terminals[id]
		if term.Part == nil || term.Index < 0 {
			continue
		}
		for _, lead := range term.Part.Terminals[len(term.Part.Kind.Terminals):] {
			if end, known := t.meaning.Ends[lead]; known && end == id {
				all = append(all, lead)
			}
		}
	}
	return all
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
