package shell

import (
	"fmt"
	"math"
	"slices"
	"strings"

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

// A readingNote is a reading as it stands in the notebook.
type readingNote struct {
	Red   string   `json:"red"`
	Black string   `json:"black"`
	Value string   `json:"value"`
	Where placeDoc `json:"where"`
	place diag.Place
}

func (s *Session) readingNote(r *netlist.Reading) readingNote {
	return readingNote{s.book.Name(r.Red), s.book.Name(r.Black), valueText(r), placed(r.Fact.Place()), r.Fact.Place()}
}

func (s *Session) readingNotes(list []*netlist.Reading) listOf[readingNote] {
	var rows listOf[readingNote]
	for _, r := range list {
		rows = append(rows, s.readingNote(r))
	}
	return rows
}

// writeReadings quotes readings under a heading, each with its place.
func writeReadings(p *page, indent int, head string, list []readingNote) {
	if len(list) == 0 {
		return
	}
	p.say(indent, indent+2, faint(head))
	var notes []diag.Note
	for _, r := range list {
		notes = append(notes, diag.Note{Place: r.place})
	}
	p.quote(indent+2, notes)
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
			found.Key = id.KeyFact(s.book) // one that names no end is not worth writing down
		}
		found.Leads = append(found.Leads, row)
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

func (a identifyAnswer) write(p *page) {
	if len(a.Leads) == 0 {
		p.say(0, 2, plain("The notebook names no flying lead of "+a.Part+". Leads are named by the fact colours; what nobody knows is unknown."))
		return
	}
	if a.Counted == 0 {
		p.say(0, 2, plain("No reading tells anything of the leads of "+a.Part+" yet."))
	} else {
		p.say(0, 2, plain("The leads of "+a.Part+", by "+count(a.Counted, "reading")+" and nothing else:"))
	}
	p.gap()
	rows := []row{{{faint("lead")}, {faint("what it is")}}}
	for i := range a.Leads {
		rows = append(rows, row{leadName(a.Leads[i].Lead), a.Leads[i].told()})
	}
	p.table(2, rows)
	a.writeWindings(p)
	for i := range a.Contradictions {
		a.Contradictions[i].write(p)
	}
	if len(a.Aside) > 0 {
		p.gap()
		p.say(0, 2, plain("These readings tell nothing of the leads:"))
		for _, x := range a.Aside {
			p.quote(2, []diag.Note{{Place: x.Reading.place}})
			p.say(4, 6, faint(sentence(capital(x.Why))))
		}
	}
	if len(a.Assumes) > 0 {
		p.gap()
		p.say(0, 2, plain("That rests on the readings, and on this:"))
		for _, text := range a.Assumes {
			p.say(2, 4, plain(text))
		}
	}
	a.writeNext(p)
	if a.Key != "" {
		p.gap()
		p.say(0, 2, plain("What is known so far, as a fact for the notebook:"))
		p.line(2, plain(a.Key))
	}
}

// joinOr lists what something can be: "A", "A or B", "A, B or C".
func joinOr(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// told says what a lead is, and how sure that is.
func (l *foundLead) told() []span {
	choices := joinOr(l.Choices)
	switch {
	case l.NoEnd:
		return []span{strong("no end of a winding"), plain(", certain")}
	case l.Sure == "certain":
		return []span{strong(l.End), plain(", certain")}
	case l.Sure == "either-way":
		return []span{strong(l.End), plain(", either way: " + choices + " makes no difference")}
	case len(l.Choices) == 0:
		return []span{{cautionStyle, "open"}, plain(": it can be any")}
	case l.PhaseOnly:
		return []span{{cautionStyle, "open"}, plain(": " + choices + ", by how the winding runs")}
	}
	return []span{{cautionStyle, "open"}, plain(": " + choices)}
}

func (a *identifyAnswer) writeWindings(p *page) {
	told := false
	for i := range a.Windings {
		w := &a.Windings[i]
		if len(w.Leads) < 2 {
			continue
		}
		if !told {
			p.gap()
			p.say(0, 2, plain("Found to be joined inside:"))
			told = true
		}
		p.say(2, 4, plain(w.text()))
	}
	for _, f := range a.Phases {
		p.say(2, 4, plain(fmt.Sprintf("From %s to %s the winding runs as from %s to %s.", f.First[0], f.First[1], f.Second[0], f.Second[1])))
	}
}

func (w *foundWinding) text() string {
	text := joinAnd(w.Leads)
	if w.Ordered && len(w.Leads) > 2 {
		text += ", in this order"
	}
	if len(w.Names) > 0 {
		text += ": " + joinOr(w.Names)
	}
	var steps []string
	for i, o := range w.Ohms {
		if figure := o.text(ohmsText); figure != "" {
			steps = append(steps, fmt.Sprintf("%s to %s %s", w.Leads[i], w.Leads[i+1], tied(figure)))
		}
	}
	if len(steps) > 0 {
		text += "; " + strings.Join(steps, ", ")
	}
	if !w.Whole {
		text += "; others may belong to it"
	}
	return text + "."
}

// text is a range in words, "" where nothing bounds it.
func (r spanRow) text(figure func(float64) string) string {
	if math.IsInf(float64(r.High), 1) {
		return ""
	}
	return rangeText(float64(r.Low), float64(r.High), figure)
}

func (c *clashRow) write(p *page) {
	p.gap()
	p.say(0, 2, span{cautionStyle, sentence(capital(c.Message))})
	writeReadings(p, 2, "These readings:", c.Readings)
	if c.Suspect != nil {
		writeReadings(p, 2, "Most likely wrong, so take it again:", []readingNote{*c.Suspect})
	}
	if c.Why != "" {
		p.say(2, 4, plain(sentence(c.Why)))
	}
}

func (a *identifyAnswer) writeNext(p *page) {
	p.gap()
	switch {
	case a.Next != nil:
		p.say(0, 2, plain("Next, read "+a.Next.probes()+". "+a.Next.Why))
		for _, text := range a.Next.Cautions { // before anything is done
			p.say(2, 4, span{cautionStyle, text})
		}
		p.say(0, 2, plain("Write down what it says, and ask again:"))
		a.Next.writeLines(p, 2)
	case a.Done && slices.ContainsFunc(a.Leads, func(l foundLead) bool { return l.Sure == "either-way" }):
		p.say(0, 2, plain("Every lead is known, or may be taken either way. Nothing is left to read."))
	case a.Done:
		p.say(0, 2, plain("Every lead is known. Nothing is left to read."))
	default:
		p.say(0, 2, plain("No further reading that could be taken without danger would tell more."))
	}
	for _, e := range a.Even {
		p.say(0, 2, plain(fmt.Sprintf("The winding of %s and %s reads the same from either end. If either may be used for the other, say so in the block of %s: alike %s with %s",
			e[0], e[1], a.Part, e[0], e[1])))
	}
}
