package legend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// practice marks words about what valves and windings do that no source was
// read for; reasoned marks what follows by calculation.
const (
	practice = "common practice, no source"
	reasoned = "worked out from the taps"
)

// The effects of one arrangement: is gives by place, a terminal of the kind,
// the end that is really there; none for a place without a lead.
type effects struct {
	*built
	is   []int
	lead []netlist.TerminalID // by place
	list []Effect
	told []bool // by group: something of it has been told
}

func (b *built) arranged(ends, places []int) *effects {
	e := &effects{built: b, is: make([]int, len(b.part.Kind.Terminals)), lead: make([]netlist.TerminalID, len(b.part.Kind.Terminals)),
		told: make([]bool, len(b.lay.groups))}
	for t := range e.is {
		e.is[t], e.lead[t] = none, netlist.NoTerminal
	}
	for i, place := range places {
		if place != none && e.is[place] == none {
			e.is[place], e.lead[place] = ends[i], b.leads[i]
		}
	}
	return e
}

// tell tells all effects, the worst last.
func (e *effects) tell(loop Feedback) []Effect {
	for g := range e.lay.groups {
		if e.right(g) {
			continue
		}
		e.others(g)
		e.centre(g)
		e.screens(g)
	}
	for i := range e.part.Kind.Between {
		switch t := &e.part.Kind.Between[i]; t.Verb {
		case "load":
			e.load(t.From, t.To, figure(t.Figures, lang.Ohms))
		case "volts":
			e.volts(t.From, t.To, figure(t.Figures, lang.Volts))
		}
	}
	e.phase(loop)
	e.mains()
	slices.SortStableFunc(e.list, func(x, y Effect) int { return -cmp.Compare(x.Severity, y.Severity) })
	return e.list
}

func figure(list []lang.Figure, q lang.Quantity) float64 {
	for _, f := range list {
		if f.Quantity == q {
			return f.Value
		}
	}
	return 0
}

// right says that every place of a winding that has a lead has the right one,
// or one that does as well.
func (e *effects) right(g int) bool {
	same, turned := true, e.lay.free[g]
	for _, t := range e.lay.groups[g].ends {
		if e.is[t] != none {
			same = same && e.is[t] == t
			turned = turned && e.is[t] == e.lay.turned(t)
		}
	}
	return same || turned
}

func (e *effects) add(f Effect, places ...int) {
	for _, t := range places {
		if e.lead[t] != netlist.NoTerminal {
			f.Leads = append(f.Leads, e.lead[t])
		}
	}
	e.list = append(e.list, f)
}

// pair gives what is really on two places; ok is false where one has no lead,
// or both are right.
func (e *effects) pair(from, to int) (a, b int, ok bool) {
	a, b = e.is[from], e.is[to]
	if a == none || b == none || a == from && b == to || a == to && b == from {
		return a, b, false
	}
	return a, b, true
}

// load tells what a loudspeaker on two places does to the primary.
func (e *effects) load(from, to int, ohms float64) {
	a, b, ok := e.pair(from, to)
	if !ok || ohms <= 0 || ohms > lowLoad {
		return
	}
	place := fmt.Sprintf("a loudspeaker of %s on the %s place", shown(ohms, lang.Ohms), e.end(to))
	if e.lay.of[a] != e.lay.of[b] {
		e.add(Effect{Kind: NothingBetween, Severity: diag.Fault,
			Message: fmt.Sprintf("%s hangs between %s and %s, which are on different windings", place, e.end(a), e.end(b)),
			Then:    "it gets no signal, and the output stage has no load: full drive then punctures the transformer or the valve holders", Origin: practice}, from, to)
		return
	}
	turns, known := e.lay.between(a, b, byLoad)
	on := fmt.Sprintf("is between %s and %s", e.end(a), e.end(b))
	if a == from {
		on = fmt.Sprintf("is on the %s tap", e.end(b))
	}
	if !known || turns == 0 {
		e.add(Effect{Kind: LoadChanged, Severity: diag.Fault, Message: place + " " + on,
			Then: "what load that makes cannot be told without the load of that tap"}, from, to)
		return
	}
	f := Effect{Kind: LoadChanged, Severity: diag.Fault, Origin: reasoned + "; what that does is " + practice}
	times := ohms / (turns * turns)
	if primary := e.primary(); primary > 0 {
		f.Was, f.Is = primary, reflectedLoad(primary, turns*turns, ohms)
		f.Message = fmt.Sprintf("%s %s: the output valves see %s instead of %s", place, on,
			shown(f.Is, lang.Ohms), shown(f.Was, lang.Ohms))
	} else {
		f.Message = fmt.Sprintf("%s %s: the output valves see %s the load that the primary is wound for", place, on, timesSaid(times))
	}
	f.Then = strain(times)
	if math.Abs(math.Log(times)) < math.Log(1.1) {
		f.Severity = diag.Remark
	}
	e.add(f, from, to)
}

// primary is the load that the primary is wound for, 0 if nobody says.
func (e *effects) primary() float64 {
	most := 0.0
	for i := range e.part.Kind.Between {
		if t := &e.part.Kind.Between[i]; t.Verb == "load" {
			if z := figure(t.Figures, lang.Ohms); z > lowLoad {
				most = max(most, z)
			}
		}
	}
	return most
}

func timesSaid(x float64) string {
	switch {
	case math.Abs(x-2) < 0.01:
		return "twice"
	case math.Abs(x-0.5) < 0.005:
		return "half"
	case math.Abs(x-4) < 0.02:
		return "four times"
	case math.Abs(x-0.25) < 0.0025:
		return "a quarter of"
	}
	return timesShown(x) + " times"
}

// strain says what a load so many times the right one does. The share of the
// power takes the valves as limited by their volts if the load is too large,
// and by their amperes if it is too small. From which load on it does harm is
// common practice, no source.
func strain(times float64) string {
	switch {
	case times > 1.1:
		then := fmt.Sprintf("about %.0f %% of the power is left, and the anodes swing to higher peaks", 100/times)
		if times > 1.9 {
			then += ", at which valve holders and windings can spark over when it is driven hard"
		}
		return then
	case times < 0.9:
		then := fmt.Sprintf("about %.0f %% of the power comes out, and the valves carry more current than they are made for", 100*times)
		if times < 0.6 {
			then += ": their anodes overheat when it is driven hard"
		}
		return then
	}
	return "nobody will notice"
}

// volts tells what stands on two places instead of so many volts.
func (e *effects) volts(from, to int, volts float64) {
	a, b, ok := e.pair(from, to)
	g := e.lay.of[from]
	if !ok || g < 0 || e.told[g] || volts <= 0 || e.lay.of[a] != e.lay.of[b] || e.lay.of[a] < 0 {
		return
	}
	is, known := e.lay.between(a, b, byVolts)
	is = math.Abs(is)
	if !known || is == 0 || math.Abs(math.Log(is/volts)) < math.Log(1.02) {
		return
	}
	f := Effect{Severity: diag.Fault, Was: volts, Is: is, Origin: reasoned}
	places := fmt.Sprintf("%s and %s", e.end(from), e.end(to))
	was, gets := shown(volts, lang.Volts), shown(is, lang.Volts)
	switch e.uses[g] {
	case forMains:
		f.Kind = MainsTap
		f.Message = fmt.Sprintf("the mains of %s goes onto the turns for %s", was, gets)
		f.Then = fmt.Sprintf("every other winding gives %.2f times its volts", volts/is)
		f.Was, f.Is = is, volts
		if volts/is < 1.04 {
			f.Severity = diag.Caution
		}
	case forHeaters, forRectifierHeater:
		f.Kind = HeaterVolts
		f.Message = fmt.Sprintf("the heaters on %s get %s instead of %s", places, gets, was)
		f.Then = "they run cold, and the valves with them"
		if is > volts {
			f.Then = "they run too hot and do not last, or burn out at once"
		}
	case forBias:
		f.Kind = BiasVolts
		f.Message = fmt.Sprintf("the bias supply on %s gets %s instead of %s", places, gets, was)
		f.Then = "the output valves run cold"
		if is < volts {
			f.Severity = diag.Danger
			f.Then = "the output valves draw too much current, their anodes glow"
		}
	case forHT:
		f.Kind = HTVolts
		f.Message = fmt.Sprintf("between %s stand %s instead of %s", places, gets, was)
		f.Then = "the HT comes out too low"
		if is > volts {
			f.Severity = diag.Danger
			f.Then = "the HT comes out as many times too high: over the rating of the reservoir capacitors and the valves"
		}
	default:
		f.Kind = OtherWinding
		f.Message = fmt.Sprintf("between %s stand %s instead of %s", places, gets, was)
	}
	e.add(f, from, to)
}
