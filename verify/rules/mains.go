package rules

import (
	"slices"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

// entries are the inlets at which mains comes in, in a harness: of several
// that switches and fuses join, one is an outlet that passes mains on. It is
// the one that a winding lies on, or else the one named later.
func entries(h *netlist.Harness) []netlist.Inlet {
	list := h.Book.Inlets()
	if len(list) < 2 {
		return list
	}
	direct := wired(h)
	windings := windingEnds(direct, h.Book)
	side := direct.clone().through(h, parts.Fuse).throughSeriesCoils(h).throughContacts(h, nil)
	var kept []netlist.Inlet
	for _, in := range list {
		i := slices.IndexFunc(kept, func(k netlist.Inlet) bool { return side.of(k.Live) == side.of(in.Live) })
		switch {
		case i < 0:
			kept = append(kept, in)
		case windings[direct.of(kept[i].Live)] && !windings[direct.of(in.Live)]:
			kept[i] = in
		}
	}
	return kept
}

// reportAtBench tells what mains does as wired and not as drawn. Each finding
// rests on the first joint at each terminal that it is told of.
func reportAtBench(c *verify.Case, found, drawn []verify.Finding, report func(verify.Finding)) {
	if len(found) == 0 {
		return
	}
	first := firstJoints(c.Bench)
	for _, f := range found {
		if slices.ContainsFunc(drawn, func(d verify.Finding) bool { return slices.Equal(d.Terminals, f.Terminals) }) {
			continue
		}
		f.Message = "on the bench " + f.Message
		f.Action = "mend the joint that is wrong, before anything else; compare tells which"
		var made []diag.Note
		for _, t := range f.Terminals {
			if first[t] >= 0 {
				j := &c.Bench.Joints[first[t]]
				made = append(made, verify.Quote(j.Fact, j.Place))
			}
		}
		f.Evidence = append(made, f.Evidence...)
		report(f)
	}
}

// throughSeriesCoils lets in coils that move nothing: chokes and filters that
// stand in a lead.
func (c conductors) throughSeriesCoils(h *netlist.Harness) conductors {
	for p, as := range h.There() {
		for i := range as.Kind.Elements {
			if e := &as.Kind.Elements[i]; e.Type == parts.Coil && e.Moves < 0 {
				c.join(p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]])
			}
		}
	}
	return c
}

// chassis are the parts that are one conductor however many points they have,
// each by its first point. A bus bar is such a part as well; it is not taken
// for the chassis where the plan makes it a supply.
func chassis(b *netlist.Book) []netlist.TerminalID {
	var list []netlist.TerminalID
	for _, p := range b.Parts {
		if p.Kind.JoinedAny && len(p.Terminals) > 0 && !isSupplyBus(b, p) {
			list = append(list, p.Terminals[0])
		}
	}
	return list
}

// isSupplyBus says that the plan puts what belongs on a supply on a part's
// conductor, as the plus of an electrolytic, an anode, a screen grid or a
// diode, and no minus of an electrolytic, which would make it ground.
func isSupplyBus(b *netlist.Book, p *netlist.Part) bool {
	supply := false
	seen := netlist.NoNet
	for _, t := range p.Terminals {
		net := b.Net(t)
		if net == netlist.NoNet || net == seen {
			continue
		}
		seen = net
		for _, m := range b.Nets[net].Members {
			term := &b.Terminals[m.Terminal]
			if term.Part == nil || term.Index < 0 {
				continue
			}
			for i := range term.Part.Kind.Elements {
				e := &term.Part.Kind.Elements[i]
				end := slices.Index(e.Ends, term.Index)
				if end < 0 {
					continue
				}
				switch {
				case e.Type == parts.Capacitance && e.Polar && end == 1:
					return false
				case e.Type == parts.Capacitance && e.Polar, e.Type == parts.Diode,
					(e.Type == parts.Triode || e.Type == parts.Pentode) && (e.Type.Roles()[end] == "anode" || e.Type.Roles()[end] == "screen"):
					supply = true
				}
			}
		}
	}
	return supply
}

// earths are the terminals that are earth or chassis beyond doubt.
func earths(b *netlist.Book) []netlist.TerminalID {
	list := chassis(b)
	for _, in := range b.Inlets() {
		if in.Earth != netlist.NoTerminal {
			list = append(list, in.Earth)
		}
	}
	return list
}

// windingEnds are the conductors that a winding of a transformer ends on.
func windingEnds(c conductors, b *netlist.Book) map[netlist.TerminalID]bool {
	roots := map[netlist.TerminalID]bool{}
	for _, p := range b.Parts {
		for _, w := range p.Kind.Windings {
			for _, end := range w.Ends {
				roots[c.of(p.Terminals[end])] = true
			}
		}
	}
	return roots
}

// A fuse is one fuse element of a part.
type fuse struct {
	part     *netlist.Part
	from, to netlist.TerminalID
}

func fuses(b *netlist.Book) []fuse {
	var list []fuse
	for _, p := range b.Parts {
		for i := range p.Kind.Elements {
			if e := &p.Kind.Elements[i]; e.Type == parts.Fuse {
				list = append(list, fuse{p, p.Terminals[e.Ends[0]], p.Terminals[e.Ends[1]]})
			}
		}
	}
	return list
}
