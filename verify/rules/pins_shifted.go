package rules

import "buzzout/verify"

var pinsShifted = verify.Rule{
	Name:   "pins-shifted",
	Title:  "the wires of a socket that are all off by the same count",
	Judges: verify.Built,
	Text: `
The wires of a socket or connector are all one or more pins round, or in
mirror order: the pins were counted from the wrong gap, or seen from the wrong
side. Pins are counted clockwise from the gap or key, seen from the tags.

    part J1 connector-ring 4
    part R1, R2, R3, R4 resistor 100k
    net a J1.1 R1.1
    net b J1.2 R2.1
    net c J1.3 R3.1
    net d J1.4 R4.1
    spare R1.2 R2.2 R3.2 R4.2
    solder J1.2 R1.1
    solder J1.3 R2.1
    solder J1.4 R3.1
    solder J1.1 R4.1
    wiring complete

Before you move anything, find the gap again and count aloud. With valves it
is the heater pins that settle it: with the valve in they read a few ohms.
`,
}
