package shell

import (
	"strings"

	"buzzout/lang"
	"buzzout/verify/legend"
	"buzzout/verify/meter"
)

// readingKept answers a reading that was just written down: how it stands to
// what the wiring should read.
func (s *Session) readingKept(fact *lang.Reading) string {
	if len(fact.Words) > 0 && strings.EqualFold(fact.Words[0].Text, "probes") {
		return "From here on the meter shows " + ohmsSaid(s.bench().Probes) + " with its probes together."
	}
	kept := count(len(s.book.Readings), "reading") + " now."
	last := s.book.Readings[len(s.book.Readings)-1]
	if red := &s.book.Terminals[last.Red]; red.Lead && last.Value.Quantity == lang.Volts {
		if why := legend.WhyAside(s.book, red.Part, legend.Cheap, last); why != "" {
			return "Kept, but it tells nothing of the leads of " + red.Part.Ref + ": " + why + ". " + kept
		}
		return "Kept. identify " + red.Part.Ref + " says what it tells of the leads. " + kept
	}
	row := s.readingRow(last)
	for _, c := range s.contradictions(s.book.Readings) {
		if c.Also == row.Where {
			return "Kept, but " + c.Red + " to " + c.Black + " said " + c.First + " before (" + c.places[0] + "), and both cannot be. Take it again, and strike the wrong one. " + kept
		}
	}
	return row.kept() + " " + kept
}

// kept is the verdict on one reading in a sentence or two.
func (r *readingRow) kept() string {
	shows := "it " + should(&r.judged.Expectation)
	switch {
	case r.judged.Verdict == meter.NotOhms:
		return "Kept. It is no reading of ohms, and nothing is judged by it."
	case len(r.Rivals) > 0:
		return "Kept. Whether it is as it should be hangs on which source of the leads' colours is right: readings tells."
	case r.judged.Verdict == meter.Within:
		return "Within: " + shows + "."
	case r.judged.Factor != 0:
		return "Was it another unit? " + capital(shows) + "; readings says how to mend the line."
	}
	return capital(r.Verdict) + ": " + shows + ". readings says more, and where-next goes on from here."
}
