package shell

import (
	"buzzout/netlist"
	"buzzout/verify"
)

// A supposed finding was made under one meaning of the leads' colours.
type supposed struct {
	verify.Finding
	meaning int
}

// under makes one list of what was found under several meanings. A finding
// that holds whichever source of a part is right does not hang on that part;
// what it does hang on, it says.
func under(book *netlist.Book, meanings []netlist.Meaning, found []supposed) []verify.Finding {
	holds := map[string][]bool{} // by finding: under which meanings
	for _, f := range found {
		key := findingKey(f.Finding)
		if holds[key] == nil {
			holds[key] = make([]bool, len(meanings))
		}
		holds[key][f.meaning] = true
	}
	var list []verify.Finding
	told := map[string]bool{}
	for _, f := range found {
		in := holds[findingKey(f.Finding)]
		var names []string
		for _, p := range book.Parts {
			if origin := meanings[f.meaning].Origins[p]; origin != "" && hangsOn(meanings, in, p) {
				names = append(names, origin+" is right about "+p.Ref)
			}
		}
		if f.Under == "" {
			f.Under = joinAnd(names)
		}
		if key := findingKey(f.Finding); len(meanings) == 1 || !told[key] {
			told[key] = true
			list = append(list, f.Finding)
		}
	}
	return list
}

// hangsOn reports whether another source of a part, all else alike, makes a
// finding come or go. in says under which meanings it holds.
func hangsOn(meanings []netlist.Meaning, in []bool, p *netlist.Part) bool {
	for i := range meanings {
		for k := range meanings {
			if in[i] != in[k] && butFor(meanings[i], meanings[k], p) {
				return true
			}
		}
	}
	return false
}

// butFor says that two meanings differ in the source of one part and in no
// other.
func butFor(a, b netlist.Meaning, p *netlist.Part) bool {
	if a.Origins[p] == b.Origins[p] {
		return false
	}
	for part, origin := range a.Origins {
		if part != p && b.Origins[part] != origin {
			return false
		}
	}
	return true
}
