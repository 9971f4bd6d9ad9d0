package follow

import (
	"buzzout/lang"
	"buzzout/netlist/parts"
)

// Figures are what a valve does with a small signal, near the working point
// that its maker gives as typical. The working point of the valve in question
// is not known here: signs and orders of magnitude follow from these figures,
// and nothing finer.
type Figures struct {
	Slope  float64 // siemens, from grid to anode current
	Anode  float64 // ohms, of the anode itself
	Screen float64 // of a pentode: how many times less the screen grid does than the grid; 0 for a triode
	Share  float64 // of a pentode: screen current for each part of anode current
	Point  string  // the working point, as the source gives it
	Status string  // seen, quoted or memory
	Of     string  // the type whose figures these are
	Stated bool    // they are those of the part's own kind
}

// published are typical working points. "seen" is read in a maker's sheet,
// "quoted" is a sheet as a second party quotes it, "memory" is neither.
var published = map[string]Figures{
	"ecc83":  {Slope: 1.6e-3, Anode: 62.5e3, Point: "250 V, -2 V", Status: "seen"},
	"ecc81":  {Slope: 5.5e-3, Anode: 11e3, Point: "250 V, -2 V", Status: "seen"},
	"ecc82":  {Slope: 2.2e-3, Anode: 7.7e3, Point: "250 V, -8.5 V", Status: "seen"},
	"12ay7":  {Slope: 1.75e-3, Anode: 25.1e3, Point: "250 V, -4 V", Status: "quoted"},
	"6sn7gt": {Slope: 2.6e-3, Anode: 7.7e3, Point: "250 V, -8 V", Status: "seen"},
	"6sl7gt": {Slope: 1.6e-3, Anode: 44e3, Point: "250 V, -2 V", Status: "quoted"},
	"ef86":   {Slope: 2.2e-3, Anode: 2.5e6, Screen: 38, Share: 0.2, Point: "250 V, -2.2 V", Status: "quoted"},
	"6v6gt":  {Slope: 4.1e-3, Anode: 52e3, Screen: 9.6, Share: 0.1, Point: "250 V, -12.5 V", Status: "seen"},
	"6v6gta": {Slope: 4.1e-3, Anode: 52e3, Screen: 9.6, Share: 0.1, Point: "250 V, -12.5 V", Status: "seen"},
	"6l6gc":  {Slope: 6.0e-3, Anode: 22.5e3, Screen: 8, Share: 0.07, Point: "250 V, -14 V", Status: "quoted"},
	"5881":   {Slope: 6.1e-3, Anode: 30e3, Screen: 8, Share: 0.06, Point: "250 V, -14 V", Status: "memory"},
	"el34":   {Slope: 11e-3, Anode: 20e3, Screen: 11, Share: 0.14, Point: "250 V, -14.5 V", Status: "seen"},
	"el84":   {Slope: 11.3e-3, Anode: 38e3, Screen: 19, Share: 0.11, Point: "250 V, -7.3 V", Status: "seen"},
	"kt66":   {Slope: 7.0e-3, Anode: 22.5e3, Screen: 9.5, Share: 0.07, Point: "250 V, -15 V", Status: "quoted"},
	"kt88":   {Slope: 11.5e-3, Anode: 12e3, Screen: 8, Share: 0.02, Point: "250 V, -15 V", Status: "quoted"},
	"6550":   {Slope: 11e-3, Anode: 12e3, Screen: 8, Share: 0.09, Point: "250 V, -14 V", Status: "memory"},
}

// figuresOf gives the figures of a kind's system: its own where they are
// published, else those of a usual valve of the sort.
func figuresOf(k *parts.Kind, t parts.ElementType) Figures {
	name := lang.Fold(k.Name)
	if f, ok := published[name]; ok && (f.Screen > 0) == (t == parts.Pentode) {
		f.Of, f.Stated = k.Name, true
		return f
	}
	usual := "ecc83"
	if t == parts.Pentode {
		usual = "el84"
	}
	f := published[usual]
	f.Of = usual
	return f
}
