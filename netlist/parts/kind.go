package parts

import (
	"buzzout/lang"
	"buzzout/lang/diag"
)

// A Kind is a kind of part, ready for use: its terminals, what stands between
// them, what moves, and what may be exchanged. A Kind is never changed once
// made; a part with a block of its own, or with a count (tagboard 20), has a
// Kind of its own.
type Kind struct {
	Name   string
	Also   []string
	Title  string
	Place  diag.Place // where the kind is defined; in the embedded library or in a notebook
	Counts bool       // the bare number on the part's line is how many terminals it has

	Terminals []Terminal
	Any       bool // more terminals may be named at will, in the plan or at the bench
	JoinedAny bool // and all of them are one conductor: a chassis

	// Rings and Rows are terminals in the order in which they stand, seen
	// from the solder side. A ring is clockwise from the gap or key.
	Rings, Rows [][]int
	Joined      [][]int // one conductor inside the part
	Windings    []Winding
	Elements    []Element
	Controls    []Control
	Contacts    []Contact
	Alike       []Alike
	Between     []Between
	Limits      []Limit
	Words       []string // plain words that a part's line may carry
	Origins     []Origin
	// Seat is the index in Controls of "seat" where the kind is socketed, else -1.
	Seat int

	byName map[string]int   // terminals by folded name and other name
	byRole map[string][]int // terminals by electrode, see electrodeWords
	plain  [][]string       // for each terminal, its electrodes in plain words
}

// A Terminal is a point of a part on which one can put solder or a probe.
type Terminal struct {
	Name    string
	Aliases []string // from call lines; electrode names are found through Elements
	Tie     bool     // carries joints and needs no net
	Empty   string   // not "": nothing may be soldered here, and why
}

// A Winding is a coil with its ends in order; its name is the builder's own.
type Winding struct {
	Name string
	Ends []int
}

// ElementType says what an element is.
type ElementType uint8

// The element types. The order of an element's ends is told beside each.
const (
	_           ElementType = iota
	Resistance              // two ends
	Capacitance             // two ends; where polar, plus first
	Track                   // anticlockwise end, wiper, clockwise end
	Diode                   // anode, cathode
	Triode                  // anode, grid, cathode
	Pentode                 // anode, screen grid, control grid, cathode, and the suppressor where it has a pin
	Heater                  // two ends
	Lamp                    // two ends
	Fuse                    // two ends
	Coil                    // two ends
)

// An Element is something electrical between terminals of one part.
type Element struct {
	Type    ElementType
	Ends    []int // indices of terminals, in the order of the type
	Polar   bool
	Nominal bool          // a Coil whose ohms are its impedance, of which an ohmmeter reads only a part
	By      int           // index of the control that turns a Track, else -1
	Moves   int           // index of the control that a Coil moves, else -1
	Figures []lang.Figure // stated on the element's own line
	Place   diag.Place
}

// Roles are the electrode names of an element's ends, in the order of Ends:
// what REF.ROLE and REF.PIN-ROLE mean.
func (t ElementType) Roles() []string { return elementRoles[t] }

// A Control is something to turn, push, plug or pull.
type Control struct {
	Name      string
	Positions []string // in order; the first is where it rests
	Turns     bool     // a position is anything from 0 % to 100 %
}

// A Contact joins two terminals while its control is in one of the positions.
type Contact struct {
	A, B      int
	Control   int
	Positions []int // indices into the control's Positions, rising
	Place     diag.Place
}

// Consequence says what an exchange of like ends does all the same.
type Consequence uint8

// The consequences, least first.
const (
	None  Consequence = iota
	Hum               // it may hum or pick up more noise
	Phase             // it turns the signal over
)

// Alike says that the terminals These may be exchanged with Those, as a whole
// and in this order.
type Alike struct {
	These, Those []int
	But          Consequence
	Place        diag.Place
}

// Between is a value between two named ends: load, volts or dcr.
type Between struct {
	Verb     string
	From, To int
	Figures  []lang.Figure
	Place    diag.Place
}

// A Limit is a rating, as "anode-volts 300V".
type Limit struct {
	Name   string
	Figure lang.Figure
	Remark string
	Place  diag.Place
}

// An Origin says where the facts of a kind are from, and how sure they are:
// seen, quoted, derived, practice or memory.
type Origin struct {
	Status, Remark string
}
