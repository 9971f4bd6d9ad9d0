package legend

import (
	"math"
	"strings"

	"buzzout/lang"
)

// A Meter is how far a reading may be from the truth. Each figure is a bound
// and not a spread: certainty rests on it.
type Meter struct {
	Digit       float64 // ohms: the last digit of its lowest range
	Contact     float64 // ohms that probe tips and enamel add or take at most
	Scale       float64 // of the reading in ohms, as a fraction
	VoltsScale  float64 // of the reading in alternating volts, as a fraction: its error, and how the supply wanders
	SameRange   float64 // the same between two readings on one range
	VoltsDigits float64 // last digits, on top of that
}

// Cheap is a hand meter as most people have it. Resolving 0.1 Ω, with leads
// of some tenths of an ohm, is what meter makers say of such a one; the other
// bounds are about four times the noise of such readings at the bench with
// poor contacts (0.1 Ω), and three times the 1 % in volts that its maker allows
// it (common practice, no source).
var Cheap = Meter{Digit: 0.1, Contact: 0.4, Scale: 0.02, VoltsScale: 0.03, SameRange: 0.015, VoltsDigits: 1}

// smallVolts is the last digit, in volts, to which hand meters read the volts of
// a small supply (common practice, no source).
const smallVolts = 0.01

// probes is what two probes and their leads add where nobody has read them
// held together: nought to this. Meter makers give 0.1 to 0.5 Ω.
const probes = 0.5

// good is the noise of a good contact, in ohms (common practice, no source),
// and chance how many times the noise of a difference is taken for more than
// chance, which one of some thirty is: what readings lean to rests on these,
// certainty never does.
const (
	good   = 0.05
	chance = 2.2
)

// ohms is the band of a reading in ohms; digit is its last digit as typed,
// added what the probes add.
func (m Meter) ohms(value, digit float64, added band) band {
	by := m.Contact + max(m.Digit, digit)/2 + m.Scale*value
	return band{max(0, value-added.hi-by), max(0, value-added.lo+by)}
}

// leaning is a narrower band, that holds the true value most of the time.
func (m Meter) leaning(value, digit, added float64) band {
	last := max(m.Digit, digit) / math.Sqrt(12) // of a rounding, as a spread
	by := chance*math.Hypot(good, last)/math.Sqrt2 + m.Scale*value/4
	return band{max(0, value-added-by), max(0, value-added+by)}
}

// volts is the band of a reading in alternating volts, and a closer one
// beside other readings on the same range.
func (m Meter) volts(value, digit float64) (is, close band) {
	value = math.Abs(value)
	within := func(scale float64) band {
		by := m.VoltsDigits*digit + scale*value
		return band{max(0, value-by), value + by}
	}
	return within(m.VoltsScale), within(m.SameRange)
}

// apart says how far two readings in ohms must be from one another before
// such a meter can be said to tell which is the larger.
func (m Meter) apart(value float64) float64 {
	return 2 * (m.Contact + m.Digit/2 + m.Scale*value)
}

// lastDigit is what the last digit of a figure stands for, in the unit
// without a prefix: 0.1 of "0.6", 1 of "181", 100 of "0.6k" and of "4k7". It is
// the same figure with nought for every other digit.
func lastDigit(f lang.Figure) float64 {
	text := []byte(strings.ReplaceAll(f.Text, " ", "")) // the unit may be a word of its own
	last := -1
	for i, c := range text {
		if '0' <= c && c <= '9' {
			text[i], last = '0', i
		}
	}
	if last < 0 {
		return 0
	}
	text[last] = '1'
	one, _ := lang.ReadFigure(string(text))
	return math.Abs(one.Value)
}
