package meter

import (
	"maps"
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/netlist"
)

// A Contradiction are two readings at the same two points, on the same wiring
// and in the same setting, that cannot both be right whatever the wiring is.
type Contradiction struct{ First, Second *netlist.Reading }

// Contradictions compares each reading with those before it. The probes may
// have been exchanged, unless a semiconductor has a part in the reading.
func Contradictions(b *netlist.Book, m netlist.Meaning, readings []*netlist.Reading) []Contradiction {
	var list []Contradiction
	for i, second := range readings {
		for _, first := range readings[:i] {
			if samePoints(first, second) && sameMoment(b, first, second) && contradict(b, m, first, second) {
				list = append(list, Contradiction{first, second})
				break
			}
		}
	}
	return list
}

func samePoints(a, b *netlist.Reading) bool {
	return a.Red == b.Red && a.Black == b.Black || a.Red == b.Black && a.Black == b.Red
}

// sameMoment says that nothing was soldered, fitted or set between two
// readings.
func sameMoment(b *netlist.Book, first, second *netlist.Reading) bool {
	x, y := b.BenchAt(first.Step), b.BenchAt(second.Step)
	return SameWork(x, y) && maps.Equal(x.Setting.With(first.With), y.Setting.With(second.With))
}

// SameWork says that nothing was soldered or fitted between two moments.
func SameWork(a, b *netlist.Bench) bool {
	return slices.EqualFunc(a.Joints, b.Joints, func(x, y netlist.Joint) bool {
		return x.A == y.A && x.B == y.B && x.Kind == y.Kind && x.Place == y.Place
	}) && maps.EqualFunc(a.Fittings, b.Fittings, func(x, y *netlist.Fitting) bool { return x.Fact == y.Fact })
}

func contradict(b *netlist.Book, m netlist.Meaning, first, second *netlist.Reading) bool {
	n := At(b, m, first)
	low, high, ok := said(n.Meter, first)
	least, most, also := said(At(b, m, second).Meter, second)
	if !ok || !also || low <= most && least <= high {
		return false
	}
	p, q := n.Conductor(first.Red), n.Conductor(first.Black)
	if n.Climbs(n.circuit.Probe(p, q)) {
		return false // the one was taken earlier on the way up
	}
	return first.Red == second.Red || len(n.Drives(p, q))+len(n.Drives(q, p)) == 0
}

// said is from where to where a reading leaves the resistance between the
// probes open, in ohms; it fails for what is no reading of ohms.
func said(m Meter, r *netlist.Reading) (low, high float64, ok bool) {
	figure := r.Value.Value
	switch r.Sign {
	case "":
		slack := m.Slack(figure)
		return figure - m.Probes - slack, figure - m.Probes + slack, r.Value.Quantity == lang.Ohms
	case "open":
		return m.OverFrom(), math.Inf(1), true
	case "over":
		return rangeEnd * figure, math.Inf(1), r.Value.Quantity == lang.Ohms
	case "buzz":
		return 0, SurelySilent, true
	case "silent":
		return SurelyBuzzes, math.Inf(1), true
	}
	return 0, 0, false
}
