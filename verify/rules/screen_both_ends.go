package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var screenBothEnds = verify.Rule{
	Name:   "screen-both-ends",
	Title:  "a lead's screen is landed on one conductor at both ends",
	Judges: verify.Built,
	Look:   lookScreenBothEnds,
	Text: `
The screen of a lead is landed at both of its ends, and both are on one
conductor that is joined elsewhere too. The screen and that other way make a
loop, and the field of the mains transformer drives a hum current round it,
in series with the signal's return.

    part J1  jack
    part R1  resistor 1M
    part GND post
    net input  J1.tip R1.1
    net ground J1.sleeve R1.2 GND
    lead black J1.sleeve GND
    solder GND R1.2
    lead white J1.tip R1.1 screen J1.sleeve GND

Landing the screen at one end is common practice, no source: at the end where
its ground is taken, usually the jack. Where the screen is the only return
between two points, both ends have to be landed, and nothing is said then.

To check, lift the screen at one end and listen whether the hum changes.
`,
}

func lookScreenBothEnds(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	var others conductors
	for i := range c.Bench.Joints {
		j := &c.Bench.Joints[i]
		if j.Kind != netlist.Screen || j.A == j.B {
			continue
		}
		if others == nil {
			others = withoutScreens(c.Built())
		}
		if others.of(j.A) != others.of(j.B) {
			continue
		}
		report(verify.Finding{
			Severity:  diag.Remark,
			Message:   fmt.Sprintf("the screen of %s is landed at %s and %s, which are joined elsewhere too", leadName(&c.Bench.Leads[j.Lead]), book.Name(j.A), book.Name(j.B)),
			Terminals: []netlist.TerminalID{j.A, j.B},
			Evidence:  []diag.Note{verify.Quote(j.Fact, j.Place)},
			Cause:     "The screen and the other way make a loop for hum.",
			Action:    "lift the screen at the end away from the jack (common practice, no source)",
			Check:     "lift it at one end and listen whether the hum changes",
		})
	}
}

// withoutScreens are the conductors of the bench as if no screen were landed.
func withoutScreens(h *netlist.Harness) conductors {
	c := make(conductors, len(h.Book.Terminals))
	for i := range c {
		c[i] = int32(i)
	}
	for i := range h.Joins {
		j := &h.Joins[i]
		if j.Kind == netlist.ByContact || j.Kind == netlist.ByPlug || j.Joint != nil && j.Joint.Kind == netlist.Screen {
			continue
		}
		c.join(j.A, j.B)
	}
	return c
}
