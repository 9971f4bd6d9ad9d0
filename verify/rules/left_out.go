package rules

import "buzzout/verify"

var leftOut = verify.Rule{
	Name:   "left-out",
	Title:  "a part of the plan that is said not to be there",
	Judges: verify.Built,
	Text: `
The bench says that a part was left out: not in the bag, not come yet, or not
wanted. Its places are not asked for, so that the rest can be compared, and it
stays on the list of what is left to do. With a reason in quotes it is a
remark, without one a caution: a missing bleeder can be dangerous, and a
missing cathode resistor leaves a valve dead.

    part R1 resistor 100k
    part C1 capacitor 22n
    part GND, HT post
    net ht  HT R1.1 C1.1
    net gnd GND R1.2 C1.2
    fit R1 HT GND
    fit C1 none
    wiring complete

If it is not meant to be fitted at all, strike it from the plan.
`,
}
