package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var spareUsed = verify.Rule{
	Name:   "spare-used",
	Title:  "a joint at a terminal that the plan says is spare",
	Judges: verify.Built,
	Look:   lookSpareUsed,
	Text: `
The plan says that nothing belongs at a terminal, and on the bench something
is soldered there. Either the plan has changed and the spare line is old, or
a free pin was used as a tag, which ties whatever is inside the part to that
conductor.

    part V1  ecc83
    part R1  resistor 1M
    part GND post
    net grid   V1.2-grid R1.1
    net ground R1.2 GND
    spare V1.1 V1.3..9
    fit R1 V1.2 V1.3
    lead black V1.3 GND

Here the grid leak rests on the cathode's pin. Where the part has another
terminal that may take this one's place, as the other half of a double triode,
it is a remark: perhaps that half does the job, which comparison will tell.

To mend it, move the joint to a tag. If the drawing has it where it is, the
terminal belongs to a net: add it there, and strike the spare line. Striking
alone leaves a joint that is not on the drawing.
`,
}

func lookSpareUsed(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	seen := map[netlist.TerminalID]bool{}
	for i := range c.Bench.Joints {
		j := &c.Bench.Joints[i]
		for _, t := range [2]netlist.TerminalID{j.A, j.B} {
			spare := book.Spare(t)
			if spare == nil && book.Terminals[t].Lead {
				if end, ok := c.Meaning.Ends[t]; ok {
					spare = book.Spare(end)
				}
			}
			if spare == nil || seen[t] || j.Kind == netlist.Pad {
				continue
			}
			seen[t] = true
			f := verify.Finding{
				Severity:  diag.Caution,
				Message:   fmt.Sprintf("something is soldered at %s, which the plan says is spare", book.Name(t)),
				Terminals: []netlist.TerminalID{t},
				Evidence:  []diag.Note{verify.Quote(j.Fact, j.Place), verify.Quote(spare, noPlace)},
				Action:    fmt.Sprintf("take it off %[1]s; if the drawing has it there, add %[1]s to its net and strike the line that says it is spare", book.Name(t)),
			}
			if exchangeable(&book.Terminals[t]) {
				f.Severity = diag.Remark
				f.Cause = fmt.Sprintf("%s has terminals that may take each other's place, so another one may be the spare one here.", book.Terminals[t].Part.Ref)
				f.Action = "nothing, if the part is used the other way round"
			}
			report(f)
		}
	}
}

// exchangeable says that a terminal may change places with another of its
// part, together with others: one end of a resistor is not meant, since a
// part that has a spare end is not used at all.
func exchangeable(t *netlist.Terminal) bool {
	if t.Part == nil || t.Index < 0 {
		return false
	}
	for _, a := range t.Part.Kind.Alike {
		for _, side := range [2][]int{a.These, a.Those} {
			if len(side) < 2 && len(t.Part.Kind.Terminals) < 3 {
				continue
			}
			for _, i := range side {
				if i == t.Index {
					return true
				}
			}
		}
	}
	return false
}
