package states

import (
	"fmt"
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// A floating is a grid of some inputs that has its leak in some settings only.
type floating struct {
	inputs []Input // of one grid
	when   Table   // in which no resistance leads from the grid to anything
}

// floatings finds the grids of inputs whose leak a plug or a switch takes off.
func (s side) floatings() []floating {
	groups := inputs(s.harness(), s.draw, s.Setting, netlist.NoTerminal)
	if len(groups) == 0 {
		return nil
	}
	h := s.harness()
	marks := references(h)
	if len(marks) == 0 {
		return nil
	}
	web := newWeb(h, s.Setting, slices.Concat(steady(h), bondAll(marks)))
	at := web.at(s.Setting)
	reference := web.conductor[marks[0]]
	var list []floating
	for _, group := range groups {
		grid := web.conductor[group[0].Grid]
		t := web.tableWhere(web.Between(grid, reference), at, func(walk *Walk) bool { return !walk.Joined(grid, reference) })
		if !t.Never() && !t.Always() {
			list = append(list, floating{group, t})
		}
	}
	return list
}

// same says that two floatings, of the plan and of the bench, are one.
func (f *floating) same(book *netlist.Book, other *floating) bool {
	return sameNet(book, f.inputs[0].Grid, other.inputs[0].Grid) && slices.Equal(f.when.settings(), other.when.settings())
}

// tell makes a finding of a floating grid.
func (f *floating) tell(s side) verify.Finding {
	grid := f.inputs[0].Grid
	name := s.Book().Name(grid)
	leads := "leads"
	if len(f.inputs) > 1 {
		leads = "lead"
	}
	return verify.Finding{
		Severity:  diag.Caution,
		Message:   fmt.Sprintf("the grid %s, which %s %s to, floats %s", name, verify.And(jacks(f.inputs)), leads, f.when.when()),
		Terminals: []netlist.TerminalID{grid}, Nets: s.netNames(grid), Settings: f.when.settings(),
		Evidence: append([]diag.Note{s.quote(grid)}, quoteControls(&f.when)...),
		Cause:    join("No resistance leads from it to anything then, and nothing sets the valve's current.", f.when.looked()),
		Action:   fmt.Sprintf("add a grid leak at %s that no plug and no switch takes off: 220k to 1M to ground", name),
		Check:    fmt.Sprintf("valve out, power off, %s: read %s to ground; it should not be open", f.when.when(), name),
	}
}

func jacks(inputs []Input) []string {
	list := make([]string, len(inputs))
	for i, in := range inputs {
		list[i] = in.Jack.Ref
	}
	return list
}
