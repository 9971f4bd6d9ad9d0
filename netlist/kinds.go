package netlist

import (
	"slices"
	"strings"

	"buzzout/netlist/parts"
)

// single says that a part of this kind has one terminal, which the part's
// reference alone names.
func single(k *parts.Kind) bool { return len(k.Terminals) == 1 && !k.Any }

// opposite is the terminal whose place a terminal takes when the part sits the
// other way round: the other of two, the mirror in its row or ring, else the
// mirror in the order of all.
func opposite(k *parts.Kind, i int) int {
	for _, order := range append(slices.Clip(k.Rows), k.Rings...) {
		if at := slices.Index(order, i); at >= 0 {
			return order[len(order)-1-at]
		}
	}
	return len(k.Terminals) - 1 - i
}

// allAlike says that the terminals of a kind of two may be exchanged without
// any consequence, so that their order need not be told.
func allAlike(k *parts.Kind) bool {
	if len(k.Terminals) != 2 {
		return false
	}
	for _, a := range k.Alike {
		if a.But == parts.None && len(a.These) == 1 && len(a.Those) == 1 && a.These[0] != a.Those[0] {
			return true
		}
	}
	return false
}

// trackEnd is what an end of a resistance track is called: ccw, wiper or cw,
// or where a part has several tracks the name that says so, as a-wiper; ""
// where the terminal is no end of a track or has no such name.
func trackEnd(k *parts.Kind, terminal int) string {
	for i := range k.Elements {
		e := &k.Elements[i]
		at := slices.Index(e.Ends, terminal)
		if e.Type != parts.Track || at < 0 {
			continue
		}
		role := e.Type.Roles()[at]
		if found, _ := k.Find(role); len(found) == 1 {
			return role
		}
		for _, alias := range k.Terminals[terminal].Aliases {
			if strings.HasSuffix(alias, "-"+role) {
				return alias
			}
		}
	}
	return ""
}
