package lang

import (
	"fmt"
	"strings"
)

// Grammar gives the reference of the language: its rules in EBNF ([ ] may be
// left out, { } any number of times), and every word with which a fact or a
// line in braces begins, with an example. A test holds the rules to the parser.
func Grammar() string {
	var b strings.Builder
	b.WriteString(textRules)
	b.WriteString(factRules)
	writeWords(&b, facts)
	b.WriteString(lineRules)
	writeWords(&b, blockLineForms)
	return b.String()
}

func writeWords(b *strings.Builder, forms []form) {
	for _, f := range forms {
		fmt.Fprintf(b, "\n%-12s %s\n", f.Word, f.Purpose)
		fmt.Fprintf(b, "%-12s %s\n", "", f.Example)
	}
}

const textRules = `WORDS AND LINES

text       = { line } .
line       = [ fact | question ] [ comment ] eol .
eol        = a line break | ";" .
comment    = "#" to the end of the line; only where a word could begin .
string     = '"' anything but '"' and a line break '"', or the same in “ ” .
word       = characters other than blanks, line breaks, control and
             invisible characters, { } , ; " “ ” .

There is one kind of word: what a word is (a part, a terminal, a figure, a
colour, a net) is decided by where it stands and by what is known. Capitals do
not count, except in figures, where m is not M. A comma between two digits is a
decimal comma and stays in its word; any other comma parts words.

Braces may go over several lines and never stand in each other. No line in
braces may begin with a fact's word, so that a brace that was never closed is
found at the next fact.

Ranges: R1..R24, V1.4..5, V1..V4.9 (pin 9 of four valves), at most 500 names.

Figures: 4k7, 2R2, R47, 100k, 22n, 4u7, 0.022u, 6V3, 5%, 2W, 400V, 150mA,
10H, 50Hz, 20cm, 0.5mm2, 22awg, 0.6 ohm. A fuse may be marked T1A or F250mA.

Colours: black brown red orange yellow green blue violet grey white pink gold
turquoise silver bare, or their letters BK BN RD OG YE GN BU VT GY WH PK GD TQ
SR; base and tracer with a stroke, red/yellow or RD/YE.
`

const factRules = `
FACTS

fact       = told | strike .
told       = amplifier | use | kind | part | net | spare | drawing | colours
           | trust | lead | spot | fit | reading | set | wiring | note .
amplifier  = "amplifier" string .
use        = "use" string .
kind       = "kind" word [ string ] block .
part       = "part" refs word { word } [ string ] [ block ] .
net        = ( "net" | "copper" ) word list [ string ] .
spare      = "spare" list [ string ] .
drawing    = "drawing" word [ string ] .
colours    = "colours" word word pairs [ string ] .
trust      = "trust" word word [ string ] .
lead       = "lead" word word { word } [ "screen" word { word } ] [ string ] .
spot       = ( "solder" | "bolt" | "unsolder" ) list [ string ] .
fit        = "fit" refs { word } [ string ] .
reading    = "reading" word { word } [ "with" pairs ] [ string ] .
set        = "set" pairs [ string ] .
wiring     = "wiring" ( "complete" | "open" ) { word } [ string ] .
note       = "note" string .
strike     = "strike" told .

refs       = word { "," word } .
list       = word { [ "," ] word } | "{" { word | "," | eol } "}" .
pairs      = word word { "," word word } | "{" { sep } [ inner ] "}" .
inner      = word word { sep { sep } word word } { sep } .
sep        = "," | eol .

question   = "try" fact | queryword { word | string | "," } .

screen parts a lead, with a reading; they are ordinary words everywhere else.
Questions are typed at the prompt and stand in no notebook. No part may be
called by the first word of a fact, nor screen, with, probes, none, turned or
unknown.
`

const lineRules = `
LINES IN THE BRACES OF A KIND OR PART

block      = "{" { eol } [ lines ] "}" .
lines      = kindline { eol { eol } kindline } { eol } .
kindline   = declare | between | element | contact | pole | alike | limit
           | source .
declare    = ( "also" | "like" | "words" | "terminals" | "call" | "ring"
             | "row" | "tie" | "empty" | "joined" | "winding" | "control"
             | "socketed" ) word { word } [ string ] .
between    = ( "load" | "volts" | "dcr" ) word word word { word } [ string ] .
element    = ( "resistance" | "capacitance" | "track" | "diode" | "triode"
             | "pentode" | "heater" | "lamp" | "fuse" | "coil" )
             word { word } [ ( "by" | "moves" ) word ] [ string ] .
contact    = "contact" word word "when" word word { word } [ string ] .
pole       = "pole" word word { word } "by" word [ string ] .
alike      = "alike" word { word } "with" word { word }
             [ "but" ( "phase" | "hum" ) ] [ string ] .
limit      = "limit" word word { word } [ string ] .
source     = "source" ( "seen" | "quoted" | "derived" | "practice"
             | "memory" ) [ string ] .
`
