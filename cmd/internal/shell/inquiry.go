package shell

import (
	"fmt"
	"math"

	"buzzout/netlist"
	"buzzout/verify/diagnose"
)

// An inquiry is the diagnosis of the wiring by all readings of the notebook.
type inquiry struct {
	*diagnose.Diagnosis
	basis
}

// A basis says what the readings were weighed on.
type basis struct {
	Harness string `json:"harness"` // built or planned
	Under   string `json:"under"`   // whose word on the leads' colours is taken, where sources disagree
	// Weight is how likely that is by the readings, beside the other sources;
	// 1 where nobody disagrees.
	Weight   ratio `json:"under_probability"`
	what     string
	disputed []string
}

// mostMeanings bounds the meanings of the leads' colours that are weighed.
const mostMeanings = 8

// inquire weighs all readings. Where sources of the leads' colours disagree,
// the wiring is tried under each, and the one under which it foretells the
// readings best is taken; the first of equal ones. It is kept until the
// notebook changes.
func (s *Session) inquire() *inquiry {
	w := s.wiring()
	if w.inquiry != nil {
		return w.inquiry
	}
	meanings := s.book.Meanings()
	meanings = meanings[:min(len(meanings), mostMeanings)]
	var best *inquiry
	most, evidence := 0.0, make([]float64, len(meanings))
	for i, m := range meanings {
		in := s.inquireUnder(m)
		if len(meanings) > 1 {
			evidence[i] = in.Evidence()
		}
		if best == nil || evidence[i] > most+1e-9 {
			best, most = in, evidence[i]
		}
	}
	total := 0.0
	for _, e := range evidence {
		total += math.Exp(e - most)
	}
	best.Weight = ratio(1 / total)
	w.inquiry = best
	return best
}

func (s *Session) inquireUnder(m netlist.Meaning) *inquiry {
	in := &inquiry{basis: basis{Harness: "built", Under: s.underText(m), what: "On the bench", disputed: s.disputed()}}
	if len(s.bench().Joints) == 0 {
		in.what, in.Harness = "As drawn", "planned"
	}
	in.Diagnosis = diagnose.New(diagnose.Case{Book: s.book, Meaning: m, Planned: in.Harness == "planned", Found: s.verdict().findings})
	in.Read(s.book.Readings...)
	return in
}

// clearWeight is from which a source of the colours counts as borne out by the
// readings.
const clearWeight = 0.9

// writeUnder says whose word on the leads' colours was taken.
func (b *basis) writeUnder(p *page) {
	if b.Under == "" {
		return
	}
	how := "the readings do not tell which is right"
	if float64(b.Weight) >= clearWeight {
		how = "the readings speak for that, by " + tied(percent(float64(b.Weight)))
	}
	p.say(0, 2, plain(fmt.Sprintf("Sources disagree about the colours of %s. Taken here: %s; %s. %s", joinAnd(b.disputed), b.Under, how, howToSettle(b.disputed))))
}
