package rules

import "buzzout/verify"

var reversed = verify.Rule{
	Name:   "reversed",
	Title:  "a part that sits the other way round",
	Judges: verify.Built,
	Text: `
A part with two ways round, as a diode, an electrolytic or a whole
transformer winding, has its ends exchanged. A reversed electrolytic heats up
and can burst; a reversed diode leaves the supply dead or puts alternating
current on a capacitor.

    part TB1 tagboard 4
    part C1 electrolytic 22u 25V
    part R1 resistor 1k5
    net cathode R1.1 C1.+
    net ground  R1.2 C1.-
    fit R1 TB1.1 TB1.2
    fit C1 + TB1.2 - TB1.1
    wiring complete

To check, look at the part: the stripe of an electrolytic marks its minus, the
band of a diode its cathode. Do it before power comes near it.
`,
}
