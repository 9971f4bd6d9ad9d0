package rules

import "buzzout/verify"

var unfusedLive = verify.Rule{
	Name:   "unfused-live",
	Title:  "on the bench live reaches a transformer without a fuse",
	Judges: verify.Built,
	Look:   lookUnfusedLive,
	Text: `
As wired, a way leads from the inlet's live contact to a winding and passes no
fuse, and the plan does not have it so: live and neutral are exchanged
somewhere, or a lead goes round the fuse. Comparison tells the joint; here it
is told for what it does. With live and neutral exchanged the fuse stands in
the neutral: when it blows, the amplifier looks dead and is still live.

    part X1 inlet
    part F1 fuse 1A
    part T1 transformer { winding primary p1 p2 }
    net live    X1.live F1.end
    net fused   F1.side T1.p1
    net neutral X1.neutral T1.p2
    lead brown X1.neutral F1.end
    lead brown F1.side T1.p1
    lead blue  X1.live T1.p2

To check, mains plug out, switch on: read from the inlet's live contact to the
transformer. With the fuse taken out of its holder it must be open.

What is sure of it is in the text of unfused-live-drawn, with its source.
`,
}

func lookUnfusedLive(c *verify.Case, report func(verify.Finding)) {
	reportAtBench(c, unfused(c.Built()), unfused(c.Planned()), report)
}
