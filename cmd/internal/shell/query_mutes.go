package shell

import (
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
	Input string             `json:"input"`
	Reach string             `json:"reach"`
	Level float64            `json:"level"` // of 1 at the tip, at the grid
	Cause *contactRow        `json:"cause"` // the contact that takes it
	Opens bool               `json:"opens"` // it would have to open; else to close
	Also  listOf[contactRow] `json:"also"`  // a second one, where one alone brings nothing back
	Turn  string             `json:"turn"`  // the switches that would have to be turned for it, and where to
	Other string             `json:"other"` // the input whose plug takes it
	Would float64            `json:"would"` // the level without the cause
	Earth listOf[stepRow]    `json:"earth"` // the way of a shorted tip to ground
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
	// What is worth telling of the two settings.
	onlyA, onlyB string
}

type mixing struct {
	Grid   string          `json:"grid"`
	Rows   listOf[mixRow]  `json:"rows"`
	Pairs  listOf[pairRow] `json:"pairs"`
	Unset  listOf[string]  `json:"unset"`
	Bare   listOf[string]  `json:"no_figure"` // parts that are taken for something usual
	Left   listOf[string]  `json:"left"`      // jacks of the same grid that were not looked at: there are too many
	inputs []states.Input
}

type mutesAnswer struct {
	Harness string           `json:"harness"`
	With    string           `json:"with"`
	Grids   listOf[mixing]   `json:"grids"`
	Strays  listOf[strayRow] `json:"strays"`
	what    string
	point   string
}

// A strayRow is a jack that is no input as wired.
type strayRow struct {
	Input   string `json:"input"`
	Shorted bool   `json:"shorted"` // its tip is its sleeve; else it is an input in the plan alone
	tip     string
	sleeve  string
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
	setting := s.bench().Setting.With(with)
	for _, m := range states.Mutes(draw, setting, point) {
		found.Grids = append(found.Grids, s.mixing(m, setting))
	}
	plan := func(to netlist.Setting) *netlist.Harness { return s.book.Planned(s.wiring().meaning, to) }
	for _, stray := range states.Strays(draw, plan, setting, point) {
		found.Strays = append(found.Strays, strayRow{stray.Jack.Ref, stray.Shorted, s.book.Name(stray.Tip), s.book.Name(stray.Sleeve)})
	}
	return found, nil
}

func (s *Session) mixing(m states.Mixing, stands netlist.Setting) mixing {
	out := mixing{Grid: s.book.Name(m.Grid), inputs: m.Inputs}
	for _, r := range m.Rows {
		row := mixRow{GridEarthed: r.GridEarthed}
		for i, in := range m.Inputs {
			fate := r.At[i]
			f := fateRow{Input: in.Jack.Ref, Reach: reachNames[fate.Reach], Level: fate.Level, Opens: fate.Opens, Would: fate.Better, fate: fate}
			if r.Plugged[i] {
				row.Plugged = append(row.Plugged, in.Jack.Ref)
			}
			f.Cause, f.Turn = s.contactRow(fate.Cause), settingText(fate.Turned)
			if fate.With != nil {
				f.Also = append(f.Also, *s.contactRow(fate.With))
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
		r.onlyA, r.onlyB = telling(p.OnlyA, p.OnlyB, stands), telling(p.OnlyB, p.OnlyA, stands)
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
	for _, p := range m.Bare {
		out.Bare = append(out.Bare, p.Ref)
	}
	for _, in := range m.Left {
		out.Left = append(out.Left, in.Jack.Ref)
	}
	return out
}

func (s *Session) contactRow(c *states.Contact) *contactRow {
	if c == nil {
		return nil
	}
	return &contactRow{c.Part.Ref, s.book.Name(c.A), s.book.Name(c.B)}
}

func positions(s netlist.Setting) *string {
	if s == nil {
		return nil
	}
	text := settingText(s)
	return &text
}

// telling is what of a setting is worth telling: the switches that stand
// elsewhere now, or in the setting that is told beside it.
func telling(s, beside, stands netlist.Setting) string {
	told := netlist.Setting{}
	for ref, at := range s {
		other, is := beside[ref]
		if at.Index != stands.PositionOf(ref).Index || is && at.Index != other.Index {
			told[ref] = at
		}
	}
	if len(told) == 0 {
		return "the switches as they stand"
	}
	return settingText(told)
}
