// Package netlist turns a notebook's statements into the thing they describe:
// parts with terminals, the plan's nets, and the bench as it stood at any
// moment.
//
// [Build] makes a [Book] from a parsed file. The plan is the same whatever the
// order of its facts; the bench is a fold over facts in order, so
// [Book.BenchAt] gives it as it was before any fact, and [Book.Bench] as it is
// now. [Book.Planned] and [Book.Built] draw harnesses: what is joined to what
// in a setting, with the fact that made each joint. Nothing here judges: that
// is the business of package verify.
package netlist

import (
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// A TerminalID is the index of a terminal in Book.Terminals. None is NoTerminal.
type TerminalID int32

// NoTerminal is no terminal.
const NoTerminal TerminalID = -1

// A NetID is the index of a net in Book.Nets. None is NoNet.
type NetID int32

// NoNet is no net.
const NoNet NetID = -1

// A Book is all that a notebook says, with names resolved. It is not changed
// once built; many may read it at a time.
type Book struct {
	Title     string
	Facts     []*Fact // in the order in which they count, those of used books where the use stands
	Parts     []*Part // in the order in which they were first named
	Terminals []Terminal
	Nets      []*Net
	Prints    []*Print
	Drawings  []*Drawing
	Keys      []*ColourKey
	Readings  []*Reading
	Mistakes  []diag.Diagnostic // of language and of names, sorted
	Library   *parts.Library    // where kinds are looked up, the notebook's own among them

	partByName map[string]*Part
	netByName  map[string]NetID
	netOf      []NetID  // by terminal
	printOf    []*Print // by terminal: the print that a part's leg or a board's pad belongs in
	spareBy    []*Fact  // by terminal
	log        benchLog
}

// A Fact is one statement of the notebook that told something.
type Fact struct {
	Index     int // in Book.Facts
	Statement lang.Fact
	Drawing   *Drawing // whose plan fact it is; nil before the first drawing fact
	StruckBy  *Fact    // the strike fact that took it out, whole
}

// Place is where the fact stands.
func (f *Fact) Place() diag.Place { return f.Statement.Span() }

// Text is the fact as it was typed, without its comment.
func (f *Fact) Text() string { return f.Statement.Span().Text() }

// A Part is one part of the amplifier.
type Part struct {
	Index   int
	Ref     string // as first written
	Kind    *parts.Kind
	Label   string
	Figures []lang.Figure // from the part's line: values and ratings
	Words   []string      // plain words from the part's line, as log or film
	Values  []lang.Figure // for each element of the kind, its own figure; Text is "" where none is known
	Facts   []*Fact       // the part facts that name it, in order
	// Terminals are the kind's own in the kind's order, then those that were
	// named by use (bolts, pads), then the flying leads known by colour.
	Terminals []TerminalID

	byName map[string]TerminalID
}

// A Terminal is a point on which one can put solder or a probe.
type Terminal struct {
	Part  *Part  // nil for a print
	Name  string // within the part: "2", "tip", "orange"
	Index int    // in Part.Kind.Terminals; -1 for one named by use, and for a lead
	Tie   bool   // a tag or bolt: it carries joints, and comparison does not ask for it
	Lead  bool   // a flying lead known by its colour
	Named *Fact  // the fact that first named it, where it was named by use
	Print *Print // not nil: this is a piece of print and not a terminal of a part
}

// A Drawing is a source of plan facts.
type Drawing struct {
	Name   string
	Remark string
}

// A Net is one conductor of the plan.
type Net struct {
	ID      NetID
	Name    string
	Members []Member // in the order written
	Copper  bool     // some of it is printed
}

// A Member is a terminal as a net names it.
type Member struct {
	Terminal TerminalID
	Fact     *Fact
	Place    diag.Place // of the word
}

// A Print is one piece of printed copper.
type Print struct {
	ID   TerminalID // its vertex
	Net  NetID
	Fact *Fact
	Pads []TerminalID // of boards: always in the print
	Legs []TerminalID // of parts: in the print once the part is fitted
}

// A ColourKey is what one source calls the leads of a part.
type ColourKey struct {
	Part   *Part
	Origin string // name of a drawing, or another source's
	Paper  bool   // Origin is a drawing
	Pairs  []KeyPair
	Facts  []*Fact
}

// A KeyPair is a lead and the end that it is; NoTerminal if the source does not know.
type KeyPair struct {
	Lead, End TerminalID
	Fact      *Fact
	Place     diag.Place
}

// A Trust is a fact that says which source holds, for the leads that it names.
type Trust struct {
	Key    *ColourKey
	Reason string // as the builder wrote it; "" for none
	Fact   *Fact
}

// JointKind says how a joint is made.
type JointKind uint8

// The kinds of joint.
const (
	_      JointKind = iota
	Leg              // a part's own wire at a place
	Wire             // a lead's piece from point to point
	Screen           // the screen of a screened lead, landed at a point
	Solder
	Bolt
	Hole // a part's leg in its own hole of a print
	Pad  // a board's pad and its print: made by the maker, not by the builder
)

// A Joint joins two terminals on the bench.
type Joint struct {
	Kind   JointKind
	A, B   TerminalID // for Leg and Hole, A is the part's terminal
	Fact   *Fact
	Place  diag.Place  // the words of the fact that name this joint
	Colour lang.Colour // of a Wire or Screen
	Label  string      // of a Wire or Screen: what the builder wrote on the lead
	Lead   int         // index in Bench.Leads, so that pieces of one lead are known as such; -1 if none
}

// A Fitting is what the bench says of a part beyond its joints.
type Fitting struct {
	Fact    *Fact
	Absent  bool // fit … none
	Turned  bool
	Kind    *parts.Kind   // another kind does the job; nil as planned
	Figures []lang.Figure // measured or marked otherwise than planned; empty as planned
	Words   []string      // plain words that are otherwise than planned, as log; empty as planned
	Reason  string        // why it is otherwise than planned
	Told    *Fact         // that last said what it really is; nil as planned

	as Fitted
}

// A Bench is the wiring as built at one moment.
type Bench struct {
	Book     *Book
	Step     int                // facts before Book.Facts[Step] have counted
	Joints   []Joint            // live, in the order in which they were made
	Fittings map[*Part]*Fitting // parts that a fit fact has named
	Setting  Setting
	Probes   float64 // ohms that the meter shows with its probes together
	Leads    []Lead  // in the order in which they were told; their pieces are joints
	Undone   []Undone

	complete    map[NetID]bool
	completeAll bool
}

// A Lead is a wire on the bench. Its pieces are the joints with its number.
type Lead struct {
	Colour  lang.Colour
	Points  []TerminalID
	Screen  []TerminalID  // where its screen is landed
	Figures []lang.Figure // gauge and length
	Label   string
	Fact    *Fact
}

// Undone is a joint that was made and unsoldered again.
type Undone struct {
	Joint Joint
	By    *Fact
}

// A Setting gives controls their positions. A control that is not in it rests.
type Setting map[ControlRef]Position

// A ControlRef is one control of one part.
type ControlRef struct {
	Part    *Part
	Control int // index in Part.Kind.Controls
}

// A Position is an index into the control's positions; for a control that
// turns, Turn is 0 to 1 and Known says that somebody set it. Plug names the
// plug that is in a jack.
type Position struct {
	Index int
	Turn  float64
	Known bool
	Plug  *Part
}

// A Reading is what the meter said, with the bench of its moment.
type Reading struct {
	Red, Black TerminalID
	Value      lang.Figure
	Sign       string // "", "open", "over", "rising", "buzz", "silent"
	With       Setting
	// Held are points that a supply held at a voltage for this reading alone, and
	// Joined pairs that a test lead joined for it.
	Held   []HeldPoint
	Joined [][2]TerminalID
	Step   int // the bench is Book.BenchAt(Step)
	Remark string
	Fact   *Fact
}

// A HeldPoint is a point that something outside holds at a voltage.
type HeldPoint struct {
	At    TerminalID
	Volts lang.Figure
}

// A Meaning says which end each flying lead is, under one choice of sources.
type Meaning struct {
	Origins map[*Part]string          // the source chosen for a part whose sources disagree
	Ends    map[TerminalID]TerminalID // lead to end; a lead that no source knows is absent
	// Loose are groups of leads of one colour: which of the group is which of
	// these ends, nobody has said.
	Loose []LooseLeads
}

// LooseLeads are leads of one part and colour.
type LooseLeads struct {
	Part  *Part
	Leads []TerminalID
}
