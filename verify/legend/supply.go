package legend

import (
	"math"
	"slices"

	"buzzout/netlist"
)

// A supply is a small alternating voltage put on two leads.
type supply struct {
	leads [2]int // the lower first
	volts float64
}

// volts reads alternating volts. The supply is what the reading says that it
// stands on. Where none says so, the first reading at the part is taken for
// that of the supply itself; that pair read again and found otherwise begins a
// new application of the supply.
func (r *reader) volts(m measure, s *scene) {
	m.digit = lastDigit(m.from.Value)
	m.is, m.leans = r.meter.volts(m.value, m.digit)
	m.value = math.Abs(m.value)
	held, why := r.held(m.from, s)
	switch {
	case why != "":
		r.put(m.from, "%s", why)
		return
	case held != nil:
		r.supply = slices.IndexFunc(r.supplies, func(known supply) bool { return r.same(known, held) })
		if r.supply < 0 {
			r.begin(held)
			if pairOf(held) != pairOf(&m) || len(m.clips) > 0 {
				held.supply = r.supply
				r.add(*held)
			}
		}
	case r.supply < 0, pairOf(&m) == r.supplies[r.supply].leads && len(m.clips) == 0 && !r.same(r.supplies[r.supply], &m):
		r.begin(&m)
	}
	m.supply = r.supply
	r.add(m)
}

// pairOf are the leads of a measure, the lower first.
func pairOf(m *measure) [2]int { return [2]int{min(m.red, m.black), max(m.red, m.black)} }

// same says that a supply is one that was there before: on the same leads, with
// the same volts as far as a meter can tell.
func (r *reader) same(known supply, m *measure) bool {
	is, _ := r.meter.volts(known.volts, m.digit)
	return pairOf(m) == known.leads && m.is.meets(is)
}

func (r *reader) begin(m *measure) {
	r.supply = len(r.supplies)
	r.supplies = append(r.supplies, supply{pairOf(m), m.value})
}

// held is the supply that a reading names, as if it had been read: "with
// T2.blue 12V, T2.brown 0V". It is nil where none is named; why says why one
// that is named cannot be used.
func (r *reader) held(reading *netlist.Reading, s *scene) (held *measure, why string) {
	if len(reading.Held) == 0 {
		return nil, ""
	}
	if len(reading.Held) != 2 {
		return nil, "a supply stands on two points: name both, as in: with " + r.book.Name(reading.Held[0].At) + " 12V, and the other at 0V"
	}
	var at [2]int
	for i, h := range reading.Held {
		var on []int
		for lead, conductor := range s.leads {
			if conductor == s.of[h.At] {
				on = append(on, lead)
			}
		}
		if len(on) == 0 {
			return nil, r.book.Name(h.At) + " is on no lead of the part, so that what the supply drives is not known"
		}
		at[i] = r.named(h.At, on)
	}
	high, low := reading.Held[0].Volts, reading.Held[1].Volts
	m := &measure{sort: span, red: at[0], black: at[1], value: math.Abs(high.Value - low.Value), from: reading, told: true}
	if m.red == m.black || m.value == 0 {
		return nil, "the two points of the supply are the same, or at the same volts"
	}
	if math.Abs(low.Value) > math.Abs(high.Value) {
		high = low
	}
	m.digit = lastDigit(high)
	m.is, m.leans = r.meter.volts(m.value, m.digit)
	if m.digit >= 1 {
		// Whole volts are what stands on the supply and not what was read of it:
		// a small transformer gives up to a quarter more without a load.
		m.is.hi *= slack[byVolts].hi
		m.leans = m.is
	}
	return m, ""
}
