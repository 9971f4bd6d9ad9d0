package lang

import "buzzout/lang/diag"

// otherWords are words that somebody may well begin a fact with, and what to
// do instead. They are deliberately no words of the language: each means two
// things at a bench.
var otherWords = map[string]string{
	"wire":        "a wire on the bench is a `lead`",
	"cable":       "a wire on the bench is a `lead`",
	"jumper":      "a wire on the bench is a `lead`",
	"connect":     "a wire on the bench is a `lead`, joined at one spot is `solder`, and what the plan joins is a `net`",
	"join":        "joined at one spot on the bench is `solder`, and what the plan joins is a `net`",
	"joint":       "joined at one spot on the bench is `solder`",
	"screw":       "a joint by screw or rivet is `bolt`",
	"rivet":       "a joint by screw or rivet is `bolt`",
	"desolder":    "a joint undone is `unsolder`",
	"remove":      "a joint undone is `unsolder`, and a fact that was never true is taken back with `strike`",
	"delete":      "a fact that was never true is taken back with `strike`",
	"node":        "what the plan joins is a `net`",
	"conductor":   "what the plan joins is a `net`",
	"trace":       "a printed track is `copper`",
	"track":       "a printed track is `copper`",
	"component":   "a `part` is what the plan lists",
	"device":      "a `part` is what the plan lists",
	"resistor":    "a kind of part follows its reference: part R1 resistor 100k",
	"capacitor":   "a kind of part follows its reference: part C1 capacitor 22n",
	"transformer": "a kind of part follows its reference: part T1 transformer",
	"valve":       "a kind of part follows its reference: part V1 ecc83",
	"tube":        "a kind of part follows its reference: part V1 ecc83",
	"amp":         "the title is given with `amplifier`",
	"title":       "the title is given with `amplifier`",
	"name":        "the title is given with `amplifier`",
	"include":     "another notebook is read with `use`",
	"import":      "another notebook is read with `use`",
	"legend":      "which lead of a part is which end is told with `colours`",
	"colour":      "which lead of a part is which end is told with `colours`",
	"colors":      "which lead of a part is which end is told with `colours`",
	"color":       "which lead of a part is which end is told with `colours`",
	"measure":     "what the meter said is a `reading`",
	"measured":    "what the meter said is a `reading`",
	"meter":       "what the meter said is a `reading`",
	"probe":       "what the meter said is a `reading`",
	"read":        "what the meter said is a `reading`",
	"remark":      "a remark is a `note`",
	"comment":     "a remark is a `note`; a comment begins with #",
	"//":          "a comment begins with #",
	"position":    "positions of controls are told with `set`",
	"plug":        "positions of controls, plugs among them, are told with `set`",
	"switch":      "positions of controls are told with `set`",
	"unused":      "terminals that stay empty on purpose are `spare`",
	"sheet":       "whose plan it is that follows is told with `drawing`",
	"done":        "from where missing joints are faults is told with `wiring complete`",
	"complete":    "from where missing joints are faults is told with `wiring complete`",
	"finished":    "from where missing joints are faults is told with `wiring complete`",
	"mount":       "how a part sits on the bench is told with `fit`",
	"insert":      "how a part sits on the bench is told with `fit`",
	"place":       "how a part sits on the bench is told with `fit`",
}

// otherLineWords are the same for the lines of a block.
var otherLineWords = map[string]string{
	"pin":        "points for solder or a probe are `terminals`",
	"pins":       "points for solder or a probe are `terminals`",
	"tags":       "points for solder or a probe are `terminals`; those that need no net are `tie`, too",
	"alias":      "another name of a terminal is told with `call`",
	"name":       "another name of a terminal is told with `call`, of the kind with `also`",
	"resistor":   "a resistance between two ends is `resistance`",
	"capacitor":  "a capacitance between two ends is `capacitance`",
	"inductor":   "a coil between two ends is `coil`",
	"inductance": "a coil between two ends is `coil`",
	"choke":      "a coil between two ends is `coil`",
	"tetrode":    "a tetrode is told as a `pentode`",
	"rectifier":  "one rectifying path is a `diode`",
	"filament":   "a heater and a filament are both `heater`",
	"pot":        "a resistance track with a wiper is a `track`",
	"switch":     "what a switch does is told with `control`, and then `contact` or `pole`",
	"break":      "a break contact is a `contact` that is closed at rest: contact tip break when plug out",
	"make":       "a make contact is a `contact` with the positions in which it is closed",
	"relay":      "a relay has a `control` and a `coil` that moves it",
	"voltage":    "a voltage between two ends is `volts`",
	"impedance":  "a load between two ends is `load`",
	"swap":       "ends that may be exchanged are told with `alike`",
	"same":       "ends that may be exchanged are told with `alike`",
	"nc":         "a pin that may carry nothing is `empty`; a tag that carries joints freely is `tie`",
	"max":        "a rating is told with `limit`",
	"rating":     "a rating is told with `limit`",
}

// suggest fills in what was probably meant by a word: a hint if one is known,
// else the nearest of the words that could stand there.
func suggest(d *diag.Diagnostic, word string, hints map[string]string, among []string) {
	if hint, known := hints[word]; known {
		d.Mend = []string{hint}
		return
	}
	d.Nearest, _ = Nearest(word, among)
}
