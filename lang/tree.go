package lang

import "buzzout/lang/diag"

// A Word is one word as it was written. What it is (a part, a terminal, a
// figure, a colour, a net) is decided by where it stands and by what is
// known, never by its shape.
type Word struct {
	Text  string
	Place diag.Place
}

// A Text is a string in quotes. Text is what stands between the quotes.
type Text struct {
	Text  string
	Place diag.Place
}

// A File is what Parse makes of a source: every statement in the order
// written, and the mistakes. A line with a mistake is a [Bad] statement; a
// mistake in a line inside somebody's braces costs that line alone, and the
// statement is [Statement.Partial].
type File struct {
	Source     *diag.Source
	Statements []Statement
	Mistakes   []diag.Diagnostic
}

// A Statement is a fact, a question, or Bad. The types below are all there are.
type Statement interface {
	// Span is the statement from its first word to its last, comment excluded.
	Span() diag.Place
	// Verb is the word that begins it, in lower case: "part", "lead".
	Verb() string
	// Partial reports that a line in its braces could not be read and is
	// missing, so that nobody complains of what follows from that.
	Partial() bool
	statement()
}

// A Fact is a statement that goes into the notebook.
type Fact interface {
	Statement
	fact()
}

// node carries what all statements have.
type node struct {
	place   diag.Place
	verb    string
	partial bool
}

func (n node) Span() diag.Place { return n.place }
func (n node) Verb() string     { return n.verb }
func (n node) Partial() bool    { return n.partial }
func (node) statement()         {}

type factNode struct{ node }

func (factNode) fact() {}

type (
	// Bad is a line that could not be read; its mistake is in File.Mistakes.
	Bad struct{ node }

	// Question is anything that asks and does not tell. Words[0] is the
	// query's name. For "try FACT", Try is that fact.
	Question struct {
		node
		Words []Argument
		Try   Fact
	}

	// Amplifier gives the title: amplifier "Lantern 14".
	Amplifier struct {
		factNode
		Title Text
	}

	// Use reads another book at this place: use "parts.buzzout".
	Use struct {
		factNode
		Path Text
	}

	// Kind defines a kind of part.
	Kind struct {
		factNode
		Name  Word
		Title *Text
		Lines []KindLine
	}

	// Part says that the plan has these parts, all of one kind.
	Part struct {
		factNode
		Refs  []Word // as written: a range is one word
		Kind  Word
		Words []Word // figures and plain words after the kind
		Label *Text
		Lines []KindLine // the part's own block
	}

	// Net says that these terminals are one conductor in the plan; with
	// Copper, that the conductor is printed.
	Net struct {
		factNode
		Copper bool
		Name   Word
		List   []Word
		Remark *Text
	}

	// Spare says that nothing belongs at these terminals, and that it is meant.
	Spare struct {
		factNode
		List   []Word
		Remark *Text
	}

	// Drawing names the source of the plan facts that follow.
	Drawing struct {
		factNode
		Name   Word
		Remark *Text
	}

	// Colours says what a source calls the leads of a part: each pair is a
	// colour and an end.
	Colours struct {
		factNode
		Part, Origin Word
		Pairs        []Pair
		Remark       *Text
	}

	// Trust says which source holds for a part's leads.
	Trust struct {
		factNode
		Part, Origin Word
		Reason       *Text
	}

	// Lead is a wire on the bench, piece after piece along Points, and the
	// words of a gauge or length that stood among them.
	Lead struct {
		factNode
		Colour Word
		Points []Word // points, with figures such as 22awg or 12cm still among them
		Screen []Word // where the lead's screen is landed: none, one end or both
		Label  *Text
	}

	// Spot joins terminals at one spot (solder, bolt) or undoes it (unsolder):
	// Verb tells which.
	Spot struct {
		factNode
		List   []Word
		Remark *Text
	}

	// Fit says how a part really sits or what it really is.
	Fit struct {
		factNode
		Refs   []Word
		Words  []Word
		Remark *Text
	}

	// Reading is what the meter said: Words are red probe, black probe and
	// value (value may be two words, "over 20M"); "probes 0.2" stands likewise.
	Reading struct {
		factNode
		Words  []Word
		With   []Pair
		Remark *Text
	}

	// Set gives controls their positions: each pair is a control and a position.
	Set struct {
		factNode
		Pairs  []Pair
		Remark *Text
	}

	// Wiring says that from here on what is missing is a fault (Complete), or
	// takes that back; with Nets, only there.
	Wiring struct {
		factNode
		Complete bool
		Nets     []Word
		Remark   *Text
	}

	// Remark is a note kept in the record.
	Remark struct {
		factNode
		Text Text
	}

	// Strike says that an earlier fact was never true.
	Strike struct {
		factNode
		Struck Fact
	}
)

// An Argument of a question is a word or a text in quotes.
type Argument struct {
	Word
	Quoted bool
}

// A Pair is two words that belong together: a colour and an end, a control
// and its position.
type Pair struct{ Left, Right Word }

// A KindLine is one line of a kind's block. The types below are all there are.
type KindLine interface {
	Span() diag.Place
	Verb() string
	kindLine()
}

type kindNode struct{ node }

func (kindNode) kindLine() {}

type (
	// Declare is a verb and words: also, like, words, terminals, call, ring,
	// row, tie, empty, joined, winding, control, socketed.
	Declare struct {
		kindNode
		Words  []Word
		Remark *Text
	}

	// Between is a value between two named ends: load, volts, dcr.
	Between struct {
		kindNode
		From, To Word
		Figures  []Word
		Remark   *Text
	}

	// Element is something electrical between terminals: Verb is resistance,
	// capacitance, track, diode, triode, pentode, heater, lamp, fuse or coil.
	// Words are the ends in the order that the verb wants, then figures and
	// plain words such as polar.
	Element struct {
		kindNode
		Words  []Word
		By     *Word // what turns it
		Moves  *Word // what it moves
		Remark *Text
	}

	// Contact is closed in the positions named.
	Contact struct {
		kindNode
		From, To  Word
		Control   Word
		Positions []Word
		Remark    *Text
	}

	// Pole is a common and one way for each position of a control; "none" is
	// a position without a way.
	Pole struct {
		kindNode
		Common Word
		Ways   []Word
		By     Word
		Remark *Text
	}

	// Alike says that terminals may be exchanged as a whole. But is "", "phase"
	// or "hum": what the exchange does all the same.
	Alike struct {
		kindNode
		These, Those []Word
		But          string
		Remark       *Text
	}

	// Limit is a rating.
	Limit struct {
		kindNode
		Name    Word
		Figures []Word
		Remark  *Text
	}

	// Origin is the line "source": where the kind's facts are from. Status is
	// seen, quoted, derived, practice or memory.
	Origin struct {
		kindNode
		Status string
		Remark *Text
	}
)
