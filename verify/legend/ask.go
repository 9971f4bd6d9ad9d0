package legend

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
)

// An Ask is a reading to take at the leads of a part.
type Ask struct {
	Quantity   lang.Quantity // lang.Ohms or lang.Volts
	Red, Black netlist.TerminalID
	// Clipped are leads to clip together before the reading; empty for none.
	Clipped []netlist.TerminalID
	// Supply are the leads that the small alternating voltage goes on, for a
	// reading of volts; both NoTerminal else.
	Supply   [2]netlist.TerminalID
	Why      string   // a sentence: what it tells
	Write    []string // the lines for the notebook, with … in the place of the figure
	Cautions []string // whole sentences
}

// The usual cautions, in full sentences. They are common practice, no source,
// where none is named.
var (
	coldCautions = []string{
		"Pull the mains plug, discharge every reservoir capacitor through a resistor and measure that it is discharged before you touch a lead.",
		"Let the leads of the part hang free: what is still soldered to them reads along.",
		"Hold the probes together first and write down what they show, scrape the enamel off the ends, and let each reading come to rest: a large winding takes some seconds.",
		"Keep your fingers off the bare ends while the meter is on a large winding, since it kicks when the meter lets go.",
	}
	supplyCautions = []string{
		"Use a small isolating transformer of 12 V or less with a fuse or a lamp in series, never the mains itself and never an autotransformer, which isolates nothing.",
		"Put the supply on the high-voltage winding that is named here and on no other: on a winding for low volts the same 12 V would make hundreds of volts on the high-voltage one, and that is lethal.",
		"Let every other lead hang free with its end covered, switch the supply off before you move a clip, and keep your hands off while it is on.",
	}
)

func (t *teller) ask(a ask) Ask {
	q := Ask{Quantity: lang.Ohms, Red: t.leads[a.red], Black: t.leads[a.black],
		Supply: [2]netlist.TerminalID{netlist.NoTerminal, netlist.NoTerminal}, Cautions: coldCautions}
	unit := ""
	if a.sort == span {
		q.Quantity, unit = lang.Volts, "V"
		q.Supply = [2]netlist.TerminalID{t.leads[a.drive[0]], t.leads[a.drive[1]]}
		q.Cautions = slices.Concat(coldCautions, supplyCautions)
	}
	switch {
	case a.again:
		q.Why = fmt.Sprintf("It contradicts the others: read %s and %s again.", t.name(a.red), t.name(a.black))
	case a.begins:
		q.Why = fmt.Sprintf("It is the supply itself, on %s and %s, the winding with the most ohms: all other volts are compared with it.", t.name(a.red), t.name(a.black))
	case a.clipped:
		q.Clipped = []netlist.TerminalID{t.leads[a.clip[0]], t.leads[a.clip[1]]}
		q.Why = fmt.Sprintf("With %s and %s clipped together the volts of the two windings add or take away, which tells how they run.", t.name(a.clip[0]), t.name(a.clip[1]))
	case len(a.with) > 0:
		q.Clipped = []netlist.TerminalID{q.Black}
		var names []string
		for _, lead := range a.with {
			q.Clipped = append(q.Clipped, t.leads[lead])
		}
		for _, lead := range q.Clipped {
			names = append(names, t.book.Terminals[lead].Name)
		}
		q.Why = fmt.Sprintf("It tells whether %s is on one winding with any of %s.", t.name(a.red), listed(names))
	case a.sort == span:
		q.Why = "It tells how the turns between the two go with those of the driven winding."
	case t.p.bunch[a.red] == t.p.bunch[a.black]:
		q.Why = "It tells in what order the leads lie along the winding."
	default:
		q.Why = "It tells whether the two are on one winding."
	}
	q.Write = toWrite(t.book, q.Red, q.Black, q.Clipped, unit)
	return q
}

// toWrite is the line to write into the notebook for a reading, with what was
// clipped together for it.
func toWrite(b *netlist.Book, red, black netlist.TerminalID, clipped []netlist.TerminalID, unit string) []string {
	line := fmt.Sprintf("reading %s %s …%s", b.Name(red), b.Name(black), unit)
	var pairs []string
	for i := 1; i < len(clipped); i++ {
		pairs = append(pairs, b.Name(clipped[0])+" "+b.Name(clipped[i]))
	}
	if len(pairs) > 0 {
		line += " with " + strings.Join(pairs, ", ")
	}
	return []string{line}
}
