package shell

import (
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A readingNote is a reading as it stands in the notebook.
type readingNote struct {
	Red   string   `json:"red"`
	Black string   `json:"black"`
	Value string   `json:"value"`
	Where placeDoc `json:"where"`
	place diag.Place
}

func (s *Session) readingNote(r *netlist.Reading) readingNote {
	return readingNote{s.book.Name(r.Red), s.book.Name(r.Black), valueText(r), placed(r.Fact.Place()), r.Fact.Place()}
}

func (s *Session) readingNotes(list []*netlist.Reading) listOf[readingNote] {
	var rows listOf[readingNote]
	for _, r := range list {
		rows = append(rows, s.readingNote(r))
	}
	return rows
}

// writeReadings quotes readings under a heading, each with its place.
func writeReadings(p *page, indent int, head string, list []readingNote) {
	if len(list) == 0 {
		return
	}
	p.say(indent, indent+2, faint(head))
	var notes []diag.Note
	for _, r := range list {
		notes = append(notes, diag.Note{Place: r.place})
	}
	p.quote(indent+2, notes)
}
