package rules

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

var noEarth = verify.Rule{
	Name:   "no-earth",
	Title:  "on the bench the mains earth does not reach the chassis",
	Judges: verify.Built,
	Look:   lookNoEarth,
	Text: `
The wiring was said to be complete, and no lead and no bolt joins the inlet's
earth contact to the chassis. When a live lead comes loose and touches the
metal, no fuse blows: the chassis, the strings of the guitar and whoever holds
them are at mains voltage. Do not plug it in.

    part X1 inlet
    part CH chassis
    net earth X1.earth CH.earth
    spare X1.live X1.neutral
    wiring complete

While you wire, it is told as a thing to do as soon as something is soldered
at the inlet's live or neutral contact: earth comes first.

To check, mains plug out, read from the inlet's earth contact to bare metal of
the chassis: 0.2 ohm or less with the probes' own reading taken off (common
practice, no source; a type test of IEC 60950-1 asks for 0.1 ohm without the
cord, read on a reference page). A hand meter shows a break, and not how much
current the joint can carry: look at the bolt as well, with a lock washer on
bare metal.
`,
}

func lookNoEarth(c *verify.Case, report func(verify.Finding)) {
	book := c.Book()
	metals := chassis(book)
	if len(metals) == 0 {
		return
	}
	var built conductors
	at := jointed(c.Bench)
	for _, in := range book.Inlets() {
		if in.Earth == netlist.NoTerminal {
			continue
		}
		done := complete(c.Bench, book.Net(in.Earth))
		if !done && !at[in.Live] && !at[in.Neutral] {
			continue
		}
		if built == nil {
			built = wired(c.Built())
		}
		for _, metal := range metals {
			if built.of(in.Earth) == built.of(metal) {
				continue
			}
			f := earthFinding(book, in, metal)
			f.ToDo = !done
			f.Message = fmt.Sprintf("on the bench nothing joins the mains earth %s to the chassis %s", book.Name(in.Earth), book.Terminals[metal].Part.Ref)
			f.Evidence = []diag.Note{quotePlan(book, in.Earth), verify.QuotePart(book.Terminals[metal].Part)}
			f.Action = fmt.Sprintf("bolt %s to %s by a green-and-yellow lead of its own, before anything else", book.Name(in.Earth), book.Terminals[metal].Part.Ref)
			if by := undoneAt(c.Bench)[in.Earth]; by != nil {
				f.Evidence = append([]diag.Note{verify.Quote(by, noPlace)}, f.Evidence...)
			}
			report(f)
		}
	}
}
