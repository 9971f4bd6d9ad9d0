package states

import "buzzout/verify"

var bleederLostDrawn = verify.Rule{
	Name:   "bleeder-lost-drawn",
	Title:  "in the plan a switch cuts a reservoir off from its bleeder",
	Judges: verify.Plan,
	Look:   lookBleederLostDrawn,
	Text: `
The reservoir has a bleeder, and the standby switch stands between the two.
Switched off at standby, the amplifier keeps the charge of the reservoir for
hours or for days, while its owner has seen it discharge quickly every time
that the switch stood at play.

    part D1  diode
    part C1  electrolytic 47u 450V
    part S2  toggle-1x1 { control lever standby play }
    part R1  resistor 220k 2W
    part AC, GND post
    net ac     AC D1.a
    net ht-raw D1.k C1.+ S2.1
    net ht     S2.2 R1.1
    net ground C1.- R1.2 GND

Put a bleeder on each side of the switch.

Looked at are polarised capacitors rated 50 V or more, or on the conductor of
a rectifier. As a way counts what passes direct current for as long as it is
there: resistors, tracks, coils and windings. Fuses, lamps and valves do not:
each can be open. All positions of the controls between the two ends are gone
through. A capacitor that nothing ever discharges is told by no-bleeder-drawn.

Always measure before you touch: your own meter, both ends of every reservoir,
with the switch in each of its positions, under 30 V before hands go in.
Discharge through 10k to 20k on an insulated lead, clipped to the chassis
first, and never with a screwdriver. The voltage creeps back: measure again.

That 60 V is the highest steady direct voltage of the lowest class was read in
a translation of IEC 62368-1, Tables 4 and 5; the bleeder's figure is common
practice, no source.
`,
}

func lookBleederLostDrawn(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	for _, l := range s.lostBleeders() {
		report(l.tell(s))
	}
}
