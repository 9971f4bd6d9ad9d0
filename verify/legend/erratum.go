package legend

import (
	"fmt"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// Erratum writes the disputes in which a drawing is wrong, or may be, as a
// text in Markdown that can be sent to whoever drew it. Without such a dispute
// it says so. Words of the notebook are shown as they are, and cannot make
// headings, tables or links.
func Erratum(book *netlist.Book, list []Dispute) string {
	var b strings.Builder
	title := "Erratum"
	if book.Title != "" {
		title += " to the drawing of " + plain(book.Title)
	}
	fmt.Fprintf(&b, "# %s\n", title)
	count := 0
	for i := range list {
		if d := &list[i]; d.Kind != WithTheWiring && d.drawn() != nil && d.Weight != NoMatter {
			count++
			d.write(&b, book, count)
		}
	}
	if count == 0 {
		b.WriteString("\nNo drawing is contradicted by another source or by readings.\n")
	}
	return b.String()
}

// drawn is what a drawing says in the dispute; nil if none has a part in it.
func (d *Dispute) drawn() *Statement {
	for i := range d.Said {
		if d.Said[i].Paper {
			return &d.Said[i]
		}
	}
	return nil
}

func (d *Dispute) write(b *strings.Builder, book *netlist.Book, number int) {
	part := plain(d.Part.Ref)
	if d.Part.Label != "" {
		part += " (" + plain(d.Part.Label) + ")"
	}
	fmt.Fprintf(b, "\n## %d. %s: %s\n\n", number, part, plain(d.Message))
	for _, s := range d.Said {
		if !s.Paper {
			continue
		}
		for _, drawing := range book.Drawings {
			if drawing.Name == s.Source && drawing.Remark != "" {
				fmt.Fprintf(b, "Drawing “%s”: %s.\n\n", plain(s.Source), strings.TrimSuffix(plain(drawing.Remark), "."))
			}
		}
	}
	d.table(b, book)
	fmt.Fprintf(b, "\nState: %s.\n", d.State)
	if d.Decided != nil {
		fmt.Fprintf(b, "\n**What holds:** %s", plain(d.Decided.Source))
		if d.Decided.Instead != "" {
			fmt.Fprintf(b, ", instead of %s", plain(d.Decided.Instead))
		}
		if d.Decided.Why != "" {
			fmt.Fprintf(b, ": “%s”", plain(d.Decided.Why))
		}
		fmt.Fprintf(b, " (%s).\n", where(d.Decided.Fact.Place()))
	}
	d.proposed(b, book)
	writeReadings(b, "Readings before that", d.Before, d.Decided == nil)
	writeReadings(b, "Readings since", d.After, false)
	writeReadings(b, "Readings since that speak against it", d.Reopened, false)
	d.judged(b)
	d.changed(b, book)
}

// table has what each said of each lead.
func (d *Dispute) table(b *strings.Builder, book *netlist.Book) {
	b.WriteString("| lead |")
	for _, s := range d.Said {
		fmt.Fprintf(b, " %s |", plain(s.Source))
	}
	b.WriteString("\n| --- |" + strings.Repeat(" --- |", len(d.Said)) + "\n")
	for i, lead := range d.Leads {
		fmt.Fprintf(b, "| %s |", plain(book.Terminals[lead].Name))
		for _, s := range d.Said {
			name := "–"
			if s.Ends[i] != netlist.NoTerminal {
				name = plain(book.NameWithin(s.Ends[i]))
			}
			fmt.Fprintf(b, " %s |", name)
		}
		b.WriteString("\n")
	}
}

// proposed is the correction that the drawing needs, where what holds is not
// what it says; else that it stands, or that nobody knows yet.
func (d *Dispute) proposed(b *strings.Builder, book *netlist.Book) {
	drawn := d.drawn()
	var list []string
	for _, s := range d.Said {
		held := d.Decided != nil && d.State == Settled && lang.Fold(s.Source) == lang.Fold(d.Decided.Source)
		if !held && !s.Meter {
			continue
		}
		for i, lead := range d.Leads {
			if s.Ends[i] != drawn.Ends[i] && s.Ends[i] != netlist.NoTerminal {
				list = append(list, fmt.Sprintf("%s is %s", plain(book.Terminals[lead].Name), plain(book.NameWithin(s.Ends[i]))))
			}
		}
	}
	switch {
	case len(list) > 0:
		fmt.Fprintf(b, "\n**Correction proposed:** %s.\n", listed(list))
	case d.State == Settled:
		b.WriteString("\n**The drawing stands:** it says what holds.\n")
	case d.State == Undecided:
		b.WriteString("\n**Question:** which of these is right?\n")
	}
}

func writeReadings(b *strings.Builder, title string, list []*netlist.Reading, always bool) {
	if len(list) == 0 {
		return
	}
	if always {
		title = "Readings"
	}
	fmt.Fprintf(b, "\n**%s:**\n\n", title)
	for _, r := range list {
		fmt.Fprintf(b, "- `%s` (%s)\n", code(r.Fact.Text()), where(r.Fact.Place()))
	}
}

func (d *Dispute) judged(b *strings.Builder) {
	var lines []string
	fit := true
	for _, s := range d.Readings {
		if s.Verdict != Untested {
			lines = append(lines, fmt.Sprintf("- %s: %s\n", plain(s.Source), s.Verdict))
			fit = fit && s.Verdict == Agrees
		}
	}
	switch {
	case len(d.Before)+len(d.After) == 0:
		b.WriteString("\n**What the readings say:** nothing. No reading was taken at these leads.\n")
	case len(lines) > 1 && fit:
		b.WriteString("\n**What the readings say:** they fit either, and decide nothing.\n")
	case len(lines) > 0:
		fmt.Fprintf(b, "\n**What the readings say:**\n\n%s", strings.Join(lines, ""))
	}
}

// changed tells what a decision changed.
func (d *Dispute) changed(b *strings.Builder, book *netlist.Book) {
	if len(d.Changed) == 0 {
		return
	}
	b.WriteString("\n**What it changed:**\n\n")
	for _, c := range d.Changed {
		was := ""
		if c.Was != netlist.NoTerminal {
			was = ", and no longer " + plain(book.NameWithin(c.Was))
		}
		fmt.Fprintf(b, "- %s is %s from then on%s\n", plain(book.Name(c.Lead)), plain(book.NameWithin(c.Now)), was)
	}
	if d.Wired == SomeWrong {
		b.WriteString("- as wired then, leads were on wrong places\n")
	}
	for _, e := range d.Effects {
		fmt.Fprintf(b, "- as wired then, %s\n", plain(e.Message))
	}
}

// where is a place by file and line.
func where(p diag.Place) string {
	at := p.Position()
	return fmt.Sprintf("%s, line %d", plain(at.File), at.Line)
}

// plain writes a text of the notebook so that Markdown shows it as it is:
// marks are escaped, and what does not show or turns the line about is made
// visible.
func plain(text string) string {
	var b strings.Builder
	for _, r := range diag.Visible(text) {
		if strings.ContainsRune("\\`*_{}[]<>()#+!|~&", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// code writes a text between back quotes, in which nothing can be escaped.
func code(text string) string {
	return diag.Visible(strings.NewReplacer("`", "'", "\t", " ").Replace(text))
}
