package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var fuseEnd = verify.Rule{
	Name:   "fuse-end",
	Title:  "incoming live is on the side contact of a fuse holder",
	Judges: verify.Built,
	Look:   lookFuseEnd,
	Text: `
A panel fuse holder has an end contact deep inside and a side contact near the
thread. Incoming live goes to the end contact: then what a finger can reach
with the carrier out is dead. The other way round the fuse works as well, and
the side contact is live while you change it.

    part X1 inlet
    part F1 fuse 1A
    part S1 toggle-1x1
    net live-in X1.live F1.end
    net fused   F1.side S1.1
    lead brown X1.live F1.side
    lead brown F1.end S1.1

Comparison says nothing, since for the circuit the two ends are alike. The
bench is judged where the holder is wired, else the plan. Looked at are fuses
whose terminals are called end and side.

To check, mains plug out, carrier out: the end contact at the bottom of the
holder must read 0 ohm to the inlet's live contact, the side contact open.

Live to the far contact, load to the side contact was read in a trade article
on fuse holders (J. Dunn, 2015).
`,
}

func lookFuseEnd(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	mains := entries(c.Planned())
	if len(mains) == 0 {
		return
	}
	first := firstJoints(c.Bench)
	var built, planned conductors
	for _, fuse := range fuses(book) {
		end, side := fuse.part.Called("end"), fuse.part.Called("side")
		if end == netlist.NoTerminal || side == netlist.NoTerminal {
			continue
		}
		var on conductors
		var notes []diag.Note
		where := "on the bench"
		if first[end] >= 0 && first[side] >= 0 {
			if built == nil {
				built = wired(c.Built()).throughContacts(c.Built(), onOff)
			}
			on = built
			j := &c.Bench.Joints[first[side]]
			notes = []diag.Note{verify.Quote(j.Fact, j.Place)}
		} else {
			if planned == nil {
				planned = wired(c.Planned()).throughContacts(c.Planned(), onOff)
			}
			on = planned
			where = "in the plan"
			notes = []diag.Note{quotePlan(book, side)}
		}
		for _, in := range mains {
			live := on.of(in.Live)
			if on.of(side) != live || on.of(end) == live {
				continue
			}
			report(verify.Finding{
				Severity:  diag.Caution,
				Message:   fmt.Sprintf("incoming live is on %s %s; it belongs on %s", book.Name(side), where, book.Name(end)),
				Terminals: []netlist.TerminalID{side, end},
				Evidence:  notes,
				Cause:     "With the carrier out, the contact near the fingers is live. " + practiceSays("fuse-holder"),
				Action:    fmt.Sprintf("exchange the leads at %s and %s", book.Name(end), book.Name(side)),
				Check:     "mains plug out, carrier out: the end contact reads 0 ohm to the inlet's live contact, the side contact open",
			})
		}
	}
}
