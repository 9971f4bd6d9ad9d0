package rules

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/verify"
)

var otherKind = verify.Rule{
	Name:   "other-kind",
	Title:  "another kind of part does the job of one in the plan",
	Judges: verify.Built,
	Look:   lookOtherKind,
	Text: `
A fit line says that a part is of another kind than the plan has: a resistor
where a choke is drawn, one valve type for another. That can be a good
exchange; it changes what the circuit does, and what the ratings have to be.

    part L1 choke 10H
    part IN, OUT post
    net in  IN L1.1
    net out OUT L1.2
    fit L1 resistor 1k 5W

With a reason in quotes it is a remark, since you know and wrote it down.

To check, look that the stand-in is rated for the voltage and the current, and
that its terminals are where the old ones were: for a valve, the pin-out.
`,
}

func lookOtherKind(c *verify.Case, report func(verify.Finding)) {
	for _, p := range c.Book().Parts {
		fit := c.Bench.Fittings[p]
		if fit == nil || fit.Absent || fit.Kind == nil || strings.EqualFold(fit.Kind.Name, p.Kind.Name) {
			continue
		}
		f := verify.Finding{
			Severity: diag.Caution, Terminals: p.Terminals,
			Message:  fmt.Sprintf("%s is fitted as %s, and the plan has %s", p.Ref, fit.Kind.Name, p.Kind.Name),
			Evidence: []diag.Note{verify.Quote(fit.Told, noPlace), verify.QuotePart(p)},
			Action:   fmt.Sprintf("fit what the plan has, or give the reason in quotes on the fit line of %s", p.Ref),
			Check:    "look that its ratings and its terminals suit the place",
		}
		if fit.Reason != "" {
			f.Severity = diag.Remark
			f.Cause = fmt.Sprintf("The notebook says why: %q.", fit.Reason)
			f.Action = ""
		}
		report(f)
	}
}
