package legend

import (
	"slices"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A purpose is what a winding is for, as far as the drawing or the figures of
// the part tell.
type purpose uint8

const (
	unknownPurpose purpose = iota
	forMains
	forHT
	forHeaters
	forRectifierHeater
	forBias
	forAnodes
	forGrids
	forLoudspeaker
)

// What ends on a conductor of the drawing.
const (
	atAnode = 1 << iota
	atScreen
	atGrid
	atHeater
	atRectifierHeater
	atDiode
	atMains
	atLoudspeaker
)

// usesOf says what the windings of a part are for: by what the drawing has at
// their ends, else by what the part's own lines tell. By group of the layout.
// at is what endsAt gives.
func usesOf(p *netlist.Part, l *layout, at []uint16) []purpose {
	uses := make([]purpose, len(l.groups))
	for g := range l.groups {
		group := &l.groups[g]
		if len(group.ends) < 2 {
			continue
		}
		var any uint16
		voices := 0 // ends at a loudspeaker; one alone is on its ground
		for _, t := range group.ends {
			any |= at[p.Terminals[t]]
			if at[p.Terminals[t]]&atLoudspeaker != 0 {
				voices++
			}
		}
		// A centre tap says little: the HT of an output transformer may come
		// straight from a rectifier's heater. Both ends of a heater winding are at
		// heaters.
		first, last := at[p.Terminals[group.ends[0]]], at[p.Terminals[group.ends[len(group.ends)-1]]]
		volts, load := group.most()
		switch {
		case any&atMains != 0:
			uses[g] = forMains
		case first&last&(atHeater|atRectifierHeater) == atRectifierHeater:
			uses[g] = forRectifierHeater
		case first&last&atHeater != 0:
			uses[g] = forHeaters
		case (first|last)&atAnode != 0:
			uses[g] = forAnodes
		case (first|last)&atGrid != 0:
			uses[g] = forGrids
		case voices > 1, load > 0 && load <= lowLoad:
			uses[g] = forLoudspeaker
		case any&atDiode != 0 && volts > 0 && volts <= lowVolts:
			uses[g] = forBias
		case any&atDiode != 0:
			uses[g] = forHT
		case load > lowLoad:
			uses[g] = forAnodes
		case volts > 0 && volts <= mostHeater:
			uses[g] = forHeaters
		}
	}
	return uses
}

// mostHeater is the most volts that a winding without anything on it is taken
// to heat valves with: 12.6 V is the highest that is usual (common practice, no
// source).
const mostHeater = 13

// endsAt says what the drawing has on each terminal's conductor.
func endsAt(b *netlist.Book) []uint16 {
	of := b.Planned(b.Meanings()[0], netlist.Setting{}).Islands().Of
	on := map[int32]uint16{}
	mark := func(t netlist.TerminalID, what uint16) { on[of[t]] |= what }
	for _, p := range b.Parts {
		heated := slices.ContainsFunc(p.Kind.Elements, func(e parts.Element) bool { return e.Type == parts.Heater })
		rectifier := heated && slices.ContainsFunc(p.Kind.Elements, func(e parts.Element) bool { return e.Type == parts.Diode })
		for i := range p.Kind.Elements {
			e := &p.Kind.Elements[i]
			end := func(i int) netlist.TerminalID { return p.Terminals[e.Ends[i]] }
			switch e.Type {
			case parts.Triode:
				mark(end(0), atAnode)
				mark(end(1), atGrid)
			case parts.Pentode:
				mark(end(0), atAnode)
				mark(end(1), atScreen)
				mark(end(2), atGrid)
			case parts.Heater:
				what := uint16(atHeater)
				if rectifier {
					what = atRectifierHeater
				}
				mark(end(0), what)
				mark(end(1), what)
			case parts.Diode:
				mark(end(0), atDiode)
				mark(end(1), atDiode)
			case parts.Coil:
				if e.Nominal {
					mark(end(0), atLoudspeaker)
					mark(end(1), atLoudspeaker)
				}
			}
		}
	}
	for _, c := range mainsOf(b, of) {
		on[c] |= atMains
	}
	at := make([]uint16, len(b.Terminals))
	for t := range at {
		at[t] = on[of[t]]
	}
	return at
}

// mainsOf are the conductors that mains comes to from an inlet, by way of
// switches, fuses and coils that stand in a lead.
func mainsOf(b *netlist.Book, of []int32) []int32 {
	var list []int32
	for _, in := range b.Inlets() {
		list = append(list, of[in.Live], of[in.Neutral])
	}
	for i := 0; i < len(list); i++ {
		pass := func(p *netlist.Part, a, b int) {
			x, y := of[p.Terminals[a]], of[p.Terminals[b]]
			if y == list[i] {
				x, y = y, x
			}
			if x == list[i] && !slices.Contains(list, y) {
				list = append(list, y)
			}
		}
		for _, p := range b.Parts {
			for k := range p.Kind.Contacts {
				pass(p, p.Kind.Contacts[k].A, p.Kind.Contacts[k].B)
			}
			for k := range p.Kind.Elements {
				if e := &p.Kind.Elements[k]; e.Type == parts.Fuse || e.Type == parts.Coil && e.Moves < 0 && !e.Nominal {
					pass(p, e.Ends[0], e.Ends[1])
				}
			}
		}
	}
	return list
}
