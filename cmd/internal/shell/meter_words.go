package shell

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/verify/meter"
)

// An ohmage is a resistance in a document: null where it is over range, since
// no way leads from one probe to the other.
type ohmage float64

func (o ohmage) MarshalJSON() ([]byte, error) { return finite(settled(float64(o)), 6) }

// A duration is in seconds; null is for ever.
type duration float64

func (d duration) MarshalJSON() ([]byte, error) { return finite(float64(d), 3) }

// finite writes a number with so many digits: what lies behind them is of the
// sum and not of the parts.
func finite(v float64, digits int) ([]byte, error) {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, roundTo(v, digits-1), 'f', -1, 64), nil
}

// leastOhms is below any meter's resolution: what is left of a sum.
const leastOhms = 1e-4

func settled(v float64) float64 {
	if math.Abs(v) < leastOhms {
		return 0
	}
	return v
}

// ohmsText is a resistance in a table or a file; over range is what meters show
// for it.
func ohmsText(v float64) string {
	if math.IsInf(v, 1) {
		return "OL"
	}
	if v = settled(v); v > 0 && v < 1 {
		return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) + " Ω" // a meter shows no finer
	}
	return lang.FormatQuantity(v, lang.Ohms)
}

// ohmsSaid is a resistance in a sentence: the figure and its unit stay on one
// line.
func ohmsSaid(v float64) string {
	if math.IsInf(v, 1) {
		return "over range"
	}
	return tied(ohmsText(v))
}

func tied(figure string) string { return strings.ReplaceAll(figure, " ", "\u00a0") }

// rangeText is from the one to the other.
func rangeText(low, high float64, figure func(float64) string) string {
	a, b := figure(low), figure(high)
	if a == b {
		return a
	}
	return a + " to " + b
}

// shareText is a share in per cent.
func shareText(share float64) string {
	switch {
	case share > 0.995:
		return "all"
	case share < 0.005:
		return "<1 %"
	}
	return fmt.Sprintf("%.0f %%", share*100)
}

// secondsSaid is a time that somebody waits for.
func secondsSaid(s float64) string {
	switch {
	case math.IsInf(s, 1):
		return "for ever"
	case s < 1:
		return "less than a\u00a0second"
	case s < 100:
		return fmt.Sprintf("some %.0f\u00a0s", max(1, roundTo(s, 1)))
	case s < 6000:
		return fmt.Sprintf("some %.0f\u00a0minutes", s/60)
	}
	return fmt.Sprintf("some %.0f\u00a0hours", s/3600)
}

// roundTo rounds to so many digits behind the first.
func roundTo(v float64, digits int) float64 {
	if v == 0 {
		return 0
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits, 64), 64) // it was a number
	return rounded
}

// pieceName says which piece of which part it is.
func (s *Session) pieceName(p *meter.Piece) string {
	name := p.Part.Ref
	between := func() string {
		return " from " + s.endOf(p.A) + " to " + s.endOf(p.B)
	}
	switch p.Nature {
	case meter.TrackBelow, meter.TrackAbove, meter.Winding:
		return name + between()
	case meter.Heater:
		return "heater of " + name + between()
	}
	return name
}

func (s *Session) namesOf(list []netlist.TerminalID) []string {
	var names []string
	for _, t := range list {
		names = append(names, s.book.Name(t))
	}
	return names
}

// endOf is a terminal's name without its part.
func (s *Session) endOf(t netlist.TerminalID) string {
	return strings.TrimPrefix(s.book.Name(t), s.book.Terminals[t].Part.Ref+".")
}

// worth says what a piece has: its value and how sure that is.
func worth(v *meter.Value) string {
	if v.Basis == meter.Unknown {
		return "nobody told"
	}
	text := ohmsText(v.Ohms)
	if v.Tolerance > 0 && v.Ohms > 0 {
		return text + fmt.Sprintf(" ±%.3g %%", v.Tolerance*100)
	}
	if v.Low != v.High {
		text += ", " + rangeText(v.Low, v.High, ohmsText)
	}
	return text
}

// basisText says where a value is from, where it is not the
// notebook's own figure.
func basisText(v *meter.Value) string {
	switch v.Basis {
	case meter.Derived:
		return "by a rule of the trade"
	case meter.Supposed:
		return "from memory"
	case meter.Unknown:
		return "taken as " + rangeText(v.Low, v.High, ohmsText)
	}
	if v.Tolerance > 0 && !v.Told {
		return "tolerance taken"
	}
	return ""
}

var basisNames = [...]string{
	meter.Stated: "stated", meter.Derived: "derived", meter.Supposed: "supposed", meter.Unknown: "unknown",
}

var kindNames = [...]string{
	meter.Figure: "figure", meter.Open: "open", meter.Rising: "rising", meter.OneWay: "one-way",
}

// shownText is what stands on the meter, in a few words.
func shownText(e *meter.Expectation) string {
	text := ohmsText(e.Shown)
	switch {
	case e.OneConductor:
		return "beeps, " + text
	case e.Kind == meter.Rising && math.IsInf(e.Shown, 1):
		return "climbs to OL"
	case e.Kind == meter.Rising:
		return "climbs to " + text
	case len(e.Forward.Junctions) > 0:
		return text + " or less"
	}
	return text
}

// should is what the display should do, in a sentence.
func should(e *meter.Expectation) string {
	over := "over range (OL)"
	switch {
	case e.OneConductor:
		return "should beep and show " + ohmsSaid(e.Shown)
	case e.Kind == meter.Rising && math.IsInf(e.Shown, 1):
		return "should climb until it is " + over
	case e.Kind == meter.Rising:
		return "should climb to " + ohmsSaid(e.Shown)
	case math.IsInf(e.Shown, 1) && len(e.Forward.Junctions) > 0:
		return "should show " + over + ", or less where the meter drives a diode on"
	case math.IsInf(e.Shown, 1):
		return "should show " + over
	case len(e.Forward.Junctions) > 0:
		return "should show " + ohmsSaid(e.Shown) + ", or less where the meter drives a diode on"
	}
	return "should show " + ohmsSaid(e.Shown)
}

// boundsText is from where to where the parts may bring a reading.
func boundsText(e *meter.Expectation) string {
	if math.IsInf(e.Low, 1) {
		return ""
	}
	return rangeText(leastOf(e), e.High, ohmsText)
}

// leastOf is the lowest that a reading may be: lower than the worst case where
// a diode may conduct.
func leastOf(e *meter.Expectation) float64 {
	if len(e.Forward.Junctions) > 0 {
		return min(e.Low, e.Forward.Low)
	}
	return e.Low
}

// display is from where to where a meter may show a reading: the worst case of
// the parts, its leads and its own error. What it shows between these counts
// as within.
func display(m *meter.Meter, e *meter.Expectation) (low, high float64) {
	edge := func(ohms, side float64) float64 {
		if math.IsInf(ohms, 1) {
			return ohms
		}
		shown := ohms + m.Probes
		return m.Display(max(0, shown+side*m.Slack(shown)))
	}
	return edge(leastOf(e), -1), edge(e.High, 1)
}

// junctionNames lists the parts of junctions, each once.
func junctionNames(list []meter.Junction) []string {
	var names []string
	for _, j := range list {
		if len(names) == 0 || names[len(names)-1] != j.Part.Ref {
			names = append(names, j.Part.Ref)
		}
	}
	return names
}
