package shell

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

func legendQueries() []query {
	return []query{
		{
			name: "identify", args: "REF", line: "which flying lead is which end, by readings alone",
			text: "What the readings at the leads of a part come to, whatever sheet and stickers say: of each lead what it is for certain, what it is either way, " +
				"or what it is open between; the windings that were found; readings that contradict each other, and the one to take again; " +
				"and the next reading to take, with the lines to write down. Write them with what the meter says, and ask again, until every lead is known; " +
				"then it gives the colours fact. What is still soldered to the leads is allowed for.",
			example: "identify T2",
			least:   1, most: 1, takes: []slot{slotKeyed}, run: askIdentify,
		},
		{
			name: "settle", args: "REF", line: "the fewest readings that tell which source of the leads' colours is right",
			text: "Where drawing, stickers or other sources differ about a part's leads: what to read, cold and without mains, the easiest first, " +
				"and what to expect if the one or the other is right.",
			example: "settle T2",
			least:   1, most: 1, takes: []slot{slotKeyed}, run: askSettle,
		},
		{
			name: "disputes", args: "[REF] [--markdown]", line: "every disagreement about leads: who said what, what was decided, and why",
			text: "Worked out from the notebook each time: what each source said, what the wiring has, the readings before the decision and since, " +
				"and what it changed. `disputes --markdown` is a text that can be sent to whoever drew the drawing.",
			example: "disputes",
			most:    2, takes: []slot{slotDisputes, slotDisputes}, run: askDisputes,
		},
	}
}

// shortNames are the short names of leads or ends; none is "".
func (s *Session) shortNames(list []netlist.TerminalID) listOf[string] {
	var names listOf[string]
	for _, t := range list {
		names = append(names, s.shortName(t))
	}
	return names
}

func (s *Session) shortName(t netlist.TerminalID) string {
	if t == netlist.NoTerminal {
		return ""
	}
	return s.book.NameWithin(t)
}

// A spanRow is between which figures something lies; a high that is null is
// bounded by nothing.
type spanRow struct {
	Low  ohmage `json:"low"`
	High ohmage `json:"high"`
}

func spanRows(list []legend.Range) listOf[spanRow] {
	var rows listOf[spanRow]
	for _, r := range list {
		rows = append(rows, spanRow{ohmage(r.Low), ohmage(r.High)})
	}
	return rows
}

var sureNames = [...]string{legend.Open: "open", legend.EitherWay: "either-way", legend.Certain: "certain"}

type foundLead struct {
	Lead      string              `json:"lead"`
	Sure      string              `json:"sure"`    // certain, either-way or open
	End       string              `json:"end"`     // "" where it is open, and where it is no end
	NoEnd     bool                `json:"no_end"`  // it is certain, and no end of a winding
	Choices   listOf[string]      `json:"choices"` // what it can be, where it is not certain; none is any
	PhaseOnly bool                `json:"phase_only"`
	Readings  listOf[readingNote] `json:"readings"`
}

type foundWinding struct {
	Leads   listOf[string]  `json:"leads"`
	Ordered bool            `json:"ordered"`
	Whole   bool            `json:"whole"`
	Names   listOf[string]  `json:"names"`         // of the windings that it can be
	Ohms    listOf[spanRow] `json:"ohms_between"`  // each lead and the next
	Volts   listOf[spanRow] `json:"volts_between"` // the same
}

type foundPhase struct {
	First   [2]string   `json:"first"`
	Second  [2]string   `json:"second"` // rises as the first does
	Reading readingNote `json:"reading"`
}

type clashRow struct {
	Message  string              `json:"message"`
	Readings listOf[readingNote] `json:"readings"`
	Suspect  *readingNote        `json:"suspect"`
	Why      string              `json:"why"`
}

type asideRow struct {
	Reading readingNote `json:"reading"`
	Why     string      `json:"why"`
}

type identifyAnswer struct {
	Part           string               `json:"part"`
	Counted        int                  `json:"readings_used"`
	Leads          listOf[foundLead]    `json:"leads"`
	Windings       listOf[foundWinding] `json:"windings"`
	Phases         listOf[foundPhase]   `json:"phases"`
	Contradictions listOf[clashRow]     `json:"contradictions"`
	Aside          listOf[asideRow]     `json:"aside"`
	Assumes        listOf[string]       `json:"assumes"`
	Done           bool                 `json:"done"`
	Next           *askRow              `json:"next"`
	Even           listOf[[2]string]    `json:"even"` // outer ends of windings that read the same from either end
	Key            string               `json:"key"`  // the colours fact that the readings come to
}

func askIdentify(s *Session, a *asked) (answer, *diag.Diagnostic) {
	part, wrong := s.partAsked(a, 0)
	if wrong != nil {
		return nil, wrong
	}
	if wrong := unwound(part, a); wrong != nil {
		return nil, wrong
	}
	id := legend.Identify(s.book, part, legend.Cheap)
	found := identifyAnswer{Part: part.Ref, Counted: id.Counted, Assumes: id.Assumes, Done: id.Done}
	for i := range id.Leads {
		l := &id.Leads[i]
		row := foundLead{Lead: s.shortName(l.Lead), Sure: sureNames[l.Sure], NoEnd: l.NoEnd, Choices: s.shortNames(l.Choices),
			PhaseOnly: l.PhaseOnly, Readings: s.readingNotes(l.Evidence)}
		if l.Sure != legend.Open && !l.NoEnd {
			row.End = s.shortName(l.End)
		}
		found.Leads = append(found.Leads, row)
	}
	if slices.ContainsFunc(found.Leads, func(l foundLead) bool { return l.End != "" }) {
		found.Key = id.KeyFact(s.book) // one that names no end is not worth writing down
	}
	for _, w := range id.Windings {
		found.Windings = append(found.Windings, foundWinding{s.shortNames(w.Leads), w.Ordered, w.Whole, w.Names, spanRows(w.Ohms), spanRows(w.Volts)})
	}
	for _, f := range id.Phases {
		found.Phases = append(found.Phases, foundPhase{[2]string{s.shortName(f.A[0]), s.shortName(f.A[1])}, [2]string{s.shortName(f.B[0]), s.shortName(f.B[1])},
			s.readingNote(f.Reading)})
	}
	for _, c := range id.Contradictions {
		row := clashRow{Message: c.Message, Readings: s.readingNotes(c.Readings), Why: c.Why}
		if c.Suspect != nil {
			note := s.readingNote(c.Suspect)
			row.Suspect = &note
		}
		found.Contradictions = append(found.Contradictions, row)
	}
	for _, x := range id.Aside {
		found.Aside = append(found.Aside, asideRow{s.readingNote(x.Reading), x.Why})
	}
	for _, e := range id.Even {
		found.Even = append(found.Even, [2]string{s.shortName(e[0]), s.shortName(e[1])})
	}
	if id.Next != nil {
		next := s.askRow(id.Next)
		found.Next = &next
	}
	return found, nil
}

// unwound refuses a part of which the notebook knows the terminals, and no
// winding among them: what is worked out from readings are windings.
func unwound(p *netlist.Part, a *asked) *diag.Diagnostic {
	if len(p.Kind.Windings) > 0 || len(p.Kind.Terminals) == 0 {
		return nil
	}
	return &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(0),
		Message: fmt.Sprintf("%s is %s %s without windings, and readings are worked out for the leads of windings alone", p.Ref, article(p.Kind.Name), p.Kind.Name),
		Mend:    []string{"read the leads against what expect says of the part, and write what you find as a source: colours " + p.Ref + " meter { red …, blue … }"}}
}
