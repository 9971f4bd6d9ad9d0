package rules

import "buzzout/verify"

var switchedNeutral = verify.Rule{
	Name:   "switched-neutral",
	Title:  "on the bench the mains switch is in the neutral alone",
	Judges: verify.Built,
	Look:   lookSwitchedNeutral,
	Text: `
As wired, the mains switch breaks the neutral and leaves live on the
transformer, and the plan does not have it so: live and neutral are exchanged
on their way to the switch. Comparison tells the joint; here it is told for
what it does. Switched off, the amplifier looks dead, and its mains side is at
full mains voltage.

    part X1 inlet
    part S1 toggle-1x1
    part T1 transformer { winding primary p1 p2 }
    net live     X1.live S1.1
    net switched S1.2 T1.p1
    net neutral  X1.neutral T1.p2
    lead brown X1.neutral S1.1
    lead brown S1.2 T1.p1
    lead blue  X1.live T1.p2

To check, mains plug out, switch off, fuse in: read from the inlet's live
contact to the transformer. It must be open.

What is sure of it is in the text of switched-neutral-drawn, with its source.
`,
}

func lookSwitchedNeutral(c *verify.Case, report func(verify.Finding)) {
	reportAtBench(c, neutralSwitched(c.Built()), neutralSwitched(c.Planned()), report)
}
