package rules

import "buzzout/verify"

var endsExchanged = verify.Rule{
	Name:   "ends-exchanged",
	Title:  "like ends used the other way round, where that does something",
	Judges: verify.Built,
	Text: `
Many ends are alike: it does not matter which way round a resistor sits, and
it is not told. Some are alike for the circuit and differ in something else.
The two ends of a transformer's winding, or of a loudspeaker, turn the signal
over; inside a feedback loop that makes a howl of the loop, and elsewhere
nothing that is heard. The outer foil of a film capacitor on the wrong end
picks up a little more hum.

    part T1 transformer { winding primary a b; winding secondary c d }
    part R1, R2 resistor 1k
    net in  T1.a R1.1
    net low T1.b R1.2
    net out T1.c R2.1
    net end T1.d R2.2
    solder T1.b R1.1
    solder T1.a R1.2
    solder T1.c R2.1
    solder T1.d R2.2
    wiring complete

If it neither howls nor hums it may stay as it is; exchange the two ends if it
does. That exchanged ends of an output transformer turn negative feedback into
positive is common practice, no source.
`,
}
