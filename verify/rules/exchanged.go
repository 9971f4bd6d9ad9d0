package rules

import "buzzout/verify"

var exchanged = verify.Rule{
	Name:   "exchanged",
	Title:  "two leads or legs that sit on each other's places",
	Judges: verify.Built,
	Text: `
Two leads or legs, or three in a ring, are exchanged. It is told as one
action. Exchanging ends that are alike is no mistake and is not told; ends
that are alike but for the phase are: an output transformer's anode leads
exchanged turn the feedback into an oscillator.

    part R1, R2 resistor 100k
    part A, B, C, D post
    net a R1.1 A
    net b R2.1 B
    net c R1.2 C
    net d R2.2 D
    solder A R2.1
    solder B R1.1
    solder C R1.2
    solder D R2.2
    wiring complete

To check, read from each of the two ends to a point that only the right one
reaches.
`,
}
