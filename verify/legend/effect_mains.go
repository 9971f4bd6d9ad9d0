package legend

import (
	"fmt"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// mains tells of the leads of a mains cord or inlet on each other's places.
func (e *effects) mains() {
	live, neutral, earth := e.index("live"), e.index("neutral"), e.index("earth")
	if live == none || neutral == none {
		return
	}
	at := func(place, end int) bool { return place != none && end != none && e.is[place] == end }
	f := Effect{Kind: MainsCrossed, Severity: diag.Danger, Origin: practice}
	switch {
	case at(earth, live):
		f.Message = fmt.Sprintf("%s sits on the place of %s", e.end(live), e.end(earth))
		f.Then = "the chassis is at full mains voltage: whoever touches it is killed"
		e.add(f, earth)
	case at(earth, neutral):
		f.Message = fmt.Sprintf("%s sits on the place of %s", e.end(neutral), e.end(earth))
		f.Then = "the mains current flows by way of the chassis, and a break in the neutral makes the chassis live"
		e.add(f, earth)
	case at(live, earth), at(neutral, earth):
		f.Message = fmt.Sprintf("%s sits on a place of the mains", e.end(earth))
		f.Then = "the chassis is not earthed, and the earth wire carries the mains current"
		e.add(f, live, neutral)
	case at(live, neutral), at(neutral, live):
		f.Message = fmt.Sprintf("%s and %s are on each other's places", e.end(live), e.end(neutral))
		f.Then = "the fuse and a switch of one pole are in the neutral: the amplifier looks dead when they open, and is live"
		e.add(f, live, neutral)
	}
}

// index is a terminal of the kind by its name; none where the part has none.
func (e *effects) index(name string) int {
	if t := e.part.Called(name); t != netlist.NoTerminal {
		return e.book.Terminals[t].Index
	}
	return none
}
