// Package states answers questions over the positions of plugs, switches and
// sockets: in which of them two points are one conductor, which contact made
// the difference, and which input reaches the first grid.
//
// A [Web] is a harness with all that is always joined taken together, so that
// only conductors and contacts are left. [Web.Walk] goes through the settings
// with joins that can be undone, which costs about one contact's work for each
// setting. On it stand [Scene.Why], [Scene.Difference] and [Mutes], and the
// rules over settings, which [Rules] lists.
package states

import (
	"slices"
	"strings"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A Web is a harness with its fixed joins taken together: conductors, and the
// contacts between them.
type Web struct {
	Book     *netlist.Book
	Harness  *netlist.Harness
	Controls []netlist.ControlRef // those that work a contact, in the order of their parts
	Contacts []Contact            // in the order of their parts

	conductor  []int32 // by terminal
	conductors int
}

// A Contact of a web joins two conductors while its control is in one of the
// positions.
type Contact struct {
	A, B    netlist.TerminalID
	Control int    // index in Web.Controls
	Closed  uint64 // a bit for each position in which it is closed
	Part    *netlist.Part
	// Inside says that this is no contact to see: what is joined inside a
	// valve, or a plug's own contact with its jack.
	Inside bool

	control int           // index in Part.Kind.Controls
	plug    *netlist.Part // whose contact with the jack this is; nil for a contact of the part's own
	a, b    int32         // conductors
}

// At says that the contact is closed in a position.
func (c *Contact) At(position int) bool { return c.Closed>>position&1 != 0 }

// PositionNames are the positions in which the contact is closed, as its part
// calls them.
func (c *Contact) PositionNames() []string {
	var names []string
	for i, name := range c.Part.Kind.Controls[c.control].Positions {
		if c.At(i) {
			names = append(names, name)
		}
	}
	return names
}

// A bond holds two terminals together in a web as if they were wired: what
// direct current passes, say. That of a part in a socket counts only while the
// part is in.
type bond struct {
	a, b netlist.TerminalID
	part *netlist.Part // nil for one that nothing can take off
}

// NewWeb takes together what is always joined in a harness. Plugs named in
// the setting meet their jacks as long as the jack is in that position.
func NewWeb(h *netlist.Harness, s netlist.Setting) *Web { return newWeb(h, s, nil) }

// newWeb is a web in which the bonds count as wiring.
func newWeb(h *netlist.Harness, s netlist.Setting, bonds []bond) *Web {
	w := &Web{Book: h.Book, Harness: h}
	joined := newSets(len(h.Book.Terminals))
	socketed := map[*netlist.Part][]bond{}
	for _, b := range bonds {
		if b.part != nil && b.part.Kind.Seat >= 0 {
			socketed[b.part] = append(socketed[b.part], b)
		} else {
			joined.join(int32(b.a), int32(b.b))
		}
	}
	w.contacts(s, socketed)
	for i := range h.Joins {
		switch j := &h.Joins[i]; j.Kind {
		case netlist.ByContact, netlist.ByPlug:
		case netlist.Inside:
			if j.Part.Kind.Seat < 0 || j.Part.Kind.JoinedAny {
				joined.join(int32(j.A), int32(j.B))
			}
		default:
			joined.join(int32(j.A), int32(j.B))
		}
	}
	w.conductor = make([]int32, len(h.Book.Terminals))
	number := make([]int32, len(h.Book.Terminals))
	for t := range w.conductor {
		root := joined.find(int32(t))
		if number[root] == 0 {
			w.conductors++
			number[root] = int32(w.conductors)
		}
		w.conductor[t] = number[root] - 1
	}
	for i := range w.Contacts {
		c := &w.Contacts[i]
		c.a, c.b = w.conductor[c.A], w.conductor[c.B]
	}
	return w
}

// contacts lists all that is joined in some positions only.
func (w *Web) contacts(s netlist.Setting, socketed map[*netlist.Part][]bond) {
	for p, as := range w.Harness.There() {
		k := as.Kind
		for i := range k.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			before := len(w.Contacts)
			number := len(w.Controls)
			for _, c := range k.Contacts {
				if c.Control == i {
					w.Contacts = append(w.Contacts, Contact{A: p.Terminals[c.A], B: p.Terminals[c.B], Control: number, Closed: mask(c.Positions), Part: p, control: i})
				}
			}
			if i == k.Seat {
				in := slices.Index(k.Controls[i].Positions, "in")
				for _, b := range socketed[p] {
					w.Contacts = append(w.Contacts, Contact{A: b.a, B: b.b, Control: number, Closed: 1 << in, Part: p, Inside: true, control: i})
				}
				for _, set := range k.Joined {
					for _, t := range set[1:] {
						w.Contacts = append(w.Contacts, Contact{A: p.Terminals[set[0]], B: p.Terminals[t], Control: number, Closed: 1 << in, Part: p, Inside: true, control: i})
					}
				}
			}
			if at := s.PositionOf(ref); at.Plug != nil {
				w.plug(p, at, number, i)
			}
			if len(w.Contacts) > before {
				w.Controls = append(w.Controls, ref)
			}
		}
	}
}

func (w *Web) plug(jack *netlist.Part, at netlist.Position, number, control int) {
	for i, t := range jack.Kind.Terminals {
		for k, other := range at.Plug.Kind.Terminals {
			if strings.EqualFold(t.Name, other.Name) {
				w.Contacts = append(w.Contacts, Contact{A: jack.Terminals[i], B: at.Plug.Terminals[k], Control: number, Closed: 1 << at.Index, Part: jack, Inside: true, control: control, plug: at.Plug})
			}
		}
	}
}

func mask(positions []int) uint64 {
	var m uint64
	for _, p := range positions {
		m |= 1 << p
	}
	return m
}

// Conductor is the number of the conductor that a terminal is on when every
// contact is open.
func (w *Web) Conductor(t netlist.TerminalID) int32 { return w.conductor[t] }

// positions is how many positions a control of the web has.
func (w *Web) positions(control int) int { return len(w.control(control).Positions) }

func (w *Web) control(i int) *parts.Control {
	ref := w.Controls[i]
	return &ref.Part.Kind.Controls[ref.Control]
}

// closed says that a contact is closed in a setting, which may have another
// plug in its jack than the web was made with.
func (w *Web) closed(c *Contact, s netlist.Setting) bool {
	at := s.PositionOf(w.Controls[c.Control])
	return c.At(at.Index) && (c.plug == nil || c.plug == at.Plug)
}

// isSwitch says that a control is to be set by hand: no plug, and no socket.
func (w *Web) isSwitch(control int) bool {
	ref := w.Controls[control]
	k := ref.Part.Kind
	return ref.Control != k.Seat && !isPlug(&k.Controls[ref.Control])
}

// isPlug says that a control is a plug that goes into the part.
func isPlug(c *parts.Control) bool { return c.Name == "plug" && len(c.Positions) > 1 }

// joinedAt are the conductors that contacts make one, with the controls at
// these positions.
func (w *Web) joinedAt(at []uint8) *sets {
	s := newSets(w.conductors)
	for i := range w.Contacts {
		if c := &w.Contacts[i]; c.At(int(at[c.Control])) {
			s.join(c.a, c.b)
		}
	}
	return s
}

// at gives the position of each control of the web in a setting.
func (w *Web) at(s netlist.Setting) []uint8 {
	at := make([]uint8, len(w.Controls))
	for i, ref := range w.Controls {
		at[i] = uint8(s.PositionOf(ref).Index)
	}
	return at
}

// sets are disjoint sets whose joins can be undone: joined by size, and never
// shortened on the way, so that a join changes one entry only.
type sets struct {
	up    []int32
	size  []int32
	trail []int32 // roots that were put under another, in order
}

func newSets(n int) *sets {
	s := &sets{up: make([]int32, n), size: make([]int32, n)}
	for i := range s.up {
		s.up[i], s.size[i] = int32(i), 1
	}
	return s
}

func (s *sets) find(x int32) int32 {
	for s.up[x] != x {
		x = s.up[x]
	}
	return x
}

func (s *sets) join(a, b int32) {
	a, b = s.find(a), s.find(b)
	if a == b {
		return
	}
	if s.size[a] < s.size[b] {
		a, b = b, a
	}
	s.up[b] = a
	s.size[a] += s.size[b]
	s.trail = append(s.trail, b)
}

// undo takes back the joins made since the trail had that length.
func (s *sets) undo(length int) {
	for len(s.trail) > length {
		b := s.trail[len(s.trail)-1]
		s.trail = s.trail[:len(s.trail)-1]
		s.size[s.up[b]] -= s.size[b]
		s.up[b] = b
	}
}
