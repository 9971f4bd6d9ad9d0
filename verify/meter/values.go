package meter

import (
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
)

// A Basis says where a value is from.
type Basis uint8

// The bases, the surest first.
const (
	Stated   Basis = iota // on the part's line or in its kind, or told at the bench
	Measured              // taken from a reading, because nobody told it: see Network.Take
	Derived               // from stated figures by a rule of the trade, told beside the rule
	Supposed              // from memory: a wide band
	Unknown               // nobody has told it; the bounds are those of anything of that sort
)

// A Value is what an ohmmeter may find in one thing, in ohms. Low and High are
// the worst cases, Spread the standard deviation of its logarithm.
type Value struct {
	Ohms, Low, High float64
	Spread          float64
	Basis           Basis
	// Tolerance is that of the value, as a fraction; 0 where Low and High are
	// not from one. Told says that the part's line gives it.
	Tolerance float64
	Told      bool
}

// Tolerances where the line gives none, as fractions. The parts sold today are
// better; these are what a builder should expect of a bag of mixed parts
// (common practice, no source).
const (
	resistorTolerance  = 0.05
	carbonTolerance    = 0.10
	metalFilmTolerance = 0.01
	trackTolerance     = 0.20
	// Copper alone changes by 4 % either way between 10 and 30 degrees
	// (0.00393 per kelvin: NBS Handbook 100); the rest is for the maker's wire.
	copperTolerance = 0.10
)

// Rules for what is not stated in ohms.
const (
	// A fuse drops some 0.2 V at its rating, less when cold, three times more
	// in small slow ones (from memory).
	fuseVolts  = 0.2
	fuseFactor = 3
	// A filament or heater cold has a fifth to a tenth of what it has when hot
	// (from memory); the bounds are wider than that.
	heaterShare, heaterLow, heaterHigh = 0.15, 0.07, 0.30
	lampShare, lampLow, lampHigh       = 0.10, 0.05, 0.20
	// A loudspeaker's voice coil has about three quarters of its impedance
	// (common practice, no source). What has more than 32 ohm is no
	// loudspeaker but a coil of a reverberation unit or the like, mostly
	// inductive (from memory).
	voiceShare, voiceLow, voiceHigh = 0.75, 0.55, 0.95
	voiceMost                       = 32
	driveShare, driveLow, driveHigh = 0.12, 0.05, 0.50
)

// within is a value with a tolerance, taken as even between its bounds.
func within(ohms, tolerance float64, told bool, basis Basis) Value {
	return Value{Ohms: ohms, Low: ohms * (1 - tolerance), High: ohms * (1 + tolerance),
		Spread: tolerance / math.Sqrt(3), Basis: basis, Tolerance: tolerance, Told: told}
}

// between is a value known by wide bounds only, taken as even in its logarithm.
func between(ohms, low, high float64, basis Basis) Value {
	return Value{Ohms: ohms, Low: low, High: high, Spread: math.Log(high/low) / (2 * math.Sqrt(3)), Basis: basis}
}

// What nobody told: the bounds are those of anything of that sort that is met in
// an amplifier (from memory).
var (
	unknownResistor = between(10e3, 1, 10e6, Unknown)
	unknownWinding  = between(20, 0.05, 1000, Unknown)
	unknownChoke    = between(120, 5, 3000, Unknown) // what has henries has some ohms as well
	unknownFuse     = between(0.5, 0.02, 10, Unknown)
	unknownFilament = between(5, 0.2, 500, Unknown)
)

// fitted is a part as it is in the wiring that is measured.
type fitted struct {
	part *netlist.Part
	netlist.Fitted
}

// tolerance is that of the part's line, or else what is usual.
func (f *fitted) tolerance(own []lang.Figure, usual float64) (fraction float64, told bool) {
	for _, list := range [][]lang.Figure{own, f.Figures} {
		if p, ok := firstOf(list, lang.Percent); ok && p.Value >= 0 && p.Value < 100 {
			return p.Value / 100, true
		}
	}
	return usual, false
}

func firstOf(list []lang.Figure, q lang.Quantity) (lang.Figure, bool) {
	i := slices.IndexFunc(list, func(f lang.Figure) bool { return f.Quantity == q })
	if i < 0 {
		return lang.Figure{}, false
	}
	return list[i], true
}

func (f *fitted) word(word string) bool {
	return slices.ContainsFunc(f.Words, func(w string) bool { return lang.Fold(w) == word })
}

// resistance is the value of a resistance element.
func (f *fitted) resistance(element int) Value {
	e, v := &f.Kind.Elements[element], f.Values[element]
	if v.Text == "" || v.Value < 0 {
		return unknownResistor
	}
	usual := resistorTolerance
	switch {
	case f.word("carbon"):
		usual = carbonTolerance
	case f.word("metal-film"):
		usual = metalFilmTolerance
	case f.word("ntc") || f.word("ptc"):
		usual = trackTolerance // they change with every degree
	}
	t, told := f.tolerance(e.Figures, usual)
	return within(v.Value, t, told, Stated)
}

// track is the value of a whole track.
func (f *fitted) track(element int) Value {
	e, v := &f.Kind.Elements[element], f.Values[element]
	if v.Text == "" || v.Value <= 0 {
		return unknownResistor
	}
	t, told := f.tolerance(e.Figures, trackTolerance)
	return within(v.Value, t, told, Stated)
}

// wire is the value of a coil: as a dcr line tells it, as the ohms on the
// part's line, or by the rules for what has an impedance.
func (f *fitted) wire(element int) Value {
	e := &f.Kind.Elements[element]
	if v, ok := f.dcr(e.Ends[0], e.Ends[1]); ok {
		return v
	}
	if ohms, ok := f.Kind.WireOhms(element, f.Figures); ok && ohms.Value > 0 {
		t, told := f.tolerance(e.Figures, copperTolerance)
		return within(ohms.Value, t, told, Stated)
	}
	ohms, ok := firstOf(e.Figures, lang.Ohms)
	if v := f.Values[element]; !ok && v.Quantity == lang.Ohms && v.Text != "" {
		ohms, ok = v, true
	}
	_, henries := firstOf(e.Figures, lang.Henries)
	switch {
	case !ok && (henries || f.Values[element].Quantity == lang.Henries && f.Values[element].Text != ""):
		return unknownChoke
	case !ok || !e.Nominal || ohms.Value <= 0:
		return unknownWinding
	case ohms.Value <= voiceMost:
		return between(ohms.Value*voiceShare, ohms.Value*voiceLow, ohms.Value*voiceHigh, Derived)
	}
	return between(ohms.Value*driveShare, ohms.Value*driveLow, ohms.Value*driveHigh, Supposed)
}

// dcr is the value that a dcr line gives between two ends.
func (f *fitted) dcr(a, b int) (Value, bool) {
	for i := range f.Kind.Between {
		line := &f.Kind.Between[i]
		if line.Verb != "dcr" || !(line.From == a && line.To == b || line.From == b && line.To == a) {
			continue
		}
		ohms, ok := firstOf(line.Figures, lang.Ohms)
		if !ok || ohms.Value < 0 {
			continue
		}
		t, told := copperTolerance, false
		if p, ok := firstOf(line.Figures, lang.Percent); ok && p.Value >= 0 && p.Value < 100 {
			t, told = p.Value/100, true
		}
		return within(ohms.Value, t, told, Stated), true
	}
	return Value{}, false
}

// fuse is the value of a fuse.
func (f *fitted) fuse(element int) Value {
	amperes := f.Values[element]
	if amperes.Quantity != lang.Amperes || amperes.Value <= 0 {
		return unknownFuse
	}
	r := fuseVolts / amperes.Value
	return between(r, r/fuseFactor, r*fuseFactor, Supposed)
}

// filament is the value of a lamp or heater cold, from its volts and amperes
// or watts; ohms on its line are what a meter read.
func (f *fitted) filament(element int, share, low, high float64) Value {
	e := &f.Kind.Elements[element]
	list := slices.Concat(e.Figures, f.Figures)
	if ohms, ok := firstOf(list, lang.Ohms); ok && ohms.Value > 0 {
		return within(ohms.Value, trackTolerance, false, Stated)
	}
	volts, _ := firstOf(list, lang.Volts)
	amperes, _ := firstOf(list, lang.Amperes)
	watts, _ := firstOf(list, lang.Watts)
	hot := 0.0
	switch {
	case volts.Value > 0 && amperes.Value > 0:
		hot = volts.Value / amperes.Value
	case volts.Value > 0 && watts.Value > 0:
		hot = volts.Value * volts.Value / watts.Value
	default:
		return unknownFilament
	}
	return between(hot*share, hot*low, hot*high, Supposed)
}
