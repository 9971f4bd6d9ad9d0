package follow

import (
	"slices"

	"buzzout/netlist"
)

// An AssumptionKind is a thing that was taken to be so.
type AssumptionKind uint8

// The assumptions.
const (
	_             AssumptionKind = iota
	PluggedIn                    // a plug was put in the jack that the signal comes from
	ValvesIn                     // all valves were out of their holders, and are taken to be in
	Powered                      // the valves are taken to have their voltages, whatever mains and standby say
	HalfTurned                   // a control that nobody set is taken at half its travel
	NoFigure                     // a part without a figure is taken for a usual one
	SupplyStill                  // a point where a supply comes in holds still
	EarthAt                      // what is taken for earth, where no chassis says so
	Typical                      // a valve of no published type is taken for a usual one
	FromMemory                   // a valve's figures are from memory
	WindingsStart                // the windings of a transformer start at these ends
)

// An Assumption is something taken to be so, about parts or a terminal.
type Assumption struct {
	Kind  AssumptionKind
	Parts []*netlist.Part
	At    []netlist.TerminalID
	Of    string // Typical: the type that is used
}

// noValves leaves untold that valves were put into their holders, where the
// way passes none.
func (w *Way) noValves() {
	w.Assumed = slices.DeleteFunc(w.Assumed, func(a Assumption) bool { return a.Kind == ValvesIn })
}

// assume adds what was taken to be so of the parts that the way passes, or
// that hang on it.
func (w *Way) assume(t *trail) {
	n := t.network
	on := func(p *netlist.Part) bool {
		return slices.ContainsFunc(p.Terminals, n.inPlay)
	}
	var wound []Assumption
	typical := map[string][]*netlist.Part{}
	var remembered []*netlist.Part
	passed := false
	for _, s := range w.Steps() {
		if s.Kind == Transformer && !slices.ContainsFunc(wound, func(a Assumption) bool { return a.Parts[0] == s.Part }) {
			wound = append(wound, Assumption{Kind: WindingsStart, Parts: []*netlist.Part{s.Part}, At: n.starts(&s)})
		}
		if s.Kind == Stage {
			passed = true
			if s.Figures.Status == "memory" {
				remembered = append(remembered, s.Part)
			}
			if !s.Figures.Stated && !slices.Contains(typical[s.Figures.Of], s.Part) {
				typical[s.Figures.Of] = append(typical[s.Figures.Of], s.Part)
			}
		}
	}
	if !passed {
		w.noValves()
	} else {
		w.Assumed = append(w.Assumed, Assumption{Kind: Powered})
	}
	add := func(kind AssumptionKind, parts []*netlist.Part) {
		var list []*netlist.Part
		for _, p := range parts {
			if on(p) && !slices.Contains(list, p) {
				list = append(list, p)
			}
		}
		if len(list) > 0 {
			w.Assumed = append(w.Assumed, Assumption{Kind: kind, Parts: list})
		}
	}
	add(HalfTurned, n.unset)
	add(NoFigure, n.bare)
	add(FromMemory, remembered)
	if len(n.supply) > 0 {
		w.Assumed = append(w.Assumed, Assumption{Kind: SupplyStill, At: n.supply})
	}
	for _, of := range []string{"ecc83", "el84"} {
		if len(typical[of]) > 0 {
			w.Assumed = append(w.Assumed, Assumption{Kind: Typical, Parts: typical[of], Of: of})
		}
	}
	w.Assumed = append(w.Assumed, wound...)
	if p := n.book.Terminals[n.earth].Part; p == nil || !p.Kind.JoinedAny {
		w.Assumed = append(w.Assumed, Assumption{Kind: EarthAt, At: []netlist.TerminalID{n.earth}})
	}
}
