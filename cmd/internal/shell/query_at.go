package shell

import (
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

type terminalAbout struct {
	Terminal  string             `json:"terminal"`
	Part      string             `json:"part"`
	Electrode string             `json:"electrode"`
	Net       string             `json:"net"`
	With      listOf[string]     `json:"drawn_with"` // the net's other terminals
	Drawn     listOf[placeDoc]   `json:"drawn_at"`
	Spare     listOf[placeDoc]   `json:"spare_at"`
	Joints    listOf[jointRow]   `json:"joints"`
	Undone    listOf[undoneRow]  `json:"undone"`
	Meets     listOf[string]     `json:"meets"` // all that it is one conductor with on the bench
	MeetsNets listOf[string]     `json:"meets_nets"`
	Carries   bool               `json:"carries"` // a tag or bolt, which needs no net of its own
	Readings  listOf[readingRow] `json:"readings"`
	kind      string
	bolt      bool
	open      bool // a lead of which sources say different things, and none is trusted
	drawn     []diag.Note
	spare     []diag.Note
	id        netlist.TerminalID
}

type undoneRow struct {
	jointRow
	By placeDoc `json:"undone_by"`
	by diag.Place
}

func askAt(s *Session, a *asked) (answer, *diag.Diagnostic) {
	t, wrong := s.terminalAsked(a, 0)
	if wrong != nil {
		return nil, wrong
	}
	return aboutAnswer{Terminal: s.terminalAbout(t)}, nil
}

func (s *Session) terminalAbout(t netlist.TerminalID) *terminalAbout {
	w := s.wiring()
	row := s.terminalRow(t)
	about := &terminalAbout{Terminal: s.book.Name(t), Electrode: row.Electrode, Net: row.Net, open: row.Open, id: t}
	if p := s.book.Terminals[t].Part; p != nil {
		about.Part, about.kind = p.Ref, p.Kind.Name
		about.Carries, about.bolt = s.book.Terminals[t].Tie, p.Kind.JoinedAny
	}
	if n := s.book.Net(t); n != netlist.NoNet {
		seen := map[string]bool{about.Terminal: true}
		for _, m := range s.book.Nets[n].Members {
			if m.Terminal == t {
				about.Drawn = append(about.Drawn, factPlaces(m.Fact)...)
				about.drawn = append(about.drawn, diag.Note{Place: m.Fact.Place()})
			}
			if name := s.book.Name(m.Terminal); !seen[name] {
				seen[name] = true
				about.With = append(about.With, name)
			}
		}
	}
	if f := s.book.Spare(t); f != nil {
		about.Spare = factPlaces(f)
		about.spare = []diag.Note{{Place: f.Place()}}
	}
	for _, j := range w.bench.Joints {
		if _, at := otherEnd(j, t); at {
			about.Joints = append(about.Joints, s.jointRow(j))
		}
	}
	for _, u := range w.bench.Undone {
		if _, at := otherEnd(u.Joint, t); at {
			about.Undone = append(about.Undone, undoneRow{s.jointRow(u.Joint), placed(u.By.Place()), u.By.Place()})
		}
	}
	for other := range s.book.Terminals {
		id := netlist.TerminalID(other)
		if id != t && w.joined(id, t) {
			about.Meets = append(about.Meets, s.book.Name(id))
			if net := s.netName(id); net != "" && !slices.Contains(about.MeetsNets, net) {
				about.MeetsNets = append(about.MeetsNets, net)
			}
		}
	}
	for _, r := range s.book.Readings {
		if r.Red == t || r.Black == t {
			about.Readings = append(about.Readings, s.readingRow(r))
		}
	}
	return about
}

func (a *terminalAbout) write(p *page) {
	first := []span{strong(a.Terminal)}
	if a.Electrode != "" {
		first = append(first, plain(", "+a.Electrode))
	}
	if a.kind != "" {
		first = append(first, plain(" of "+a.Part+" ("+a.kind+")"))
	}
	p.say(0, 2, append(first, plain("."))...)
	p.gap()
	switch {
	case a.Net != "" && len(a.With) == 0:
		p.say(2, 4, plain("Drawn on net "), strong(a.Net), plain(", alone."))
	case a.Net != "":
		p.say(2, 4, plain("Drawn on net "), strong(a.Net), plain(", with "+strings.Join(a.With, " ")+"."))
	case len(a.spare) > 0:
		p.say(2, 4, plain("Spare: nothing belongs here, and that is meant."))
		p.quote(4, a.spare)
	case a.Carries:
		p.say(2, 4, plain(a.carrierText()))
	case a.open:
		p.say(2, 4, plain("Which end it is, sources differ about, and none is trusted: sources "+a.Part+" says how, and what would follow."))
	default:
		p.say(2, 4, plain("On no net of the plan."))
	}
	p.quote(4, a.drawn)
	p.gap()
	if len(a.Joints) == 0 {
		p.say(2, 4, plain("Nothing is joined to it on the bench."))
	} else {
		p.say(2, 4, plain("Joined on the bench:"))
		var rows []row
		for _, j := range a.Joints {
			rows = append(rows, a.jointCells(j))
		}
		p.listing(4, rows)
		p.say(2, 4, plain("Through these it meets "+someOf(a.Meets)+"."))
	}
	for _, u := range a.Undone {
		p.gap()
		p.say(2, 4, plain("Undone: "+u.How+" "+u.From+" to "+u.To+"."))
		p.quote(4, []diag.Note{{Place: u.joint.Fact.Place()}, {Place: u.by}})
	}
	if len(a.Readings) > 0 {
		p.gap()
		p.say(2, 4, plain("Readings here:"))
		var notes []diag.Note
		for _, r := range a.Readings {
			notes = append(notes, diag.Note{Place: r.judged.Reading.Fact.Place(), Text: r.Text})
		}
		p.quote(4, notes)
	}
}

// carrierText says of a tag or bolt that no net of its own is missing, and what
// it has become part of.
func (a *terminalAbout) carrierText() string {
	text := "It is a tag, and carries whatever is soldered there; it needs no net of its own."
	if a.bolt {
		text = "It is a bolt, and carries whatever is joined there; it needs no net of its own."
	}
	switch len(a.MeetsNets) {
	case 0:
		return text
	case 1:
		return text + " On the bench it meets terminals of net " + a.MeetsNets[0] + "."
	}
	return text + " On the bench it meets terminals of the nets " + joinAnd(a.MeetsNets) + "."
}

func (a *terminalAbout) jointCells(j jointRow) row {
	other := j.To
	if j.joint.B == a.id {
		other = j.From
	}
	how := []span{plain(j.How)}
	if j.joint.Kind == netlist.Wire {
		how = append(swatch(j.joint.Colour), plain(" lead"))
	}
	if j.Label != "" {
		how = append(how, plain(" “"+j.Label+"”"))
	}
	tail := cell("")
	if f := j.joint.Fact; f != nil {
		tail = []span{faint(placeText(f.Place()) + "  "), plain(firstLine(f.Text()))}
	}
	return row{{strong(other)}, how, tail}
}

// someOf lists the first names and says how many more there are.
func someOf(names []string) string {
	const most = 16
	if len(names) == 0 {
		return "nothing else"
	}
	if len(names) > most {
		return strings.Join(names[:most], " ") + " and " + count(len(names)-most, "more terminal")
	}
	return strings.Join(names, " ")
}
