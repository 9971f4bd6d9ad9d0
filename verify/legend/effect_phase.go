package legend

import (
	"fmt"

	"buzzout/lang/diag"
)

// turned are the windings whose ends sit end for end, where that does anything.
func (e *effects) turned() []int {
	var list []int
	for g := range e.lay.groups {
		ends := e.lay.groups[g].ends
		if len(ends) < 2 || e.lay.free[g] {
			continue
		}
		over := e.is[ends[0]] != none && e.is[ends[len(ends)-1]] != none
		for i, t := range ends {
			over = over && (e.is[t] == none || e.is[t] == ends[len(ends)-1-i])
		}
		if over {
			list = append(list, g)
		}
	}
	return list
}

// signal says that a winding is on the way of the signal.
func (e *effects) signal(g int) bool {
	switch e.uses[g] {
	case forAnodes, forGrids, forLoudspeaker:
		return true
	case unknownPurpose:
		volts, _ := e.lay.groups[g].most()
		return volts == 0
	}
	return false
}

// phase tells of windings that are turned end for end.
func (e *effects) phase(loop Feedback) {
	var signal, power []int
	for _, g := range e.turned() {
		if e.signal(g) {
			signal = append(signal, g)
		} else {
			power = append(power, g)
		}
	}
	if len(power) > 0 {
		e.opposed(power)
	}
	if len(signal) > 0 || loop == Positive {
		e.turnedSignal(signal, loop)
	}
}

// named gives the names of windings, and their outer ends.
func (e *effects) named(windings []int) (names string, places []int) {
	var list []string
	for _, g := range windings {
		ends := e.lay.groups[g].ends
		list = append(list, e.lay.groups[g].name)
		places = append(places, ends[0], ends[len(ends)-1])
	}
	names = listed(list) + " winding"
	if len(list) > 1 {
		names += "s"
	}
	return names, places
}

// opposed tells of windings for power: by itself none minds which way round
// it is, and two that are joined do.
func (e *effects) opposed(windings []int) {
	names, places := e.named(windings)
	f := Effect{Kind: WindingsOpposed, Severity: diag.Caution, Origin: reasoned,
		Message: fmt.Sprintf("the ends of the %s are exchanged", names),
		Then:    "by itself nobody notices; joined with another winding it works against that: side by side the two short each other, one behind the other they take away what they should add"}
	for _, g := range windings {
		if e.uses[g] == forMains {
			f.Severity = diag.Danger
		}
	}
	e.add(f, places...)
}

// turnedSignal tells of windings on the way of the signal: what that does
// hangs on whether something is fed back round them.
func (e *effects) turnedSignal(windings []int, loop Feedback) {
	names, places := e.named(windings)
	f := Effect{Kind: PhaseTurned, Severity: diag.Remark, Origin: practice, Message: fmt.Sprintf("the ends of the %s are exchanged", names)}
	switch loop {
	case Positive:
		f.Kind, f.Severity = FeedbackTurned, diag.Fault
		adds := "the feedback adds to the signal instead of taking away"
		if len(windings) == 0 {
			f.Message = adds
		} else {
			f.Message += ", and " + adds
		}
		f.Then = "the amplifier howls as soon as it is warm: exchange the two outer ends of the output transformer's primary, or turn its secondary over"
	case NotAsked, Untold:
		f.Severity = diag.Caution
		f.Message += ": the signal comes out turned over"
		f.Then = "with feedback round it the amplifier howls; without, nobody hears it"
	case NoLoop:
		f.Message += ": the signal comes out turned over"
		f.Then = "nothing is fed back round it, so that nobody hears it"
	case Negative:
		f.Message += ", and the feedback takes away all the same"
		f.Then = "it is right as it is"
	}
	e.add(f, places...)
}
