package shell

import (
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// About can answer of several things at once: a net may have the name of a
// part of one terminal.
type aboutAnswer struct {
	Part     *partAbout     `json:"part"`
	Net      *netAbout      `json:"net"`
	Kind     *kindAbout     `json:"kind"`
	Terminal *terminalAbout `json:"terminal"`
}

func askAbout(s *Session, a *asked) (answer, *diag.Diagnostic) {
	word := a.word(0)
	var found aboutAnswer
	if p := s.book.Part(word); p != nil {
		found.Part = s.partAbout(p)
	}
	if n := s.book.NetNamed(word); n != nil {
		found.Net = s.netAbout(n)
	}
	if k, known := s.book.Library.Kind(word); known {
		found.Kind = aboutKind(k)
	}
	if found != (aboutAnswer{}) {
		return found, nil
	}
	if strings.Contains(word, ".") {
		return askAt(s, a)
	}
	if findTopic(word) != nil {
		return askHelp(s, a)
	}
	names := slices.Concat(s.partNames(nil), s.netNames(), s.kindNames())
	return nil, unknown(a.place(0), "no part, net, kind or terminal is called "+word, nearestName(word, names))
}

func (a aboutAnswer) write(p *page) {
	if a.Part != nil {
		a.Part.write(p)
	}
	if a.Net != nil {
		p.gap()
		a.Net.write(p)
	}
	if a.Kind != nil {
		p.gap()
		a.Kind.write(p)
	}
	if a.Terminal != nil {
		p.gap()
		a.Terminal.write(p)
	}
}

type partAbout struct {
	partRow
	Title     string              `json:"kind_title"`
	Fitted    string              `json:"fitted"` // what a fit fact says of it, in words; "" is as planned
	Terminals listOf[terminalRow] `json:"terminals"`
	Controls  listOf[positionRow] `json:"controls"`
	Findings  listOf[findingDoc]  `json:"findings"`
	told      []diag.Note
	counts    string
}

// A terminalRow is one terminal in the account of its part.
type terminalRow struct {
	Name      string         `json:"name"`
	Electrode string         `json:"electrode"`
	End       string         `json:"end"`       // of a flying lead: the end that it is taken to be
	Open      bool           `json:"open"`      // sources differ about the lead, and none is trusted
	Net       string         `json:"net"`       // of a flying lead: that of its end
	Joined    listOf[string] `json:"joined_to"` // on the bench, directly
	Spare     bool           `json:"spare"`
}

func (s *Session) partAbout(p *netlist.Part) *partAbout {
	w := s.wiring()
	about := &partAbout{
		partRow: partRow{
			Ref: p.Ref, Kind: p.Kind.Name, Values: figureTexts(p.Figures), Words: p.Words, Label: p.Label,
			Where: factPlaces(p.Facts...),
		},
		Title: p.Kind.Title,
	}
	for _, f := range p.Facts {
		about.told = append(about.told, diag.Note{Place: f.Place()})
	}
	if f := w.bench.Fittings[p]; f != nil {
		about.Fitted = fittingText(f)
		about.told = append(about.told, diag.Note{Place: f.Fact.Place()})
	}
	for _, t := range p.Terminals {
		about.Terminals = append(about.Terminals, s.terminalRow(t))
	}
	for i := range p.Kind.Controls {
		about.Controls = append(about.Controls, positionOf(p, i, w.bench.Setting))
	}
	found := s.verdict().about(p)
	about.Findings = findingDocs(s.book, found)
	about.counts = summary(found)
	return about
}

func (s *Session) terminalRow(t netlist.TerminalID) terminalRow {
	term := &s.book.Terminals[t]
	r := terminalRow{Name: term.Name, Net: s.netName(t), Spare: s.book.Spare(t) != nil}
	if term.Index >= 0 {
		r.Electrode = strings.Join(term.Part.Kind.Electrodes(term.Index), ", ")
		if r.Electrode == term.Name {
			r.Electrode = ""
		}
	}
	if term.Lead {
		end, open := s.endOfLead(t)
		r.Open = open
		if end != netlist.NoTerminal {
			r.End = s.shortName(end)
			r.Net = or(r.Net, s.netName(end))
		}
	}
	for _, j := range s.bench().Joints {
		if other, at := otherEnd(j, t); at && j.Kind != netlist.Pad {
			r.Joined = append(r.Joined, s.book.Name(other))
		}
	}
	return r
}

// otherEnd gives the far end of a joint that is made at a terminal.
func otherEnd(j netlist.Joint, t netlist.TerminalID) (netlist.TerminalID, bool) {
	switch t {
	case j.A:
		return j.B, true
	case j.B:
		return j.A, true
	}
	return netlist.NoTerminal, false
}

func fittingText(f *netlist.Fitting) string {
	var words []string
	switch {
	case f.Absent:
		words = append(words, "not there")
	case f.Turned:
		words = append(words, "turned round in its holes")
	}
	if f.Kind != nil {
		words = append(words, article(f.Kind.Name)+" "+f.Kind.Name)
	}
	if figures := strings.Join(slices.Concat(figureTexts(f.Figures), f.Words), " "); figures != "" && f.Kind == nil {
		words = append(words, "really "+figures)
	} else if figures != "" {
		words = append(words, figures)
	}
	if f.Reason != "" && len(words) > 0 {
		words = append(words, "“"+f.Reason+"”")
	}
	return strings.Join(words, ", ")
}

func (a *partAbout) write(p *page) {
	values := strings.Join(slices.Concat(a.Values, a.Words), " ")
	first := []span{strong(a.Ref), plain(" is " + article(a.Kind) + " " + a.Kind)}
	if values != "" {
		first = append(first, plain(", "+values))
	}
	if a.Label != "" {
		first = append(first, plain(": “"+a.Label+"”"))
	}
	p.say(0, 2, append(first, plain("."))...)
	if a.Title != "" {
		p.say(2, 2, faint(sentence(capital(a.Title))))
	}
	if a.Fitted != "" {
		p.say(2, 2, plain("On the bench it is "+a.Fitted+"."))
	}
	p.quote(4, a.told)
	p.gap()
	p.table(2, a.terminalRows())
	for _, c := range a.Controls {
		p.say(2, 4, plain(c.Control+" stands at: "+c.Now+" (of "+strings.Join(c.Positions, ", ")+")."))
	}
	if slices.ContainsFunc(a.Terminals, func(t terminalRow) bool { return t.Open }) {
		p.say(2, 2, plain("Sources differ about its leads, and none is trusted: sources "+a.Ref+" says how, and what would follow."))
	}
	if a.counts != "" {
		p.say(2, 2, plain("check names it: "+a.counts+"."))
	}
}

// terminalRows has a line for each terminal. The ends of a transformer are told
// beside the leads that they are.
func (a *partAbout) terminalRows() []row {
	leads := false
	said := map[string]bool{}
	for _, t := range a.Terminals {
		leads = leads || t.End != "" || t.Open
		said[t.End] = true
	}
	head := row{{faint("terminal")}, {faint("drawn on")}, {faint("on the bench")}}
	if leads {
		head = slices.Insert(head, 1, []span{faint("is")})
	}
	rows := []row{head}
	for _, t := range a.Terminals {
		if said[t.Name] && t.End == "" && len(t.Joined) == 0 {
			continue
		}
		name := []span{strong(t.Name)}
		is := cell(or(t.End, "-"))
		if t.End != "" {
			name = leadName(t.Name)
		}
		if t.Open {
			name, is = leadName(t.Name), []span{{cautionStyle, "open"}}
		}
		if t.Electrode != "" {
			name = append(name, plain(" "+t.Electrode))
		}
		net := t.Net
		if net == "" && t.Spare {
			net = "spare"
		}
		r := row{name, cell(or(net, "-")), cell(or(strings.Join(t.Joined, ", "), "-"))}
		if leads {
			r = slices.Insert(r, 1, is)
		}
		rows = append(rows, r)
	}
	return rows
}

type netAbout struct {
	netRow
	Pieces listOf[listOf[string]] `json:"pieces_now"` // the terminals that meet on the bench, piece by piece
	told   []diag.Note
}

func (s *Session) netAbout(n *netlist.Net) *netAbout {
	w := s.progress()
	made, of := w.progress(n)
	about := &netAbout{netRow: netRow{Net: n.Name, Copper: n.Copper, Made: made, Of: of}}
	piece := map[netlist.TerminalID]int{}
	seen := map[*netlist.Fact]bool{}
	for _, m := range n.Members {
		name := s.book.Name(m.Terminal)
		about.netRow.Terminals = append(about.netRow.Terminals, name)
		if !seen[m.Fact] {
			seen[m.Fact] = true
			about.told = append(about.told, diag.Note{Place: m.Fact.Place()})
			about.Where = append(about.Where, placed(m.Fact.Place()))
		}
		i, known := piece[w.place(m.Terminal)]
		if !known {
			i = len(about.Pieces)
			piece[w.place(m.Terminal)] = i
			about.Pieces = append(about.Pieces, nil)
		}
		if !slices.Contains(about.Pieces[i], name) {
			about.Pieces[i] = append(about.Pieces[i], name)
		}
	}
	about.netRow.Pieces = len(about.Pieces)
	return about
}

func (a *netAbout) write(p *page) {
	p.say(0, 2, plain("Net "), strong(a.Net), plain(": "+a.state()+"."))
	p.quote(4, a.told)
	p.gap()
	if len(a.Pieces) == 1 {
		p.say(2, 4, plain("On the bench they all meet: "+strings.Join(a.Pieces[0], " ")+"."))
		return
	}
	p.say(2, 4, plain("On the bench it is in "+count(len(a.Pieces), "piece")+":"))
	for _, piece := range a.Pieces {
		p.say(4, 6, plain(strings.Join(piece, " ")))
	}
}
