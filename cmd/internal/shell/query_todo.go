package shell

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// A todoItem is one thing to do at the bench.
type todoItem struct {
	Fit     string     `json:"fit"`   // the part to be fitted, "" for a joint
	Value   string     `json:"value"` // of a part to be fitted: its kind and figures
	Where   string     `json:"where"` // of a part to be fitted: its terminals and their nets
	From    string     `json:"from"`
	To      string     `json:"to"`
	Net     string     `json:"net"`
	Message string     `json:"message"`
	Finding findingDoc `json:"finding"`
	parts   []*netlist.Part
}

// A todoGroup is what can be done in one place.
type todoGroup struct {
	At    string           `json:"at"` // the part where it is done; "" for parts to be fitted
	Kind  string           `json:"kind"`
	Items listOf[todoItem] `json:"items"`
}

type todoAnswer struct {
	Groups listOf[todoGroup] `json:"groups"`
	Made   int               `json:"joints_made"`
	Joints int               `json:"joints"`
	count  int
	word   string
}

func askTodo(s *Session, a *asked) (answer, *diag.Diagnostic) {
	keep, wrong := s.todoFilter(a)
	if wrong != nil {
		return nil, wrong
	}
	v := s.verdict()
	found := todoAnswer{Made: v.made, Joints: v.of, word: a.word(0)}
	var fits, joins []todoItem
	for _, f := range v.findings {
		if !toWire(f) || !keep(f) {
			continue
		}
		item := s.todoItem(f)
		found.count++
		if item.Fit != "" {
			fits = append(fits, item)
		} else {
			joins = append(joins, item)
		}
	}
	if len(fits) > 0 {
		found.Groups = append(found.Groups, todoGroup{Items: fits})
	}
	found.Groups = append(found.Groups, byPlace(joins)...)
	return found, nil
}

// toWire reports whether a finding is work that is left: missing, whether it
// is a fault already or not.
func toWire(f verify.Finding) bool {
	return f.ToDo || f.Rule == "missing-joint" || f.Rule == "unfitted" || f.Rule == "left-out"
}

func (s *Session) todoFilter(a *asked) (keep func(verify.Finding) bool, wrong *diag.Diagnostic) {
	word := a.word(0)
	if word == "" {
		return func(verify.Finding) bool { return true }, nil
	}
	part, net := s.book.Part(word), s.book.NetNamed(word)
	if part == nil && net == nil {
		return nil, unknown(a.place(0), "no part or net is called "+word, nearestName(word, append(s.partNames(nil), s.netNames()...)))
	}
	return func(f verify.Finding) bool {
		for _, t := range f.Terminals {
			if part != nil && s.book.Terminals[t].Part == part {
				return true
			}
		}
		for _, n := range f.Nets {
			if net != nil && strings.EqualFold(n, net.Name) {
				return true
			}
		}
		return false
	}, nil
}

func (s *Session) todoItem(f verify.Finding) todoItem {
	item := todoItem{Message: f.Message, Finding: findingDocs(s.book, []verify.Finding{f})[0]}
	if len(f.Nets) > 0 {
		item.Net = f.Nets[0]
	}
	for _, t := range f.Terminals {
		if p := s.book.Terminals[t].Part; p != nil {
			item.parts = append(item.parts, p)
		}
	}
	switch {
	case f.Rule == "unfitted" && len(item.parts) > 0:
		item.Fit = item.parts[0].Ref
		item.Value = item.parts[0].Kind.Name
		for _, v := range append(figureTexts(item.parts[0].Figures), item.parts[0].Words...) {
			item.Value += " " + v
		}
		item.Where = s.whereTo(item.parts[0])
	case len(f.Terminals) >= 2:
		item.From, item.To = s.benchName(f.Terminals[0]), s.benchName(f.Terminals[1])
	case len(f.Terminals) == 1:
		item.From = s.benchName(f.Terminals[0])
	}
	return item
}

// benchName is what a terminal is called at the bench: of a transformer's end,
// the colour of its lead.
func (s *Session) benchName(t netlist.TerminalID) string {
	if s.book.Terminals[t].Part == nil {
		return s.book.Name(t)
	}
	return s.leadOfEnd(t)
}

// nameOnPart is what a terminal is called where its part is known: with its
// electrode, "wiper" or "2-grid", where it is one.
func (s *Session) nameOnPart(t netlist.TerminalID) string {
	term := &s.book.Terminals[t]
	if term.Index >= 0 {
		if name := electrodeName(term.Part.Kind, term.Index); name != "" {
			return name
		}
	}
	return term.Name
}

// whereTo lists the nets of a part: "1 to grid-1, 2 to ground".
func (s *Session) whereTo(p *netlist.Part) string {
	var ends []string
	for _, t := range p.Terminals {
		if net := s.netName(t); net != "" {
			ends = append(ends, s.nameOnPart(t)+" to "+net)
		}
	}
	return strings.Join(ends, ", ")
}

// byPlace gathers joints at the parts where most of them are, so that a
// person can stay in one place for as long as there is work there.
func byPlace(items []todoItem) []todoGroup {
	var groups []todoGroup
	done := make([]bool, len(items))
	for left := len(items); left > 0; {
		at := busiest(items, done)
		var group todoGroup
		if at != nil {
			group.At, group.Kind = at.Ref, at.Kind.Name
		}
		for i, item := range items {
			if !done[i] && (at == nil || item.touches(at)) {
				done[i] = true
				left--
				if at != nil && len(item.parts) > 0 && item.parts[0] != at && item.To != "" {
					item.From, item.To = item.To, item.From
				}
				group.Items = append(group.Items, item)
			}
		}
		groups = append(groups, group)
	}
	return groups
}

func (i todoItem) touches(p *netlist.Part) bool {
	for _, q := range i.parts {
		if q == p {
			return true
		}
	}
	return false
}

// busiest is the part with the most joints left; of several the first on the
// parts list. Nil is that no joint left names a part.
func busiest(items []todoItem, done []bool) *netlist.Part {
	times := map[*netlist.Part]int{}
	var best *netlist.Part
	for i, item := range items {
		if done[i] {
			continue
		}
		for j, p := range item.parts {
			if j > 0 && p == item.parts[0] {
				continue
			}
			times[p]++
		}
	}
	for p, n := range times {
		if best == nil || n > times[best] || n == times[best] && p.Index < best.Index {
			best = p
		}
	}
	return best
}

func (a todoAnswer) write(p *page) {
	for _, g := range a.Groups {
		p.gap()
		if g.At == "" && len(g.Items) > 0 && g.Items[0].Fit != "" {
			p.line(0, strong("Parts to fit"))
		} else if g.At == "" {
			p.line(0, strong("Elsewhere"))
		} else {
			p.line(0, strong("At "+g.At), faint(" ("+g.Kind+")"))
		}
		var rows []row
		for _, i := range g.Items {
			rows = append(rows, i.cells())
		}
		p.table(2, rows)
	}
	p.gap()
	progress := fmt.Sprintf("%d of %s made", a.Made, count(a.Joints, "joint"))
	switch {
	case a.Joints == 0:
		p.say(0, 2, plain("The plan asks for no joints yet."))
	case a.count == 0 && a.word != "":
		p.say(0, 2, span{goodStyle, "Nothing is left to do at " + a.word}, plain("; in all, "+progress+"."))
	case a.count == 0:
		p.say(0, 2, span{goodStyle, "Nothing is left to do"}, plain(": "+progress+"."))
	default:
		p.say(0, 2, strong(count(a.count, "thing")+" to do"), plain("; "+progress+"."))
	}
}

func (i todoItem) cells() row {
	switch {
	case i.Fit != "":
		return row{{strong(i.Fit)}, cell(i.Value), cell(i.Where)}
	case i.To != "":
		return row{{strong(i.From)}, cell("to " + i.To), {faint("net " + i.Net)}}
	}
	return row{{strong(or(i.From, i.Net))}, cell(capital(sentence(i.Message)))}
}
