package rules

import (
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// quotePlan is where the plan puts a terminal on its conductor, else the line
// of its part.
func quotePlan(b *netlist.Book, t netlist.TerminalID) diag.Note {
	if m := b.Mention(t); m.Fact != nil {
		return verify.Quote(m.Fact, m.Place)
	}
	return verify.QuotePart(b.Terminals[t].Part)
}

func names(b *netlist.Book, ts []netlist.TerminalID) []string {
	list := make([]string, len(ts))
	for i, t := range ts {
		list[i] = b.Name(t)
	}
	return list
}

func refs(ps []*netlist.Part) []string {
	list := make([]string, len(ps))
	for i, p := range ps {
		list[i] = p.Ref
	}
	return list
}

// netName is how the plan calls a conductor, nil where it is on none.
func netNames(b *netlist.Book, ids ...netlist.NetID) []string {
	var list []string
	for _, id := range ids {
		if id != netlist.NoNet {
			list = append(list, b.Nets[id].Name)
		}
	}
	return list
}

func verb(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

func has[K comparable, V any](m map[K]V, key K) bool {
	_, ok := m[key]
	return ok
}
