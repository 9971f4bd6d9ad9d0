package shell

import (
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/meter"
)

func meterQueries() []query {
	return []query{
		{
			name: "expect", args: "A [B] [with CONTROL POSITION, …] | sheet [A] [--csv]", line: "what an ohmmeter should read, without power, and why",
			text: "With two terminals, or a part of two: the reading with the red probe on A and the black one on B, its bounds over all tolerances, " +
				"the parts that make it up, and what lies in parallel and which end to lift. " +
				"With one terminal: the readings from there to every conductor. " +
				"`sheet` lists them for one walk round the chassis, the black probe on the chassis or on A, with a column to fill in; `--csv` gives it for a table of figures. " +
				"Controls stand as `positions` says, valves in or out of their holders too.",
			example: "expect R18 with P4 100%",
			least:   1, most: -1, takes: []slot{slotExpect, slotExpectTo, slotWith}, run: askExpect,
		},
		{
			name: "readings", args: "[REF | TERMINAL]", line: "what the meter said, beside what it should have said",
			text: "Each reading with the positions that it names, and whether it is within what the wiring of its moment should read: " +
				"within, out (no parts within their tolerances read so) or impossible (no values of the parts would: the wiring is another). " +
				"What the meter shows with its probes together is told by `reading probes`.",
			example: "readings",
			most:    1, takes: []slot{slotTerminal}, run: askReadings,
		},
	}
}

// cold is what an ohmmeter is asked of: the wiring as built once anything is
// soldered, the wiring as drawn before.
type cold struct {
	*meter.Network
	what    string // "On the bench", "As drawn"
	harness string // built or planned
	with    netlist.Setting
	under   string // whose word on the leads' colours is taken, where sources disagree
}

func (s *Session) cold(with netlist.Setting) cold { return s.coldUnder(s.wiring().meaning, with) }

// coldUnder is cold under one meaning of the leads' colours.
func (s *Session) coldUnder(m netlist.Meaning, with netlist.Setting) cold {
	c := cold{what: "On the bench", harness: "built", with: with, under: s.underText(m)}
	if bench := s.bench(); len(bench.Joints) > 0 {
		c.Network = meter.Built(bench, m, with)
	} else {
		c.what, c.harness = "As drawn", "planned"
		c.Network = s.drawnUnder(m, with)
	}
	return c
}

// askExpect reads "expect A B", "expect A" and "expect sheet".
func askExpect(s *Session, a *asked) (answer, *diag.Diagnostic) {
	a, csv := withoutFlag(a, "--csv")
	sheet := strings.EqualFold(a.word(0), "sheet") && s.book.Part(a.word(0)) == nil
	at := 0
	if sheet {
		at = 1
	}
	var ends []netlist.TerminalID
	for at < len(a.words) && len(ends) < 2 && !strings.EqualFold(a.word(at), "with") {
		if p := s.book.Part(a.word(at)); p != nil && len(p.Terminals) == 2 && len(ends) == 0 && !sheet {
			ends = append(ends, p.Terminals...)
			at++
			break
		}
		t, wrong := s.probeAsked(a, at)
		if wrong != nil {
			return nil, wrong
		}
		ends = append(ends, t)
		at++
		if sheet {
			break
		}
	}
	if wrong := s.acrossAlready(a, at); wrong != nil {
		return nil, wrong
	}
	with, wrong := s.withAsked(a, at)
	if wrong != nil {
		return nil, wrong
	}
	switch {
	case len(ends) == 2 && csv:
		return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.whole,
			Message: "--csv is for many readings", Mend: []string{"write it so: expect sheet --csv", "write it so: expect " + s.book.Name(ends[0]) + " --csv"}}
	case len(ends) == 2:
		return s.expect(s.cold(with), ends[0], ends[1]), nil
	case len(ends) == 1:
		return s.sheet(s.cold(with), ends[0], sheet, csv), nil
	case sheet:
		return s.sheet(s.cold(with), netlist.NoTerminal, sheet, csv), nil
	}
	return nil, &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.whole,
		Message: "expect needs a terminal before `with`", Mend: []string{"write it so: expect V1.2 CH.star with J1 in"}}
}

// probeAsked is where a probe goes. Of a part with several terminals it shows
// how to name one.
func (s *Session) probeAsked(a *asked, i int) (netlist.TerminalID, *diag.Diagnostic) {
	t, wrong := s.terminalAsked(a, i)
	p := s.book.Part(a.word(i))
	if wrong == nil || p == nil || len(p.Terminals) == 0 {
		return t, wrong
	}
	before := "expect "
	if i > 0 && strings.EqualFold(a.word(0), "sheet") {
		before = "expect sheet "
	}
	wrong.Mend = append(wrong.Mend, "write it so: "+before+s.book.Name(p.Terminals[0]))
	return t, wrong
}

// acrossAlready refuses a second probe after a part of two terminals, which
// both probes are on.
func (s *Session) acrossAlready(a *asked, at int) *diag.Diagnostic {
	p := s.book.Part(a.word(0))
	if at != 1 || p == nil || len(p.Terminals) != 2 || at >= len(a.words) || strings.EqualFold(a.word(at), "with") {
		return nil
	}
	first, second := p.Terminals[0], netlist.NoTerminal
	if other := s.book.Part(a.word(at)); other != nil && len(other.Terminals) > 0 {
		second = other.Terminals[0]
	} else {
		var wrong *diag.Diagnostic
		if second, wrong = s.terminalAsked(a, at); wrong != nil {
			return wrong
		}
	}
	if second == first {
		first = p.Terminals[1]
	}
	return &diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Place: a.place(at),
		Message: "both probes are on " + p.Ref + " already, one at each end",
		Mend:    []string{"write it so: expect " + p.Ref, "name the ends: expect " + s.book.Name(first) + " " + s.book.Name(second)}}
}

// withoutFlag takes a flag out of a question.
func withoutFlag(a *asked, flag string) (*asked, bool) {
	rest, found := *a, false
	rest.words = nil
	for _, w := range a.words {
		if w.Text == flag && !w.Quoted {
			found = true
		} else {
			rest.words = append(rest.words, w)
		}
	}
	return &rest, found
}

type expectAnswer struct {
	Harness string `json:"harness"`
	With    string `json:"with"`
	Under   string `json:"under"`
	expectRow
	Probes     float64              `json:"probes_ohms"`
	Shares     listOf[shareRow]     `json:"shares"`
	Chain      listOf[linkRow]      `json:"chain"`
	Parallel   listOf[besideRow]    `json:"parallel"`
	Climbs     listOf[climbRow]     `json:"climbs"`
	Directions listOf[directionRow] `json:"directions"`
	Wipers     listOf[wiperRow]     `json:"wipers"`
	Unknown    listOf[pieceRow]     `json:"unknown"`
	Rivals     listOf[rivalRow]     `json:"rivals"` // what it would be by other sources of the colours, where that differs
	Cautions   listOf[cautionRow]   `json:"cautions"`
	what       string
	told       bool     // what the meter's leads have
	disputed   []string // parts whose sources disagree
}

// A rivalRow is what a reading would be by other sources of the leads' colours
// than those taken.
type rivalRow struct {
	Under string `json:"under"`
	Ohms  ohmage `json:"ohms"`
}

// othersBeside draws what a reading is compared with: the wiring under the
// other meanings of the colours.
func (s *Session) othersBeside(c cold) []cold {
	var list []cold
	for _, m := range s.otherMeanings() {
		list = append(list, s.coldUnder(m, c.with))
	}
	return list
}

// rivalsOf are the other meanings that make another reading of one.
func rivalsOf(others []cold, e *meter.Expectation) []rivalRow {
	var rows []rivalRow
	for _, c := range others {
		if alike(c.Circuit().Between(c.Conductor(e.Red), c.Conductor(e.Black)), e.Ohms) {
			continue // the bounds cost more, and tell nothing here
		}
		if by := c.Expect(e.Red, e.Black); differs(e, &by) {
			rows = append(rows, rivalRow{c.under, ohmage(by.Ohms)})
		}
	}
	return rows
}

func (s *Session) expect(c cold, red, black netlist.TerminalID) expectAnswer {
	e := c.Expect(red, black)
	found := expectAnswer{
		Harness: c.harness, With: settingText(c.with), Under: c.under, expectRow: c.expectRow(s, e), Probes: c.Meter.Probes,
		Chain: s.linkRows(e.Chain), Cautions: s.cautionRows(e.Cautions), what: c.what, told: c.Meter.Told,
	}
	for _, k := range c.Conductors() {
		if k.Number == c.Conductor(red) || k.Number == c.Conductor(black) {
			found.Mains = found.Mains || k.Mains
		}
	}
	s.beside(c).compare(&found.expectRow)
	found.Rivals = rivalsOf(s.othersBeside(c), &e)
	found.disputed = s.disputed()
	for i := range e.Shares {
		found.Shares = append(found.Shares, shareRow{s.pieceRow(&e.Shares[i].Piece), round3(e.Shares[i].Share)})
	}
	for _, b := range parallelOrder(e.Besides) {
		found.Parallel = append(found.Parallel, besideRow{s.pieceRow(&b.Piece), ohmage(b.Around), s.linkRows(b.Way),
			s.nameOrNone(b.Lift.End), joinAnd(s.namesOf(b.Lift.From))})
	}
	for _, climb := range e.Climbs {
		found.Climbs = append(found.Climbs, climbRow{climb.Part.Ref, ohmage(climb.From), duration(climb.Seconds)})
	}
	if len(e.Forward.Junctions)+len(e.Reversed.Junctions) > 0 {
		found.Directions = listOf[directionRow]{s.directionRow(red, black, &e.Forward), s.directionRow(black, red, &e.Reversed)}
	}
	for i := range e.Wipers {
		found.Wipers = append(found.Wipers, c.wiperRow(&e.Wipers[i]))
	}
	for i := range e.Unknown {
		found.Unknown = append(found.Unknown, s.pieceRow(&e.Unknown[i]))
	}
	return found
}

// parallelOrder puts what comes off easily first: a resistor has legs, and a
// track or a winding is part of something greater.
func parallelOrder(list []meter.Beside) []*meter.Beside {
	var first, rest []*meter.Beside
	for i := range list {
		if list[i].Nature == meter.Resistor {
			first = append(first, &list[i])
		} else {
			rest = append(rest, &list[i])
		}
	}
	return append(first, rest...)
}

// ofTwo keeps the parts of two terminals: expect reads across them.
func ofTwo(_ *Session, p *netlist.Part) bool { return len(p.Terminals) == 2 }
