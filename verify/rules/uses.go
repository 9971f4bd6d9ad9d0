package rules

import (
	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A use is what a conductor does, in the words of the code's table.
type use uint16

const (
	useGround use = 1 << iota
	useHeater
	useHT
	useScreenGrid
	useCathode
	useControlGrid
	useAnode
	useNegativeSupply
	usePerhapsGround // a post, a jack: with a cathode on it, it may be ground
	useNotJudged     // mains, and rectifiers, where two codes differ
)

var uses = []struct {
	use             use
	code, one, more string
}{
	{useGround, "ground", "on ground", "on ground"},
	{useHeater, "heater", "on a heater", "on heaters"},
	{useHT, "ht", "on HT", "on HT"},
	{useScreenGrid, "screen-grid", "at a screen grid", "at screen grids"},
	{useCathode, "cathode", "at a cathode", "at cathodes"},
	{useControlGrid, "control-grid", "at a control grid", "at control grids"},
	{useAnode, "anode", "at an anode", "at anodes"},
	{useNegativeSupply, "negative-supply", "on a negative supply", "on a negative supply"},
}

// code is the row of the published code for a use, and where one such lead
// is, or several.
func (u use) code() (code parts.WireCode, one, more string) {
	for _, known := range uses {
		if known.use == u {
			return wireCode(known.code), known.one, known.more
		}
	}
	panic("a use that the code does not know")
}

// wireCode is the row of the published code for a use, by the table's word.
func wireCode(use string) parts.WireCode {
	for _, code := range parts.ChassisWire() {
		if code.Use == use {
			return code
		}
	}
	panic("the code has no use called " + use)
}

func codeAllows(on use, colour lang.Colour) bool {
	if on&useCathode != 0 && on&usePerhapsGround != 0 {
		on |= useGround
	}
	for _, u := range uses {
		if on&u.use != 0 && wireCode(u.code).Colour.Base == colour.Base {
			return true
		}
	}
	return false
}

// conductorUses says what each conductor of the plan does, as far as its
// terminals tell for certain.
func conductorUses(c conductors, h *netlist.Harness) map[netlist.TerminalID]use {
	b := h.Book
	does := map[netlist.TerminalID]use{}
	mark := func(t netlist.TerminalID, u use) { does[c.of(t)] |= u }
	for _, t := range earths(b) {
		mark(t, useGround)
	}
	eachElectrode(b, func(e electrode) {
		switch e.role {
		case "anode":
			mark(e.at, useAnode)
		case "grid":
			mark(e.at, useControlGrid)
		case "screen":
			mark(e.at, useScreenGrid)
		case "cathode":
			mark(e.at, useCathode)
		}
	})
	ground := c.marked(earths(b))
	for _, p := range b.Parts {
		if leadsOut(p) {
			for _, t := range p.Terminals {
				mark(t, usePerhapsGround)
			}
		}
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			switch e.Type {
			case parts.Heater:
				mark(p.Terminals[e.Ends[0]], useHeater)
				mark(p.Terminals[e.Ends[1]], useHeater)
			case parts.Diode:
				mark(p.Terminals[e.Ends[0]], useNotJudged)
				mark(p.Terminals[e.Ends[1]], useNotJudged)
			case parts.Capacitance:
				plus, minus := c.of(p.Terminals[e.Ends[0]]), c.of(p.Terminals[e.Ends[1]])
				if e.Polar && ground[minus] && !ground[plus] && ratedVolts(p) > touchableVolts {
					mark(plus, useHT)
				}
				if e.Polar && ground[plus] && !ground[minus] {
					mark(minus, useNegativeSupply)
				}
			}
		}
	}
	// Mains goes on through fuses and switches.
	side := c.clone().through(h, parts.Fuse).throughContacts(h, onOff)
	var entries []netlist.TerminalID
	for _, in := range b.Inlets() {
		entries = append(entries, in.Live, in.Neutral)
	}
	if mains := side.marked(entries); len(mains) > 0 {
		for _, net := range b.Nets {
			for _, m := range net.Members {
				if mains[side.of(m.Terminal)] {
					mark(m.Terminal, useNotJudged)
				}
			}
		}
	}
	return does
}

// ratedVolts is the voltage rating of a part, 0 where its line gives none.
func ratedVolts(p *netlist.Part) float64 {
	for _, f := range p.Figures {
		if f.Quantity == lang.Volts {
			return f.Value
		}
	}
	return 0
}

// touchableVolts is the highest steady direct voltage of the lowest class, in
// volts: IEC 62368-1 Table 4, ES1 (row touch-dc of data/practice.csv).
const touchableVolts = 60
