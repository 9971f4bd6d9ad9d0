package shell

import (
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/diagnose"
	"buzzout/verify/meter"
)

var doneNames = [...]string{diagnose.NotDone: "not-done", diagnose.Settled: "settled", diagnose.NothingMore: "nothing-more"}

type outcomeRow struct {
	Probability ratio                  `json:"probability"`
	Low         ohmage                 `json:"ohms_low"`
	High        ohmage                 `json:"ohms_high"`
	Sound       bool                   `json:"sound"` // it is what the reading should be
	Means       listOf[explanationRow] `json:"means"`
}

// A proposalRow is another position of one control, in which a reading would
// tell apart what none tells apart now.
type proposalRow struct {
	Set      string             `json:"set"` // as one types it
	Red      string             `json:"red"`
	Black    string             `json:"black"`
	Gain     ratio              `json:"gain_bits"`
	Outcomes listOf[outcomeRow] `json:"outcomes"`
}

type nextAnswer struct {
	basis
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
	// Unexplained are readings that it takes for slips of the probes.
	Unexplained    listOf[string]           `json:"unexplained"`
	Slips          listOf[slipRow]          `json:"slips"`
	Contradictions listOf[contradictionRow] `json:"contradictions"`
	Unset          listOf[string]           `json:"unset"`
	Set            string                   `json:"set"`       // what to type once they are turned half way
	Proposals      listOf[proposalRow]      `json:"proposals"` // once no reading in this setting tells more
	Second         listOf[soughtRow]        `json:"second"`    // where a second fault would show, once one is settled
	Cautions       listOf[cautionRow]       `json:"cautions"`  // of that reading too
	expected       *meter.Expectation
}

// A soughtRow is a reading that looks for a second fault.
type soughtRow struct {
	Red   string `json:"red"`
	Black string `json:"black"`
	Alone ohmage `json:"ohms_if_alone"` // if the one fault is all that is wrong
	Ohms  ohmage `json:"ohms"`          // where all is sound
}

func askWhereNext(s *Session, _ *asked) (answer, *diag.Diagnostic) {
	in := s.inquire()
	step := in.WhereNext()
	found := nextAnswer{basis: in.basis, Done: doneNames[step.Done], Gain: ratio(step.Gain), Mains: step.Mains, Confirms: step.Confirms,
		Outcomes: s.outcomeRows(step.Outcomes), Contradictions: s.contradictions(s.book.Readings)}
	if step.Red != netlist.NoTerminal {
		e := step.Expected
		found.expected = &e
		found.Red, found.Black = s.book.Name(step.Red), s.book.Name(step.Black)
		found.Ohms, found.Shown = ohmage(e.Ohms), ohmage(e.Shown)
		found.Cautions = s.cautionRows(e.Cautions)
	}
	if len(step.Top.Explanations) > 0 {
		found.Top = listOf[suspectRow]{s.suspectRow(&step.Top)}
	}
	for _, r := range step.Unexplained {
		found.Unexplained = append(found.Unexplained, r.Fact.Text())
	}
	for i := range step.Slips {
		found.Slips = append(found.Slips, s.slipRow(&step.Slips[i]))
	}
	for _, ref := range step.Unset {
		found.Unset = append(found.Unset, ref.Name())
	}
	found.Set = halfWay(found.Unset)
	if x := step.Second; x != nil {
		found.Second = listOf[soughtRow]{{s.book.Name(x.Red), s.book.Name(x.Black), ohmage(x.Alone), ohmage(x.Expected.Ohms)}}
		found.Cautions, found.Mains = s.cautionRows(x.Expected.Cautions), x.Mains
	}
	for i := range step.Proposals {
		x := &step.Proposals[i]
		found.Proposals = append(found.Proposals, proposalRow{
			Set: "set " + x.Control.Name() + " " + x.Control.PositionName(x.Position),
			Red: s.book.Name(x.Red), Black: s.book.Name(x.Black), Gain: ratio(x.Gain), Outcomes: s.outcomeRows(x.Outcomes),
		})
	}
	return found, nil
}

func (s *Session) outcomeRows(list []diagnose.Outcome) []outcomeRow {
	var rows []outcomeRow
	for i := range list {
		o := &list[i]
		r := outcomeRow{Probability: ratio(o.Share), Low: ohmage(o.Low), High: ohmage(o.High), Sound: o.Sound}
		for k := range o.Means {
			r.Means = append(r.Means, s.explanationRow(&o.Means[k]))
		}
		rows = append(rows, r)
	}
	return rows
}

// mostSet bounds how many pots one line sets.
const mostSet = 12

// halfWay is what to type once pots are turned half way: there each side of
// the wiper has some ohms, so that no part hides behind a stop.
func halfWay(controls []string) string {
	if len(controls) == 0 {
		return ""
	}
	var texts []string
	for _, c := range controls[:min(len(controls), mostSet)] {
		texts = append(texts, c+" 50%")
	}
	return "set " + strings.Join(texts, ", ")
}
