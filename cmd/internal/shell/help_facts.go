package shell

// moreHelp is what help tells of a fact beyond its form, its purpose and its
// example, which the language itself knows.
var moreHelp = map[string]string{
	"part": "Figures are told apart by their units, as the trade writes them: `4k7`, `22n`, `0.5W`, `5%`, `400V`. " +
		"`kinds` lists the kinds. A block in braces adds lines of a kind for this part alone, as the windings of a transformer.",
	"net":    "Said again under the same name, it adds terminals. A terminal may be on one net only. Ranges are read: `V1.4..5`, `R1..R24`.",
	"copper": "One fact is one piece of print. A board's pads are in it from the start, a part's legs once the part is fitted.",
	"spare":  "So that `check` need not ask about pins that stay empty.",
	"drawing": "It holds for the `net`, `copper`, `spare` and `colours` facts that follow, to the next `drawing` or the end of the file. " +
		"A colour in the plan is then the end that the colour key of this drawing gives it.",
	"colours": "A source is a drawing, or any other name, as `stickers` or `meter`. Where two sources disagree, `sources` shows them side by side, " +
		"and `check` judges under each until `trust` says which holds.",
	"trust": "Only for the leads that this source names. The last one said holds.",
	"lead": "With more than two points it goes from point to point. A gauge or a length may stand among the words: `22awg`, `12cm`. " +
		"`screen` and a terminal say where the screen of a screened lead is landed: one end, or both.",
	"solder":   "All of them meet at the first tag in the list, or at the first terminal.",
	"bolt":     "The same as `solder`, by a screw or a rivet.",
	"unsolder": "With two terminals, the joint between them; with one, everything at it. The record keeps that it was once there.",
	"fit": "Places in the order of the part's terminals, or each end named: `fit D1 a TB1.16 k TB1.39`. A figure says what it really is, " +
		"`none` that it is not there, `turned` that it sits the wrong way round in its holes. Without more words it sits as planned.",
	"reading": "Red probe, black probe, and what the meter said: a figure, `open`, `over 20M`, `rising`, `buzz` or `silent`. " +
		"`with` says what was so for this reading alone: positions (`with J1 in, P1 50%`), the points of a supply and their volts " +
		"(`reading T2.black T2.orange 0.27V with T2.blue 12V, T2.brown 0V`), what a test lead joined (`with T2.brown T2.black`). " +
		"`reading probes 0.2` is what the meter shows with its probes together.",
	"set":    "A control keeps its position until it is set again. `positions` lists them.",
	"wiring": "Until then, what is missing is only not done yet. With nets, only there. `open` takes it back.",
	"use":    "The path begins at the folder of the book that uses it, and stays in the folder of the first book. Of two uses of one book the second says nothing new.",
	"kind":   "`language` lists the lines. A kind may be `like` another, and add to it or replace lines of it.",
	"strike": "For a slip of the pen: the fact is named again, and counts as never said. What was done and undone at the bench is told by `unsolder`.",
	"note":   "`notes` lists them.",
}

// demoExamples are examples of the facts that can be typed at the demo's
// prompt as they stand; the language's own belong to no amplifier.
var demoExamples = map[string]string{
	"amplifier": `amplifier "Lantern 14"`,
	"use":       `use "lantern-parts.buzzout"`,
	"kind":      `kind choke-2 "two chokes in one can" { terminals 1 2 3 4; coil 1 2; coil 3 4; alike 1 2 with 3 4 }`,
	"part":      `part R40, R41 resistor 100k 5% 1W "spares in the bag"`,
	"net":       `net ground J7.sleeve`,
	"copper":    `copper ground J7.sleeve`,
	"spare":     `spare J6.break "nothing is switched here"`,
	"drawing":   `drawing mine "my own changes, in pencil"`,
	"colours":   `colours T2 meter { orange 8ohm, white 4ohm }`,
	"trust":     `trust T2 circuit "the stickers fell off"`,
	"lead":      `lead green TS1.1 TS1.3 22awg "W7"`,
	"solder":    `solder TB2.17 TB2.18`,
	"bolt":      `bolt X1.earth CH.earth`,
	"unsolder":  `unsolder J1.tip R1.1`,
	"fit":       `fit C17 TB1.6 TB1.7`,
	"reading":   `reading V1.2 CH.star 1.03M with J1 in "with a plug in"`,
	"set":       `set J1 in, V1..V5 out, P1 50%`,
	"wiring":    `wiring complete heater-a heater-b`,
	"note":      `note "the 100k in the bag read 131k"`,
	"strike":    `strike solder J1.tip R1.1 R3.1 "it was another tag"`,
}
