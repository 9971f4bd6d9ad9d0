package netlist

import "buzzout/netlist/conn"

// A Harness is what is joined to what: the wiring as drawn or as built, under
// one meaning of the leads' colours, in one setting. Its points are the
// terminals of the book, by TerminalID; its joins are listed in Joins, by the
// number that the graph gives them.
type Harness struct {
	Book  *Book
	Graph *conn.Graph
	Joins []Join
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
	Kind  JoinKind
	A, B  TerminalID
	Fact  *Fact  // that made it; nil for Inside, ByContact where the kind is a library one
	Joint *Joint // for ByJoint
	Part  *Part  // for ByContact, Inside, ByPlug
}

// Planned draws the wiring that the plan intends.
func (b *Book) Planned(m Meaning, s Setting) *Harness { panic("not built yet") }

// Built draws the wiring as it is on the bench.
func (b *Bench) Built(m Meaning, s Setting) *Harness { panic("not built yet") }

// Bench is the bench as it is now, after all facts.
func (b *Book) Bench() *Bench { return b.BenchAt(len(b.Facts)) }

// BenchAt is the bench as it was before Facts[step] counted.
func (b *Book) BenchAt(step int) *Bench { panic("not built yet") }

// Meanings are the ways in which the colours of flying leads can be taken:
// one where every source that counts agrees or is trusted, more where sources
// disagree and nobody has said which holds. There is always at least one.
func (b *Book) Meanings() []Meaning { panic("not built yet") }

// Name is how a terminal is called: "R1.2", "GND" for a part of one terminal,
// and the colour for a lead.
func (b *Book) Name(t TerminalID) string { panic("not built yet") }

// Net gives the net of the plan that a terminal belongs to, or NoNet.
func (b *Book) Net(t TerminalID) NetID { panic("not built yet") }

// Spare gives the fact that says that nothing belongs at a terminal, or nil.
func (b *Book) Spare(t TerminalID) *Fact { panic("not built yet") }

// Part finds a part by its reference; capitals do not count.
func (b *Book) Part(ref string) *Part { panic("not built yet") }

// NetNamed finds a net by its name; capitals do not count.
func (b *Book) NetNamed(name string) *Net { panic("not built yet") }

// Terminal finds a terminal as a person types it: "R1.2", "V1.2-grid",
// "T2.orange", "GND". The problem, where there is one, is a sentence that
// says what would be right; nearest is a name that was probably meant.
func (b *Book) Terminal(name string) (t TerminalID, problem, nearest string) {
	panic("not built yet")
}
