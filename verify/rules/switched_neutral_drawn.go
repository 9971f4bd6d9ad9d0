package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var switchedNeutralDrawn = verify.Rule{
	Name:   "switched-neutral-drawn",
	Title:  "in the plan the mains switch is in the neutral alone",
	Judges: verify.Plan,
	Look:   lookSwitchedNeutralDrawn,
	Text: `
The mains switch breaks the neutral and leaves the live joined to the
transformer. Switched off, the amplifier is silent and dark, and its whole
mains side is at full mains voltage.

    part X1 inlet
    part F1 fuse 1A
    part S1 toggle-1x1
    part T1 transformer { winding primary p1 p2 }
    net live    X1.live F1.end
    net fused   F1.side T1.p1
    net neutral X1.neutral S1.1
    net neut-2  S1.2 T1.p2

Put the switch into the live, behind the fuse, or use a two-pole switch that
breaks both: with a plug that can be reversed, only that is right. A voltage
selector is no switch and is not looked at.

To check, mains plug out, switch off, fuse in: read from the inlet's live
contact to the transformer. It must be open.

That a single-pole switch in the neutral is wrong was read in a school text on
switches and fuses.
`,
}

func lookSwitchedNeutralDrawn(c *verify.Case, report func(verify.Finding)) {
	for _, f := range neutralSwitched(c.Planned()) {
		report(f)
	}
}

// neutralSwitched tells for each inlet whether a switch breaks the neutral and
// leaves the live on a winding.
func neutralSwitched(h *netlist.Harness) []verify.Finding {
	book := h.Book
	mains := entries(h)
	if len(mains) == 0 {
		return nil
	}
	selector := func(k *parts.Kind, contact *parts.Contact) bool { return !onOff(k, contact) }
	off := wired(h).through(h, parts.Fuse).throughSeriesCoils(h).throughContacts(h, selector)
	on := off.clone().throughContacts(h, onOff)
	windingsOff, windingsOn := windingEnds(off, book), windingEnds(on, book)
	var list []verify.Finding
	for _, in := range mains {
		if !windingsOff[off.of(in.Live)] || windingsOff[off.of(in.Neutral)] || !windingsOn[on.of(in.Neutral)] {
			continue
		}
		list = append(list, verify.Finding{
			Severity:  diag.Danger,
			Message:   fmt.Sprintf("the mains switch breaks the neutral %s and leaves the live %s on the transformer", book.Name(in.Neutral), book.Name(in.Live)),
			Terminals: []netlist.TerminalID{in.Neutral, in.Live}, Nets: netNames(book, book.Net(in.Neutral), book.Net(in.Live)),
			Evidence: []diag.Note{quotePlan(book, in.Neutral), quotePlan(book, in.Live)},
			Cause:    "Switched off, the amplifier looks dead and its mains side is at full mains voltage. " + practiceSays("neutral-only"),
			Action:   "put the switch into the live behind the fuse, or use a two-pole switch for both",
			Check:    "mains plug out, switch off, fuse in: live to the transformer must read open",
		})
	}
	return list
}
