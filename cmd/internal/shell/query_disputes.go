package shell

import (
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

var disputeKinds = [...]string{legend.BetweenKeys: "sources", legend.WithTheMeter: "meter", legend.WithTheWiring: "wiring"}

var disputeStates = [...]string{
	legend.Undecided: "undecided", legend.Settled: "settled", legend.Reopened: "reopened", legend.Overridden: "decided-against-readings",
}

var seatNames = [...]string{legend.Unwired: "not", legend.AllRight: "right", legend.SomeWrong: "wrong"}

var disputeWeights = [...]string{legend.NoMatter: "no-matter", legend.PhaseAlone: "phase-only", legend.Matters: "matters"}

type statementRow struct {
	Source string           `json:"source"`
	Ends   listOf[string]   `json:"ends"` // by lead; "" where it does not say
	Where  listOf[placeDoc] `json:"where"`
}

type decisionRow struct {
	Source  string   `json:"source"`
	Instead string   `json:"instead_of"` // the source that was trusted before
	Why     string   `json:"why"`
	Where   placeDoc `json:"where"`
	place   diag.Place
}

type disputeRow struct {
	Part     string               `json:"part"`
	Kind     string               `json:"kind"` // between sources, or of one with the meter or the wiring
	State    string               `json:"state"`
	Weight   string               `json:"weight"`
	Message  string               `json:"message"`
	Leads    listOf[string]       `json:"leads"`
	Said     listOf[statementRow] `json:"said"`
	Decided  *decisionRow         `json:"decided"`
	Before   listOf[readingNote]  `json:"readings_before"`
	After    listOf[readingNote]  `json:"readings_since"`
	Reopened listOf[readingNote]  `json:"readings_against"`
	Judged   listOf[judgedRow]    `json:"judged"`
	Changed  listOf[string]       `json:"changed"`
	Wired    string               `json:"wired_then"` // by the decision: not, right, or wrong; "" without a decision
	Effects  listOf[effectRow]    `json:"effects"`    // of that wiring
	Rework   listOf[placeDoc]     `json:"moved_since"`
	History  listOf[eventRow]     `json:"history"`
	state    legend.State
}

// An eventRow is a fact that has a part in a dispute.
type eventRow struct {
	Where   placeDoc       `json:"where"`
	Against listOf[string] `json:"against"` // the sources that a reading speaks against
	place   diag.Place
}

type disputesAnswer struct {
	Disputes listOf[disputeRow] `json:"disputes"`
	Markdown string             `json:"markdown"` // "" unless it was asked for
	asked    bool
	about    string
}

// askDisputes reads "disputes [REF] [--markdown]".
func askDisputes(s *Session, a *asked) (answer, *diag.Diagnostic) {
	var found disputesAnswer
	var only *netlist.Part
	a, found.asked = withoutFlag(a, "--markdown")
	for i := range a.words {
		if only != nil {
			return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(i),
				Message: "disputes takes one part, and perhaps --markdown", Mend: []string{"write it so: disputes " + only.Ref + " --markdown"}}
		}
		var wrong *diag.Diagnostic
		if only, wrong = s.partAsked(a, i); wrong != nil {
			return nil, wrong
		}
	}
	var list []legend.Dispute
	for _, d := range legend.Disputes(s.book, legend.Cheap) {
		if only == nil || d.Part == only {
			list = append(list, d)
			found.Disputes = append(found.Disputes, s.disputeRow(&d))
		}
	}
	if only != nil {
		found.about = " of " + only.Ref
	}
	if found.asked {
		found.Markdown = legend.Erratum(s.book, list)
	}
	return found, nil
}

func (s *Session) disputeRow(d *legend.Dispute) disputeRow {
	r := disputeRow{Part: d.Part.Ref, Kind: disputeKinds[d.Kind], State: disputeStates[d.State], Weight: disputeWeights[d.Weight], Message: d.Message,
		Leads: s.shortNames(d.Leads), Before: s.readingNotes(d.Before), After: s.readingNotes(d.After), Reopened: s.readingNotes(d.Reopened),
		Rework: factPlaces(d.Rework...), state: d.State}
	for _, said := range d.Said {
		r.Said = append(r.Said, statementRow{said.Source, s.shortNames(said.Ends), factPlaces(said.Facts...)})
	}
	if x := d.Decided; x != nil {
		r.Decided = &decisionRow{x.Source, x.Instead, x.Why, placed(x.Fact.Place()), x.Fact.Place()}
	}
	for _, j := range d.Readings {
		r.Judged = append(r.Judged, judgedRow{j.Source, j.Verdict.String(), s.readingNotes(j.Against), j.Verdict})
	}
	for _, c := range d.Changed {
		text := s.shortName(c.Lead) + " is " + s.shortName(c.Now)
		if c.Was != netlist.NoTerminal {
			text += ", no longer " + s.shortName(c.Was)
		}
		r.Changed = append(r.Changed, text)
	}
	if d.Decided != nil && d.Kind != legend.WithTheWiring {
		r.Wired = seatNames[d.Wired]
	}
	for i := range d.Effects {
		r.Effects = append(r.Effects, s.effectRow(&d.Effects[i]))
	}
	for _, e := range d.History {
		r.History = append(r.History, eventRow{placed(e.Fact.Place()), e.Against, e.Fact.Place()})
	}
	return r
}
