package shell

import (
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/follow"
)

// A followRow is one thing that the signal passes.
type followRow struct {
	Kind      string          `json:"kind"`
	Part      string          `json:"part"`
	In        string          `json:"in"`
	Out       string          `json:"out"`
	Conductor string          `json:"conductor"`
	Inverted  bool            `json:"inverted"` // upside down behind it, as against the start
	Turns     bool            `json:"turns"`    // it turned it over
	Text      string          `json:"text"`
	Copper    listOf[stepRow] `json:"copper"` // the way along the conductor to it
}

type loopRow struct {
	Negative bool           `json:"negative"`
	Howls    bool           `json:"howls"`
	Round    float64        `json:"round"`
	Most     float64        `json:"most"` // with the controls on the way turned up
	Local    bool           `json:"local"`
	Parts    listOf[string] `json:"parts"`
	Text     string         `json:"text"`
}

type stopRow struct {
	Reason string `json:"reason"`
	Last   string `json:"last"`
	Next   string `json:"next"`
	With   string `json:"with"` // positions in which the drawing goes on
	Text   string `json:"text"`
}

type followAnswer struct {
	From     string                    `json:"from"`
	To       string                    `json:"to"`
	Harness  string                    `json:"harness"`
	With     string                    `json:"with"`
	Arrives  bool                      `json:"arrives"`
	Inverted bool                      `json:"inverted"`
	Meeting  string                    `json:"meeting"` // what lanes do where they meet: apart, adding or against
	Stem     listOf[followRow]         `json:"stem"`
	Lanes    listOf[listOf[followRow]] `json:"lanes"`
	Tail     listOf[followRow]         `json:"tail"`
	Loops    listOf[loopRow]           `json:"loops"`
	Faint    listOf[string]            `json:"faint"` // loops by which next to nothing comes round
	Stops    listOf[stopRow]           `json:"stops"`
	Assumed  listOf[string]            `json:"assumed"`
	way      *follow.Way
	what     string
}

// askFollow reads "follow FROM [TO] [with …]". A part alone is its tip, where
// it has one: follow J1.
func askFollow(s *Session, a *asked) (answer, *diag.Diagnostic) {
	from, wrong := s.tipAsked(a, 0)
	if wrong != nil {
		return nil, wrong
	}
	to, at := netlist.NoTerminal, 1
	if len(a.words) > 1 && lang.Fold(a.word(1)) != "with" {
		if to, wrong = s.tipAsked(a, 1); wrong != nil {
			return nil, wrong
		}
		at = 2
	}
	with, wrong := s.withAsked(a, at)
	if wrong != nil {
		return nil, wrong
	}
	what, draw := s.draw()
	q := follow.Question{
		Book: s.book, Draw: draw, Setting: s.bench().Setting.With(with), Asked: with, From: from, To: to,
	}
	found := followAnswer{Harness: "planned", With: settingText(with), what: what}
	if what != "As drawn" {
		found.Harness = "built"
		q.Plan = func(to netlist.Setting) *netlist.Harness { return s.book.Planned(s.wiring().meaning, to) }
	}
	w := follow.Signal(q)
	found.way = w
	found.From, found.Arrives, found.Inverted, found.Meeting = s.book.Name(w.From), w.Arrives, w.Over, w.Meeting.String()
	if w.To != netlist.NoTerminal {
		found.To = s.book.Name(w.To)
	}
	found.Stem, found.Tail = s.followRows(w, w.Stem), s.followRows(w, w.Tail)
	for _, lane := range w.Lanes {
		found.Lanes = append(found.Lanes, s.followRows(w, lane))
	}
	for i := range w.Loops {
		l := &w.Loops[i]
		row := loopRow{Negative: l.Negative(), Howls: l.Howls(), Round: l.Round, Most: l.Most, Local: l.Local, Text: w.LoopText(l)}
		for _, step := range l.Steps {
			if step.Part != nil {
				row.Parts = append(row.Parts, step.Part.Ref)
			}
		}
		found.Loops = append(found.Loops, row)
	}
	for i := range w.Faint {
		found.Faint = append(found.Faint, w.FaintText(&w.Faint[i]))
	}
	for i := range w.Stops {
		stop := &w.Stops[i]
		goesOn := netlist.Setting{}
		for _, m := range stop.With {
			goesOn[m.Control] = m.To
		}
		found.Stops = append(found.Stops, stopRow{stop.Why.String(), s.nameOrNone(stop.Last), s.nameOrNone(stop.Next), settingText(goesOn), w.StopText(stop)})
	}
	for _, assumed := range w.Assumed {
		found.Assumed = append(found.Assumed, w.AssumptionText(assumed))
	}
	return found, nil
}

// tipAsked is where a signal is fed in or taken out: a terminal, or a part with
// a tip.
func (s *Session) tipAsked(a *asked, i int) (netlist.TerminalID, *diag.Diagnostic) {
	if p := s.book.Part(a.word(i)); p != nil {
		if tip := p.Called("tip"); tip != netlist.NoTerminal {
			return tip, nil
		}
	}
	return s.terminalAsked(a, i)
}

func (s *Session) nameOrNone(t netlist.TerminalID) string {
	if t == netlist.NoTerminal {
		return ""
	}
	return s.book.Name(t)
}

func (s *Session) followRows(w *follow.Way, steps []follow.Step) []followRow {
	var rows []followRow
	for i := range steps {
		step := &steps[i]
		r := followRow{
			Kind: step.Kind.String(), In: s.nameOrNone(step.In), Out: s.nameOrNone(step.Out),
			Conductor: step.Conductor, Inverted: step.Over, Turns: step.Turns, Text: w.StepText(step),
		}
		if step.Part != nil {
			r.Part = step.Part.Ref
		}
		for _, c := range step.Copper {
			if c.By != nil {
				r.Copper = append(r.Copper, stepRow{Via: s.via(c.By), To: s.book.Name(c.At), Where: factPlaces(c.By.Fact), join: c.By})
			}
		}
		rows = append(rows, r)
	}
	return rows
}

func (a followAnswer) write(p *page) {
	p.say(0, 2, plain(a.what+":"))
	p.gap()
	p.asIs(a.way.Text(p.width))
}

// asIs writes a picture: lines that are not to be broken.
func (p *page) asIs(text string) {
	for line := range strings.Lines(text) {
		p.line(0, plain(strings.TrimRight(line, "\n")))
	}
}
