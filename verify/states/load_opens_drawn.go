package states

import "buzzout/verify"

var loadOpensDrawn = verify.Rule{
	Name:   "load-opens-drawn",
	Title:  "in the plan the loudspeaker winding is left without a load",
	Judges: verify.Plan,
	Look:   lookLoadOpensDrawn,
	Text: `
A valve output stage must not run without a load. With none, the anodes swing
far beyond the supply; the insulation of the primary, a valve holder or a
valve can break down, and none of them recovers from it.

    part T2  output-se
    part J3  jack-break
    part LS1 loudspeaker 8
    part GND post
    net tap     T2.8ohm J3.tip
    net speaker J3.break LS1.+
    net ground  T2.common LS1.- J3.sleeve GND
    spare T2.4ohm T2.16ohm T2.anode T2.ht

A plug in J3 takes the internal loudspeaker off. If the other end of its cable
lies on the floor, nothing loads T2. The position in of a jack is such a plug
with nothing on it; where the notebook has the plug that is in it, and what
hangs on that, that is looked at too.

Looked at are the windings whose kind tells what they are meant to be loaded
with, below 1000 ohm and with no anode on them. Loads are coils, resistances,
tracks and other transformers of up to a hundred times that figure, through
fuses. It is a fault where a switch alone takes the load off, a caution where
it takes an empty plug, and a remark where the notebook has no loudspeaker and
only a jack for one.

A resistor across the winding for good keeps the voltage down: 220 to 470 ohm,
5 W, behind a 16 ohm tap (common practice, no source). The short moment in
which a rotary switch that breaks before it makes has neither way is not
looked at.

To check: power off, take the transformer's lead off, and read into what it
was on, in each position that is told. It should read the loudspeaker's coil
or the resistor, and not open.
`,
}

func lookLoadOpensDrawn(c *verify.Case, report func(verify.Finding)) {
	s := ofPlan(c)
	for _, o := range s.openings() {
		report(o.tell(s))
	}
}
