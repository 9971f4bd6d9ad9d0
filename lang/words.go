package lang

import (
	"slices"

	"github.com/alecthomas/participle/v2/lexer"
)

// A WordHelp explains one word with which a fact or a line of a block begins.
type WordHelp struct {
	Word    string
	Purpose string // what it says, in a few words
	Form    string // how it is written; capitals stand for the builder's own words
	Example string // a whole one, as it can be typed
}

// FactWords gives the words with which facts begin, in the order in which a
// notebook mostly needs them.
func FactWords() []WordHelp { return helps(facts) }

// BlockWords gives the words with which the lines in the braces of a kind or a
// part begin.
func BlockWords() []WordHelp { return helps(blockLineForms) }

func helps(forms []form) []WordHelp {
	list := make([]WordHelp, len(forms))
	for i := range forms {
		list[i] = forms[i].WordHelp
	}
	return list
}

// WordFor finds the help for a word that begins a fact or a line of a block.
func WordFor(word string) (WordHelp, bool) {
	if f := formOf(word); f != nil {
		return f.WordHelp, true
	}
	return WordHelp{}, false
}

// reserved are words that stand for something where a part's reference may
// stand, so that no part may be called by them; nor by a fact's first word.
var reserved = []string{"screen", "with", "probes", "none", "turned", "unknown"}

// Reserved reports whether no part may be called by this word.
func Reserved(word string) bool {
	f := formOf(word)
	return f != nil && f.begins == verbToken || slices.Contains(reserved, Fold(word))
}

// A form is what the parser and its messages know of a word that begins
// something.
type form struct {
	WordHelp
	begins lexer.TokenType // what its first word becomes for the grammar
	braces bool            // its list or block may stand in braces
	block  bool            // what stands in them are lines of a block
	// wants names what stands after the first word, in order; the last is said
	// of all that follow, unless there are only so many.
	wants  []string
	only   bool
	commas int // how many of the first wants may be several, with commas between
	// pairs names what belongs to the first word of each pair (its end, its
	// position). Pairs begin after so many words, or with the first later part
	// if there is one.
	pairs      string
	pairsAfter int
	// second are words that the grammar knows if they stand right after the
	// first word. later begin parts of the fact further on; last are known
	// right after the last of those.
	second []string
	later  []laterPart
	last   []string
	// columns is how many words after the first, or groups of them with commas
	// between, the formatter puts under each other; column is a word further
	// on that it does the same with.
	columns int
	column  string
}

// A laterPart is a part of a fact or line that begins with a word of its own.
type laterPart struct {
	word string
	must bool // it may not be left out
	// wants is like that of the form.
	wants []string
}

func (f *form) laterPart(word string) *laterPart {
	i := slices.IndexFunc(f.later, func(l laterPart) bool { return l.word == word })
	if i < 0 {
		return nil
	}
	return &f.later[i]
}

const (
	reference = "a part's reference"
	terminal  = "a terminal"
	aText     = "a text in quotes"
	origin    = "a source (a drawing, stickers, meter)"
)

var facts = []form{
	{
		WordHelp: WordHelp{"amplifier", "the title", `amplifier "TITLE"`, `amplifier "Lantern 14"`},
		begins:   verbToken, only: true, wants: []string{aText},
	},
	{
		WordHelp: WordHelp{"use", "read another notebook here", `use "FILE"`, `use "lantern-parts.buzzout"`},
		begins:   verbToken, only: true, wants: []string{aText},
	},
	{
		WordHelp: WordHelp{"kind", "a new kind of part", `kind NAME "WHAT IT IS" { LINES }`, `kind choke { terminals 1 2; coil 1 2; alike 1 with 2 }`},
		begins:   verbToken, braces: true, block: true, only: true, wants: []string{"a name for the kind", "the brace that opens its lines"},
	},
	{
		WordHelp: WordHelp{"part", "parts of the plan, all of one kind", `part REF, REF KIND FIGURES "LABEL" { LINES }`, `part R5, R9 resistor 100k 5% 1W "anodes"`},
		begins:   verbToken, columns: 2, braces: true, block: true, commas: 1, wants: []string{reference, "a kind of part", "a figure or a plain word"},
	},
	{
		WordHelp: WordHelp{"net", "plan: these terminals are one conductor", `net NAME TERMINALS "REMARK"`, `net grid-1 R1.2 R2.1 V1.2-grid`},
		begins:   verbToken, columns: 1, braces: true, commas: 9, wants: []string{"a name for the net", terminal},
	},
	{
		WordHelp: WordHelp{"copper", "plan: the same, printed on a board", `copper NAME TERMINALS "REMARK"`, `copper grid-1 R1.2 R2.1 PCB.g1`},
		begins:   verbToken, columns: 1, braces: true, commas: 9, wants: []string{"a name for the net", terminal},
	},
	{
		WordHelp: WordHelp{"spare", "plan: nothing belongs here, and that is meant", `spare TERMINALS "REMARK"`, `spare V3.6 V3.7 "spare half"`},
		begins:   verbToken, braces: true, commas: 9, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"drawing", "whose plan it is that follows", `drawing NAME "WHICH"`, `drawing layout "sheet 2, revision C"`},
		begins:   verbToken, only: true, wants: []string{"a name for the drawing"},
	},
	{
		WordHelp: WordHelp{"colours", "what a source calls the leads of a part", `colours REF SOURCE { COLOUR END, COLOUR END }`, `colours T2 stickers { orange 8ohm, white unknown }`},
		begins:   verbToken, columns: 2, braces: true, pairs: "an end", pairsAfter: 2, wants: []string{reference, origin, "a colour"},
	},
	{
		WordHelp: WordHelp{"trust", "which source holds for a part's leads", `trust REF SOURCE "WHY"`, `trust T2 stickers "read off the leads"`},
		begins:   verbToken, columns: 2, only: true, wants: []string{reference, origin},
	},
	{
		WordHelp: WordHelp{"lead", "bench: a wire from point to point", `lead COLOUR TERMINALS screen TERMINALS "LABEL"`, `lead white TS1.1 V1.2 screen J1.sleeve 22awg "W7"`},
		begins:   verbToken, columns: 1, wants: []string{"a colour", terminal}, later: []laterPart{{word: "screen", wants: []string{"a terminal for the screen"}}},
	},
	{
		WordHelp: WordHelp{"solder", "bench: joined at one spot", `solder TERMINALS "REMARK"`, `solder TB1.4 R1.2 R2.1`},
		begins:   verbToken, braces: true, commas: 9, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"bolt", "bench: joined by a screw or rivet", `bolt TERMINALS "REMARK"`, `bolt X1.earth CH.earth`},
		begins:   verbToken, braces: true, commas: 9, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"unsolder", "bench: undone again", `unsolder TERMINALS "REMARK"`, `unsolder TB1.4 R1.2`},
		begins:   verbToken, braces: true, commas: 9, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"fit", "bench: how a part really sits, or what it really is", `fit REF, REF KIND FIGURES PLACES "REASON"`, `fit C1 + TB1.1 - TB1.23`},
		begins:   verbToken, columns: 1, commas: 1, wants: []string{reference, "a place, a figure or a kind"},
	},
	{
		WordHelp: WordHelp{"reading", "bench: what the meter said", `reading RED BLACK VALUE with CONTROL POSITION, POINT VOLTS, POINT POINT "REMARK"`, `reading G GND 1.03M with J1 in, P1 50%`},
		begins:   verbToken, column: "with", braces: true, wants: []string{"the red probe's terminal", "the black probe's terminal", "a value"}, pairs: "a position", later: []laterPart{{word: "with", wants: []string{"a control"}}},
	},
	{
		WordHelp: WordHelp{"set", "bench: positions from here on", `set CONTROL POSITION, CONTROL POSITION "REMARK"`, `set J1 in, V1..V5 out, P1 50%`},
		begins:   verbToken, braces: true, pairs: "a position", wants: []string{"a control"},
	},
	{
		WordHelp: WordHelp{"wiring", "bench: from here on what is missing is a fault", `wiring complete NETS "REMARK"  or  wiring open NETS "REMARK"`, `wiring complete heater-a heater-b`},
		begins:   verbToken, wants: []string{"complete or open", "the name of a net"}, second: []string{"complete", "open"},
	},
	{
		WordHelp: WordHelp{"note", "a remark for the record", `note "TEXT"`, `note "the 100k in the bag read 131k"`},
		begins:   verbToken, only: true, wants: []string{aText},
	},
	{
		WordHelp: WordHelp{"strike", "an earlier fact was never true", `strike FACT`, `strike lead green TB1.1 V1.3 "typing slip"`},
		begins:   verbToken, wants: []string{"the fact that was never true"},
	},
}

var blockLineForms = []form{
	{
		WordHelp: WordHelp{"also", "other names of the kind", `also NAMES`, `also 12ax7 7025`},
		begins:   declareToken, wants: []string{"a name"},
	},
	{
		WordHelp: WordHelp{"like", "take the lines of another kind", `like KIND`, `like ecc83`},
		begins:   declareToken, wants: []string{"a kind of part"},
	},
	{
		WordHelp: WordHelp{"words", "plain words that a part's line may carry", `words WORDS`, `words lin log antilog`},
		begins:   declareToken, wants: []string{"a word"},
	},
	{
		WordHelp: WordHelp{"terminals", "points for solder or a probe; n is the number on the part's line", `terminals NAMES  or  terminals 1..n  or  terminals any`, `terminals 1..n foot`},
		begins:   declareToken, wants: []string{"a terminal's name"},
	},
	{
		WordHelp: WordHelp{"call", "other names of one terminal", `call TERMINAL NAMES`, `call + plus positive 1`},
		begins:   declareToken, columns: 1, wants: []string{terminal, "another name for it"},
	},
	{
		WordHelp: WordHelp{"ring", "terminals clockwise from the gap, seen from the solder side", `ring TERMINALS`, `ring 1..9`},
		begins:   declareToken, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"row", "terminals in a row, seen from the solder side", `row TERMINALS`, `row 1 2 3`},
		begins:   declareToken, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"tie", "tags that carry joints and need no net", `tie TERMINALS`, `tie 3 5 7`},
		begins:   declareToken, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"empty", "nothing may be soldered here", `empty TERMINALS "WHY"`, `empty 1 6 8 "joined inside"`},
		begins:   declareToken, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"joined", "one conductor inside the part", `joined TERMINALS  or  joined any`, `joined 2 4 7`},
		begins:   declareToken, wants: []string{terminal},
	},
	{
		WordHelp: WordHelp{"winding", "a winding and its ends in order", `winding NAME ENDS`, `winding hv hv-a hv-ct hv-b`},
		begins:   declareToken, columns: 1, wants: []string{"a name for the winding", "an end"},
	},
	{
		WordHelp: WordHelp{"control", "something to turn, push or plug; it rests in the first position", `control NAME POSITIONS  or  control NAME 0%..100%`, `control lever up down`},
		begins:   declareToken, columns: 1, wants: []string{"a name for the control", "a position"},
	},
	{
		WordHelp: WordHelp{"socketed", "it sits in a socket; its elements count only while it is in", `socketed POSITIONS`, `socketed out in`},
		begins:   declareToken, wants: []string{"a position"},
	},
	{
		WordHelp: WordHelp{"load", "the load between two ends, as marked", `load END END FIGURE`, `load common 8ohm 8`},
		begins:   betweenToken, columns: 2, wants: []string{"an end", "the other end", "a figure"},
	},
	{
		WordHelp: WordHelp{"volts", "the voltage between two ends, as marked", `volts END END FIGURES`, `volts h-a h-b 6.3V 4A`},
		begins:   betweenToken, columns: 2, wants: []string{"an end", "the other end", "a figure"},
	},
	{
		WordHelp: WordHelp{"dcr", "the resistance of the wire between two ends", `dcr END END FIGURE`, `dcr hv-a hv-ct 95`},
		begins:   betweenToken, columns: 2, wants: []string{"an end", "the other end", "a figure"},
	},
	element("resistance", "a resistance between two ends", `resistance END END FIGURE`, `resistance 1 2`),
	element("capacitance", "a capacitance between two ends", `capacitance END END polar FIGURE`, `capacitance + - polar`),
	element("track", "a resistance track: anticlockwise end, wiper, clockwise end", `track END WIPER END by CONTROL`, `track 1 2 3 by shaft`),
	element("diode", "a diode: anode, cathode", `diode ANODE CATHODE`, `diode a k`),
	element("triode", "a triode: anode, grid, cathode", `triode ANODE GRID CATHODE`, `triode 6 7 8`),
	element("pentode", "a pentode: anode, screen grid, grid, cathode", `pentode ANODE SCREEN GRID CATHODE SUPPRESSOR`, `pentode 7 9 2 3`),
	element("heater", "a heater between two pins", `heater PIN PIN FIGURES`, `heater 4 9 6.3V 0.15A`),
	element("lamp", "a lamp between two ends", `lamp END END FIGURES`, `lamp 1 2`),
	element("fuse", "a fuse between two ends", `fuse END END FIGURES`, `fuse end side`),
	element("coil", "a coil between two ends, and what it moves", `coil END END moves CONTROL`, `coil coil-1 coil-2 moves armature`),
	{
		WordHelp: WordHelp{"contact", "closed while a control is in these positions", `contact TERMINAL TERMINAL when CONTROL POSITIONS`, `contact tip break when plug out`},
		begins:   lineToken, wants: []string{terminal, "the other terminal"}, later: []laterPart{{"when", true, []string{"a control", "a position"}}},
	},
	{
		WordHelp: WordHelp{"pole", "a common, and a way (or none) for each position of a control", `pole COMMON WAYS by CONTROL`, `pole a a1..a6 by knob`},
		begins:   lineToken, wants: []string{"the common terminal", "a way"}, later: []laterPart{{"by", true, []string{"a control"}}},
	},
	{
		WordHelp: WordHelp{"alike", "terminals that may be exchanged as a whole, and what that does", `alike TERMINALS with TERMINALS but phase  or  but hum`, `alike p1 with p2 but phase`},
		begins:   lineToken, wants: []string{terminal}, later: []laterPart{{"with", true, []string{terminal}}, {"but", false, []string{"phase or hum"}}}, last: []string{"phase", "hum"},
	},
	{
		WordHelp: WordHelp{"limit", "a rating", `limit NAME FIGURES "REMARK"`, `limit anode-volts 300V`},
		begins:   lineToken, columns: 1, wants: []string{"the name of a rating", "a figure"},
	},
	{
		WordHelp: WordHelp{"source", "where the facts of the kind are from", `source seen, quoted, derived, practice or memory "WHERE"`, `source memory "the pins; check them against a sheet"`},
		begins:   lineToken, wants: []string{"seen, quoted, derived, practice or memory"}, second: []string{"seen", "quoted", "derived", "practice", "memory"},
	},
}

// element is the form of a line about something electrical.
func element(word, purpose, layout, example string) form {
	return form{
		WordHelp: WordHelp{word, purpose, layout, example},
		begins:   elementToken, wants: []string{terminal}, later: []laterPart{{word: "by", wants: []string{"a control"}}, {word: "moves", wants: []string{"a control"}}},
	}
}

var forms = func() map[string]*form {
	all := map[string]*form{}
	for i := range facts {
		all[facts[i].Word] = &facts[i]
	}
	for i := range blockLineForms {
		all[blockLineForms[i].Word] = &blockLineForms[i]
	}
	return all
}()

// longestWord is the longest word that begins a fact or line, "capacitance".
const longestWord = 11

// formOf finds the form of a word, whatever its capitals; nil if it begins
// neither a fact nor a line of a block.
func formOf(word string) *form {
	if len(word) > longestWord {
		return nil
	}
	return forms[Fold(word)]
}
