package shell

import (
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A leadRow is one flying lead, and what each source says of it.
type leadRow struct {
	Lead  string    `json:"lead"`
	Says  []saysRow `json:"says"`
	Holds string    `json:"holds"` // the end that it is taken to be; "" is open
	Agree bool      `json:"agree"`
}

type saysRow struct {
	Source string `json:"source"`
	End    string `json:"end"` // "unknown" where the source does not know, "" where it does not speak of the lead
}

type keyedPart struct {
	Part    string           `json:"part"`
	Sources listOf[string]   `json:"sources"`
	Leads   listOf[leadRow]  `json:"leads"`
	Where   listOf[placeDoc] `json:"where"`
}

type sourcesAnswer struct {
	Parts listOf[keyedPart] `json:"parts"`
}

func askSources(s *Session, a *asked) (answer, *diag.Diagnostic) {
	var only *netlist.Part
	if a.word(0) != "" {
		var wrong *diag.Diagnostic
		if only, wrong = s.partAsked(a, 0); wrong != nil {
			return nil, wrong
		}
	}
	meanings := s.book.Meanings()
	var found sourcesAnswer
	for _, p := range s.book.Parts {
		if only != nil && p != only {
			continue
		}
		if k, any := s.keyed(p, meanings); any {
			found.Parts = append(found.Parts, k)
		}
	}
	return found, nil
}

func (s *Session) keyed(p *netlist.Part, meanings []netlist.Meaning) (keyedPart, bool) {
	row := keyedPart{Part: p.Ref}
	var keys []*netlist.ColourKey
	for _, k := range s.book.Keys {
		if k.Part == p {
			keys = append(keys, k)
			row.Sources = append(row.Sources, k.Origin)
			row.Where = append(row.Where, factPlaces(k.Facts...)...)
		}
	}
	for _, id := range p.Terminals {
		if !s.book.Terminals[id].Lead {
			continue
		}
		lead := leadRow{Lead: s.book.Terminals[id].Name, Agree: true}
		var ends []netlist.TerminalID
		for _, k := range keys {
			says, end := saysRow{Source: k.Origin}, s.says(k, id)
			if end != nil {
				says.End = "unknown"
				if *end != netlist.NoTerminal {
					says.End = s.book.Terminals[*end].Name
					if !slices.Contains(ends, *end) {
						ends = append(ends, *end)
					}
				}
			}
			lead.Says = append(lead.Says, says)
		}
		lead.Agree = len(ends) <= 1
		lead.Holds = s.holds(id, meanings)
		row.Leads = append(row.Leads, lead)
	}
	return row, len(keys) > 0
}

// says is the end that a key gives a lead; nil where it does not speak of it.
func (s *Session) says(k *netlist.ColourKey, lead netlist.TerminalID) *netlist.TerminalID {
	for i := range k.Pairs {
		if k.Pairs[i].Lead == lead {
			return &k.Pairs[i].End
		}
	}
	return nil
}

// holds is the end that a lead is in every meaning, "" where they differ.
func (s *Session) holds(lead netlist.TerminalID, meanings []netlist.Meaning) string {
	end, known := meanings[0].Ends[lead]
	for _, m := range meanings[1:] {
		if other, also := m.Ends[lead]; !known || !also || other != end {
			return ""
		}
	}
	if !known {
		return ""
	}
	return s.book.Terminals[end].Name
}

func (a sourcesAnswer) write(p *page) {
	if len(a.Parts) == 0 {
		p.say(0, 0, plain("No part here has a colour key. One is told by the fact colours."))
		return
	}
	for _, part := range a.Parts {
		p.gap()
		p.line(0, strong(part.Part))
		top := row{{faint("lead")}}
		for _, o := range part.Sources {
			top = append(top, []span{faint(o)})
		}
		rows := []row{append(top, []span{faint("taken as")})}
		for _, l := range part.Leads {
			r := row{leadName(l.Lead)}
			for _, says := range l.Says {
				r = append(r, cell(or(says.End, "-")))
			}
			r = append(r, l.taken())
			rows = append(rows, r)
		}
		p.table(2, rows)
	}
}

func (l *leadRow) taken() []span {
	switch {
	case l.Holds == "" && !l.Agree:
		return []span{{cautionStyle, "open: the sources disagree"}}
	case l.Holds == "":
		return cell("not known")
	case !l.Agree:
		return []span{plain(l.Holds + " "), {cautionStyle, "(the sources disagree)"}}
	}
	return cell(l.Holds)
}

// leadName paints the colour in a flying lead's name.
func leadName(name string) []span {
	c, tape, known := lang.ReadTaped(name)
	if !known {
		return cell(name)
	}
	spans := swatch(c)
	if tape > 0 {
		spans = append(spans, plain(name[len(c.String()):]))
	}
	return spans
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
