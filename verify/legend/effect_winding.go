package legend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// others tells of a winding whose places have ends of other windings.
func (e *effects) others(g int) {
	ends := e.lay.groups[g].ends
	at := map[int][]int{} // group of what is there: places
	var groups []int
	for _, t := range ends {
		if e.is[t] == none {
			continue
		}
		other := e.lay.of[e.is[t]]
		if !slices.Contains(groups, other) {
			groups = append(groups, other)
		}
		at[other] = append(at[other], t)
	}
	for _, other := range groups {
		if other == g || other < 0 {
			continue
		}
		e.told[g] = true
		e.taken(g, other, at[other])
	}
}

// taken tells of ends of one winding that sit on places of another.
func (e *effects) taken(g, other int, places []int) {
	f := Effect{Severity: diag.Fault, Origin: practice}
	var names, theirs []string
	for _, t := range places {
		names = append(names, e.end(t))
		theirs = append(theirs, e.end(e.is[t]))
	}
	f.Was, f.Is = e.between(places, false), e.between(places, true)
	figures := ""
	if f.Was > 0 && f.Is > 0 {
		figures = fmt.Sprintf(", %s instead of %s", shown(f.Is, lang.Volts), shown(f.Was, lang.Volts))
	}
	is, sit, on := listed(theirs), "sit", listed(names)
	place := "places"
	if len(places) == 1 {
		sit, place = "sits", "place"
	}
	use, its := e.uses[g], e.uses[other]
	heaters := func(p purpose) bool { return p == forHeaters || p == forRectifierHeater }
	switch {
	case heaters(use) && (its == forHT || its == forAnodes):
		f.Kind, f.Severity = HTForHeaters, diag.Danger
		f.Message = fmt.Sprintf("%s of the %s winding %s on the heater %s %s%s: an HT winding is taken for a heater winding", is, e.lay.groups[other].name, sit, place, on, figures)
		f.Then = "the heaters burn out, and every heater pin is lethal to touch"
	case use == forHT && heaters(its):
		f.Kind = HeatersForHT
		f.Message = fmt.Sprintf("%s of the %s winding %s on the HT %s %s%s: a heater winding is taken for the HT winding", is, e.lay.groups[other].name, sit, place, on, figures)
		f.Then = "there is next to no HT"
	case use == forMains:
		f.Kind, f.Severity = MainsElsewhere, diag.Danger
		f.Message = fmt.Sprintf("%s of the %s winding %s on the mains %s %s", is, e.lay.groups[other].name, sit, place, on)
		f.Then = "mains goes onto a winding that is not made for it"
		if f.Was > 0 && f.Is > 0 {
			f.Then = fmt.Sprintf("every other winding gives %s times its volts", timesShown(f.Was/f.Is))
			f.Was, f.Is = f.Is, f.Was
			if f.Is > f.Was {
				f.Then += ", which is lethal and burns the winding"
			}
		}
	case its == forMains:
		f.Kind, f.Severity = MainsElsewhere, diag.Danger
		f.Message = fmt.Sprintf("%s of the primary %s on the %s %s of the %s winding", is, sit, place, on, e.lay.groups[g].name)
		f.Then = "what hangs there is as lethal as the mains, and is not parted from it if the primary is wired as well"
	case heaters(use) && heaters(its) && (e.onHT(g) || e.onHT(other)):
		f.Kind, f.Severity = HTForHeaters, diag.Danger
		f.Message = fmt.Sprintf("%s of the %s winding %s on the heater %s %s%s, and one of the two stands at the HT of a rectifier", is, e.lay.groups[other].name, sit, place, on, figures)
		f.Then = "the heaters of the other valves come to full HT, or short it to ground: every heater pin is lethal to touch"
		e.add(f, places...)
		return
	case heaters(use):
		f.Kind = HeaterVolts
		f.Message = fmt.Sprintf("%s of the %s winding %s on the heater %s %s%s", is, e.lay.groups[other].name, sit, place, on, figures)
		f.Then = "the heaters get what that winding gives"
	default:
		f.Kind = OtherWinding
		f.Message = fmt.Sprintf("%s of the %s winding %s on the %s %s of the %s winding%s", is, e.lay.groups[other].name, sit, place, on, e.lay.groups[g].name, figures)
		highVolts := func(p purpose) bool { return p == forHT || p == forAnodes }
		if highVolts(its) && !highVolts(use) {
			f.Severity = diag.Danger
			f.Then = "what hangs there comes to HT, and is lethal to touch"
		}
	}
	if len(places) == 1 && len(e.lay.groups[g].ends) > 1 {
		e.oneEnd(&f, other, e.is[places[0]])
	}
	e.add(f, places...)
}

// oneEnd adds what it makes that only one end of a winding is on a place of
// another: where more of its ends are joined to something, the ground that most
// circuits have in common closes the way.
func (e *effects) oneEnd(f *Effect, winding, end int) {
	then := "current flows by way of whatever the two circuits have in common, as ground"
	if !slices.ContainsFunc(e.lay.groups[winding].ends, func(t int) bool { return t != end && slices.Contains(e.is, t) }) {
		then = "with the other ends of its own winding free nothing flows until a second mistake closes the way"
		if f.Kind != MainsElsewhere {
			f.Severity = diag.Fault
		}
	}
	if f.Then != "" {
		f.Then += "; "
	}
	f.Then += then
}

// onHT says that a heater winding heats a rectifier whose cathode it is: it
// stands at full HT.
func (e *effects) onHT(g int) bool {
	if e.uses[g] != forRectifierHeater {
		return false
	}
	return slices.ContainsFunc(e.lay.groups[g].ends, func(t int) bool { return e.at[e.part.Terminals[t]]&atDiode != 0 })
}

// between are the most volts between some places: those that belong there, or
// those of what is really there.
func (e *effects) between(places []int, really bool) float64 {
	most := 0.0
	for i, a := range places {
		for _, b := range places[:i] {
			x, y := a, b
			if really {
				x, y = e.is[a], e.is[b]
			}
			if v, ok := e.lay.between(x, y, byVolts); ok {
				most = max(most, math.Abs(v))
			}
		}
	}
	return most
}

// centre tells of a middle tap taken for an end of its winding, and the other
// way about.
func (e *effects) centre(g int) {
	ends := e.lay.groups[g].ends
	last := len(ends) - 1
	if last < 2 || e.uses[g] == forLoudspeaker || e.uses[g] == forMains {
		return // told by their loads and volts
	}
	for place, t := range ends {
		is := e.is[t]
		if is == none || is == t || e.lay.of[is] != g {
			continue
		}
		at := e.lay.at[is]
		outer := func(i int) bool { return i == 0 || i == last }
		if outer(place) == outer(at) || outer(at) {
			continue // told where the tap is found on an end's place
		}
		centre := e.lay.isCentre(is)
		if _, known := e.lay.between(ends[0], is, byVolts); known && !centre {
			continue // told by its volts
		}
		e.told[g] = true
		f := Effect{Kind: TapForEnd, Severity: diag.Fault, Origin: practice}
		if centre {
			f.Kind = CentreForEnd
			f.Message = fmt.Sprintf("%s sits on the place of %s: the centre tap is taken for an end", e.end(is), e.end(t))
			e.centreForEnd(&f, g)
		} else {
			f.Message = fmt.Sprintf("%s sits on the place of %s: a tap is taken for an end", e.end(is), e.end(t))
			f.Then = "what that makes cannot be told without the figures of that tap"
		}
		e.add(f, t)
	}
}

// centreForEnd says what a centre tap does in the place of an end.
func (e *effects) centreForEnd(f *Effect, g int) {
	switch e.uses[g] {
	case forHT:
		f.Severity = diag.Danger
		f.Then = "one side of the rectifier gets the whole winding, and the HT comes to about twice, over the rating of the reservoir capacitors"
		f.Was, f.Is = e.besideCentre(g)
	case forHeaters, forRectifierHeater:
		f.Then = "the heaters get a half of their volts, and an end of the winding lies where its centre belongs, which hums"
	case forAnodes:
		f.Then = "one valve is fed through the whole winding and the other at its middle: the pair is no longer balanced, and the steady current magnetises the core"
	case forGrids:
		f.Then = "one grid gets the whole signal and the other half of it, the same way round"
	}
}

// besideCentre are the most volts that stand between the place of a winding's
// centre and one of its outer ends, and those that belong there.
func (e *effects) besideCentre(g int) (was, is float64) {
	ends := e.lay.groups[g].ends
	middle := ends[len(ends)/2]
	if len(ends)%2 == 0 || e.is[middle] == none {
		return 0, 0
	}
	for _, outer := range [2]int{ends[0], ends[len(ends)-1]} {
		belongs, ok := e.lay.between(middle, outer, byVolts)
		if e.is[outer] == none || !ok {
			continue
		}
		if v, ok := e.lay.between(e.is[middle], e.is[outer], byVolts); ok && math.Abs(v) > is {
			was, is = math.Abs(belongs), math.Abs(v)
		}
	}
	return was, is
}

// screens tells of a screen tap of the other half: its screen then works
// against its anode.
func (e *effects) screens(g int) {
	ends := e.lay.groups[g].ends
	last := len(ends) - 1
	if e.uses[g] != forAnodes || last < 4 {
		return
	}
	half := func(t int) int { return cmp.Compare(2*e.lay.at[t], last) }
	for place := 1; place < last; place++ {
		t := ends[place]
		if is := e.is[t]; is != none && e.lay.of[is] == g && half(is) == -half(t) && half(t) != 0 {
			outer := ends[0]
			if half(t) > 0 {
				outer = ends[last]
			}
			if e.is[outer] == none || half(e.is[outer]) == half(is) {
				continue // the whole half is on the other side: that is told as phase
			}
			e.told[g] = true
			e.add(Effect{Kind: ScreenCrossed, Severity: diag.Fault,
				Message: fmt.Sprintf("%s sits on the place of %s: the screen tap is that of the other half", e.end(is), e.end(t)),
				Then:    "the screen grid works against its own anode: the stage feeds back onto itself the wrong way and may oscillate", Origin: practice}, t)
		}
	}
}
