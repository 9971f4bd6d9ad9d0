package shell

import "buzzout/netlist"

// A sheetRow is one reading of a table or a test sheet.
type sheetRow struct {
	Nets listOf[string] `json:"nets"`
	expectRow
	Charged bool             `json:"charged"` // a caution speaks of it
	Rivals  listOf[rivalRow] `json:"rivals"`  // what it would be by other sources of the colours, where that differs
}

// A standing is where a control has to stand for the readings.
type standing struct {
	Control  string `json:"control"`
	Position string `json:"position"`
}

type sheetAnswer struct {
	Harness  string             `json:"harness"`
	With     string             `json:"with"`
	Under    string             `json:"under"`
	Black    string             `json:"black"`
	Probes   float64            `json:"probes_ohms"`
	Settings listOf[standing]   `json:"settings"`
	Rows     listOf[sheetRow]   `json:"rows"`
	Cautions listOf[cautionRow] `json:"cautions"`
	disputed []string           // parts whose sources disagree
	what     string
	title    string
	fill     bool // it has a column to be filled in
	csv      bool
}

// sheet lists the readings from one terminal to every conductor, in the order
// of a walk round the chassis.
func (s *Session) sheet(c cold, black netlist.TerminalID, fill, csv bool) sheetAnswer {
	sheet := c.Sheet(black)
	found := sheetAnswer{
		Harness: c.harness, With: settingText(c.with), Under: c.under, Black: s.nameOrNone(sheet.Black), Probes: c.Meter.Probes,
		Cautions: s.cautionRows(sheet.Cautions), disputed: s.disputed(), what: c.what, title: or(s.book.Title, "the amplifier"), fill: fill, csv: csv,
	}
	for _, at := range sheet.Settings {
		found.Settings = append(found.Settings, standing{at.Control.Name(), at.Control.PositionName(at.Position)})
	}
	plan := s.beside(c)
	others := s.othersBeside(c)
	for i := range sheet.Rows {
		r := &sheet.Rows[i]
		row := sheetRow{Nets: plan.nets(&r.Conductor), expectRow: c.expectRow(s, r.Expectation), Charged: len(r.Cautions) > 0}
		row.Mains = r.Conductor.Mains
		plan.compare(&row.expectRow)
		row.Rivals = rivalsOf(others, &r.Expectation)
		found.Rows = append(found.Rows, row)
	}
	return found
}
