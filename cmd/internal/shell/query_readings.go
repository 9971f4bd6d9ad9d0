package shell

import (
	"strconv"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/meter"
)

type readingRow struct {
	Red    string   `json:"red"`
	Black  string   `json:"black"`
	Value  string   `json:"value"`
	With   string   `json:"with"`
	Remark string   `json:"remark"`
	Where  placeDoc `json:"where"`
	// What the wiring of the moment should have read, and how the two stand to
	// one another.
	Verdict  string `json:"verdict"` // within, out, impossible, or not-ohms
	Reason   string `json:"reason"`
	Ohms     ohmage `json:"ohms"` // expected, without the meter's leads
	Low      ohmage `json:"ohms_low"`
	High     ohmage `json:"ohms_high"`
	Measured ohmage `json:"ohms_measured"` // leads taken off; null for over range and for what has no figure
	Slack    ohmage `json:"ohms_slack"`    // how far the meter may be off, either way
	Text     string `json:"text"`          // the verdict in a sentence, "" where it is within
	Mend     string `json:"mend"`          // what to type if it was only written down wrong, "" where it was not
	// Rivals are the verdicts by other sources of the leads' colours, where
	// they differ from this one.
	Rivals listOf[rivalVerdict] `json:"rivals"`
	judged meter.Judged
}

// A rivalVerdict is how a reading stands to its prediction if other sources of
// the leads' colours are right.
type rivalVerdict struct {
	Under   string `json:"under"`
	Verdict string `json:"verdict"`
	Ohms    ohmage `json:"ohms"`
	e       meter.Expectation
}

type readingsAnswer struct {
	Readings       listOf[readingRow]       `json:"readings"`
	Contradictions listOf[contradictionRow] `json:"contradictions"`
	Under          string                   `json:"under"`
	Probes         float64                  `json:"probes_ohms"`
	disputed       []string
	word           string
	notebook       string
}

var verdictNames = [...]string{
	meter.Within: "within", meter.Out: "out", meter.Impossible: "impossible", meter.NotOhms: "not-ohms",
}

var reasonNames = [...]string{
	meter.TooLow: "too-low", meter.TooHigh: "too-high", meter.NoWay: "no-way", meter.NotJoined: "not-joined",
	meter.BelowProbes: "below-probes", meter.ReadsOpen: "reads-open", meter.DoesNotClimb: "does-not-climb",
}

func askReadings(s *Session, a *asked) (answer, *diag.Diagnostic) {
	f, wrong := s.filterAsked(a)
	if wrong != nil {
		return nil, wrong
	}
	found := readingsAnswer{Probes: s.bench().Probes, Under: s.underText(s.wiring().meaning), disputed: s.disputed(), word: a.word(0), notebook: s.name}
	var asked []*netlist.Reading
	for _, r := range s.book.Readings {
		if s.passes(f, r.Red, r.Black) {
			found.Readings = append(found.Readings, s.readingRow(r))
			asked = append(asked, r)
		}
	}
	found.Contradictions = s.contradictions(asked)
	return found, nil
}

func (s *Session) readingRow(r *netlist.Reading) readingRow {
	j := meter.Judge(s.book, s.wiring().meaning, r)
	row := readingRow{
		Red: s.book.Name(r.Red), Black: s.book.Name(r.Black), Value: valueText(r),
		With: s.withText(r), Remark: r.Remark, Where: placed(r.Fact.Place()),
		Verdict: verdictNames[j.Verdict], Reason: reasonNames[j.Reason], Ohms: ohmage(j.Ohms), Low: ohmage(j.Low), High: ohmage(j.High),
		Measured: ohmage(j.Measured), Slack: ohmage(j.Slack), judged: j,
	}
	row.Text = reasonText(&row)
	if j.Factor != 0 {
		row.Mend = unitMend(r, j.Factor)
	}
	for _, m := range s.otherMeanings() {
		if by := meter.Judge(s.book, m, r); by.Verdict != j.Verdict {
			row.Rivals = append(row.Rivals, rivalVerdict{s.underText(m), verdictNames[by.Verdict], ohmage(by.Ohms), by.Expectation})
		}
	}
	return row
}

// valueText is what the meter said.
func valueText(r *netlist.Reading) string { return strings.TrimSpace(r.Sign + " " + r.Value.Text) }

// reasonText says in a sentence why a reading is not within.
func reasonText(r *readingRow) string {
	j := &r.judged
	shows := "It " + should(&j.Expectation)
	if bounds := boundsText(&j.Expectation); bounds != "" && !j.OneConductor {
		shows += ", " + tied(bounds) + " at the worst"
	}
	switch {
	case j.Factor > 1:
		return "It is too low, and a thousand times as much would be within: was it the next larger unit, M for k or k for ohms? " + shows + "."
	case j.Factor > 0:
		return "It is too high, and a thousandth of it would be within: was it the next smaller unit, k for M or ohms for k? " + shows + "."
	}
	if j.Reason == meter.NotJoined || j.OneConductor && j.Reason == meter.ReadsOpen {
		return "The two are one conductor in the notebook, and the meter does not find them so: a joint between them is dry, or was never made."
	}
	switch j.Reason {
	case meter.TooLow:
		return "It is lower than parts within their tolerances make it: something of another value, or something more lies across it. " + shows + "."
	case meter.TooHigh:
		return "It is higher than parts within their tolerances make it: something of another value, or a joint on the way that is not one. " + shows + "."
	case meter.NoWay:
		return "No way leads from one probe to the other in the notebook: the wiring is another. " + shows + "."
	case meter.BelowProbes:
		return "That is less than the meter shows with its probes together: measure that again, and tell it by reading probes."
	case meter.ReadsOpen:
		return "There is a way in the notebook and none for the meter: a part on it is open, or a joint is dry. " + shows + "."
	case meter.DoesNotClimb:
		return "No capacitor charges there, so nothing should climb. " + shows + "."
	}
	return ""
}

func (a readingsAnswer) write(p *page) {
	counts := map[meter.Verdict]int{}
	var rows []row
	if len(a.Readings) > 0 {
		rows = append(rows, row{{faint("red")}, {faint("black")}, {faint("meter said")}, {faint("should show")}, {faint("verdict")}, {}})
	}
	for i := range a.Readings {
		r := &a.Readings[i]
		counts[r.judged.Verdict]++
		tail := []span{faint(shortPlace(a.notebook, r.judged.Reading.Fact.Place()))}
		if r.Remark != "" {
			tail = append(tail, plain(" "+r.Remark))
		}
		value := r.Value
		if r.With != "" {
			value += " with " + r.With
		}
		should := "-"
		if r.judged.Verdict != meter.NotOhms {
			should = shownText(&r.judged.Expectation)
		}
		rows = append(rows, row{cell(r.Red), cell(r.Black), {strong(value)}, cell(should), {r.verdictSpan()}, tail})
	}
	p.table(0, rows)
	for i := range a.Readings {
		r := &a.Readings[i]
		if r.Text != "" {
			p.gap()
			p.say(0, 2, strong(r.Red), plain(" to "), strong(r.Black), plain(", "+r.Value+" ("), faint(placeText(r.judged.Reading.Fact.Place())), plain("): "+r.Text))
			if r.Mend != "" {
				p.say(2, 4, plain("If so, type: "+r.Mend))
			}
		}
		a.writeRivals(p, r)
	}
	writeContradictions(p, a.Contradictions)
	if counts[meter.Out]+counts[meter.Impossible] > 0 {
		p.gap()
	}
	p.say(0, 0, plain(tally(len(a.Readings), "reading", a.word)+verdictCounts(counts)))
}

// writeRivals tells of a reading whose verdict hangs on which source of the
// colours is right.
func (a *readingsAnswer) writeRivals(p *page, r *readingRow) {
	if len(r.Rivals) == 0 {
		return
	}
	p.gap()
	var texts []string
	for i := range r.Rivals {
		texts = append(texts, "with "+r.Rivals[i].Under+" it is "+r.Rivals[i].Verdict+" ("+should(&r.Rivals[i].e)+")")
	}
	p.say(0, 2, strong(r.Red), plain(" to "), strong(r.Black), plain(", "+r.Value+", hangs on the colours of "+joinAnd(a.disputed)+": it is "+r.Verdict+" with "+a.Under+"; "+
		joinAnd(texts)+". "+howToSettle(a.disputed)))
}

// shortPlace is short for what stands in the notebook itself: the tables of
// readings are wide.
func shortPlace(notebook string, p diag.Place) string {
	if at := p.Position(); at.File == notebook {
		return "line\u00a0" + strconv.Itoa(at.Line)
	}
	return placeText(p)
}

func (r *readingRow) verdictSpan() span {
	switch r.judged.Verdict {
	case meter.Within:
		return span{goodStyle, "within"}
	case meter.Out, meter.Impossible:
		return span{faultStyle, r.Verdict}
	}
	return faint("not ohms")
}

// verdictCounts says how many are within, out and impossible.
func verdictCounts(counts map[meter.Verdict]int) string {
	bad := counts[meter.Out] + counts[meter.Impossible]
	switch {
	case counts[meter.Within] == 0 && bad == 0:
		return ""
	case bad == 0 && counts[meter.NotOhms] == 0:
		return " All are within."
	}
	var texts []string
	for _, v := range []meter.Verdict{meter.Within, meter.Out, meter.Impossible} {
		if counts[v] > 0 {
			texts = append(texts, strconv.Itoa(counts[v])+" "+verdictNames[v])
		}
	}
	return " " + joinAnd(texts) + "."
}
