package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var fusedNeutral = verify.Rule{
	Name:   "fused-neutral",
	Title:  "a fuse in the neutral as well as in the live",
	Judges: verify.Plan,
	Look:   lookFusedNeutral,
	Text: `
Live and neutral are both fused. Where the mains plug can be put in either way
round that is a known practice, since nobody knows which side is live; where
it cannot, the fuse in the neutral may blow alone, and then the amplifier
looks dead while every part of the mains side is live.

    part X1 inlet
    part F1, F2 fuse 1A
    part T1 transformer { winding primary p1 p2 }
    net live    X1.live F1.end
    net live-2  F1.side T1.p1
    net neutral X1.neutral F2.end
    net neut-2  F2.side T1.p2

It is a remark: decide by the plugs of your country. Before you touch anything
pull the mains plug; a blown fuse is no switch.

Two fuses with a reversible plug were read in a workshop thread only.
`,
}

func lookFusedNeutral(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	mains := entries(c.Planned())
	if len(mains) == 0 {
		return
	}
	side := wired(c.Planned()).throughSeriesCoils(c.Planned()).throughContacts(c.Planned(), onOff)
	windings := windingEnds(side, book)
	for _, in := range mains {
		live, neutral := side.of(in.Live), side.of(in.Neutral)
		if windings[live] || windings[neutral] || live == neutral {
			continue
		}
		for _, fuse := range fuses(book) {
			from, to := side.of(fuse.from), side.of(fuse.to)
			if from == to || from != neutral && to != neutral || from == live || to == live {
				continue
			}
			report(verify.Finding{
				Severity:  diag.Remark,
				Message:   fmt.Sprintf("%s stands in the neutral, beside a fuse in the live", fuse.part.Ref),
				Terminals: []netlist.TerminalID{fuse.from, fuse.to},
				Evidence:  []diag.Note{verify.QuotePart(fuse.part), quotePlan(book, in.Neutral)},
				Cause:     "If it blows alone, the amplifier looks dead and its mains side is still live. " + practiceSays("two-fuses"),
				Action:    "leave the neutral unfused, unless the mains plug can be put in either way round",
			})
		}
	}
}
