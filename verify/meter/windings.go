package meter

import (
	"math"
	"slices"

	"buzzout/lang"
)

// windingValues gives the resistance of each stretch of a winding between
// neighbouring ends. dcr lines may name neighbours or ends further apart; what
// they leave open of a longer stretch is shared evenly, and what no line
// reaches is unknown.
func (f *fitted) windingValues(ends []int) []Value {
	n := len(ends) - 1
	if n < 1 {
		return nil
	}
	values := make([]Value, n)
	known := make([]bool, n)
	for i := range n {
		values[i], known[i] = f.dcr(ends[i], ends[i+1])
	}
	place := map[int]int{}
	for i, e := range ends {
		place[e] = i
	}
	// A line over several stretches tells the last of them that is open; each
	// round may open the way for the next.
	for range n {
		for i := range f.Kind.Between {
			line := &f.Kind.Between[i]
			a, here := place[line.From]
			b, there := place[line.To]
			if line.Verb != "dcr" || !here || !there {
				continue
			}
			f.spread(min(a, b), max(a, b), line.Figures, values, known, 1)
		}
	}
	for i := range f.Kind.Between {
		line := &f.Kind.Between[i]
		a, here := place[line.From]
		b, there := place[line.To]
		if line.Verb == "dcr" && here && there {
			f.spread(min(a, b), max(a, b), line.Figures, values, known, n)
		}
	}
	f.estimate(place, values, known)
	for i := range values {
		if !known[i] {
			values[i] = unknownWinding
		}
	}
	return values
}

// A transformer's windings each lose about a twentieth of the power in their
// copper: a winding has a twentieth of the impedance of its load, or of its
// volts over its amperes, within a factor of four (from memory).
const (
	copperShare  = 0.05
	copperFactor = 4
)

// estimate guesses what no dcr line tells, from load and volts lines. Taps for
// several loads are on one wire: their resistances go with the turns, which go
// with the roots of the impedances.
func (f *fitted) estimate(place map[int]int, values []Value, known []bool) {
	type span struct {
		from, to int
		ohms     float64
	}
	var spans []span
	most := 0.0
	for i := range f.Kind.Between {
		line := &f.Kind.Between[i]
		a, here := place[line.From]
		b, there := place[line.To]
		if !here || !there {
			continue
		}
		switch line.Verb {
		case "load":
			if ohms, ok := firstOf(line.Figures, lang.Ohms); ok {
				most = max(most, ohms.Value)
				spans = append(spans, span{min(a, b), max(a, b), ohms.Value})
			}
		case "volts":
			volts, _ := firstOf(line.Figures, lang.Volts)
			amperes, ok := firstOf(line.Figures, lang.Amperes)
			if ok && amperes.Value > 0 && volts.Value > 0 {
				spans = append(spans, span{min(a, b), max(a, b), volts.Value / amperes.Value})
			}
		}
	}
	slices.SortStableFunc(spans, func(x, y span) int { return (x.to - x.from) - (y.to - y.from) })
	for _, s := range spans {
		whole := copperShare * s.ohms
		if most > 0 {
			whole = copperShare * math.Sqrt(s.ohms*most)
		}
		rest, open := leftOpen(whole, values[s.from:s.to], known[s.from:s.to])
		if open == 0 || rest <= 0 {
			continue
		}
		for i := s.from; i < s.to; i++ {
			if !known[i] {
				known[i] = true
				part := rest / float64(open)
				values[i] = between(part, part/copperFactor, part*copperFactor, Supposed)
			}
		}
	}
}

// leftOpen is what some stretches of a winding leave of its ohms for those of
// them that are not known, and how many these are.
func leftOpen(ohms float64, values []Value, known []bool) (rest float64, open int) {
	rest = ohms
	for i := range values {
		if known[i] {
			rest -= values[i].Ohms
		} else {
			open++
		}
	}
	return rest, open
}

// spread gives what a line leaves open between two ends to the stretches there
// that are not known, if there are no more than most.
func (f *fitted) spread(from, to int, figures []lang.Figure, values []Value, known []bool, most int) {
	ohms, ok := firstOf(figures, lang.Ohms)
	if !ok {
		return
	}
	rest, open := leftOpen(ohms.Value, values[from:to], known[from:to])
	if open == 0 || open > most || rest <= 0 {
		return
	}
	for i := from; i < to; i++ {
		if known[i] {
			continue
		}
		known[i] = true
		part := rest / float64(open)
		values[i] = within(part, copperTolerance, false, Stated)
		if open > 1 {
			// The inner layers of a winding are shorter: the halves are not
			// alike, and which is which nobody has said.
			values[i] = between(part, part/2, math.Min(rest, part*2), Derived)
		}
	}
}
