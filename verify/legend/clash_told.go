package legend

import (
	"fmt"

	"buzzout/lang"
)

// contradiction says in words what readings contradict each other.
func (t *teller) contradiction(c *clash) Contradiction {
	found := Contradiction{Readings: t.readings(c.measures)}
	var names []string
	for _, lead := range c.leads {
		names = append(names, t.name(lead))
	}
	leads := listed(names)
	var m *measure
	if c.suspect >= 0 {
		m = &t.p.measures[c.suspect]
		found.Suspect = m.from
	}
	switch c.kind {
	case openInside:
		found.Message = fmt.Sprintf("some readings join %s, and one says that there is no wire between them", leads)
		found.Why = "A probe that does not bite through the enamel reads open, and a beeper is silent; wire where there is none is read only on the wrong lead."
		if m != nil && m.sort == through {
			found.Why = "All that read open agree with each other; this one alone joins what they part."
			if c.others > 1 {
				found.Why = fmt.Sprintf("All that read open agree with each other. Without this one the rest agrees as well, and so it would without %d others that were read before it.", c.others-1)
			}
		}
	case offTheLine:
		found.Message = fmt.Sprintf("the readings between %s fit no order of them along a winding: what lies further along must read more, and two steps must add up to the whole", leads)
		if m != nil {
			found.Why = fmt.Sprintf("Without it the others fit; of all readings of which that is so it is the furthest off%s.", t.times(m, c.factor))
		}
	case offTheTie:
		found.Message = fmt.Sprintf("the volts across %s and %s are neither the sum nor the difference of those of the two windings", t.name(m.red), t.name(m.black))
		found.Why = "The volts of each winding by itself fit with the others."
	case oddTies:
		found.Message = "the readings across windings contradict each other: followed from winding to winding and back, the sense comes back turned over"
		found.Why = "Beside what it reads, the smaller of its two windings shows the least."
	case shortedClip:
		found.Message = fmt.Sprintf("%s were clipped together, and both are on one winding, which was shorted by it", leads)
		found.Why = "A shorted winding pulls all volts down."
	case offThePlan:
		found.Message = fmt.Sprintf("the readings agree with each other, and not with the windings that the notebook gives %s: %s", t.part.Ref, windingsSaid(t.p.lay))
		if m != nil {
			found.Why = "Without it the others fit the windings; or else the windings are not as the notebook says."
		} else {
			found.Why = "Look at the windings first: ends, loads and volts in the part's block."
		}
	}
	return found
}

func (t *teller) times(m *measure, factor float64) string {
	if factor == 0 || m.from == nil {
		return ""
	}
	quantity := lang.Ohms
	if m.sort == span {
		quantity = lang.Volts
	}
	return fmt.Sprintf(", and with %s it would fit: look at the point, or at k and M", shown(m.value*factor, quantity))
}
