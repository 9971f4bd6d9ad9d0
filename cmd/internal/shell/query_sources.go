package shell

import (
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

// A leadRow is one flying lead, and what each source says of it, the published
// codes last.
type leadRow struct {
	Lead  string          `json:"lead"`
	Says  listOf[saysRow] `json:"says"`
	Holds string          `json:"holds"` // the end that it is taken to be; "" is open
	Open  bool            `json:"open"`  // sources differ, and none is trusted
	Agree bool            `json:"agree"`
}

type saysRow struct {
	Source string `json:"source"`
	End    string `json:"end"` // "unknown" where the source does not know, "" where it does not speak of the lead
	// Codes are what the published codes say of the colour; of other sources
	// it is empty.
	Codes listOf[codeRow] `json:"codes"`
}

type trustRow struct {
	Source string   `json:"source"`
	Why    string   `json:"why"`
	Where  placeDoc `json:"where"`
	place  diag.Place
}

type agreeRow struct {
	Sources [2]string `json:"sources"`
	Leads   int       `json:"leads"` // of which both say the same end
}

type conflictRow struct {
	Sources [2]string      `json:"sources"`
	Leads   listOf[string] `json:"leads"`
	Weight  string         `json:"weight"`
	Message string         `json:"message"`
}

// A keyedPart is a part with flying leads.
type keyedPart struct {
	Part      string              `json:"part"`
	Sources   listOf[string]      `json:"sources"`
	Leads     listOf[leadRow]     `json:"leads"`
	Where     listOf[placeDoc]    `json:"where"`
	Trusted   *trustRow           `json:"trusted"`
	Agree     listOf[agreeRow]    `json:"agree"`
	Conflicts listOf[conflictRow] `json:"conflicts"`
	Judged    listOf[judgedRow]   `json:"judged"`
	Follows   listOf[followsRow]  `json:"follows"`
	codesOf
	label string
	wound bool // it has windings
}

type sourcesAnswer struct {
	Parts listOf[keyedPart] `json:"parts"`
	only  string            // the part that was asked about, "" for all
	codes bool              // what the published codes say was asked for
}

// askSources reads "sources [REF [published]]".
func askSources(s *Session, a *asked) (answer, *diag.Diagnostic) {
	var found sourcesAnswer
	var only *netlist.Part
	if a.word(0) != "" {
		var wrong *diag.Diagnostic
		if only, wrong = s.partAsked(a, 0); wrong != nil {
			return nil, wrong
		}
		found.only = only.Ref
	}
	if word := a.word(1); word != "" {
		if !strings.EqualFold(word, netlist.Published) {
			return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(1),
				Message: "sources takes one part, and the word published", Mend: []string{"write it so: sources " + only.Ref + " published"}}
		}
		found.codes = true
	}
	for _, p := range s.book.Parts {
		if (only == nil || p == only) && len(s.book.KeysOf(p)) > 0 {
			found.Parts = append(found.Parts, s.keyed(p))
		}
	}
	return found, nil
}

func (s *Session) keyed(p *netlist.Part) keyedPart {
	table := legend.Sources(s.book, p, legend.Cheap)
	row := keyedPart{Part: p.Ref, label: p.Label, wound: len(p.Kind.Windings) > 0, codesOf: s.codesOf(table)}
	for i, source := range table.Sources {
		if source.Published {
			continue
		}
		row.Sources = append(row.Sources, source.Name)
		row.Where = append(row.Where, factPlaces(source.Key.Facts...)...)
		if source.Holds {
			row.Trusted = &trustRow{source.Name, source.Reason, placed(source.Trust.Place()), source.Trust.Place()}
		}
		j := &source.Judgement
		row.Judged = append(row.Judged, judgedRow{source.Name, j.Verdict.String(), s.readingNotes(j.Against), j.Verdict})
		for k := range i {
			row.Agree = append(row.Agree, agreeRow{[2]string{table.Sources[k].Name, source.Name}, source.Agrees[k]})
		}
	}
	for _, r := range table.Rows {
		lead := leadRow{Lead: s.shortName(r.Lead), Holds: s.shortName(r.Holds), Open: r.Open, Agree: r.Agree}
		for i, said := range r.Says {
			says := saysRow{Source: table.Sources[i].Name, End: s.shortName(said.End)}
			if said.Unknown {
				says.End = "unknown"
			}
			for k := range said.Codes {
				says.Codes = append(says.Codes, s.codeRow(&said.Codes[k]))
			}
			lead.Says = append(lead.Says, says)
		}
		row.Leads = append(row.Leads, lead)
	}
	for _, c := range table.Conflicts {
		row.Conflicts = append(row.Conflicts, conflictRow{[2]string{c.A, c.B}, s.shortNames(c.Leads), disputeWeights[c.Weight], c.Message})
	}
	if slices.ContainsFunc(table.Conflicts, func(c legend.Conflict) bool { return c.Weight > legend.NoMatter }) {
		row.Follows = s.follows(p)
	}
	return row
}
