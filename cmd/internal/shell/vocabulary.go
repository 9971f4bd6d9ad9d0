package shell

import "strings"

// A term is a word of the trade that the tool prints, the words that are read
// for it or met for it elsewhere, and what to mind.
type term struct {
	printed string
	also    []string
	mind    string
}

// vocabulary is what help answers about a word that is neither a fact nor a
// query.
var vocabulary = []term{
	{"valve", []string{"tube"}, "Types are printed as they were entered: ECC83 and 12AX7 are one kind."},
	{"anode", []string{"plate", "a"}, "“Plate” is the anode in American papers. In a notebook `V1.1-anode` and `V1.1-plate` are both read."},
	{"grid", []string{"g", "g1", "control-grid"}, "The control grid. A valve with two systems has two: say the pin, as `V1.2-grid`."},
	{"cathode", []string{"k"}, "Printed as cathode; `k` is read."},
	{"screen-grid", []string{"g2"}, "Of a pentode. In a notebook `V4.screen` means the screen grid; the screen of a lead is something else."},
	{"screen", []string{"shield"}, "The screen of a screened lead. In a `lead` fact, `screen J1.sleeve` lands it at that end, and with two terminals at both. " +
		"Landed at one end it keeps hum out; at both it makes a loop."},
	{"earth", []string{"protective-earth", "pe"}, "Protective earth, green and yellow: it keeps metal that a hand can touch safe. At mains parts say which earth is meant."},
	{"chassis", []string{"ground", "gnd", "0v"}, "The metal and the 0 V line. A part of kind chassis is one conductor with as many bolts as the notebook names."},
	{"ht", []string{"b+", "high-tension"}, "High tension, the anode supply; “B+” in American papers. It stays in the capacitors after the mains is off: measure before touching."},
	{"heater", []string{"lt", "filament"}, "Called filament only where the heater is the cathode as well."},
	{"bias", []string{"grid-voltage", "idle-current"}, "Three things have that name: the grid voltage, the supply that makes it, and the idle current that it sets. " +
		"“Fixed bias” may well be adjustable: it only does not come from the valve's own cathode resistor."},
	{"live", []string{"hot", "line"}, "The live conductor of the mains. Never infer it from a colour: black was neutral in one country and is live in another."},
	{"neutral", []string{"n"}, "The other mains conductor. It is not earth, and it may be live if the plug was wired wrongly."},
	{"log", []string{"audio", "taper"}, "A pot's law. A bare A or B marked on it has opposite meanings in old European and in US and Asian marking, so it has to be said."},
	{"jack", []string{"jack-socket", "normalled", "closed-circuit"}, "A jack socket takes a jack plug. A break contact is closed while no plug is in."},
	{"valve-holder", []string{"socket"}, "The valve holder is on the chassis; the base is on the valve. Pins are counted clockwise from the gap or key, seen from the solder side."},
	{"leg", []string{"component-lead"}, "A component's own wire. A lead is hook-up wire, or a transformer's flying lead."},
	{"wire", []string{"cable", "hookup"}, "A wire on the bench is told by the fact `lead`."},
	{"bridge", []string{"bridge-rectifier"}, "A bridge rectifier is a part. The rule `bridged` is about two conductors that are joined and should not be."},
	{"trace", []string{"printed-track"}, "On a printed board it is copper, and told by the fact `copper`; in a pot it is the resistance track."},
	{"common", []string{"com", "0-ohm"}, "The end of a transformer's winding from which the others are counted. COM is also a socket of the meter."},
	{"tag", []string{"lug", "turret", "eyelet"}, "Leads are soldered to a tag. A tag is a means: comparison asks that the right ends meet, and not through which tag."},
	{"dry-joint", []string{"cold-joint"}, "A joint that looks made and does not conduct. “Cold” is kept for readings without power."},
	{"reservoir", []string{"filter", "smoothing"}, "The first capacitor after the rectifier is the reservoir; those after it smooth."},
	{"bleeder", []string{"bleeder-resistor"}, "A resistor that stays across a high-tension capacitor and empties it once the power is off. Measure before touching all the same: it may have failed."},
	{"tap", []string{"tapping"}, "A lead out of the middle of a winding. Those of an output transformer are named by the loudspeaker that belongs on them: `8ohm`."},
	{"feedback", nil, "A part of the signal led back to an earlier stage. Negative works against the signal and calms the amplifier; positive helps it, " +
		"and where more than all of it comes round the amplifier howls. `follow` finds it, and says which it is."},
	{"time-lag", []string{"slow-blow", "slow", "quick"}, "Of a fuse: time-lag (T, slow) bears the rush of current at switching on, quick-acting (F, fast) does not."},
	{"gauge", []string{"awg", "swg", "mm2"}, "A bare gauge number is refused, since 22 SWG is not 22 AWG. Write `22awg`, `22swg` or `0.5mm2`."},
	{"micro", []string{"mfd", "mmfd"}, "1 mfd on old parts is 1 µF, and 1 mmfd is 1 pF. Capitals count in figures: m is milli and M is mega."},
	{"open-circuit", nil, "Said of a part. A joint that is not there is called missing."},
	{"buzz", []string{"noise"}, "Two things: a noise, like hum but rasping, that mostly means a loop of grounds or an unscreened lead; " +
		"and what a meter does when it finds two points joined. buzzout does the second for a whole amplifier on paper. " +
		"In a `reading`, `buzz` and `silent` are what the beeper said."},
}

func findTerm(word string) *term {
	for i, t := range vocabulary {
		if strings.EqualFold(t.printed, word) {
			return &vocabulary[i]
		}
		for _, a := range t.also {
			if strings.EqualFold(a, word) {
				return &vocabulary[i]
			}
		}
	}
	return nil
}
