package rules

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// quote is a fact as evidence: its first line as typed, at the words of it
// that matter here.
func quote(f *netlist.Fact, at diag.Place) diag.Note {
	if !at.Known() {
		at = f.Place()
	}
	text, _, more := strings.Cut(f.Text(), "\n")
	if text = strings.TrimRight(text, "\r"); more {
		text += " …"
	}
	return diag.Note{Place: at, Text: text}
}

// quotePart is the line that says what a part is.
func quotePart(p *netlist.Part) diag.Note { return quote(p.Facts[0], diag.Place{}) }

// quotePlan is where the plan puts a terminal on its conductor, else the line
// of its part.
func quotePlan(b *netlist.Book, t netlist.TerminalID) diag.Note {
	if m := b.Mention(t); m.Fact != nil {
		return quote(m.Fact, m.Place)
	}
	return quotePart(b.Terminals[t].Part)
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

// and joins a list as it is spoken; beyond eight it counts the rest.
func and(list []string) string {
	const most = 8
	switch {
	case len(list) == 0:
		return ""
	case len(list) == 1:
		return list[0]
	case len(list) > most+1:
		return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), len(list)-most)
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
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
