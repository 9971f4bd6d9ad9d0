package states

import "buzzout/verify"

var loadOpens = verify.Rule{
	Name:   "load-opens",
	Title:  "on the bench the loudspeaker winding is left without a load",
	Judges: verify.Built,
	Look:   lookLoadOpens,
	Text: `
In the plan something loads the output transformer in these positions, and on
the bench nothing does: the resistor across the winding is not fitted, or a
joint on the way to the loudspeaker is missing. Comparison tells the joint;
here it is told for what it does. What a missing load can do is in the text of
load-opens-drawn.

    part T2  output-se
    part LS1 loudspeaker 8
    part S3  toggle-1x2 { control lever inside outside }
    part LS2 loudspeaker 8
    net tap     T2.8ohm S3.a
    net inside  S3.a1 LS1.+
    net outside S3.a2 LS2.+
    net ground  T2.common LS1.- LS2.-
    spare T2.4ohm T2.16ohm T2.anode T2.ht
    lead pink  T2.8ohm S3.a
    lead pink  S3.a1 LS1.+
    lead black T2.common LS1.- LS2.-
    wiring complete

It is told once the wiring of the winding's nets was said to be complete. What
counts as a load is in the text of load-opens-drawn.

To check: power off, take the transformer's lead off, and read into what it
was on, in each position that is told. It should not be open.

The caution is common practice, no source.
`,
}

func lookLoadOpens(c *verify.Case, report func(verify.Finding)) {
	if len(c.Bench.Joints) == 0 {
		return
	}
	s := ofBench(c)
	found := s.openings()
	if len(found) == 0 {
		return
	}
	meant := ofPlan(c).openings()
	for _, o := range found {
		if !s.complete(o.used...) {
			continue
		}
		drawn := 0
		for _, m := range meant {
			if m.winding.part == o.winding.part && m.winding.name == o.winding.name && m.when.Settings > 0 {
				drawn = m.when.Joined * o.when.Settings / m.when.Settings
			}
		}
		if o.when.Joined > drawn {
			f := o.tell(s)
			f.Message = "on the bench " + f.Message
			f.Action = "fit the part or mend the joint that the plan has there; compare tells which"
			report(f)
		}
	}
}
