package shell

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/states"
)

// A needRow is one thing that would have to be so for two points to be joined.
type needRow struct {
	What string `json:"what"`
	From string `json:"from"`
	To   string `json:"to"`
}

type passRow struct {
	From string `json:"from"`
	Part string `json:"part"` // "" along a conductor
	To   string `json:"to"`
	text string
}

type contactRow struct {
	Part string `json:"part"`
	From string `json:"from"`
	To   string `json:"to"`
}

// An elsewhere is the same question in other positions.
type elsewhere struct {
	With     string             `json:"with"`
	Joined   bool               `json:"joined"`
	Contacts listOf[contactRow] `json:"contacts"` // whose change makes the difference
	Way      way                `json:"way"`
	AtStops  bool               `json:"at_stops"` // only wipers that stand at their stops lie between
	Needs    listOf[needRow]    `json:"needs"`    // the least that would join them, where they are apart
	Through  listOf[passRow]    `json:"through"`  // and the way through parts
	contacts []*states.Contact
}

type whyAnswer struct {
	From       string          `json:"from"`
	To         string          `json:"to"`
	Harness    string          `json:"harness"` // built or planned
	Joined     bool            `json:"joined"`
	Way        way             `json:"way"`
	Settings   int             `json:"settings"` // looked at
	JoinedIn   int             `json:"joined_in"`
	Conditions listOf[string]  `json:"conditions"` // the settings in which they are joined
	Unmoved    listOf[string]  `json:"unmoved"`    // controls that were not moved: there are too many settings
	Needs      listOf[needRow] `json:"needs"`
	GivenUp    bool            `json:"given_up"` // the search for them stopped at its bound
	Through    listOf[passRow] `json:"through"`
	AtStops    bool            `json:"at_stops"` // Through leads over wipers at their stops alone
	With       *elsewhere      `json:"with"`
	Drawn      string          `json:"drawn"`         // what the plan says, where it says otherwise
	Passes     listOf[string]  `json:"drawn_through"` // the parts between them in the plan, where there is no way through parts
	what       string
	controls   []string
	left       []string // Unmoved, with where they stand
	cut        bool
}

func askWhy(s *Session, a *asked) (answer, *diag.Diagnostic) {
	from, wrong := s.terminalAsked(a, 0)
	if wrong != nil {
		return nil, wrong
	}
	to, wrong := s.terminalAsked(a, 1)
	if wrong != nil {
		return nil, wrong
	}
	with, wrong := s.withAsked(a, 2)
	if wrong != nil {
		return nil, wrong
	}
	what, draw := s.draw()
	setting := s.bench().Setting
	scene := states.NewScene(draw(setting), setting)
	ans := scene.Why(from, to)
	found := whyAnswer{
		From: s.book.Name(from), To: s.book.Name(to), Harness: "built", Joined: ans.Joined,
		Way: s.way(scene.Harness, from, to), what: what,
		Settings: ans.Table.Settings, JoinedIn: ans.Table.Joined, cut: ans.Table.Cut,
	}
	if what == "As drawn" {
		found.Harness = "planned"
	} else if planned := s.book.Planned(s.wiring().meaning, setting); planned.Joined(from, to) != ans.Joined {
		found.Drawn = "the plan has them as one conductor"
		if ans.Joined {
			found.Drawn = "the plan does not join them"
		}
	}
	for _, ref := range ans.Table.Controls {
		found.controls = append(found.controls, ref.Name())
	}
	for _, ref := range ans.Table.Left {
		found.Unmoved = append(found.Unmoved, ref.Name())
		found.left = append(found.left, ref.Name()+" "+ref.PositionName(setting.PositionOf(ref)))
	}
	for _, c := range ans.Table.Holds {
		found.Conditions = append(found.Conditions, ans.Table.Words(c))
	}
	found.Needs = s.needs(ans.Gap)
	found.GivenUp = ans.GivenUp
	found.AtStops = states.AtStops(ans.Through)
	found.Through = s.throughParts(ans.Through, to)
	if !ans.Joined && len(ans.Through) == 0 && what != "As drawn" {
		planned := s.book.Planned(s.wiring().meaning, setting)
		for _, pass := range states.NewScene(planned, setting).Through(from, to) {
			if pass.Part != nil {
				found.Passes = append(found.Passes, pass.Part.Ref)
			}
		}
	}
	if with != nil {
		found.With = s.elsewhere(scene, draw, with, from, to)
	}
	return found, nil
}

// needs tells the steps of the least gap that are not there yet.
func (s *Session) needs(gap []states.Step) []needRow {
	var rows []needRow
	for i, step := range gap {
		if i == 0 {
			continue
		}
		before, here := s.book.Name(gap[i-1].At), s.book.Name(step.At)
		switch {
		case step.Net != netlist.NoNet:
			rows = append(rows, needRow{fmt.Sprintf("a joint that the plan has, on net %s", s.book.Nets[step.Net].Name), before, here})
		case step.Contact != nil && !step.Closed:
			rows = append(rows, needRow{closes(step.Contact), before, here})
		}
	}
	return rows
}

// closes says in which positions a contact is closed: "the contact of J1,
// closed in the position out".
func closes(c *states.Contact) string {
	what := "the contact of " + c.Part.Ref
	if c.Inside {
		what = c.Part.Ref + " itself"
	}
	return fmt.Sprintf("%s, closed in position %s", what, strings.Join(c.PositionNames(), " or "))
}

// throughParts tells a way through parts, and the conductors between them.
func (s *Session) throughParts(list []states.Pass, to netlist.TerminalID) []passRow {
	var rows []passRow
	for _, p := range list {
		in := p.In
		if p.Part == nil {
			in = to
		}
		if p.At != in {
			rows = append(rows, passRow{s.book.Name(p.At), "", s.book.Name(in), "along the conductor"})
		}
		if p.Part != nil {
			rows = append(rows, passRow{s.book.Name(p.In), p.Part.Ref, s.book.Name(p.Out), "through " + passText(p)})
		}
	}
	return rows
}

func passText(p states.Pass) string {
	part := p.Part
	if p.Element == nil {
		return "a winding of " + part.Ref
	}
	text := part.Ref
	if p.Value.Text != "" {
		text += ", " + p.Value.Text
	}
	if p.Stopped {
		text += ", its wiper at this stop"
	}
	return text
}

// elsewhere asks the same in other positions.
func (s *Session) elsewhere(scene *states.Scene, draw func(netlist.Setting) *netlist.Harness, with netlist.Setting, from, to netlist.TerminalID) *elsewhere {
	setting := scene.Setting.With(with)
	other := states.NewScene(draw(setting), setting)
	d := scene.Difference(other, from, to)
	e := &elsewhere{With: settingText(with), Joined: d.After, contacts: d.Contacts}
	if d.After {
		e.Way = s.way(other.Harness, from, to)
	} else {
		through := other.Through(from, to)
		e.AtStops, e.Through = states.AtStops(through), s.throughParts(through, to)
		gap, _ := other.Gap(from, to)
		e.Needs = s.needs(gap)
	}
	for _, c := range d.Contacts {
		e.Contacts = append(e.Contacts, contactRow{c.Part.Ref, s.book.Name(c.A), s.book.Name(c.B)})
	}
	return e
}

func (a whyAnswer) write(p *page) {
	if a.Joined {
		p.say(0, 2, plain(a.what+", "+a.From+" and "+a.To+" are one conductor, in these positions of the switches and plugs:"))
		a.Way.write(p, a.From)
	} else {
		p.say(0, 2, plain(a.what+", "+a.From+" and "+a.To+" are not one conductor, in these positions of the switches and plugs."))
	}
	if a.Drawn != "" {
		p.say(0, 2, plain("But "+a.Drawn+": ask compare."))
	}
	if !a.noWay() || len(a.controls)+len(a.left) > 0 {
		a.writePositions(p)
	}
	if !a.Joined {
		a.writeGap(p)
	}
	if a.With != nil {
		a.writeElsewhere(p)
	}
}

// noWay says that only another lead would join the two.
func (a whyAnswer) noWay() bool { return !a.Joined && len(a.Needs) == 0 && !a.GivenUp }

func (a whyAnswer) writePositions(p *page) {
	p.gap()
	switch {
	case len(a.controls) == 0 && a.Joined:
		p.say(0, 2, plain("No switch, plug or socket can change that"+a.plugs()+"."))
	case len(a.controls) == 0:
		p.say(0, 2, plain("No switch, plug or socket can join them"+a.plugs()+"."))
	case a.JoinedIn == a.Settings:
		p.say(0, 2, plain("They stay joined in all "+count(a.Settings, "setting")+" of "+joinAnd(a.controls)+"."))
	case a.JoinedIn == 0:
		p.say(0, 2, plain("They are apart in all "+count(a.Settings, "setting")+" of "+joinAnd(a.controls)+"."))
	default:
		p.say(0, 2, plain(fmt.Sprintf("They are joined in %d of %s of %s:", a.JoinedIn, count(a.Settings, "setting"), joinAnd(a.controls))))
		for _, c := range a.Conditions[:min(len(a.Conditions), mostConditions)] {
			p.say(2, 4, plain("with "+c))
		}
		if a.cut || len(a.Conditions) > mostConditions {
			p.say(2, 4, plain("and in more ways"))
		}
	}
	if len(a.left) > 0 {
		p.say(0, 2, plain("Left where they stand, since there are too many settings to look at: "+joinAnd(a.left)+"."))
	}
}

// plugs limits what is said to the plugs that are in their jacks, where
// another one makes a difference.
func (a whyAnswer) plugs() string {
	if a.With != nil && a.With.Joined != a.Joined {
		return ", with the plugs that are in now"
	}
	return ""
}

// mostConditions is how many of the ways to set the controls are shown.
const mostConditions = 12

func (a whyAnswer) writeGap(p *page) {
	p.gap()
	if len(a.Needs) > 0 {
		p.say(0, 2, plain("The way stops at "), strong(a.Needs[0].From), plain(". The least that would join them:"))
		writeNeeds(p, a.Needs)
	} else if a.GivenUp {
		p.say(0, 2, plain("What would join them was not found: the search came to its bound."))
	} else {
		p.say(0, 2, plain("Nothing in the plan joins them, and no switch, plug or socket can"+a.plugs()+": only a lead from one to the other would."))
	}
	p.gap()
	if len(a.Through) == 0 {
		text := "There is no way through parts either."
		if len(a.Passes) > 0 {
			text = "There is no way through parts yet. In the plan it leads through " + joinAnd(a.Passes) + ": todo lists what is not joined."
		}
		p.say(0, 2, plain(text))
		return
	}
	p.say(0, 2, plain("Through parts there is a way:"))
	writeThrough(p, a.Through, a.AtStops)
}

func writeNeeds(p *page, needs []needRow) {
	for _, n := range needs {
		p.say(2, 4, plain(n.What+": "), strong(n.From), plain(" to "), strong(n.To))
	}
}

func writeThrough(p *page, way []passRow, stopped bool) {
	var rows []row
	for _, pass := range way {
		rows = append(rows, row{{strong(pass.From)}, {plain(pass.text)}, {plain("to "), strong(pass.To)}})
	}
	p.table(2, rows)
	if stopped {
		p.gap()
		p.say(0, 2, plain(atStops))
	}
}

const atStops = "The wiper stands at the end of its travel: a meter reads next to nothing between the two, as if they were joined."

func (a whyAnswer) writeElsewhere(p *page) {
	p.gap()
	e := a.With
	switch {
	case e.Joined == a.Joined && e.Joined:
		p.say(0, 2, plain("With "+e.With+" they are one conductor as well."))
		return
	case e.Joined == a.Joined:
		p.say(0, 2, plain("With "+e.With+" they are apart as well."))
		if len(e.Needs) > 0 && !slices.Equal(e.Needs, a.Needs) {
			p.say(0, 2, plain("The way stops at "), strong(e.Needs[0].From), plain(" then. The least that would join them:"))
			writeNeeds(p, e.Needs)
		}
		e.writeThrough(p, a.Through)
		return
	case e.Joined:
		p.say(0, 2, plain("With "+e.With+" they are one conductor. What makes the difference is what closes:"))
	default:
		p.say(0, 2, plain("With "+e.With+" they are apart. What makes the difference is what opens:"))
	}
	for i, c := range e.Contacts {
		what := "the contact of " + c.Part
		if e.contacts[i].Inside {
			what = c.Part + " itself"
		}
		p.say(2, 4, plain(what+" between "), strong(c.From), plain(" and "), strong(c.To))
	}
}

// writeThrough says how the way through parts is other than it was.
func (e *elsewhere) writeThrough(p *page, before []passRow) {
	switch {
	case slices.Equal(e.Through, before):
		return
	case len(e.Through) == 0:
		p.say(0, 2, plain("There is no way through parts then."))
	case len(before) == 0:
		p.say(0, 2, plain("Through parts there is a way then:"))
		writeThrough(p, e.Through, e.AtStops)
	default:
		p.say(0, 2, plain("Through parts the way is another then:"))
		writeThrough(p, e.Through, e.AtStops)
	}
}
