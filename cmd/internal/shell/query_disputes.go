package shell

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

var disputeKinds = [...]string{legend.BetweenKeys: "sources", legend.WithTheMeter: "meter", legend.WithTheWiring: "wiring"}

var disputeStates = [...]string{
	legend.Undecided: "undecided", legend.Settled: "settled", legend.Reopened: "reopened", legend.Overridden: "decided-against-readings",
}

var disputeWeights = [...]string{legend.NoMatter: "no-matter", legend.PhaseAlone: "phase-only", legend.Matters: "matters"}

type statementRow struct {
	Source string           `json:"source"`
	Ends   listOf[string]   `json:"ends"` // by lead; "" where it does not say
	Where  listOf[placeDoc] `json:"where"`
	facts  []*netlist.Fact
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
	Rework   listOf[placeDoc]     `json:"moved_since"`
	rework   []*netlist.Fact
	state    legend.State
	named    bool // a decision splits the readings
}

type disputesAnswer struct {
	Disputes listOf[disputeRow] `json:"disputes"`
	Markdown string             `json:"markdown"` // "" unless it was asked for
	asked    bool
	about    string
}

// askDisputes reads "disputes [REF] [markdown]".
func askDisputes(s *Session, a *asked) (answer, *diag.Diagnostic) {
	var found disputesAnswer
	var only *netlist.Part
	for i := range a.words {
		if strings.EqualFold(a.word(i), "markdown") && s.book.Part(a.word(i)) == nil && !found.asked {
			found.asked = true
			continue
		}
		if only != nil {
			return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(i),
				Message: "disputes takes one part, and the word markdown", Mend: []string{"write it so: disputes " + only.Ref + " markdown"}}
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
		Rework: factPlaces(d.Rework...), rework: d.Rework, state: d.State, named: d.Decided != nil}
	for _, said := range d.Said {
		r.Said = append(r.Said, statementRow{said.Source, s.shortNames(said.Ends), factPlaces(said.Facts...), said.Facts})
	}
	if x := d.Decided; x != nil {
		r.Decided = &decisionRow{x.Source, x.Instead, x.Why, placed(x.Fact.Place()), x.Fact.Place()}
	}
	for _, j := range d.Readings {
		r.Judged = append(r.Judged, judgedRow{j.Source, j.Verdict.String(), s.readingNotes(j.Against), j.Verdict})
	}
	for _, c := range d.Changed {
		r.Changed = append(r.Changed, c.Message)
	}
	return r
}

func (a disputesAnswer) write(p *page) {
	if a.asked {
		p.asIs(a.Markdown)
		return
	}
	if len(a.Disputes) == 0 {
		p.say(0, 2, plain("Nobody disagrees about the leads"+a.about+"."))
		return
	}
	for i := range a.Disputes {
		p.gap()
		a.Disputes[i].write(p, i+1)
	}
}

func (d *disputeRow) write(p *page, number int) {
	p.say(0, 3, strong(fmt.Sprintf("%d. %s: %s.", number, d.Part, d.Message)), plain(" "), span{d.style(), d.stands()})
	switch d.Weight {
	case "no-matter":
		p.say(3, 5, plain("It makes no difference."))
	case "phase-only":
		p.say(3, 5, plain("It turns the signal over, and does nothing else."))
	}
	head := row{{faint("lead")}}
	for _, said := range d.Said {
		head = append(head, []span{faint(said.Source)})
	}
	rows := []row{head}
	for i, lead := range d.Leads {
		r := row{leadName(lead)}
		for _, said := range d.Said {
			r = append(r, cell(or(said.Ends[i], "-")))
		}
		rows = append(rows, r)
	}
	p.table(3, rows)
	for _, said := range d.Said {
		writeFacts(p, 3, "Said by "+said.Source+":", said.facts)
	}
	if x := d.Decided; x != nil {
		head := "Decided for " + x.Source
		if x.Instead != "" {
			head += ", instead of " + x.Instead
		}
		p.say(3, 5, plain(head+whyText(x.Why)+":"))
		p.quote(5, []diag.Note{{Place: x.place}})
	} else if d.state == legend.Undecided && d.Kind != "wiring" {
		p.say(3, 5, plain("Nobody has decided it. settle "+d.Part+" says what to read; trust "+d.Part+" SOURCE \"why\" decides."))
	}
	before := "Readings at these leads:"
	if d.named {
		before = "Readings before that:"
	}
	writeReadings(p, 3, before, d.Before)
	writeReadings(p, 3, "Readings since:", d.After)
	writeReadings(p, 3, "Of these, against what was decided:", d.Reopened)
	writeJudged(p, 3, d.Judged)
	for _, text := range d.Changed {
		p.say(3, 5, plain(sentence(text)))
	}
	writeFacts(p, 3, "Soldered or unsoldered since:", d.rework)
}

// stands says in a sentence how a dispute stands.
func (d *disputeRow) stands() string {
	switch {
	case d.Kind == "wiring" && d.state == legend.Settled:
		return "It was so on the bench, and was put right."
	case d.Kind == "wiring":
		return "It is so on the bench."
	}
	return capital(d.state.String()) + "."
}

func (d *disputeRow) style() style {
	if d.state == legend.Settled {
		return plainStyle
	}
	return cautionStyle
}

// writeFacts quotes facts under a heading.
func writeFacts(p *page, indent int, head string, facts []*netlist.Fact) {
	if len(facts) == 0 {
		return
	}
	p.say(indent, indent+2, faint(head))
	var notes []diag.Note
	for _, f := range facts {
		notes = append(notes, diag.Note{Place: f.Place()})
	}
	p.quote(indent+2, notes)
}
