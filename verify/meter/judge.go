package meter

import (
	"math"

	"buzzout/lang"
	"buzzout/netlist"
)

// Verdict is how a reading stands to its prediction.
type Verdict uint8

// The verdicts.
const (
	_          Verdict = iota
	Within             // as the wiring should read
	Out                // a value that parts within their tolerance cannot give
	Impossible         // one that no values of the parts could give: the wiring is another
	NotOhms            // volts, amperes, farads: nothing that is read cold
)

// A Judged is a reading beside its prediction, on the bench and in the setting
// of its moment.
type Judged struct {
	Reading *netlist.Reading
	Verdict Verdict
	Reason  Reason
	Expectation
	// Measured is what lies between the probes by the meter, its leads taken
	// off, in ohms; +Inf for over range; NaN for what has no figure.
	Measured float64
	// Slack is how far Measured may be off, in ohms either way.
	Slack float64
	// Factor is 1000 or 1/1000 where the reading times that would be within: k
	// for M, or the other way. 0 otherwise.
	Factor float64
}

// Reason says why a reading is not within.
type Reason uint8

// The reasons.
const (
	_            Reason = iota
	TooLow              // lower than parts within their tolerance can make it
	TooHigh             // higher
	NoWay               // a figure, where nothing leads from one probe to the other
	NotJoined           // a resistance, where the two are one conductor
	BelowProbes         // less than the meter shows with its probes together
	ReadsOpen           // over range, where a way is
	DoesNotClimb        // it climbs, where no capacitor charges
)

// Judge predicts a reading on the bench and in the setting of its moment, and
// puts the two side by side.
func Judge(b *netlist.Book, m netlist.Meaning, r *netlist.Reading) Judged {
	return At(b, m, r).Judge(r)
}

// At draws the network of the moment at which a reading was taken.
func At(b *netlist.Book, m netlist.Meaning, r *netlist.Reading) *Network {
	return Built(b.BenchAt(r.Step), m, r.With)
}

// Judge puts a reading beside its prediction by this network.
func (n *Network) Judge(r *netlist.Reading) Judged {
	j := Judged{Reading: r, Expectation: n.Expect(r.Red, r.Black), Measured: math.NaN()}
	if r.Sign != "buzz" && r.Sign != "silent" && r.Sign != "open" && r.Sign != "rising" && r.Value.Quantity != lang.Ohms {
		j.Verdict = NotOhms
		return j
	}
	switch r.Sign {
	case "":
		j.judgeFigure(n.Meter, r.Value.Value)
	case "open":
		j.Measured = math.Inf(1)
		j.judgeOver(n.Meter.Most)
	case "over":
		j.Measured = math.Inf(1)
		j.judgeOver(r.Value.Value)
	case "rising":
		j.judgeRising()
	case "buzz", "silent":
		j.judgeBeeper(r.Sign == "buzz")
	}
	return j
}

func (j *Judged) is(v Verdict, why Reason) { j.Verdict, j.Reason = v, why }

// least is the lowest that the meter can show: lower than Low where a
// junction conducts, and where the reading still climbs.
func (j *Judged) least() float64 {
	least := j.Low
	if len(j.Forward.Junctions) > 0 {
		least = min(least, j.Forward.Low)
	}
	for _, c := range j.Climbs {
		least = min(least, c.From)
	}
	return least
}

func (j *Judged) judgeFigure(m Meter, shown float64) {
	j.Slack = m.Slack(shown)
	j.Measured = max(0, shown-m.Probes)
	if shown < m.Probes-j.Slack {
		j.is(Impossible, BelowProbes)
		return
	}
	least := j.least()
	fits := func(shown float64) bool {
		slack := m.Slack(shown)
		return shown-m.Probes+slack >= least && shown-m.Probes-slack <= j.High
	}
	switch {
	case fits(shown):
		j.is(Within, 0)
		return
	case j.OneConductor:
		j.is(Impossible, NotJoined)
	case math.IsInf(j.Ohms, 1):
		j.is(Impossible, NoWay)
	case j.Measured < least:
		j.is(Out, TooLow)
	default:
		j.is(Out, TooHigh)
	}
	for _, f := range []float64{1000, 1.0 / 1000} {
		if shown*f >= m.Resolution(shown*f) && fits(shown*f) && !j.OneConductor && !math.IsInf(j.Ohms, 1) {
			j.Factor = f
		}
	}
}

// judgeOver judges a meter that showed over range, above so many ohms.
func (j *Judged) judgeOver(most float64) {
	switch {
	case j.High >= rangeEnd*most:
		j.is(Within, 0)
	case j.OneConductor:
		j.is(Impossible, ReadsOpen)
	default:
		j.is(Out, ReadsOpen)
	}
}

func (j *Judged) judgeRising() {
	switch {
	case len(j.Climbs) > 0:
		j.is(Within, 0)
	case j.OneConductor:
		j.is(Impossible, NotJoined)
	default:
		j.is(Out, DoesNotClimb)
	}
}

// A beeper sounds below some tens of ohms; between the two bounds it may or
// may not (common practice, no source).
const (
	SurelyBuzzes = 10
	SurelySilent = 150
)

func (j *Judged) judgeBeeper(buzz bool) {
	switch {
	case buzz && j.least() <= SurelySilent || !buzz && j.High >= SurelyBuzzes:
		j.is(Within, 0)
	case buzz && math.IsInf(j.Ohms, 1):
		j.is(Impossible, NoWay)
	case buzz:
		j.is(Out, TooLow)
	case j.OneConductor:
		j.is(Impossible, NotJoined)
	default:
		j.is(Out, TooHigh)
	}
}
