package shell

import (
	"math"

	"buzzout/netlist"
	"buzzout/verify/meter"
)

// A pieceRow is one thing with a resistance.
type pieceRow struct {
	Part      string  `json:"part"`
	From      string  `json:"from"`
	To        string  `json:"to"`
	Ohms      ohmage  `json:"ohms"`
	Low       ohmage  `json:"ohms_low"`
	High      ohmage  `json:"ohms_high"`
	Tolerance float64 `json:"tolerance_percent"` // 0 where the bounds are not from one
	Basis     string  `json:"basis"`             // stated, derived, supposed or unknown
	name      string
	piece     *meter.Piece
}

func (s *Session) pieceRow(p *meter.Piece) pieceRow {
	return pieceRow{
		Part: p.Part.Ref, From: s.book.Name(p.A), To: s.book.Name(p.B), Ohms: ohmage(p.Ohms), Low: ohmage(p.Low), High: ohmage(p.High),
		Tolerance: math.Round(p.Tolerance*1e4) / 100, Basis: basisNames[p.Basis], name: s.pieceName(p), piece: p,
	}
}

type shareRow struct {
	pieceRow
	Share float64 `json:"share"`
}

// A linkRow is one piece on a way, from the red probe on.
type linkRow struct {
	pieceRow
	Current float64 `json:"current"` // of the meter's, 0 to 1
}

func (s *Session) linkRows(links []meter.Link) []linkRow {
	var rows []linkRow
	for i := range links {
		r := linkRow{s.pieceRow(&links[i].Piece), round3(links[i].Current)}
		r.From, r.To = s.book.Name(links[i].From), s.book.Name(links[i].To)
		rows = append(rows, r)
	}
	return rows
}

func round3(v float64) float64 { return math.Round(v*1000) / 1000 }

// A besideRow is a piece between the probes that something lies across.
type besideRow struct {
	pieceRow
	Around   ohmage          `json:"ohms_around"`
	Way      listOf[linkRow] `json:"way"`
	Lift     string          `json:"lift"`      // the end to take off so that it reads alone; "" where none does
	LiftFrom string          `json:"lift_from"` // what that is joined to
}

type climbRow struct {
	Part    string   `json:"part"`
	First   ohmage   `json:"ohms_first"`
	Seconds duration `json:"seconds"`
}

// A directionRow is a reading with the probes one way round, as far as diodes
// have a part in it.
type directionRow struct {
	Red    string         `json:"red"`
	Black  string         `json:"black"`
	Diodes listOf[string] `json:"diodes"` // that the meter may drive on
	Driven ohmage         `json:"ohms_driven"`
	Low    ohmage         `json:"ohms_low"`
}

func (s *Session) directionRow(red, black netlist.TerminalID, d *meter.Direction) directionRow {
	return directionRow{s.book.Name(red), s.book.Name(black), junctionNames(d.Junctions), ohmage(d.Driven), ohmage(d.Low)}
}

// A wiperRow is a track whose wiper's place is not known exactly.
type wiperRow struct {
	Control string  `json:"control"`
	Set     bool    `json:"set"`
	Below   float64 `json:"share_below"` // of the track between its anticlockwise end and the wiper
	Least   float64 `json:"share_below_low"`
	Most    float64 `json:"share_below_high"`
}

// A cautionRow is a capacitor that may be charged where a probe goes.
type cautionRow struct {
	Part    string   `json:"part"`
	Plus    string   `json:"plus"`
	Minus   string   `json:"minus"`
	At      string   `json:"at"` // where its charge is met
	Farads  float64  `json:"farads"`
	Volts   float64  `json:"volts"`
	Bleed   ohmage   `json:"ohms_bleed"`      // null: nothing discharges it
	Seconds duration `json:"seconds_to_60_v"` // from its rated voltage, by what lies across it
}

func (s *Session) cautionRows(list []meter.Caution) []cautionRow {
	var rows []cautionRow
	for _, c := range list {
		rows = append(rows, cautionRow{
			Part: c.Part.Ref, Plus: s.book.Name(c.A), Minus: s.book.Name(c.B), At: s.book.Name(c.At), Farads: c.Farads, Volts: c.Volts,
			Bleed: ohmage(c.Bleed), Seconds: duration(c.Seconds),
		})
	}
	return rows
}

// An expectRow is what every reading has in a document, alone or in a list.
type expectRow struct {
	Red          string `json:"red"`
	Black        string `json:"black"`
	Kind         string `json:"kind"`          // figure, open, rising or one-way
	OneConductor bool   `json:"one_conductor"` // nothing but copper between the two
	Ohms         ohmage `json:"ohms"`          // every part at its value, without the meter's leads
	Low          ohmage `json:"ohms_low"`
	High         ohmage `json:"ohms_high"`
	Exact        bool   `json:"exact"`
	LikelyLow    ohmage `json:"ohms_likely_low"`
	LikelyHigh   ohmage `json:"ohms_likely_high"`
	Shown        ohmage `json:"ohms_shown"`     // on the display, leads included
	ShownLow     ohmage `json:"ohms_shown_low"` // the worst case, with the meter's own error
	ShownHigh    ohmage `json:"ohms_shown_high"`
	Mains        bool   `json:"mains"` // a probe is on a conductor of the mains
	Drawn        ohmage `json:"ohms_drawn"`
	Differs      bool   `json:"differs"` // from what it would be as drawn
	e            meter.Expectation
}

func (c cold) expectRow(s *Session, e meter.Expectation) expectRow {
	low, high := display(&c.Meter, &e)
	return expectRow{
		Red: s.book.Name(e.Red), Black: s.book.Name(e.Black), Kind: kindNames[e.Kind], OneConductor: e.OneConductor,
		Ohms: ohmage(e.Ohms), Low: ohmage(e.Low), High: ohmage(e.High), Exact: e.Exact,
		LikelyLow: ohmage(e.LikelyLow), LikelyHigh: ohmage(e.LikelyHigh), Shown: ohmage(e.Shown),
		ShownLow: ohmage(low), ShownHigh: ohmage(high), Drawn: ohmage(e.Ohms), e: e,
	}
}

func (c cold) wiperRow(t *meter.Track) wiperRow {
	name := c.Pieces[t.Below].Part.Ref
	if t.Controlled {
		name = t.Control.Name()
	}
	return wiperRow{name, t.Set, round3(t.Share), round3(t.ShareLow), round3(t.ShareHigh)}
}
