package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var unfusedLiveDrawn = verify.Rule{
	Name:   "unfused-live-drawn",
	Title:  "in the plan live reaches a transformer without a fuse",
	Judges: verify.Plan,
	Look:   lookUnfusedLiveDrawn,
	Text: `
The plan has a way from the inlet's live contact to a winding that passes no
fuse. With a short in the transformer or behind it, nothing but the fuse in
the wall limits the current, and that one is sized for the cable in the wall:
the transformer burns first.

    part X1 inlet
    part F1 fuse 1A
    part T1 transformer { winding primary p1 p2 }
    net live    X1.live T1.p1
    net neutral X1.neutral F1.end
    net fused   F1.side T1.p2

Here the fuse stands in the neutral: when it blows, the amplifier is dead and
still live. The order is inlet, fuse, switch, transformer, with the fuse in
the live, right where mains enters: time-lag, 1.5 to 2 times the full-load
current.

To check, mains plug out, switch on: read from the inlet's live contact to the
transformer. With the fuse taken out of its holder it must be open.

Fuse in the live where mains enters, and fuse or single-pole switch in the
neutral being wrong, were read in a page on fuses in valve amplifiers and a
school text; the factor of 1.5 to 2 in the former.
`,
}

func lookUnfusedLiveDrawn(c *verify.Case, report func(verify.Finding)) {
	for _, f := range unfused(c.Planned()) {
		report(f)
	}
}

// unfused tells for each inlet whether live reaches a winding without a fuse.
func unfused(h *netlist.Harness) []verify.Finding {
	book := h.Book
	mains := entries(h)
	if len(mains) == 0 {
		return nil
	}
	side := wired(h).throughSeriesCoils(h).throughContacts(h, nil)
	windings := windingEnds(side, book)
	var list []verify.Finding
	for _, in := range mains {
		if !windings[side.of(in.Live)] {
			continue
		}
		f := verify.Finding{
			Severity:  diag.Danger,
			Message:   fmt.Sprintf("no fuse stands between the live %s and the transformer", book.Name(in.Live)),
			Terminals: []netlist.TerminalID{in.Live}, Nets: netNames(book, book.Net(in.Live)),
			Evidence: []diag.Note{quotePlan(book, in.Live)},
			Cause:    "With a short circuit inside, the transformer can catch fire before the fuse in the wall blows.",
			Action:   fmt.Sprintf("put a fuse into the live, as the first thing behind %s", book.Name(in.Live)),
			Check:    "mains plug out, switch on, fuse out of its holder: live to the transformer must read open",
		}
		for _, fuse := range fuses(book) {
			if from, to := side.of(fuse.from), side.of(fuse.to); from == side.of(in.Neutral) || to == side.of(in.Neutral) {
				f.Cause = fmt.Sprintf("%s stands in the neutral: when it blows, the amplifier looks dead and is still live. %s",
					fuse.part.Ref, practiceSays("neutral-only"))
				f.Action = fmt.Sprintf("move %s into the live, as the first thing behind %s", fuse.part.Ref, book.Name(in.Live))
				f.Evidence = append(f.Evidence, verify.QuotePart(fuse.part))
				break
			}
		}
		list = append(list, f)
	}
	return list
}
