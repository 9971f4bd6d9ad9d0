// Package meter says what an ohmmeter reads in an amplifier without power.
//
// A [Network] is drawn from the wiring, as built or as drawn, in one setting:
// [Built], [Planned]. It knows conductors, and between them everything that an
// ohmmeter sees: resistors, tracks at their position, windings, fuses, lamps
// and heaters cold. [Network.Expect] predicts the reading between two
// terminals, with its bounds and the reasons; [Network.Table] those from one
// terminal to all conductors, [Network.Sheet] a test sheet for a walk round the
// chassis. [Judge] puts a reading that was taken beside its prediction, with
// the bench and the settings of its moment.
//
// What is taken where the notebook gives no figure is told in values.go and
// goes with every answer as its [Basis].
package meter

import "math"

// A Meter is the instrument: what it adds to a reading and how fine it is.
type Meter struct {
	// Probes is what it shows with its probes held together, in ohms. It is
	// part of every reading, and matters in low ones. Told says that the
	// notebook tells it; otherwise it is a guess.
	Probes float64
	Told   bool
	Counts int     // of its display: 2000 is three and a half digits
	Least  float64 // its lowest range, in ohms
	Most   float64 // above this it shows over range, in ohms
	Error  float64 // of the reading, as a fraction, besides two counts
}

// Handheld is a hand-held digital meter: 2000 counts, from 200 ohm to 20
// megohm, 1 % and two counts (common practice, no source). Leads are some
// tenths of an ohm: 0.2 to 0.5 in one maker's introduction to resistance
// measurement, 0.1 to 0.2 in another's manual; 0.3 is taken until the notebook
// tells what the probes read together.
func Handheld() Meter {
	return Meter{Probes: 0.3, Counts: 2000, Least: 200, Most: 20e6, Error: 0.01}
}

// contacts is how far probes, tags and switches may differ from no resistance
// at all, in ohms: some 0.1 was the difference between readings with two leads
// and with four over resistors of one ohm (S. Hinman, Cathode Resistor Bias
// Ponderables, 1997).
const contacts = 0.15

// Resolution is one count in the range in which a value is shown, in ohms.
func (m Meter) Resolution(ohms float64) float64 {
	full := m.Least
	for ohms > full && full < m.Most {
		full *= 10
	}
	return full / float64(m.Counts)
}

// Shows is what stands on the display for a resistance between the probes'
// tips, leads included, in whole counts; +Inf is over range.
func (m Meter) Shows(ohms float64) float64 { return m.Display(ohms + m.Probes) }

// Display is what stands on the display for so many ohms, leads included, in
// whole counts; +Inf is over range.
func (m Meter) Display(ohms float64) float64 {
	if ohms > m.Most {
		return math.Inf(1)
	}
	count := m.Resolution(ohms)
	return math.Round(ohms/count) * count
}

// rangeEnd is the share of a range from which a meter may show over range: where
// it ends is not exact (common practice, no source).
const rangeEnd = 0.95

// OverFrom is from how many ohms on the meter may show over range.
func (m Meter) OverFrom() float64 { return rangeEnd * m.Most }

// Slack is how far what the meter shows may be from the truth, in ohms either
// way: its error, two counts, and its contacts.
func (m Meter) Slack(ohms float64) float64 {
	slack := m.Error*ohms + 2*m.Resolution(ohms) + contacts
	if !m.Told {
		slack += contacts
	}
	return slack
}
