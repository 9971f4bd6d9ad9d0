package shell

import (
	"buzzout/lang/diag"
	"buzzout/verify/diagnose"
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
				"Take the reading, write it down as `reading`, and ask again: it leads to the fault. Once nothing more can be learnt so, it names another position " +
				"of a plug, switch or pot that would tell apart what is left, what to strike once the fault is mended, and where a second fault would show.",
			example: "where-next",
			run:     askWhereNext,
		},
	}
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
	fact   string // the reading as it was typed
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
			place: shortPlace(s.name, e.Reading.Fact.Place()), fact: e.Reading.Fact.Text(),
		})
	}
	return r
}

// A slipRow is a reading that would be as it should with another unit.
type slipRow struct {
	Red    string   `json:"red"`
	Black  string   `json:"black"`
	Value  string   `json:"value"`
	Factor float64  `json:"factor"`
	Where  placeDoc `json:"where"`
	Mend   string   `json:"mend"` // what to type if it is so
}

type oddsRow struct {
	Kind  string  `json:"kind"`
	Slip  string  `json:"slip"`
	Odds  float64 `json:"odds"`
	Basis string  `json:"basis"`
}

type suspectAnswer struct {
	basis
	Readings       int                      `json:"readings"`
	Suspects       listOf[suspectRow]       `json:"suspects"`
	Unlisted       ratio                    `json:"unlisted_probability"`
	Pairs          bool                     `json:"pairs_tried"`
	Slips          listOf[slipRow]          `json:"slips"`
	Contradictions listOf[contradictionRow] `json:"contradictions"`
	Cleared        listOf[string]           `json:"cleared"`
	Unseen         listOf[string]           `json:"unseen"` // faults that no reading in this setting can show
	NotConsidered  listOf[string]           `json:"not_considered"`
	omissions      []diagnose.Omission
	Odds           listOf[oddsRow] `json:"odds"`
	showOdds       bool
}

func askSuspect(s *Session, a *asked) (answer, *diag.Diagnostic) {
	a, odds := withoutFlag(a, "--odds")
	if len(a.words) > 0 {
		return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(0),
			Message: "suspect weighs all readings, and takes --odds and no other word", Mend: []string{"type it as: suspect"}}
	}
	in := s.inquire()
	x := in.Suspect()
	found := suspectAnswer{basis: in.basis, Readings: x.Readings, Unlisted: ratio(x.Unlisted), Pairs: x.Pairs, omissions: x.NotConsidered, showOdds: odds,
		Contradictions: s.contradictions(s.book.Readings)}
	for i := range x.Suspects {
		found.Suspects = append(found.Suspects, s.suspectRow(&x.Suspects[i]))
	}
	for _, slip := range x.Slips {
		found.Slips = append(found.Slips, s.slipRow(&slip))
	}
	for _, p := range x.Cleared {
		found.Cleared = append(found.Cleared, p.Ref)
	}
	for i := range x.Unseen {
		found.Unseen = append(found.Unseen, s.faultText(&x.Unseen[i]))
	}
	for _, o := range x.NotConsidered {
		found.NotConsidered = append(found.NotConsidered, capital(o.What)+": "+o.Why+".")
	}
	for _, o := range diagnose.PriorOdds() {
		found.Odds = append(found.Odds, oddsRow{faultKinds[o.Kind], slipNames[o.Slip], o.Odds, o.Basis})
	}
	return found, nil
}

func (s *Session) slipRow(slip *diagnose.UnitSlip) slipRow {
	r := slip.Reading
	return slipRow{s.book.Name(r.Red), s.book.Name(r.Black), valueText(r), slip.Factor, placed(r.Fact.Place()), unitMend(r, slip.Factor)}
}
