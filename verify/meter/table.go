package meter

import "buzzout/netlist"

// A Row is one line of a table or of a test sheet.
type Row struct {
	Conductor Conductor
	Expectation
}

// Table predicts the readings from one terminal, where the black probe stays,
// to every conductor, in the order of a walk round the chassis.
func (n *Network) Table(black netlist.TerminalID) []Row {
	own := n.Conductor(black)
	n.circuit.Table()
	x := n.atExtremes()
	x.low.Table()
	x.high.Table()
	rows := []Row{}
	for _, c := range n.Conductors() {
		if c.Number != own {
			rows = append(rows, Row{c, n.Expect(c.Probe, black)})
		}
	}
	return rows
}

// A Sheet is a list of readings to take in one walk round the chassis, the
// black probe on one point. The column for what the meter says is the
// reader's.
type Sheet struct {
	Black netlist.TerminalID
	Rows  []Row
	// Settings are the positions that the readings are meant for: of every
	// control that works a contact, a track or a holder.
	Settings []Standing
	Cautions []Caution // each reservoir once, to be discharged before the walk
}

// A Standing is where a control stands.
type Standing struct {
	Control  netlist.ControlRef
	Position netlist.Position
}

// Sheet lists the readings of a test sheet. With NoTerminal the black probe
// goes on [Network.Ground]; a notebook in which nothing is joined has an empty
// sheet. Conductors on which no plan and no part puts anything are left out.
func (n *Network) Sheet(black netlist.TerminalID) Sheet {
	if black == netlist.NoTerminal {
		black = n.Ground()
	}
	s := Sheet{Black: black, Rows: []Row{}}
	if black == netlist.NoTerminal {
		return s
	}
	told := map[netlist.TerminalID]bool{}
	for _, r := range n.Table(black) {
		if len(r.Conductor.Nets) == 0 && !n.carries(r.Conductor) {
			continue
		}
		s.Rows = append(s.Rows, r)
		for _, c := range r.Cautions {
			if !told[c.A] {
				told[c.A] = true
				s.Cautions = append(s.Cautions, c)
			}
		}
	}
	for _, p := range n.Book.Parts {
		for i := range p.Kind.Controls {
			ref := netlist.ControlRef{Part: p, Control: i}
			s.Settings = append(s.Settings, Standing{ref, n.Setting.PositionOf(ref)})
		}
	}
	return s
}

// carries says that something of a part ends on a conductor.
func (n *Network) carries(c Conductor) bool {
	for _, t := range c.Terminals {
		if len(n.pieceAt[t]) > 0 {
			return true
		}
	}
	return false
}
