package shell

import (
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

func ruleQueries() []query {
	return []query{
		{
			name: "kinds", bare: true, args: "[WORD]", line: "the kinds of part that a part fact can name",
			text: "Those that come with the tool, group by group, and the notebook's own. With a word: those whose name, " +
				"other names, title or group hold it. `about KIND` tells all of one.",
			example: "kinds jack",
			most:    1, takes: []slot{slotKind}, run: askKinds,
		},
		{
			name: "rules", bare: true, line: "what is looked for, rule by rule",
			text: "Of the notebook, the plan and the wiring as built. `explain RULE` tells why it matters, shows an example and says " +
				"how to check it at the bench.",
			example: "rules", run: askRules,
		},
		{
			name: "explain", bare: true, args: "RULE", line: "why a rule matters, an example, and how to check it at the bench",
			text:    "The name is printed with each finding.",
			example: "explain missing-joint",
			least:   1, most: 1, takes: []slot{slotRule}, run: askExplain,
		},
	}
}

type kindRow struct {
	Kind  string         `json:"kind"`
	Also  listOf[string] `json:"also"`
	Title string         `json:"title"`
	Group string         `json:"group"`
}

type kindsAnswer struct {
	Kinds listOf[kindRow] `json:"kinds"`
	word  string
}

func askKinds(s *Session, a *asked) (answer, *diag.Diagnostic) {
	found := kindsAnswer{word: a.word(0)}
	for _, k := range s.book.Library.Summaries() {
		if containsFold(k.Name+" "+strings.Join(k.Also, " ")+" "+k.Title+" "+k.Group, found.word) {
			found.Kinds = append(found.Kinds, kindRow{k.Name, k.Also, k.Title, k.Group})
		}
	}
	return found, nil
}

func (a kindsAnswer) write(p *page) {
	group := ""
	var rows []row
	flush := func() {
		if len(rows) > 0 {
			p.gap()
			p.line(0, strong(group))
			p.table(2, rows)
			rows = nil
		}
	}
	for _, k := range a.Kinds {
		if k.Group != group {
			flush()
			group = k.Group
		}
		names := k.Kind
		if len(k.Also) > 0 {
			names += " (" + strings.Join(k.Also, ", ") + ")"
		}
		rows = append(rows, row{cell(clip(names, 34)), cell(k.Title)})
	}
	flush()
	p.gap()
	p.say(0, 0, plain(tally(len(a.Kinds), "kind", a.word)))
}

type kindAbout struct {
	kindRow
	Terminals listOf[kindTerminal] `json:"terminals"`
	Elements  listOf[string]       `json:"elements"`
	Controls  listOf[string]       `json:"controls"`
	Contacts  listOf[string]       `json:"contacts"`
	Alike     listOf[string]       `json:"alike"`
	Limits    listOf[string]       `json:"limits"`
	Words     listOf[string]       `json:"words"`
	Origins   listOf[string]       `json:"sources"`
	counts    bool
	any       bool
}

type kindTerminal struct {
	Name      string         `json:"name"`
	Also      listOf[string] `json:"also"`
	Electrode string         `json:"electrode"`
	Note      string         `json:"note"`
}

func aboutKind(k *parts.Kind) *kindAbout {
	about := &kindAbout{kindRow: kindRow{Kind: k.Name, Also: k.Also, Title: k.Title}, Words: k.Words, counts: k.Counts, any: k.Any}
	name := func(i int) string { return k.Terminals[i].Name }
	all := func(list []int) string {
		var texts []string
		for _, i := range list {
			texts = append(texts, name(i))
		}
		return strings.Join(texts, " ")
	}
	for i, t := range k.Terminals {
		row := kindTerminal{Name: t.Name, Also: t.Aliases, Electrode: strings.Join(k.Electrodes(i), ", ")}
		switch {
		case t.Tie:
			row.Note = "a tag: it carries joints and needs no net"
		case t.Empty != "":
			row.Note = "solder nothing here: " + t.Empty
		}
		about.Terminals = append(about.Terminals, row)
	}
	for _, e := range k.Elements {
		text := e.Type.String() + " " + all(e.Ends)
		if e.Polar {
			text += ", polarised: " + name(e.Ends[0]) + " is plus"
		}
		if len(e.Figures) > 0 {
			text += ", " + strings.Join(figureTexts(e.Figures), " ")
		}
		about.Elements = append(about.Elements, text)
	}
	for _, c := range k.Controls {
		positions := strings.Join(c.Positions, ", ")
		if c.Turns {
			positions = "turns, 0%..100%"
		}
		about.Controls = append(about.Controls, c.Name+": "+positions)
	}
	for _, c := range k.Contacts {
		var when []string
		for _, at := range c.Positions {
			when = append(when, k.Controls[c.Control].Positions[at])
		}
		about.Contacts = append(about.Contacts, name(c.A)+" and "+name(c.B)+" meet while "+k.Controls[c.Control].Name+" is "+strings.Join(when, " or "))
	}
	for _, a := range k.Alike {
		text := all(a.These) + " may be exchanged with " + all(a.Those)
		switch a.But {
		case parts.Hum:
			text += ", though it may hum more"
		case parts.Phase:
			text += ", though it turns the signal over"
		}
		about.Alike = append(about.Alike, text)
	}
	for _, l := range k.Limits {
		about.Limits = append(about.Limits, strings.TrimSpace(l.Name+" "+l.Figure.Text+" "+l.Remark))
	}
	for _, o := range k.Origins {
		about.Origins = append(about.Origins, strings.TrimSpace(o.Status+" "+o.Remark))
	}
	return about
}

// oneRow puts short words side by side.
func oneRow(words []string) []string {
	if len(words) == 0 {
		return nil
	}
	return []string{strings.Join(words, ", ")}
}

func (a *kindAbout) write(p *page) {
	first := []span{plain("Kind "), strong(a.Kind)}
	if len(a.Also) > 0 {
		first = append(first, plain(", also called "+strings.Join(a.Also, ", ")))
	}
	if a.Title != "" {
		first = append(first, plain(": "+a.Title))
	}
	p.say(0, 2, append(first, plain("."))...)
	switch {
	case a.counts:
		p.say(2, 4, plain("The bare number on the part's line is how many terminals it has."))
	case a.any:
		p.say(2, 4, plain("Its terminals are those that the notebook names."))
	case len(a.Terminals) == 0:
		p.say(2, 4, plain("help "+a.Kind+" shows how."))
	}
	var rows []row
	for _, t := range a.Terminals {
		tail := t.Electrode
		if len(t.Also) > 0 {
			tail = strings.TrimSpace(tail + " (also " + strings.Join(t.Also, ", ") + ")")
		}
		if t.Note != "" {
			tail = strings.TrimSpace(tail + " " + t.Note)
		}
		rows = append(rows, row{{strong(t.Name)}, cell(tail)})
	}
	p.table(2, rows)
	rows = nil
	for _, group := range []struct {
		title string
		lines []string
	}{
		{"between", a.Elements}, {"control", a.Controls}, {"contact", a.Contacts}, {"alike", a.Alike},
		{"limit", a.Limits}, {"words", oneRow(a.Words)}, {"source", a.Origins},
	} {
		for i, line := range group.lines {
			title := group.title
			if i > 0 {
				title = ""
			}
			rows = append(rows, row{{faint(title)}, cell(line)})
		}
	}
	p.table(2, rows)
}
