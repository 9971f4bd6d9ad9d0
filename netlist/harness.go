package netlist

import (
	"strings"

	"buzzout/netlist/conn"
	"buzzout/netlist/parts"
)

// A Harness is what is joined to what: the wiring as drawn or as built, under
// one meaning of the leads' colours, in one setting. Its points are the
// terminals of the book, by TerminalID; its joins are listed in Joins, by the
// number that the graph gives them.
type Harness struct {
	Book  *Book
	Graph *conn.Graph
	Joins []Join

	bench   *Bench // of the wiring as built; nil as drawn
	islands *conn.Islands
}

// A JoinKind says what holds two points together.
type JoinKind uint8

// The kinds of join.
const (
	_         JoinKind = iota
	ByPlan             // the plan says that they are one conductor
	ByJoint            // a joint on the bench
	ByContact          // a contact, closed in this setting
	Inside             // one conductor inside a part
	ByColour           // a lead and the end that it is
	ByPlug             // a plug's contacts in a jack
)

// A Join is one thing that holds two points together.
type Join struct {
	Kind    JoinKind
	A, B    TerminalID
	Fact    *Fact          // that made it; nil for ByContact, Inside, ByColour and ByPlug
	Joint   *Joint         // for ByJoint
	Part    *Part          // for ByContact, Inside, ByColour and ByPlug
	Contact *parts.Contact // for ByContact
}

// Planned draws the wiring that the plan intends.
func (b *Book) Planned(m Meaning, s Setting) *Harness {
	h := b.harness(len(b.Terminals))
	for _, n := range b.Nets {
		for i, member := range n.Members {
			if i > 0 {
				h.join(Join{Kind: ByPlan, A: n.Members[0].Terminal, B: member.Terminal, Fact: member.Fact})
			}
		}
	}
	h.ofParts(m, s)
	return h
}

// Built draws the wiring as it is on the bench.
func (b *Bench) Built(m Meaning, s Setting) *Harness {
	h := b.Book.harness(len(b.Joints))
	h.bench = b
	h.pads()
	for i := range b.Joints {
		j := &b.Joints[i]
		h.join(Join{Kind: ByJoint, A: j.A, B: j.B, Fact: j.Fact, Joint: j})
	}
	h.ofParts(m, s)
	return h
}

func (b *Book) harness(joins int) *Harness {
	return &Harness{Book: b, Graph: conn.New(len(b.Terminals), joins+len(b.Terminals)/2)}
}

func (h *Harness) join(j Join) {
	h.Graph.Join(int32(j.A), int32(j.B))
	h.Joins = append(h.Joins, j)
}

// pads joins each piece of print with the pads that are part of it.
func (h *Harness) pads() {
	for _, p := range h.Book.Prints {
		for _, t := range p.Pads {
			h.join(Join{Kind: ByJoint, A: p.ID, B: t, Fact: p.Fact,
				Joint: &Joint{Kind: Pad, A: p.ID, B: t, Fact: p.Fact, Place: p.Fact.Place(), Lead: -1}})
		}
	}
}

// ofParts adds what the parts join by themselves; a part that is not there
// joins nothing.
func (h *Harness) ofParts(m Meaning, s Setting) {
	for p, as := range h.There() {
		k := as.Kind
		if k.JoinedAny || len(k.Joined) > 0 {
			h.inside(p, k, s)
		}
		for i := range k.Contacts {
			c := &k.Contacts[i]
			at := s.PositionOf(ControlRef{p, c.Control})
			for _, closed := range c.Positions {
				if closed == at.Index {
					h.join(Join{Kind: ByContact, A: p.Terminals[c.A], B: p.Terminals[c.B], Part: p, Contact: c})
				}
			}
		}
		for i := range k.Controls {
			if plug := s.PositionOf(ControlRef{p, i}).Plug; plug != nil {
				h.plug(p, plug)
			}
		}
		for _, t := range p.Terminals[len(k.Terminals):] {
			if end, ok := m.Ends[t]; ok {
				h.join(Join{Kind: ByColour, A: t, B: end, Part: p})
			}
		}
	}
}

// inside joins what is one conductor inside a part; inside a valve that is so
// only while it is in its socket.
func (h *Harness) inside(p *Part, k *parts.Kind, s Setting) {
	if k.JoinedAny {
		for i, t := range p.Terminals {
			if i > 0 {
				h.join(Join{Kind: Inside, A: p.Terminals[0], B: t, Part: p})
			}
		}
	}
	if !p.Seated(s) {
		return
	}
	for _, set := range k.Joined {
		for i, t := range set {
			if i > 0 {
				h.join(Join{Kind: Inside, A: p.Terminals[set[0]], B: p.Terminals[t], Part: p})
			}
		}
	}
}

// Seated says that what is inside the part counts in a setting: it has no
// socket, or it is in it.
func (p *Part) Seated(s Setting) bool {
	seat := p.Kind.Seat
	if seat < 0 {
		return true
	}
	at := s.PositionOf(ControlRef{p, seat})
	return p.Kind.Controls[seat].Positions[at.Index] == "in"
}

// plug joins the like-named contacts of a jack and of the plug in it.
func (h *Harness) plug(jack, plug *Part) {
	for i, t := range jack.Kind.Terminals {
		for k, other := range plug.Kind.Terminals {
			if strings.EqualFold(t.Name, other.Name) {
				h.join(Join{Kind: ByPlug, A: jack.Terminals[i], B: plug.Terminals[k], Part: jack})
			}
		}
	}
}

// Islands are the conductors: the sets of terminals that are joined. They are
// worked out once; a Harness may not be asked by two at a time before that.
func (h *Harness) Islands() *conn.Islands {
	if h.islands == nil {
		h.islands = h.Graph.Islands()
	}
	return h.islands
}

// Joined says that two terminals are one conductor.
func (h *Harness) Joined(a, b TerminalID) bool {
	of := h.Islands().Of
	return of[a] == of[b]
}

// Path is the way from one terminal to another over the fewest joins; nil
// where there is none.
func (h *Harness) Path(a, b TerminalID) []PathStep {
	steps := h.Graph.Path(int32(a), int32(b))
	path := make([]PathStep, 0, len(steps))
	for _, s := range steps {
		p := PathStep{At: TerminalID(s.Point)}
		if s.Join >= 0 {
			p.By = &h.Joins[s.Join]
		}
		path = append(path, p)
	}
	return path
}

// A PathStep is a terminal on a path, and the join that led to it; nil at the
// path's start.
type PathStep struct {
	At TerminalID
	By *Join
}
