package verify

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Quote is a fact as evidence: its first line as typed, at the words of it
// that matter here; all of it where at is not known.
func Quote(f *netlist.Fact, at diag.Place) diag.Note {
	if !at.Known() {
		at = f.Place()
	}
	text, _, more := strings.Cut(f.Text(), "\n")
	if text = strings.TrimRight(text, "\r"); more {
		text += " …"
	}
	return diag.Note{Place: at, Text: text}
}

// QuotePart is the line that says what a part is.
func QuotePart(p *netlist.Part) diag.Note { return Quote(p.Facts[0], diag.Place{}) }

// And joins a list as it is spoken; beyond eight it counts the rest.
func And(list []string) string {
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
