package shell

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/states"
)

var reachNames = [...]string{
	states.Unplugged: "unplugged", states.Full: "full", states.Reduced: "reduced",
	states.Shorted: "shorted", states.CutOff: "cut-off", states.Muted: "muted",
}

// A fateRow is what becomes of one input in one way of plugging in.
type fateRow struct {
	Input string          `json:"input"`
	Reach string          `json:"reach"`
	Level float64         `json:"level"` // of 1 at the tip, at the grid
	Cause *contactRow     `json:"cause"` // the contact that takes it
	Opens bool            `json:"opens"` // it would have to open; else to close
	Other string          `json:"other"` // the input whose plug takes it
	Would float64         `json:"would"` // the level without the cause
	Earth listOf[stepRow] `json:"earth"` // the way of a shorted tip to ground
	fate  states.Fate
}

type mixRow struct {
	Plugged     listOf[string]  `json:"plugged"`
	GridEarthed bool            `json:"grid_earthed"`
	Inputs      listOf[fateRow] `json:"inputs"`
}

type pairRow struct {
	Inputs   [2]string      `json:"inputs"`
	Together bool           `json:"together"` // with both plugged in, both are heard
	OnlyA    *string        `json:"only_first"`
	OnlyB    *string        `json:"only_second"`
	Settings int            `json:"settings"`
	Switch   [2]string      `json:"switch_legs"` // what a change-over switch would have to part
	Verified bool           `json:"verified"`
	Unmoved  listOf[string] `json:"unmoved"` // switches that were left as they stand: there are too many settings
	pair     states.Pair
}

type mixing struct {
	Grid   string          `json:"grid"`
	Rows   listOf[mixRow]  `json:"rows"`
	Pairs  listOf[pairRow] `json:"pairs"`
	Unset  listOf[string]  `json:"unset"`
	Left   listOf[string]  `json:"left"` // jacks of the same grid that were not looked at: there are too many
	inputs []states.Input
}

type mutesAnswer struct {
	Harness string         `json:"harness"`
	With    string         `json:"with"`
	Grids   listOf[mixing] `json:"grids"`
	what    string
	point   string
}

func askMutes(s *Session, a *asked) (answer, *diag.Diagnostic) {
	point, at := netlist.NoTerminal, 0
	if len(a.words) > 0 && !strings.EqualFold(a.word(0), "with") {
		var wrong *diag.Diagnostic
		if point, wrong = s.terminalAsked(a, 0); wrong != nil {
			return nil, wrong
		}
		at = 1
	}
	with, wrong := s.withAsked(a, at)
	if wrong != nil {
		return nil, wrong
	}
	what, draw := s.draw()
	found := mutesAnswer{Harness: "built", With: settingText(with), what: what, point: "a grid"}
	if point != netlist.NoTerminal {
		found.point = s.book.Name(point)
	}
	if what == "As drawn" {
		found.Harness = "planned"
	}
	for _, m := range states.Mutes(draw, s.bench().Setting.With(with), point) {
		found.Grids = append(found.Grids, s.mixing(m))
	}
	return found, nil
}

func (s *Session) mixing(m states.Mixing) mixing {
	out := mixing{Grid: s.book.Name(m.Grid), inputs: m.Inputs}
	for _, r := range m.Rows {
		row := mixRow{GridEarthed: r.GridEarthed}
		for i, in := range m.Inputs {
			fate := r.At[i]
			f := fateRow{Input: in.Jack.Ref, Reach: reachNames[fate.Reach], Level: fate.Level, Opens: fate.Opens, Would: fate.Better, fate: fate}
			if r.Plugged[i] {
				row.Plugged = append(row.Plugged, in.Jack.Ref)
			}
			if c := fate.Cause; c != nil {
				f.Cause = &contactRow{c.Part.Ref, s.book.Name(c.A), s.book.Name(c.B)}
			}
			if fate.Other != nil {
				f.Other = fate.Other.Jack.Ref
			}
			for _, step := range fate.Earth {
				if step.By != nil {
					f.Earth = append(f.Earth, stepRow{Via: s.via(step.By), To: s.book.Name(step.At), Where: factPlaces(step.By.Fact), join: step.By})
				}
			}
			row.Inputs = append(row.Inputs, f)
		}
		out.Rows = append(out.Rows, row)
	}
	for _, p := range m.Pairs {
		r := pairRow{Inputs: [2]string{m.Inputs[p.A].Jack.Ref, m.Inputs[p.B].Jack.Ref}, Together: p.Both, Settings: p.Looked, Verified: p.Verified, pair: p}
		r.OnlyA, r.OnlyB = positions(p.OnlyA), positions(p.OnlyB)
		if p.LegA != netlist.NoTerminal {
			r.Switch = [2]string{s.book.Name(p.LegA), s.book.Name(p.LegB)}
		}
		for _, ref := range p.Left {
			r.Unmoved = append(r.Unmoved, ref.Name())
		}
		out.Pairs = append(out.Pairs, r)
	}
	for _, p := range m.Unset {
		out.Unset = append(out.Unset, p.Ref)
	}
	for _, in := range m.Left {
		out.Left = append(out.Left, in.Jack.Ref)
	}
	return out
}

func positions(s netlist.Setting) *string {
	if s == nil {
		return nil
	}
	text := settingText(s)
	return &text
}

func (a mutesAnswer) write(p *page) {
	if len(a.Grids) == 0 {
		p.say(0, 2, plain(a.what+", no jack leads to "+a.point+"."))
		if a.point == "a grid" {
			p.say(0, 2, plain("To ask of another point where signals meet, name it: mutes TERMINAL."))
		}
		return
	}
	for _, m := range a.Grids {
		p.gap()
		m.write(p, a.what)
	}
}

func (m mixing) write(p *page, what string) {
	var names []string
	for _, in := range m.inputs {
		name := in.Jack.Ref
		if in.Jack.Label != "" {
			name += " “" + in.Jack.Label + "”"
		}
		names = append(names, name)
	}
	p.say(0, 2, plain(what+", "), strong(m.Grid), plain(" is reached from "+joinAnd(names)+". Of a signal at the tip, it gets:"))
	p.gap()
	head := row{{faint("plugged in")}}
	for _, in := range m.inputs {
		head = append(head, []span{faint(in.Jack.Ref)})
	}
	rows := []row{head}
	for _, r := range m.Rows {
		plugged := "nothing"
		if len(r.Plugged) > 0 {
			plugged = joinAnd(r.Plugged)
		}
		cells := row{cell(plugged)}
		for _, f := range r.Inputs {
			cells = append(cells, f.cell())
		}
		rows = append(rows, cells)
	}
	p.table(2, rows)
	m.writeCauses(p)
	m.writePairs(p)
	if len(m.Unset) > 0 {
		p.gap()
		p.say(0, 2, plain("Nobody has set "+joinAnd(m.Unset)+"; half travel is taken."))
	}
	if len(m.Left) > 0 {
		p.gap()
		p.say(0, 2, plain("Not looked at, since there are too many ways of plugging in: "+joinAnd(m.Left)+"."))
	}
}

func (f fateRow) cell() []span {
	switch f.fate.Reach {
	case states.Unplugged:
		return []span{faint("–")}
	case states.Full:
		return []span{strong("all")}
	case states.Reduced:
		return []span{plain(levelText(f.Level))}
	case states.Shorted:
		return []span{{faultStyle, "nothing: shorted"}}
	case states.Muted:
		return []span{{faultStyle, "nothing: the grid is on ground"}}
	}
	return []span{{faultStyle, "nothing: cut off"}}
}

// levelText says a level in words and in decibels.
func levelText(level float64) string {
	db := fmt.Sprintf("%.1f dB", 20*math.Log10(level))
	if math.Abs(level-0.5) < 0.02 {
		return "half (" + db + ")"
	}
	return fmt.Sprintf("%.2g of it (%s)", level, db)
}

// writeCauses tells the reason of each loss. The same reason for several
// ways of plugging in is told once.
func (m mixing) writeCauses(p *page) {
	var told []string
	for _, r := range m.Rows {
		for _, f := range r.Inputs {
			text := f.because(r)
			if text == "" || slices.Contains(told, text) {
				continue
			}
			if len(told) == 0 {
				p.gap()
			}
			told = append(told, text)
			p.say(0, 2, plain(text))
			if len(f.Earth) > 0 {
				way{Joined: true, Steps: f.Earth}.write(p, m.tipOf(f))
			}
		}
	}
}

func (m mixing) tipOf(f fateRow) string {
	for _, in := range m.inputs {
		if in.Jack.Ref == f.Input {
			return in.Jack.Ref + ".tip"
		}
	}
	return f.Input
}

func (f fateRow) because(r mixRow) string {
	if f.fate.Reach == states.Unplugged || f.fate.Reach == states.Full {
		return ""
	}
	when := "With a plug in " + joinAnd(r.Plugged) + ", "
	loses := f.Input + " is cut off"
	switch f.fate.Reach {
	case states.Reduced:
		loses = fmt.Sprintf("%s is divided down to %s", f.Input, levelText(f.Level))
	case states.Shorted:
		loses = f.Input + " is shorted to ground"
	case states.Muted:
		loses = f.Input + " is muted, since the grid is on ground"
	}
	gain := ""
	if f.Would > f.Level {
		gain = ", and " + f.Input + " would have " + strings.TrimPrefix(levelWords(f.Would), " ")
	}
	switch {
	case f.Cause != nil && f.Opens:
		return fmt.Sprintf("%s%s: the contact of %s between %s and %s is closed. Open it%s.", when, loses, f.Cause.Part, f.Cause.From, f.Cause.To, gain)
	case f.Cause != nil:
		return fmt.Sprintf("%s%s: the contact of %s between %s and %s is open, and the way led through it. Close it%s.", when, loses, f.Cause.Part, f.Cause.From, f.Cause.To, gain)
	case f.Other != "":
		pull := ""
		if f.Would > f.Level {
			pull = " Pull that plug" + gain + "."
		}
		return fmt.Sprintf("%s%s: the source plugged in at %s is of low resistance and pulls on the same point.%s", when, loses, f.Other, pull)
	}
	return when + loses + ", by the parts on its way alone."
}

func levelWords(level float64) string {
	if level >= 0.9 {
		return "all of it"
	}
	return levelText(level)
}

// writePairs says whether two inputs can be selected from outside.
func (m mixing) writePairs(p *page) {
	for _, r := range m.Pairs {
		p.gap()
		a, b := r.Inputs[0], r.Inputs[1]
		p.say(0, 2, plain("Can "+a+" and "+b+" both stay plugged in, and be selected?"))
		if r.OnlyA != nil && r.OnlyB != nil {
			p.say(2, 4, plain(fmt.Sprintf("Yes: with %s only %s is heard, with %s only %s.", *r.OnlyA, a, *r.OnlyB, b)))
			continue
		}
		why := "neither is heard alone in any position"
		if r.Together {
			why = "both are heard at once, and no switch stands in either way"
		}
		p.say(2, 4, plain(fmt.Sprintf("No: %s (%s of the switches looked at).", why, count(r.Settings, "setting"))))
		if len(r.Unmoved) > 0 {
			p.say(2, 4, plain("Not moved for that, since there are too many settings: "+joinAnd(r.Unmoved)+"."))
		}
		switch {
		case r.Switch[0] == "":
		case r.Verified:
			p.say(2, 4, plain(fmt.Sprintf("The least that would do it is one change-over switch where their ways meet: lift %s and %s, put each on a way of the switch, and the common on the conductor that they left. A trial of that selects, on paper.", r.Switch[0], r.Switch[1])))
		default:
			p.say(2, 4, plain(fmt.Sprintf("Their ways meet where %s and %s arrive; a change-over switch there alone does not part them.", r.Switch[0], r.Switch[1])))
		}
	}
}
