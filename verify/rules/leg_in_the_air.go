package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var legInTheAir = verify.Rule{
	Name:   "leg-in-the-air",
	Title:  "a part that is soldered at one leg and in the air at another",
	Judges: verify.Built,
	Look:   lookLegInTheAir,
	Text: `
A resistor, capacitor, diode or choke is joined at one leg, and another of its
legs is joined to nothing. While you wire, that is work not finished. It is
also what a leg looks like that was lifted for a reading and forgotten: the
line that took it off is then shown.

    part TB1 tagboard 4
    part R1  resistor 100k
    part HT, OUT post
    net anode R1.1 OUT
    net ht    R1.2 HT
    fit R1 TB1.1 TB1.2
    lead blue TB1.1 OUT
    lead red  TB1.2 HT
    unsolder R1.2
    wiring complete

To check, pull gently at the leg, and read across the part: with one leg in
the air the meter shows the part alone. Valve sockets, switches and
transformers are not looked at here, since their terminals have no legs that
could hang.
`,
}

func lookLegInTheAir(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	first := firstJoints(c.Bench)
	var nets []netlist.NetID
	var undone map[netlist.TerminalID]*netlist.Fact
	for _, p := range book.Parts {
		if c.Bench.Fitted(p).Absent || !hasLegs(p.Kind) {
			continue
		}
		var joined, air []netlist.TerminalID
		for i := range p.Kind.Terminals {
			switch t := p.Terminals[i]; {
			case first[t] >= 0:
				joined = append(joined, t)
			case book.Spare(t) == nil && p.Kind.Terminals[i].Empty == "":
				air = append(air, t)
			}
		}
		if len(joined) == 0 || len(air) == 0 {
			continue
		}
		if nets == nil {
			nets = planNets(wired(c.Planned()), book)
			undone = undoneAt(c.Bench)
		}
		held := &c.Bench.Joints[first[joined[0]]]
		for _, t := range air {
			f := verify.Finding{
				Severity:  diag.Caution,
				ToDo:      !complete(c.Bench, nets[t]),
				Message:   fmt.Sprintf("%s is in the air, while %s %s joined", book.Name(t), verify.And(names(book, joined)), verb(len(joined), "is", "are")),
				Terminals: []netlist.TerminalID{t}, Nets: netNames(book, nets[t]),
				Evidence: []diag.Note{verify.Quote(held.Fact, held.Place)},
				Action:   fmt.Sprintf("solder %s where it belongs", book.Name(t)),
				Check:    "look at the leg, and pull at it gently",
			}
			if net := nets[t]; net != netlist.NoNet {
				f.Action = fmt.Sprintf("solder %s where it belongs: on the net %s", book.Name(t), book.Nets[net].Name)
			}
			if by := undone[t]; by != nil {
				f.Evidence = append([]diag.Note{verify.Quote(by, noPlace)}, f.Evidence...)
				f.Cause = "It was taken off and not soldered again."
				f.Group = undoneGroup(by)
			}
			report(f)
		}
	}
}

// hasLegs says that a kind is carried by its own wires: every terminal is an
// end of a resistance, capacitance, diode or choke, and nothing in it moves.
func hasLegs(k *parts.Kind) bool {
	if k.Any || len(k.Elements) == 0 || len(k.Windings) > 0 || len(k.Controls) > 0 || len(k.Terminals) < 2 {
		return false
	}
	for i := range k.Elements {
		switch k.Elements[i].Type {
		case parts.Resistance, parts.Capacitance, parts.Diode, parts.Coil:
		default:
			return false
		}
	}
	for i := range k.Terminals {
		if k.Terminals[i].Tie {
			return false
		}
	}
	return true
}

// firstJoints gives for each terminal the index of the first live joint at
// it, -1 where there is none.
func firstJoints(bench *netlist.Bench) []int32 {
	first := make([]int32, len(bench.Book.Terminals))
	for i := range first {
		first[i] = -1
	}
	for i := range bench.Joints {
		for _, t := range [2]netlist.TerminalID{bench.Joints[i].A, bench.Joints[i].B} {
			if first[t] < 0 {
				first[t] = int32(i)
			}
		}
	}
	return first
}
