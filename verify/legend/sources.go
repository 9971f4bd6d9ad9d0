package legend

import (
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// A Table has what every source says of the leads of a part side by side.
type Table struct {
	Part *netlist.Part
	// Sources are those of the notebook in the order in which they were first
	// told, and the published codes last.
	Sources []Source
	Rows    []LeadRow
	// Conflicts are between each two sources of the notebook, those that
	// matter first within a pair; Differs are those of the published code.
	Conflicts []Conflict
	Differs   []CodeDiffers
	// Collisions are colours of these leads of which two codes say different
	// things; Varies are points on which makers differ that touch the part.
	Collisions []parts.Collision
	Varies     []parts.Variation
}

// A Source is somebody who says which lead is which.
type Source struct {
	Name      string
	Paper     bool // a drawing; else it speaks of the object
	Published bool // the codes: the weakest, which never hold by themselves
	Key       *netlist.ColourKey
	// Trust is the latest fact that trusts this source, nil for none; Holds
	// says that it is the latest for the part.
	Trust  *netlist.Fact
	Holds  bool
	Reason string
	// Judgement is what the readings say of it.
	Judgement Judgement
	Agrees    []int // by source: leads of which both say the same end
}

// A LeadRow is one lead.
type LeadRow struct {
	Lead   netlist.TerminalID
	Colour lang.Colour
	Says   []Said // by source
	// Holds is the end that it is taken to be, NoTerminal where that is open
	// or nobody knows; Open says that sources differ and none is trusted.
	Holds netlist.TerminalID
	Open  bool
	Agree bool // no two sources of the notebook name different ends
}

// A Said is what one source says of one lead.
type Said struct {
	Silent  bool // it does not speak of the lead
	Unknown bool // it says that it does not know
	End     netlist.TerminalID
	Place   diag.Place
	Fact    *netlist.Fact
	Codes   []CodeEntry // of the published codes
}

// A CodeDiffers is a lead that a source of the notebook names otherwise than
// the published code for such leads would: that of transformers, or of mains.
type CodeDiffers struct {
	Source string
	Lead   netlist.TerminalID
	End    netlist.TerminalID   // by the source
	Code   []netlist.TerminalID // by the code; empty where the code has the colour for no winding of the part
	Entry  CodeEntry
}

// Sources puts the colour keys of a part side by side. Conflicts are found
// whether anything is wired or not. The part may be any with flying leads.
func Sources(book *netlist.Book, part *netlist.Part, meter Meter) *Table {
	t := &Table{Part: part}
	leads, measures, _ := read(book, part, meter, len(book.Facts))
	l := layoutOf(part)
	p := look(len(leads), l, measures, meter)
	teller := teller{book: book, part: part, leads: leads, p: p}
	trusts := book.Trusts(part)
	var names []naming
	for _, k := range book.KeysOf(part) {
		s := Source{Name: k.Origin, Paper: k.Paper, Key: k}
		for i, trust := range trusts {
			if trust.Key == k {
				s.Trust, s.Reason, s.Holds = trust.Fact, trust.Reason, i == len(trusts)-1
			}
		}
		n := namingOf(book, leads, k)
		s.Judgement = teller.judgement(n)
		names = append(names, n)
		t.Sources = append(t.Sources, s)
	}
	if len(t.Sources) == 0 {
		return t
	}
	t.Conflicts = conflictsOf(book, part)
	loose := looseOf(book, part, leads)
	t.Sources = append(t.Sources, Source{Name: netlist.Published, Published: true})
	for i := range names {
		t.Sources[i].Agrees = make([]int, len(t.Sources))
		for k := range names {
			other := names[k].aligned(names[i], loose)
			for lead, end := range names[i].ends {
				if end != none && other.ends[lead] == end {
					t.Sources[i].Agrees[k]++
				}
			}
		}
	}
	t.Sources[len(names)].Agrees = make([]int, len(t.Sources))
	t.rows(book, part, leads, names, l, loose)
	return t
}

// InDispute are the parts about whose leads sources differ in something that
// matters, and of which none is trusted.
func InDispute(book *netlist.Book) []*netlist.Part {
	meanings := book.Meanings()
	if len(meanings) == 1 {
		return nil
	}
	var list []*netlist.Part
	for _, p := range book.Parts {
		open := func(lead netlist.TerminalID) bool { _, open := holds(meanings, lead); return open }
		matters := func(c Conflict) bool { return c.Weight > NoMatter && slices.ContainsFunc(c.Leads, open) }
		if slices.ContainsFunc(conflictsOf(book, p), matters) {
			list = append(list, p)
		}
	}
	return list
}

// conflictsOf are the differences between each two sources of a part.
func conflictsOf(book *netlist.Book, p *netlist.Part) []Conflict {
	leads, l := leadsOf(book, p), layoutOf(p)
	loose := looseOf(book, p, leads)
	var names []naming
	var list []Conflict
	for _, k := range book.KeysOf(p) {
		n := namingOf(book, leads, k)
		for _, other := range names {
			list = append(list, conflicts(book, p, l, leads, other, n, loose)...)
		}
		names = append(names, n)
	}
	return list
}

func (t *Table) rows(book *netlist.Book, part *netlist.Part, leads []netlist.TerminalID, names []naming, l *layout, loose [][]int) {
	codes := newCoder(book, part, l)
	meanings := book.Meanings()
	var colours []lang.Colour
	for i, lead := range leads {
		r := LeadRow{Lead: lead, Holds: netlist.NoTerminal, Agree: true}
		r.Colour, _, _ = lang.ReadTaped(book.Terminals[lead].Name)
		if !slices.Contains(colours, r.Colour) {
			colours = append(colours, r.Colour)
		}
		first := none
		for n := range names {
			said := Said{Silent: true, End: netlist.NoTerminal}
			for _, pair := range t.Sources[n].Key.Pairs {
				if pair.Lead == lead {
					said = Said{Unknown: pair.End == netlist.NoTerminal, End: pair.End, Place: pair.Place, Fact: pair.Fact}
				}
			}
			// Leads of one colour are compared as a set: the tape tells no end.
			if end := names[n].aligned(names[0], loose).ends[i]; end != none {
				r.Agree = r.Agree && (first == none || first == end)
				first = end
			}
			r.Says = append(r.Says, said)
		}
		entries := codes.entries(r.Colour)
		r.Says = append(r.Says, Said{Silent: len(entries) == 0, End: netlist.NoTerminal, Codes: entries})
		r.Holds, r.Open = holds(meanings, lead)
		t.Rows = append(t.Rows, r)
		for n := range names {
			if names[n].ends[i] == none {
				continue
			}
			t.code(n, lead, part.Terminals[names[n].ends[i]], entries)
		}
	}
	t.Collisions = collide(colours)
	t.Varies = codes.varies()
}

// code compares one source with the published code, in what the code says
// for certain of a winding that the part has. What is from memory decides
// nothing.
func (t *Table) code(source int, lead, end netlist.TerminalID, entries []CodeEntry) {
	var code []netlist.TerminalID
	var entry CodeEntry
	for _, e := range entries {
		if e.Code == WireCode || e.Status != "verified" || len(e.Ends) == 0 {
			continue
		}
		if entry.Code == "" {
			entry = e
		}
		code = append(code, e.Ends...)
	}
	published := len(t.Sources) - 1
	switch {
	case len(code) == 0:
	case slices.Contains(code, end):
		t.Sources[source].Agrees[published]++
		t.Sources[published].Agrees[source]++
	default:
		t.Differs = append(t.Differs, CodeDiffers{t.Sources[source].Name, lead, end, code, entry})
	}
}

// holds is the end that a lead has in all meanings.
func holds(meanings []netlist.Meaning, lead netlist.TerminalID) (end netlist.TerminalID, open bool) {
	end, known := meanings[0].Ends[lead]
	for _, m := range meanings[1:] {
		if other, also := m.Ends[lead]; also != known || other != end {
			return netlist.NoTerminal, true
		}
	}
	if !known {
		return netlist.NoTerminal, false
	}
	return end, false
}
