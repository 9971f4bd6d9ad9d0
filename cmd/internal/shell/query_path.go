package shell

import (
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A stepRow is one step of a way: what was passed, and where it led.
type stepRow struct {
	Via   string           `json:"via"`
	To    string           `json:"to"`
	Where listOf[placeDoc] `json:"where"`
	join  *netlist.Join
}

// A way from one terminal to another; Joined is false where there is none.
type way struct {
	Joined bool            `json:"joined"`
	Steps  listOf[stepRow] `json:"steps"`
}

type pathAnswer struct {
	From    string `json:"from"`
	To      string `json:"to"`
	Planned way    `json:"planned"`
	Built   way    `json:"built"`
	// Between are the parts that stand between the two conductors: an end on
	// the one, an end on the other.
	PlannedBetween listOf[string] `json:"planned_between"`
	BuiltBetween   listOf[string] `json:"built_between"`
	net            string         // as drawn, where both are on one net
	ends           [2]string
}

func askPath(s *Session, a *asked) (answer, *diag.Diagnostic) {
	from, wrong := s.terminalAsked(a, 0)
	if wrong != nil {
		return nil, wrong
	}
	to, wrong := s.terminalAsked(a, 1)
	if wrong != nil {
		return nil, wrong
	}
	w := s.wiring()
	planned := s.book.Planned(w.meaning, w.bench.Setting)
	found := pathAnswer{
		From: s.book.Name(from), To: s.book.Name(to),
		Planned: s.way(planned, from, to), Built: s.way(w.built, from, to),
		ends: [2]string{s.netName(from), s.netName(to)},
	}
	if !found.Planned.Joined {
		found.PlannedBetween = between(planned, from, to)
	}
	if !found.Built.Joined {
		found.BuiltBetween = between(w.built, from, to)
	}
	if s.book.Net(from) != netlist.NoNet && s.book.Net(from) == s.book.Net(to) {
		found.net = s.netName(from)
	}
	return found, nil
}

// between lists the parts with an element that reaches from the one conductor
// to the other.
func between(h *netlist.Harness, from, to netlist.TerminalID) []string {
	islands := h.Graph.Islands()
	here, there := islands.Of[from], islands.Of[to]
	var refs []string
	for _, p := range h.Book.Parts {
		for _, e := range p.Kind.Elements {
			near, far := false, false
			for _, end := range e.Ends {
				at := islands.Of[p.Terminals[end]]
				near = near || at == here
				far = far || at == there
			}
			if near && far {
				refs = append(refs, p.Ref)
				break
			}
		}
	}
	return refs
}

func (s *Session) netName(t netlist.TerminalID) string {
	if n := s.book.Net(t); n != netlist.NoNet {
		return s.book.Nets[n].Name
	}
	return ""
}

func (s *Session) way(h *netlist.Harness, from, to netlist.TerminalID) way {
	steps := h.Graph.Path(int32(from), int32(to))
	if steps == nil {
		return way{}
	}
	found := way{Joined: true}
	for _, step := range steps {
		if step.Join < 0 {
			continue
		}
		j := &h.Joins[step.Join]
		found.Steps = append(found.Steps, stepRow{
			Via: s.via(j), To: s.book.Name(netlist.TerminalID(step.Point)), Where: factPlaces(j.Fact), join: j,
		})
	}
	return found
}

// via says in a few words what holds two points together.
func (s *Session) via(j *netlist.Join) string {
	switch j.Kind {
	case netlist.ByPlan:
		return "net " + s.netName(j.A)
	case netlist.ByJoint:
		how := howJoined(*j.Joint)
		if j.Joint.Kind == netlist.Wire {
			how = j.Joint.Colour.String() + " lead"
		}
		if j.Joint.Label != "" {
			how += " “" + j.Joint.Label + "”"
		}
		return how
	case netlist.ByContact:
		return "contact of " + j.Part.Ref
	case netlist.Inside:
		return "inside " + j.Part.Ref
	case netlist.ByColour:
		return "the lead's own end"
	case netlist.ByPlug:
		return "plug " + j.Part.Ref
	}
	return ""
}

func (a pathAnswer) write(p *page) {
	switch {
	case a.net != "":
		p.say(0, 2, plain("As drawn, "+a.From+" and "+a.To+" are one conductor: net "), strong(a.net), plain("."))
	case a.Planned.Joined:
		p.say(0, 2, plain("As drawn, "+a.From+" and "+a.To+" are joined, in these positions of the switches and plugs:"))
		a.Planned.write(p, a.From)
	default:
		p.say(0, 2, plain("As drawn, "+a.From+" and "+a.To+" are not joined: "+onNet(a.From, a.ends[0])+", "+onNet(a.To, a.ends[1])+"."))
		p.between(a.PlannedBetween)
	}
	p.gap()
	if !a.Built.Joined {
		p.say(0, 2, plain("On the bench there is no way from "+a.From+" to "+a.To+", in these positions of the switches and plugs."))
		p.between(a.BuiltBetween)
		return
	}
	p.say(0, 2, plain("On the bench, over "+count(len(a.Built.Steps), "step")+":"))
	a.Built.write(p, a.From)
}

func (p *page) between(refs []string) {
	if len(refs) > 0 {
		p.say(2, 4, plain("Between the two conductors: "+joinAnd(refs)+"."))
	}
}

func onNet(terminal, net string) string {
	if net == "" {
		return terminal + " is on no net"
	}
	return terminal + " is on net " + net
}

func (w way) write(p *page, from string) {
	p.line(2, strong(from))
	for _, step := range w.Steps {
		via := []span{plain(step.Via)}
		if j := step.join.Joint; step.join.Kind == netlist.ByJoint && j.Kind == netlist.Wire {
			via = append(swatch(j.Colour), plain(step.Via[len(j.Colour.String()):]))
		}
		p.line(2, append([]span{strong(step.To), faint("  by ")}, via...)...)
		if step.join.Fact != nil {
			p.quote(6, []diag.Note{{Place: step.join.Fact.Place()}})
		}
	}
}
