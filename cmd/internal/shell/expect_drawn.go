package shell

import (
	"math"
	"slices"

	"buzzout/netlist"
	"buzzout/verify/meter"
)

// drawn is the network of the plan, with the meter of the bench.
func (s *Session) drawn(with netlist.Setting) *meter.Network {
	return s.drawnUnder(s.wiring().meaning, with)
}

func (s *Session) drawnUnder(m netlist.Meaning, with netlist.Setting) *meter.Network {
	bench := s.bench()
	n := meter.Planned(s.book, m, bench.Setting.With(with))
	if bench.Probes > 0 {
		n.Meter.Probes, n.Meter.Told = bench.Probes, true
	}
	return n
}

// besidePlan puts what the plan would read beside readings of the bench. It is
// nil where the readings are those of the plan.
type besidePlan struct {
	session *Session
	bench   *meter.Network
	plan    *meter.Network
	// stands gives the terminal of the plan for one of the bench, where like
	// ends are used otherwise than drawn; found when first needed.
	stands map[netlist.TerminalID]netlist.TerminalID
}

func (s *Session) beside(c cold) *besidePlan {
	if c.harness != "built" {
		return nil
	}
	return &besidePlan{session: s, bench: c.Network, plan: s.drawn(c.with)}
}

// compare marks a reading that would be another as drawn. Of a terminal that
// is on no net of the plan, as a tag, a neighbour on the same conductor speaks;
// where there is none, the plan says nothing.
func (b *besidePlan) compare(r *expectRow) {
	if b == nil {
		return
	}
	red, black := b.drawnAt(r.e.Red), b.drawnAt(r.e.Black)
	if red == netlist.NoTerminal || black == netlist.NoTerminal {
		return
	}
	if alike(b.plan.Circuit().Between(b.plan.Conductor(red), b.plan.Conductor(black)), r.e.Ohms) && !r.e.OneConductor {
		return // the bounds cost more, and tell nothing here
	}
	e := b.plan.Expect(red, black)
	if !differs(&r.e, &e) {
		return
	}
	if e = b.plan.Expect(b.stand(red), b.stand(black)); differs(&r.e, &e) {
		r.Drawn, r.Differs = ohmage(e.Ohms), true
	}
}

func (b *besidePlan) stand(t netlist.TerminalID) netlist.TerminalID {
	if b.stands == nil {
		b.stands = map[netlist.TerminalID]netlist.TerminalID{}
		for drawn, does := range b.session.progress().does {
			b.stands[does] = drawn
		}
	}
	if drawn, otherwise := b.stands[t]; otherwise {
		return drawn
	}
	return t
}

// nets names the nets of the plan whose work is done on a conductor: a resistor
// the other way round does not bring another net there.
func (b *besidePlan) nets(c *meter.Conductor) []string {
	if b == nil || len(c.Nets) < 2 {
		return c.Nets
	}
	var names []string
	for _, t := range c.Terminals {
		if net := b.session.book.Net(b.stand(t)); net != netlist.NoNet && !slices.Contains(names, b.session.book.Nets[net].Name) {
			names = append(names, b.session.book.Nets[net].Name)
		}
	}
	return names
}

// drawnAt is a terminal on a net of the plan: the one itself, or the first that
// is joined to it on the bench.
func (b *besidePlan) drawnAt(t netlist.TerminalID) netlist.TerminalID {
	if b.session.book.Net(t) != netlist.NoNet {
		return t
	}
	island := b.bench.Conductor(t)
	for other := range b.session.book.Terminals {
		id := netlist.TerminalID(other)
		if b.session.book.Net(id) != netlist.NoNet && b.bench.Conductor(id) == island {
			return id
		}
	}
	return netlist.NoTerminal
}

// alike says that two resistances are one but for rounding.
func alike(a, b float64) bool {
	return a == b || !math.IsInf(a-b, 0) && math.Abs(a-b) <= 1e-9*(a+b)
}

// differs says that no parts within their tolerances make the one reading of
// the other.
func differs(built, drawn *meter.Expectation) bool {
	if math.IsInf(drawn.Ohms, 1) || math.IsInf(built.Ohms, 1) {
		return math.IsInf(drawn.Ohms, 1) != math.IsInf(built.Ohms, 1)
	}
	const rounding = 1e-6
	return built.OneConductor != drawn.OneConductor ||
		built.Ohms < drawn.Low*(1-rounding)-leastOhms || built.Ohms > drawn.High*(1+rounding)+leastOhms
}
