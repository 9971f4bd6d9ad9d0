package shell

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/diagnose"
	"buzzout/verify/meter"
)

func suspectQueries() []query {
	return []query{
		{
			name: "suspect", args: "[--odds]", line: "what is most likely wrong, by the readings so far",
			text: "Every single fault that the wiring can have is weighed by all readings: dry joints, parts open, short, missing or of another value, " +
				"bridges, leads exchanged, controls that stand elsewhere. Pairs are tried where no single one fits. Each comes with what speaks for it and against it; " +
				"what no reading can tell apart is one suspect. `--odds` lists the odds that are taken before any reading.",
			example: "suspect",
			most:    1, takes: []slot{slotOdds}, run: askSuspect,
		},
		{
			name: "where-next", line: "the reading that would tell most, and when nothing more can be learnt",
			text: "Where to put the probes next, what the meter may say there, and what that would mean. Points that are safe and easy to reach come first. " +
				"Take the reading, write it down as `reading`, and ask again: it leads to the fault.",
			example: "where-next",
			run:     askWhereNext,
		},
	}
}

// diagnosis weighs all readings of the notebook.
func (s *Session) diagnosis() (d *diagnose.Diagnosis, what, harness string) {
	w := s.wiring()
	what, harness = "On the bench", "built"
	if len(w.bench.Joints) == 0 {
		what, harness = "As drawn", "planned"
	}
	d = diagnose.New(diagnose.Case{Book: s.book, Meaning: w.meaning, Planned: harness == "planned", Found: s.verdict().findings})
	d.Read(s.book.Readings...)
	return d, what, harness
}

// A faultRow is one thing that may be wrong.
type faultRow struct {
	Kind  string `json:"kind"`
	Part  string `json:"part"`
	Slip  string `json:"slip"`  // of a wrong value: how it comes about
	Value ohmage `json:"ohms"`  // of a wrong value: what it would be; else 0
	Odds  ratio  `json:"odds"`  // before any reading, against a bridge between two neighbours
	Text  string `json:"text"`  // the fault as a fact
	Check string `json:"check"` // what to do about it
}

// A ratio is written with three digits.
type ratio float64

func (r ratio) MarshalJSON() ([]byte, error) { return finite(float64(r), 3) }

func (s *Session) faultRow(f *diagnose.Fault) faultRow {
	r := faultRow{Kind: faultKinds[f.Kind], Odds: ratio(f.Odds), Text: s.faultText(f), Check: s.mendText(f)}
	if f.Part != nil {
		r.Part = f.Part.Ref
	}
	if f.Kind == diagnose.WrongValue {
		r.Slip, r.Value = slipNames[f.Slip], ohmage(f.Value)
	}
	return r
}

// An explanationRow is one fault, or two; none where nothing is wrong.
type explanationRow struct {
	Probability ratio            `json:"probability"`
	Faults      listOf[faultRow] `json:"faults"`
	Text        string           `json:"text"`
}

func (s *Session) explanationRow(e *diagnose.Explanation) explanationRow {
	r := explanationRow{Probability: ratio(e.Probability), Text: s.explanationText(e)}
	for i := range e.Faults {
		r.Faults = append(r.Faults, s.faultRow(&e.Faults[i]))
	}
	return r
}

type evidenceRow struct {
	Red    string   `json:"red"`
	Black  string   `json:"black"`
	Value  string   `json:"value"`
	Where  placeDoc `json:"where"`
	Under  ohmage   `json:"ohms_if_so"`
	Sound  ohmage   `json:"ohms_if_sound"`
	Weight ratio    `json:"weight_bits"` // for it; below nought against it
	Wild   bool     `json:"wild"`        // not explained by it
	place  string
}

type suspectRow struct {
	Probability  ratio                  `json:"probability"`
	Explanations listOf[explanationRow] `json:"explanations"`
	Evidence     listOf[evidenceRow]    `json:"evidence"`
}

func (s *Session) suspectRow(x *diagnose.Suspect) suspectRow {
	r := suspectRow{Probability: ratio(x.Probability)}
	for i := range x.Explanations {
		r.Explanations = append(r.Explanations, s.explanationRow(&x.Explanations[i]))
	}
	for _, e := range x.Evidence {
		r.Evidence = append(r.Evidence, evidenceRow{
			Red: s.book.Name(e.Reading.Red), Black: s.book.Name(e.Reading.Black), Value: valueText(e.Reading),
			Where: placed(e.Reading.Fact.Place()), Under: ohmage(e.Under), Sound: ohmage(e.Sound), Weight: ratio(e.Weight), Wild: e.Wild,
			place: shortPlace(s.name, e.Reading.Fact.Place()),
		})
	}
	return r
}

type slipRow struct {
	Red    string   `json:"red"`
	Black  string   `json:"black"`
	Value  string   `json:"value"`
	Factor float64  `json:"factor"`
	Where  placeDoc `json:"where"`
}

type oddsRow struct {
	Kind  string  `json:"kind"`
	Slip  string  `json:"slip"`
	Odds  float64 `json:"odds"`
	Basis string  `json:"basis"`
}

type suspectAnswer struct {
	Harness       string             `json:"harness"`
	Readings      int                `json:"readings"`
	Suspects      listOf[suspectRow] `json:"suspects"`
	Unlisted      ratio              `json:"unlisted_probability"`
	Pairs         bool               `json:"pairs_tried"`
	Slips         listOf[slipRow]    `json:"slips"`
	Cleared       listOf[string]     `json:"cleared"`
	Unseen        listOf[string]     `json:"unseen"` // faults that no reading in this setting can show
	NotConsidered listOf[string]     `json:"not_considered"`
	Odds          listOf[oddsRow]    `json:"odds"`
	what          string
	showOdds      bool
}

func askSuspect(s *Session, a *asked) (answer, *diag.Diagnostic) {
	a, odds := withoutFlag(a, "--odds")
	if len(a.words) > 0 {
		return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(0),
			Message: "suspect weighs all readings, and takes --odds and no other word", Mend: []string{"type it as: suspect"}}
	}
	d, what, harness := s.diagnosis()
	x := d.Suspect()
	found := suspectAnswer{Harness: harness, Unlisted: ratio(x.Unlisted), Pairs: x.Pairs, NotConsidered: x.NotConsidered, what: what, showOdds: odds}
	for i := range x.Suspects {
		found.Suspects = append(found.Suspects, s.suspectRow(&x.Suspects[i]))
		found.Readings = len(x.Suspects[i].Evidence)
	}
	for _, slip := range x.Slips {
		found.Slips = append(found.Slips, slipRow{s.book.Name(slip.Reading.Red), s.book.Name(slip.Reading.Black), valueText(slip.Reading), slip.Factor,
			placed(slip.Reading.Fact.Place())})
	}
	for _, p := range x.Cleared {
		found.Cleared = append(found.Cleared, p.Ref)
	}
	for i := range x.Unseen {
		found.Unseen = append(found.Unseen, s.faultText(&x.Unseen[i]))
	}
	for _, o := range diagnose.PriorOdds() {
		found.Odds = append(found.Odds, oddsRow{faultKinds[o.Kind], slipNames[o.Slip], o.Odds, o.Basis})
	}
	return found, nil
}

const (
	leastSuspects = 2   // are told in any case
	mostTold      = 3   // suspects told with their evidence
	mostEvidence  = 5   // readings told for a suspect, and against it
	leastWeight   = 0.5 // bits that a reading must weigh to be told
	mostAlike     = 6   // explanations told of one suspect
)

func (a suspectAnswer) write(p *page) {
	if a.Readings == 0 {
		p.say(0, 2, plain("There are no readings of ohms yet, so these are the odds alone. where-next says where to begin."))
	} else {
		p.say(0, 2, plain(fmt.Sprintf("%s, by %s:", a.what, count(a.Readings, "reading"))))
	}
	if a.unclear() {
		p.say(0, 2, plain("Nothing stands out yet. where-next proposes the reading that tells most."))
	}
	for i := range a.Suspects {
		if i >= leastSuspects && a.Suspects[i].Probability < 0.005 {
			p.gap()
			p.say(0, 2, plain(fmt.Sprintf("%d more, all less likely than 1 in 200.", len(a.Suspects)-i)))
			break
		}
		a.Suspects[i].write(p, i, i < mostTold && a.Readings > 0)
	}
	if a.Unlisted > 0.005 {
		p.gap()
		p.say(0, 2, plain(tied(percent(float64(a.Unlisted)))+" are left for a fault that is not on the list."))
	}
	a.writeRest(p)
}

// leastClear is how likely a suspect must be to stand out.
const leastClear = 0.2

// unclear says that no suspect stands out by the readings.
func (a *suspectAnswer) unclear() bool {
	return a.Readings > 0 && (len(a.Suspects) == 0 || a.Suspects[0].Probability < leastClear)
}

func (r *suspectRow) write(p *page, i int, full bool) {
	p.gap()
	first := &r.Explanations[0]
	head := fmt.Sprintf("%d. %s: ", i+1, percent(float64(r.Probability)))
	p.say(0, 4, plain(head), strong(sentence(capitalFault(first))))
	if len(r.Explanations) > 1 {
		p.say(3, 5, plain("No reading in this setting can tell it from:"))
		for j := 1; j < len(r.Explanations); j++ {
			if j > mostAlike {
				p.say(5, 7, plain(fmt.Sprintf("and %d more", len(r.Explanations)-j)))
				break
			}
			p.say(5, 7, plain(sentence(r.Explanations[j].Text)))
		}
	}
	if !full {
		return
	}
	r.writeEvidence(p, "For it:", func(e *evidenceRow) bool { return float64(e.Weight) >= leastWeight && !e.Wild })
	r.writeEvidence(p, "Against it:", func(e *evidenceRow) bool { return float64(e.Weight) <= -leastWeight || e.Wild })
	for j := range first.Faults {
		if check := first.Faults[j].Check; check != "" {
			p.say(3, 5, plain("To be sure: "+sentence(check)))
		}
	}
}

// capitalFault begins a sentence, unless it begins with a name.
func capitalFault(e *explanationRow) string {
	if len(e.Faults) == 0 || len(e.Text) > 4 && (e.Text[:4] == "the " || e.Text[:4] == "heat") {
		return capital(e.Text)
	}
	return e.Text
}

func (r *suspectRow) writeEvidence(p *page, head string, keep func(*evidenceRow) bool) {
	n := 0
	for i := range r.Evidence {
		e := &r.Evidence[i]
		if !keep(e) {
			continue
		}
		if n++; n > mostEvidence {
			continue
		}
		if n == 1 {
			p.say(3, 5, faint(head))
		}
		text := fmt.Sprintf("%s to %s said %s: %s if so, ", e.Red, e.Black, e.Value, ohmsSaid(float64(e.Under)))
		p.say(5, 7, plain(text+ohmsSaid(float64(e.Sound))+" if sound"), faint(" ("+e.place+")"))
	}
	if n > mostEvidence {
		p.say(5, 7, plain("and "+count(n-mostEvidence, "more reading")))
	}
}

func (a *suspectAnswer) writeRest(p *page) {
	p.gap()
	if a.Pairs {
		p.say(0, 2, plain("No single fault of the list fits well, so pairs of faults were tried as well."))
	}
	for _, slip := range a.Slips {
		p.say(0, 2, plain(fmt.Sprintf("%s to %s, %s, would be sound with another unit (times %s): look at the meter again.", slip.Red, slip.Black, slip.Value,
			strconv.FormatFloat(slip.Factor, 'g', 4, 64))))
	}
	if len(a.Cleared) > 0 {
		p.say(0, 2, plain("The readings clear "+firstOf(a.Cleared)+"."))
	}
	if len(a.Unseen) > 0 {
		p.say(0, 2, plain("No reading in this setting shows "+count(len(a.Unseen), "fault")+" of the list, as: "+sentence(a.Unseen[0])))
	}
	if a.showOdds {
		a.writeOdds(p)
	} else {
		p.say(0, 2, plain("The odds before any reading are a builder's guess, and readings overrule them: suspect --odds lists them."))
	}
	p.say(0, 2, faint("Not considered:"))
	for _, n := range a.NotConsidered {
		p.say(2, 4, faint(n))
	}
}

// firstOf lists the first names and says how many more there are.
func firstOf(names []string) string {
	const most = 16
	if len(names) <= most {
		return joinAnd(names)
	}
	return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
}

func (a *suspectAnswer) writeOdds(p *page) {
	p.gap()
	p.say(0, 2, plain("Odds of each single fault before any reading, in units of a bridge between two neighbours:"))
	var rows []row
	for _, o := range a.Odds {
		name := o.Kind
		if o.Slip != "" {
			name += ", " + o.Slip
		}
		rows = append(rows, row{cell(name), cell(strconv.FormatFloat(o.Odds, 'g', 3, 64)), {faint(o.Basis)}})
	}
	p.table(2, rows)
}

// percent is a probability; certainty is never quite reached.
func percent(p float64) string {
	switch {
	case p > 0.995:
		return ">99 %"
	case p < 0.005:
		return "<1 %"
	}
	return fmt.Sprintf("%.0f %%", p*100)
}

var doneNames = [...]string{diagnose.NotDone: "not-done", diagnose.Settled: "settled", diagnose.NothingMore: "nothing-more"}

type outcomeRow struct {
	Probability ratio                  `json:"probability"`
	Low         ohmage                 `json:"ohms_low"`
	High        ohmage                 `json:"ohms_high"`
	Means       listOf[explanationRow] `json:"means"`
}

type nextAnswer struct {
	Harness  string             `json:"harness"`
	Done     string             `json:"done"` // not-done, settled or nothing-more
	Red      string             `json:"red"`
	Black    string             `json:"black"`
	Gain     ratio              `json:"gain_bits"`
	Ohms     ohmage             `json:"ohms"`       // where all is sound
	Shown    ohmage             `json:"ohms_shown"` // likewise, on the display
	Confirms bool               `json:"confirms"`   // it is to bear out a suspect that is as good as certain
	Outcomes listOf[outcomeRow] `json:"outcomes"`
	Mains    bool               `json:"mains"`
	Top      listOf[suspectRow] `json:"top"` // the likeliest suspect; none where it is a fault that is not listed
	Unset    listOf[string]     `json:"unset"`
	Cautions listOf[cautionRow] `json:"cautions"`
	expected *meter.Expectation
}

func askWhereNext(s *Session, _ *asked) (answer, *diag.Diagnostic) {
	d, _, harness := s.diagnosis()
	step := d.WhereNext()
	found := nextAnswer{Harness: harness, Done: doneNames[step.Done], Gain: ratio(step.Gain), Mains: step.Mains, Confirms: step.Confirms}
	if step.Red != netlist.NoTerminal {
		e := step.Expected
		found.expected = &e
		found.Red, found.Black = s.book.Name(step.Red), s.book.Name(step.Black)
		found.Ohms, found.Shown = ohmage(e.Ohms), ohmage(e.Shown)
		found.Cautions = s.cautionRows(e.Cautions)
	}
	for _, o := range step.Outcomes {
		r := outcomeRow{Probability: ratio(o.Share), Low: ohmage(o.Low), High: ohmage(o.High)}
		for i := range o.Means {
			r.Means = append(r.Means, s.explanationRow(&o.Means[i]))
		}
		found.Outcomes = append(found.Outcomes, r)
	}
	if len(step.Top.Explanations) > 0 {
		found.Top = listOf[suspectRow]{s.suspectRow(&step.Top)}
	}
	for _, ref := range step.Unset {
		found.Unset = append(found.Unset, ref.Name())
	}
	return found, nil
}

func (a nextAnswer) write(p *page) {
	switch a.Done {
	case doneNames[diagnose.Settled]:
		p.say(0, 2, plain("That is as good as certain, and no reading would tell more:"))
		a.Top[0].write(p, 0, true)
		return
	case doneNames[diagnose.NothingMore]:
		p.say(0, 2, plain("No reading in this setting would tell more."))
		for i := range a.Top {
			a.Top[i].write(p, i, true)
		}
		p.gap()
		p.say(0, 2, plain("suspect tells what else is left. Other positions of plugs and switches, or a lifted end, may part them."))
		a.writeUnset(p)
		return
	}
	if a.Confirms && len(a.Top) > 0 {
		p.say(0, 2, plain("As good as certain by the readings so far: "), strong(sentence(a.Top[0].Explanations[0].Text)), plain(" One more reading is to bear it out."))
	}
	p.say(0, 2, plain("Next, the red probe on "), strong(a.Red), plain(" and the black one on "), strong(a.Black), plain("."))
	p.say(2, 4, plain("Where all is sound it should show "+shownSaid(a.expected)+". It is worth "+bits(float64(a.Gain))+"."))
	a.writeOutcomes(p)
	p.gap()
	p.say(0, 2, plain("Write down what it says, and ask again: reading "+a.Red+" "+a.Black+" …"))
	a.writeUnset(p)
	var mains []string
	if a.Mains {
		mains = []string{a.Red, a.Black}
	}
	writeCautions(p, a.Cautions, mains)
}

// bits says how much a reading tells.
func bits(b float64) string {
	return fmt.Sprintf("%.2g\u00a0bits, where one halves what is open", math.Max(b, 0.01))
}

// mostOutcomes bounds how many outcomes are told.
const mostOutcomes = 6

func (a *nextAnswer) writeOutcomes(p *page) {
	if len(a.Outcomes) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("What it may say, the meter's leads taken off, and what that would mean:"))
	var rows []row
	for i := range a.Outcomes {
		if i == mostOutcomes {
			break
		}
		o := &a.Outcomes[i]
		means := ""
		if len(o.Means) > 0 {
			means = o.Means[0].Text
		}
		if len(o.Means) > 1 {
			means += ", or another"
		}
		rows = append(rows, row{cell(fmt.Sprintf("%5s", percent(float64(o.Probability)))), cell(rangeText(float64(o.Low), float64(o.High), ohmsText)), cell(means)})
	}
	p.table(2, rows)
	if n := len(a.Outcomes) - mostOutcomes; n > 0 {
		p.say(2, 4, plain("and "+count(n, "less likely outcome")))
	}
}

func (a *nextAnswer) writeUnset(p *page) {
	if len(a.Unset) > 0 {
		p.say(0, 2, plain("Nobody has set "+joinAnd(a.Unset)+". Turned to a stop, and told by set, they would blur fewer readings."))
	}
}
