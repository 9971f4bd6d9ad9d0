package shell

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

func benchQueries() []query {
	return []query{
		{
			name: "about", args: "REF | NET | KIND | TERMINAL", line: "all that is known about one thing",
			text: "A part: its values, its terminals, and where each belongs and is. A net: its terminals, and how they are joined. " +
				"A kind: its terminals and what stands between them. A terminal: the same as `at`.",
			example: "about V1",
			least:   1, most: 1, takes: []slot{slotAbout}, run: askAbout,
		},
		{
			name: "at", args: "TERMINAL", line: "everything at one point: plan, joints and facts",
			text: "What the plan wants there, what is soldered there, and what has been undone there, each with the fact that says so. " +
				"Pins may be given with their electrode, as `V1.2-grid`.",
			example: "at V1.2-grid",
			least:   1, most: 1, takes: []slot{slotTerminal}, run: askAt,
		},
		{
			name: "path", args: "A B", line: "the way from one terminal to another, joint by joint",
			text: "As drawn and as built, over the fewest joints, in the present position of every switch and plug. " +
				"Each step quotes the fact that made it.",
			example: "path J1.tip R1.1",
			least:   2, most: 2, takes: []slot{slotTerminal, slotTerminal}, run: askPath,
		},
		{
			name: "joints", args: "[REF | TERMINAL]", line: "what is joined on the bench, in the order in which it was done",
			text:    "Leads, legs, solder and bolts; not what has been undone. With a part or a terminal: the joints there.",
			example: "joints J1",
			most:    1, takes: []slot{slotTerminal}, run: askJoints,
		},
		{
			name: "sources", args: "[REF [published]]", line: "who says which coloured lead is which end, side by side",
			text: "One column for each source that has a colour key, and one for the published codes, which are the weakest and never hold by themselves. " +
				"Where sources differ, it says how: these two are exchanged, these three go round. With a part also: what would follow for the wiring if the one or the other is right, " +
				"and what the readings make of each. `trust` says which source holds. `published` tells what each code says of the colours, and where it was read.",
			example: "sources T2",
			most:    2, takes: []slot{slotKeyed, slotPublished}, run: askSources,
		},
	}
}

// terminalAsked resolves a word of a question to a terminal.
func (s *Session) terminalAsked(a *asked, i int) (netlist.TerminalID, *diag.Diagnostic) {
	word := a.word(i)
	t, problem, nearest := s.book.Terminal(word)
	if problem == "" {
		return t, nil
	}
	wrong := unknown(a.place(i), problem, nearest)
	ref, _, _ := strings.Cut(word, ".")
	if p := s.book.Part(ref); p != nil {
		wrong.Notes = []string{fmt.Sprintf("The terminals of %s: %s.", p.Ref, s.names(p.Terminals))}
	} else if net := s.book.NetNamed(word); net != nil {
		var members []netlist.TerminalID
		for _, m := range net.Members {
			members = append(members, m.Terminal)
		}
		wrong.Message, wrong.Nearest = net.Name+" is a net: name one of its terminals", ""
		wrong.Notes = []string{"On it: " + s.names(members) + "."}
	}
	return t, wrong
}

// names lists some terminals for a sentence; of many, the first few.
func (s *Session) names(ts []netlist.TerminalID) string {
	const most = 12
	var list []string
	for _, t := range ts[:min(len(ts), most)] {
		list = append(list, s.book.Name(t))
	}
	if len(ts) > most {
		return strings.Join(list, ", ") + " and more"
	}
	return joinAnd(list)
}

func (s *Session) partAsked(a *asked, i int) (*netlist.Part, *diag.Diagnostic) {
	word := a.word(i)
	if p := s.book.Part(word); p != nil {
		return p, nil
	}
	return nil, unknown(a.place(i), "no part is called "+word, nearestName(word, s.partNames(nil)))
}

func unknown(place diag.Place, message, nearest string) *diag.Diagnostic {
	return &diag.Diagnostic{Rule: "unknown-name", Severity: diag.Fault, Place: place, Message: message, Nearest: nearest}
}

// filter is what a question about the bench can be narrowed to: one terminal,
// all terminals of a part, or everything.
type filter struct {
	terminal netlist.TerminalID
	part     *netlist.Part
}

func (s *Session) filterAsked(a *asked) (filter, *diag.Diagnostic) {
	f := filter{terminal: netlist.NoTerminal}
	word := a.word(0)
	if word == "" {
		return f, nil
	}
	if f.part = s.book.Part(word); f.part != nil {
		return f, nil
	}
	var wrong *diag.Diagnostic
	f.terminal, wrong = s.terminalAsked(a, 0)
	return f, wrong
}

func (s *Session) passes(f filter, ids ...netlist.TerminalID) bool {
	switch {
	case f.part != nil:
		return slices.ContainsFunc(ids, func(t netlist.TerminalID) bool { return s.book.Terminals[t].Part == f.part })
	case f.terminal != netlist.NoTerminal:
		return slices.Contains(ids, f.terminal)
	}
	return true
}

type jointRow struct {
	How    string   `json:"how"`
	From   string   `json:"from"`
	To     string   `json:"to"`
	Colour string   `json:"colour"`
	Label  string   `json:"label"`
	Where  placeDoc `json:"where"`
	joint  netlist.Joint
}

type jointsAnswer struct {
	Joints listOf[jointRow] `json:"joints"`
	word   string
}

func (s *Session) jointRow(j netlist.Joint) jointRow {
	r := jointRow{
		How: howJoined(j), From: s.book.Name(j.A), To: s.book.Name(j.B),
		Colour: j.Colour.String(), Label: j.Label, joint: j,
	}
	if j.Fact != nil {
		r.Where = placed(j.Fact.Place())
	}
	return r
}

func askJoints(s *Session, a *asked) (answer, *diag.Diagnostic) {
	f, wrong := s.filterAsked(a)
	if wrong != nil {
		return nil, wrong
	}
	found := jointsAnswer{word: a.word(0)}
	for _, j := range s.bench().Joints {
		if j.Kind != netlist.Pad && s.passes(f, j.A, j.B) {
			found.Joints = append(found.Joints, s.jointRow(j))
		}
	}
	return found, nil
}

var jointNames = [...]string{
	netlist.Leg: "leg", netlist.Wire: "lead", netlist.Screen: "screen", netlist.Solder: "solder",
	netlist.Bolt: "bolt", netlist.Hole: "leg in its hole", netlist.Pad: "print",
}

func howJoined(j netlist.Joint) string { return jointNames[j.Kind] }

func (a jointsAnswer) write(p *page) {
	var rows []row
	for _, r := range a.Joints {
		how := []span{plain(r.How)}
		if r.joint.Kind == netlist.Wire {
			how = append(swatch(r.joint.Colour), plain(" lead"))
		}
		if r.Label != "" {
			how = append(how, plain(" “"+r.Label+"”"))
		}
		place := ""
		if r.joint.Fact != nil {
			place = placeText(r.joint.Fact.Place())
		}
		rows = append(rows, row{cell(r.From), cell(r.To), how, {faint(place)}})
	}
	p.table(0, rows)
	p.say(0, 0, plain(tally(len(a.Joints), "joint", a.word)))
}

// withText is what was so for one reading alone, as it is typed: positions, the
// points of a supply, and what a test lead joined.
func (s *Session) withText(r *netlist.Reading) string {
	var texts []string
	if text := settingText(r.With); text != "" {
		texts = append(texts, text)
	}
	for _, h := range r.Held {
		texts = append(texts, s.book.Name(h.At)+" "+h.Volts.Text)
	}
	for _, pair := range r.Joined {
		texts = append(texts, s.book.Name(pair[0])+" "+s.book.Name(pair[1]))
	}
	return strings.Join(texts, ", ")
}

// settingText lists positions in the order of the parts.
func settingText(setting netlist.Setting) string {
	var refs []netlist.ControlRef
	for ref := range setting {
		refs = append(refs, ref)
	}
	slices.SortFunc(refs, func(a, b netlist.ControlRef) int {
		if a.Part != b.Part {
			return a.Part.Index - b.Part.Index
		}
		return a.Control - b.Control
	})
	var texts []string
	for _, ref := range refs {
		r := positionOf(ref.Part, ref.Control, setting)
		texts = append(texts, r.Control+" "+r.Now)
	}
	return strings.Join(texts, ", ")
}
