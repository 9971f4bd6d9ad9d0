package states

import (
	"slices"

	"buzzout/verify"
)

var inputMutes = verify.Rule{
	Name:   "input-mutes",
	Title:  "on the bench one input jack mutes another",
	Judges: verify.Built,
	Look:   lookInputMutes,
	Text: `
As wired, a contact of one input jack takes the signal of another, and the
plan does not have it so. Comparison tells the joint that is wrong; here it is
told for what it does: which input goes quiet, with what plugged in.

    part J1, J2 jack-break
    part R1     resistor 1M
    part V1     triode
    net grid   J1.tip J2.tip R1.1 V1.g
    net ground J1.sleeve J2.sleeve R1.2
    spare J1.break J2.break V1.a V1.k
    lead green J1.tip J2.tip V1.g
    fit R1 J1.tip J1.sleeve
    lead black J1.sleeve J2.sleeve J2.break

The break contact of J2 is on ground here, and shorts the tip of J1 for as
long as J2 is empty.

What counts, and how sure it is, is in the text of input-mutes-drawn. Joints
that are still missing are not looked at: comparison has them.

To check, power off: plug an open plug into the jack that is quiet and read
from its tip to its sleeve, once with the other jack empty and once with a
plug in it.

The trade's rule for break contacts is in the text of input-mutes-drawn, with
its source.
`,
}

func lookInputMutes(c *verify.Case, report func(verify.Finding)) {
	if len(c.Bench.Joints) == 0 {
		return
	}
	bench := ofBench(c)
	found := bench.mutings()
	if len(found) == 0 {
		return
	}
	drawn := ofPlan(c).mutings()
	for _, f := range found {
		if !slices.ContainsFunc(drawn, f.same) {
			report(f.tell(bench))
		}
	}
}
