package shell

import (
	"slices"
	"strconv"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

func bookQueries() []query {
	return []query{
		{
			name: "parts", args: "[KIND | WORD]", line: "the parts, with their kinds and values",
			text: "With a word: the parts of that kind, and those whose reference, values or label hold the word. " +
				"A kind may be called by any of its names.",
			example: "parts ecc83",
			most:    1, takes: []slot{slotKind}, run: askParts,
		},
		{
			name: "nets", args: "[WORD]", line: "the conductors of the plan, and how far each is wired",
			text: "A net is whole when all its terminals meet on the bench, through whatever tags. " +
				"With a word: the nets whose names hold it.",
			example: "nets grid",
			most:    1, takes: []slot{slotNet}, run: askNets,
		},
		{
			name: "facts", args: "[WORD]", line: "the facts of the notebook, numbered, with their places",
			text:    "With a word: the facts in which it stands, as typed. What has been struck out is marked.",
			example: "facts V1.2",
			most:    1, takes: []slot{slotAbout}, run: askFacts,
		},
		{
			name: "notes", line: "the remarks that the notebook keeps",
			text:    "The `note` facts, with their places. A remark in quotes behind another fact stays with that fact: see `facts`.",
			example: "notes", run: askNotes,
		},
		{
			name: "positions", args: "[REF]", line: "the controls, their positions and where they stand now",
			text: "A control that nobody has set rests in its first position. A track rests nowhere: until it is set, " +
				"its position is not known. The fact `set` moves a control.",
			example: "positions",
			most:    1, takes: []slot{slotPart}, run: askPositions,
		},
	}
}

type partRow struct {
	Ref    string           `json:"ref"`
	Kind   string           `json:"kind"`
	Values listOf[string]   `json:"values"`
	Words  listOf[string]   `json:"words"`
	Label  string           `json:"label"`
	Where  listOf[placeDoc] `json:"where"`
}

type partsAnswer struct {
	Parts listOf[partRow] `json:"parts"`
	word  string
}

func askParts(s *Session, a *asked) (answer, *diag.Diagnostic) {
	word := a.word(0)
	kind := word
	if k, _ := s.book.Library.Kind(word); k != nil {
		kind = k.Name
	}
	var found partsAnswer
	for _, p := range s.book.Parts {
		r := partRow{
			Ref: p.Ref, Kind: p.Kind.Name, Values: figureTexts(p.Figures), Words: p.Words, Label: p.Label,
			Where: factPlaces(p.Facts...),
		}
		if word == "" || strings.EqualFold(p.Kind.Name, kind) || r.holds(word) {
			found.Parts = append(found.Parts, r)
		}
	}
	found.word = word
	return found, nil
}

func (r *partRow) holds(word string) bool {
	return containsFold(r.Ref, word) || containsFold(r.Label, word) || containsFold(r.Kind, word) ||
		slices.ContainsFunc(r.Values, func(v string) bool { return strings.EqualFold(v, word) })
}

func (a partsAnswer) write(p *page) {
	var rows []row
	for _, r := range a.Parts {
		rows = append(rows, row{
			{strong(r.Ref)}, cell(r.Kind),
			cell(strings.Join(slices.Concat(r.Values, r.Words), " ")), cell(r.Label),
		})
	}
	p.table(0, rows)
	p.say(0, 0, plain(tally(len(a.Parts), "part", a.word)))
}

// tally ends a list: "12 parts", "2 parts with “ecc83”".
func tally(n int, what, word string) string {
	text := count(n, what)
	if n == 0 {
		text = "No " + what
	}
	if word != "" {
		text += " with “" + word + "”"
	}
	return text + "."
}

type netRow struct {
	Net       string           `json:"net"`
	Terminals listOf[string]   `json:"terminals"`
	Copper    bool             `json:"copper"`
	Made      int              `json:"joints_made"`
	Of        int              `json:"joints"`
	Pieces    int              `json:"pieces"`
	Where     listOf[placeDoc] `json:"where"`
}

type netsAnswer struct {
	Nets listOf[netRow] `json:"nets"`
	word string
}

func askNets(s *Session, a *asked) (answer, *diag.Diagnostic) {
	w := s.progress()
	var found netsAnswer
	for _, n := range s.book.Nets {
		if !containsFold(n.Name, a.word(0)) {
			continue
		}
		made, of := w.progress(n)
		r := netRow{Net: n.Name, Copper: n.Copper, Made: made, Of: of, Pieces: of - made + 1}
		var facts []*netlist.Fact
		for _, m := range n.Members {
			r.Terminals = append(r.Terminals, s.book.Name(m.Terminal))
			if !slices.Contains(facts, m.Fact) {
				facts = append(facts, m.Fact)
			}
		}
		r.Where = factPlaces(facts...)
		found.Nets = append(found.Nets, r)
	}
	found.word = a.word(0)
	return found, nil
}

func (r *netRow) state() string {
	switch {
	case r.Of == 0:
		return "one terminal"
	case r.Made == r.Of:
		return "whole"
	case r.Made == 0:
		return "nothing joined yet"
	}
	return strconv.Itoa(r.Made) + " of " + count(r.Of, "joint")
}

func (a netsAnswer) write(p *page) {
	var rows []row
	for _, r := range a.Nets {
		rows = append(rows, row{{strong(r.Net)}, cell(r.state()), cell(strings.Join(r.Terminals, " "))})
	}
	p.table(0, rows)
	p.say(0, 0, plain(tally(len(a.Nets), "net", a.word)))
}

type factRow struct {
	Number int       `json:"number"`
	Fact   string    `json:"fact"`
	Struck *placeDoc `json:"struck_by"`
	Where  placeDoc  `json:"where"`
	place  diag.Place
	struck diag.Place
}

type factsAnswer struct {
	Facts listOf[factRow] `json:"facts"`
	word  string
}

func askFacts(s *Session, a *asked) (answer, *diag.Diagnostic) {
	found := factsAnswer{word: a.word(0)}
	for _, f := range s.book.Facts {
		if !containsFold(f.Text(), found.word) {
			continue
		}
		r := factRow{Number: f.Index + 1, Fact: f.Text(), Where: placed(f.Place()), place: f.Place()}
		if f.StruckBy != nil {
			by := placed(f.StruckBy.Place())
			r.Struck, r.struck = &by, f.StruckBy.Place()
		}
		found.Facts = append(found.Facts, r)
	}
	return found, nil
}

func (a factsAnswer) write(p *page) {
	var rows []row
	for _, r := range a.Facts {
		text := cell(firstLine(r.Fact))
		if r.Struck != nil {
			text = []span{faint("struck out at " + placeText(r.struck) + ": "), plain(firstLine(r.Fact))}
		}
		rows = append(rows, row{{faint(strconv.Itoa(r.Number))}, {faint(placeText(r.place))}, text})
	}
	p.listing(0, rows)
	p.say(0, 0, plain(tally(len(a.Facts), "fact", a.word)))
}

type noteRow struct {
	Note  string   `json:"note"`
	Where placeDoc `json:"where"`
	place diag.Place
}

type notesAnswer struct {
	Notes listOf[noteRow] `json:"notes"`
}

func askNotes(s *Session, _ *asked) (answer, *diag.Diagnostic) {
	var found notesAnswer
	for _, f := range s.book.Facts {
		if n, is := f.Statement.(*lang.Remark); is && f.StruckBy == nil {
			found.Notes = append(found.Notes, noteRow{n.Text.Text, placed(f.Place()), f.Place()})
		}
	}
	return found, nil
}

func (a notesAnswer) write(p *page) {
	var rows []row
	for _, r := range a.Notes {
		rows = append(rows, row{{faint(placeText(r.place))}, cell(r.Note)})
	}
	p.table(0, rows)
	p.say(0, 0, plain(tally(len(a.Notes), "note", "")))
}

type positionRow struct {
	Control   string         `json:"control"`
	Now       string         `json:"now"`
	Known     bool           `json:"known"`
	Positions listOf[string] `json:"positions"`
}

type positionsAnswer struct {
	Controls listOf[positionRow] `json:"controls"`
}

func askPositions(s *Session, a *asked) (answer, *diag.Diagnostic) {
	var only *netlist.Part
	if a.word(0) != "" {
		var wrong *diag.Diagnostic
		if only, wrong = s.partAsked(a, 0); wrong != nil {
			return nil, wrong
		}
	}
	var found positionsAnswer
	setting := s.bench().Setting
	for _, p := range s.book.Parts {
		if only != nil && p != only {
			continue
		}
		for i := range p.Kind.Controls {
			found.Controls = append(found.Controls, positionOf(p, i, setting))
		}
	}
	return found, nil
}

func positionOf(p *netlist.Part, control int, setting netlist.Setting) positionRow {
	c := p.Kind.Controls[control]
	r := positionRow{Control: p.Ref, Positions: c.Positions}
	if c.Turns {
		r.Positions = []string{"0%..100%"}
	}
	if len(p.Kind.Controls) > 1 {
		r.Control += "." + c.Name
	}
	at, set := setting[netlist.ControlRef{Part: p, Control: control}]
	switch {
	case c.Turns && !(set && at.Known):
		r.Now = "not known"
	default:
		r.Now, r.Known = netlist.ControlRef{Part: p, Control: control}.PositionName(at), true
	}
	return r
}

func (a positionsAnswer) write(p *page) {
	var rows []row
	for _, r := range a.Controls {
		rows = append(rows, row{{strong(r.Control)}, cell(r.Now), {faint("of " + strings.Join(r.Positions, ", "))}})
	}
	p.table(0, rows)
	p.say(0, 0, plain(tally(len(a.Controls), "control", "")))
}

func figureTexts(figures []lang.Figure) []string {
	var texts []string
	for _, f := range figures {
		texts = append(texts, f.Text)
	}
	return texts
}
