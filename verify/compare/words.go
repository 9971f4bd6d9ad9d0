package compare

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// finding begins a finding about a joint.
func (t *teller) finding(rule string, j *netlist.Joint) verify.Finding {
	return verify.Finding{Rule: rule, Severity: diag.Fault, Evidence: []diag.Note{quoteJoint(j)}}
}

func quoteJoint(j *netlist.Joint) diag.Note {
	return diag.Note{Place: j.Place, Text: j.Fact.Text()}
}

// planned quotes where the plan puts terminals.
func (t *teller) planned(ids ...netlist.TerminalID) []diag.Note {
	var notes []diag.Note
	for _, id := range ids {
		if id == netlist.NoTerminal {
			continue
		}
		if m := t.book.Mention(id); m.Fact != nil {
			notes = appendNote(notes, diag.Note{Place: m.Place, Text: m.Fact.Text()})
		}
	}
	return notes
}

// appendNote adds a note whose fact has not been quoted.
func appendNote(notes []diag.Note, n diag.Note) []diag.Note {
	if slices.ContainsFunc(notes, func(o diag.Note) bool { return o.Text == n.Text && o.Place.Source == n.Place.Source }) {
		return notes
	}
	return append(notes, n)
}

func appendNew(list []string, names ...string) []string {
	for _, n := range names {
		if !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list
}

// jointText says what a joint is, with both its ends.
func (t *teller) jointText(j *netlist.Joint) string {
	a, b := t.called(j.A), t.called(j.B)
	switch j.Kind {
	case netlist.Wire, netlist.Screen:
		return fmt.Sprintf("%s from %s to %s", t.leadText(j), a, b)
	case netlist.Leg:
		return fmt.Sprintf("the leg %s, at %s,", a, b)
	case netlist.Hole:
		return fmt.Sprintf("the leg %s, in a hole of %s,", a, b)
	case netlist.Bolt:
		return fmt.Sprintf("the bolt from %s to %s", a, b)
	}
	return fmt.Sprintf("the solder joint of %s and %s", a, b)
}

func (t *teller) leadText(j *netlist.Joint) string {
	what := "lead"
	if j.Kind == netlist.Screen {
		what = "screen of the lead"
	}
	text := "the"
	if !j.Colour.IsZero() {
		text += " " + j.Colour.String()
	}
	text += " " + what
	if j.Label != "" {
		text += " “" + j.Label + "”"
	}
	return text
}

// shortJoint names a joint that has been told of.
func (t *teller) shortJoint(j *netlist.Joint) string {
	switch j.Kind {
	case netlist.Wire, netlist.Screen:
		return t.leadText(j)
	case netlist.Leg, netlist.Hole:
		return "the leg " + t.called(j.A)
	}
	return fmt.Sprintf("the joint of %s and %s", t.called(j.A), t.called(j.B))
}

// endText says what ends somewhere: a lead from its other end, or a leg.
func (t *teller) endText(j *netlist.Joint, kept netlist.TerminalID) string {
	switch j.Kind {
	case netlist.Wire, netlist.Screen:
		return fmt.Sprintf("%s from %s", t.leadText(j), t.called(kept))
	case netlist.Leg, netlist.Hole:
		if kept == j.A {
			return "the leg " + t.called(kept)
		}
		return fmt.Sprintf("the joint of the leg %s", t.called(j.A))
	}
	if t.brought(kept) {
		return t.called(kept)
	}
	return fmt.Sprintf("the joint from %s", t.called(kept))
}

// side is the terminal at one end of a moved joint.
func (t *teller) side(m *move, side int) netlist.TerminalID {
	return netlist.TerminalID(t.joints[m.joint].ends[side])
}

// strange says that a label is that of a terminal which no net knows.
func (t *teller) strange(label int32) bool { return label >= 0 && t.verdict.isAlien(label) }

// netNames are the nets behind labels, each once.
func (t *teller) netNames(labels ...int32) []string {
	var list []string
	for _, label := range labels {
		if label >= 0 && !t.verdict.isAlien(label) {
			list = appendNew(list, t.netName(label))
		}
	}
	return list
}

// netName is the name of a net, or of those that are one conductor.
func (t *teller) netName(label int32) string {
	if label < 0 || t.verdict.isAlien(label) {
		return ""
	}
	var names []string
	for n, of := range t.verdict.netOf {
		if of == label {
			names = append(names, t.book.Nets[n].Name)
		}
	}
	return strings.Join(names, "/")
}

func netPair(nets []string) string {
	if len(nets) == 2 {
		return nets[0] + " and " + nets[1]
	}
	return "what"
}

func (t *teller) onNet(name string, nets []string) string {
	if len(nets) > 0 {
		return fmt.Sprintf("%s, on net %s", name, nets[0])
	}
	return name
}

// complete says that what is missing on a net is a fault.
func (t *teller) complete(label int32) bool {
	for n, of := range t.verdict.netOf {
		if of == label && t.bench.Complete(netlist.NetID(n)) {
			return true
		}
	}
	return false
}

// called is a terminal's name as somebody at the bench knows it: of an end from
// which a coloured lead flies, the lead, with the end.
func (t *teller) called(id netlist.TerminalID) string {
	term := &t.book.Terminals[id]
	if term.Part == nil || term.Index < 0 {
		return t.book.Name(id)
	}
	for _, lead := range term.Part.Terminals[len(term.Part.Kind.Terminals):] {
		if end, known := t.meaning.Ends[lead]; known && end == id {
			return t.book.Name(lead) + " (" + term.Name + ")"
		}
	}
	return t.book.Name(id)
}

// spare is the fact that says that nothing belongs at a terminal, or at the end
// that a lead is; nil where none does.
func (t *teller) spare(id netlist.TerminalID) *netlist.Fact {
	if end, known := t.meaning.Ends[id]; known {
		id = end
	}
	return t.book.Spare(id)
}

// name is how a terminal is called in a finding: one that does the work of
// another, because the part is used the other way round, says so.
func (t *teller) name(id netlist.TerminalID) string {
	name := t.called(id)
	term := &t.book.Terminals[id]
	if term.Part == nil || term.Index < 0 {
		return name
	}
	part := term.Part.Index
	if way := t.verdict.chosen[part]; way >= 0 {
		if role := t.parts[part].alike[way].to[term.Index]; int(role) != term.Index && t.labelled(id, term.Part.Terminals[role]) {
			return fmt.Sprintf("%s (in place of %s)", name, t.called(term.Part.Terminals[role]))
		}
	}
	return name
}

// nameOn is how a terminal is called where a net is missing there: a pin that
// stands for the net's own, since all wires of its socket are off, says so.
func (t *teller) nameOn(id netlist.TerminalID, label int32) string {
	term := &t.book.Terminals[id]
	if term.Part == nil || term.Index < 0 || t.labelOf(id) < 0 || t.labelOf(id) == label {
		return t.name(id)
	}
	for _, other := range term.Part.Terminals[:len(term.Part.Kind.Terminals)] {
		if t.labelOf(other) == label {
			return fmt.Sprintf("%s (in place of %s)", t.called(id), t.called(other))
		}
	}
	return t.name(id)
}

// labelOf is the net that the plan wants a terminal on.
func (t *teller) labelOf(id netlist.TerminalID) int32 {
	return t.verdict.base[t.verdict.of[id]]
}

// pointOf is the terminal by which a conductor is named: one that the plan
// knows, else its first.
func (t *teller) pointOf(conductor int32) netlist.TerminalID {
	best := netlist.NoTerminal
	for p, c := range t.verdict.of {
		if c != conductor || t.book.Terminals[p].Print != nil {
			continue
		}
		if t.class[p] >= 0 {
			return netlist.TerminalID(p)
		}
		if best == netlist.NoTerminal {
			best = netlist.TerminalID(p)
		}
	}
	if best == netlist.NoTerminal {
		return netlist.TerminalID(t.verdict.first[conductor])
	}
	return best
}

func (t *teller) nameOf(conductor int32) string { return t.called(t.pointOf(conductor)) }

// markOf names a terminal that stands for a net at the bench: not the one
// given, where there is another.
func (t *teller) markOf(label int32, not netlist.TerminalID) string {
	for n, of := range t.verdict.netOf {
		if of != label {
			continue
		}
		for _, m := range t.book.Nets[n].Members {
			if m.Terminal != not && t.class[m.Terminal] >= 0 {
				return t.called(m.Terminal)
			}
		}
	}
	return t.called(not)
}

func (t *teller) pointOfLabel(label int32) netlist.TerminalID {
	for n, of := range t.verdict.netOf {
		if of == label && len(t.book.Nets[n].Members) > 0 {
			return t.book.Nets[n].Members[0].Terminal
		}
	}
	return netlist.NoTerminal
}

// at are the joints at terminals, in the order made.
func (t *teller) at(ids []netlist.TerminalID) []*netlist.Joint {
	var list []*netlist.Joint
	for _, j := range t.of {
		if slices.Contains(ids, j.A) || slices.Contains(ids, j.B) {
			list = append(list, j)
		}
	}
	return list
}

// plannedIn is a terminal of a piece that the plan names on its net.
func (t *teller) plannedIn(p piece, label int32) netlist.TerminalID {
	points := t.pointsOf(p)
	for _, point := range points {
		if t.class[point] >= 0 && t.book.Terminals[point].Print == nil {
			return netlist.TerminalID(point)
		}
	}
	if len(points) > 0 {
		return netlist.TerminalID(points[0])
	}
	return netlist.NoTerminal
}

// pointsOf are the terminals of a piece, rising.
func (t *teller) pointsOf(p piece) []int32 {
	if t.byRoot == nil {
		t.byRoot = map[int32][]int32{}
		for point, c := range t.verdict.of {
			root := t.verdict.scene.sets.find(c)
			t.byRoot[root] = append(t.byRoot[root], int32(point))
		}
	}
	return t.byRoot[t.verdict.scene.sets.find(p.root)]
}
