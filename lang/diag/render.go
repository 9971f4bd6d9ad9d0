package diag

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Options say how diagnostics are shown. The zero value is fit for a file.
type Options struct {
	Width  int  // columns; 0 means 80
	Colour bool // use the colours of a terminal
	Limit  int  // how many are shown; 0 means 20. A danger is always shown, and does not count
}

const (
	usualWidth = 80
	leastWidth = 30
	usualLimit = 20
	indent     = "    "
)

// Render writes diagnostics in the order given, those that mean danger last,
// where the eye rests. Each is a place and a fact, the line of text with
// carets under the smallest part that shows it, and what else there is to say:
//
//	lantern.buzzout:14:17  V1 has no terminal 12
//	    lead green R3.2 V1.12
//	                    ^^^^^
//	    V1 is an ecc83 on a nine-pin base: its terminals are 1 to 9.
//	    Also at line 9: V1 was named an ecc83 here
//	    Nearest name: V1.2
//
// All text from notebooks is made visible first.
func Render(w io.Writer, list []Diagnostic, opts Options) error {
	if opts.Width == 0 {
		opts.Width = usualWidth
	}
	opts.Width = max(opts.Width, leastWidth)
	if opts.Limit <= 0 {
		opts.Limit = usualLimit
	}
	out := &page{Writer: bufio.NewWriter(w), Options: opts}
	shown, left := 0, 0
	for i := range list {
		switch {
		case list[i].Severity == Danger:
		case shown < opts.Limit:
			shown++
			out.diagnostic(&list[i])
		default:
			left++
		}
	}
	if left > 0 {
		out.gap()
		fmt.Fprintf(out, "and %d more\n", left)
	}
	for i := range list {
		if list[i].Severity == Danger {
			out.diagnostic(&list[i])
		}
	}
	return out.Flush()
}

// A page is what diagnostics are written on.
type page struct {
	*bufio.Writer
	Options
	begun bool
}

// gap parts what follows from what is there with an empty line.
func (p *page) gap() {
	if p.begun {
		p.WriteString("\n")
	}
	p.begun = true
}

// The colours of a terminal, by the codes of ECMA-48.
const (
	plain  = "\x1b[0m"
	bold   = "\x1b[1m"
	red    = "\x1b[31m"
	yellow = "\x1b[33m"
	cyan   = "\x1b[36m"
)

func (s Severity) colour() string {
	switch s {
	case Danger:
		return bold + red
	case Caution:
		return yellow
	case Remark:
		return cyan
	}
	return red
}

func (p *page) paint(text, colour string) string {
	if !p.Colour {
		return text
	}
	return colour + text + plain
}

func (p *page) diagnostic(d *Diagnostic) {
	p.gap()
	message := Visible(d.Message)
	if d.Severity != Fault && d.Severity.String() != "" {
		message = d.Severity.String() + ": " + message
	}
	if d.Place.Known() {
		place := Visible(d.Place.String())
		lines := wrap(place+"  "+message, p.Width, len(indent))
		lines[0] = strings.Replace(lines[0], place, p.paint(place, bold), 1)
		p.lines("", lines)
		p.excerpt(d)
	} else {
		p.lines("", wrap(message, p.Width, len(indent)))
	}
	for _, note := range d.Notes {
		p.paragraph("", note)
	}
	for _, also := range d.Also {
		p.paragraph("", "Also at "+alsoAt(d.Place, also.Place)+": "+also.Text)
	}
	if d.Nearest != "" {
		p.paragraph("", "Nearest name: "+d.Nearest)
	}
	label := "To mend: "
	for _, mend := range d.Mend {
		p.paragraph(label, mend)
		label = "     or: "
	}
}

// alsoAt names a place as seen from another: the line, and the file if it is
// not the same.
func alsoAt(from, place Place) string {
	at := place.Position()
	if from.Known() && from.Source.Name == at.File {
		return fmt.Sprintf("line %d", at.Line)
	}
	return fmt.Sprintf("%s:%d", at.File, at.Line)
}

// paragraph writes a text indented. Later lines begin under the text, where it
// has a label or a beginning with a colon and two blanks.
func (p *page) paragraph(label, text string) {
	text = label + Visible(text)
	hanging := len(label)
	if i := strings.Index(text, ":  "); i >= 0 {
		hanging = i + 1 + strings.IndexFunc(text[i+1:], func(r rune) bool { return r != ' ' })
	}
	p.lines(indent, wrap(text, p.Width-len(indent), max(hanging, 0)))
}

func (p *page) lines(before string, lines []string) {
	for _, line := range lines {
		p.WriteString(before)
		p.WriteString(line)
		p.WriteString("\n")
	}
}

// wrap breaks a text at blanks so that its lines have at most width columns,
// if its words allow; lines after the first are indented. Several blanks in a
// row are kept, except where the line breaks.
func wrap(text string, width, hanging int) []string {
	var lines []string
	line, blanks := "", ""
	for text != "" {
		word := strings.TrimLeft(text, " ")
		blanks, text = text[:len(text)-len(word)], word
		if end := strings.IndexByte(text, ' '); end >= 0 {
			word, text = text[:end], text[end:]
		} else {
			text = ""
		}
		if strings.TrimSpace(line) != "" && Columns(line)+len(blanks)+Columns(word) > width {
			lines = append(lines, line)
			line, blanks = strings.Repeat(" ", hanging), ""
		}
		line += blanks + word
	}
	return append(lines, line)
}

// Columns counts the columns that a text takes on a terminal, tabs aside: a
// combining mark takes none, an ideograph two.
func Columns(text string) int {
	n := 0
	for _, r := range text {
		n += columnsOf(r)
	}
	return n
}

func columnsOf(r rune) int {
	switch {
	case r < utf8.RuneSelf:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana),
		'\uFF01' <= r && r <= '\uFF60': // full-width forms of ASCII
		return 2
	}
	return 1
}

// A cell is one character of a line as it is shown.
type cell struct {
	text  string
	width int
	under bool // it is marked with a caret
}

// excerpt writes the line of a place, and carets under the place. There is
// nothing to show of an empty line.
func (p *page) excerpt(d *Diagnostic) {
	line, start := d.Place.Source.Line(d.Place.Start)
	line = strings.TrimRight(line, " \t")
	if line == "" {
		return
	}
	cells := cellsOf(line, d.Place.Start-start, d.Place.End-start)
	cells = window(cells, p.Width-len(indent))
	var text, carets strings.Builder
	under := 0
	for _, c := range cells {
		text.WriteString(c.text)
		switch {
		case c.text == "\t":
			carets.WriteString("\t")
		case c.under:
			carets.WriteString(strings.Repeat("^", c.width))
		default:
			carets.WriteString(strings.Repeat(" ", c.width))
		}
		if c.under {
			under = carets.Len()
		}
	}
	marks := carets.String()[:under]
	blank := strings.TrimRight(marks, "^")
	p.WriteString(indent + strings.TrimRight(text.String(), " \t") + "\n")
	p.WriteString(indent + blank + p.paint(marks[len(blank):], d.Severity.colour()) + "\n")
}

// cellsOf cuts a line into cells. The bytes from start to end are marked, at
// least one cell; after the line there is one more cell for the end of it.
func cellsOf(line string, start, end int) []cell {
	cells := make([]cell, 0, min(len(line), 4*usualWidth)+1)
	marked := false
	for i := 0; i < len(line); {
		r, size := utf8.DecodeRuneInString(line[i:])
		c := cell{text: line[i : i+size]}
		c.under = i+size > start && (i < end || !marked && i >= start)
		if r != '\t' {
			c.text = visibleRune(r, c.text)
			c.width = Columns(c.text)
		}
		marked = marked || c.under
		cells = append(cells, c)
		i += size
	}
	if !marked {
		cells = append(cells, cell{text: " ", width: 1, under: true})
	}
	return cells
}

// window cuts a line down to what fits, around its first mark, and shows with
// dots where it was cut. Tabs become single blanks if it has to cut.
func window(cells []cell, width int) []cell {
	total := 0
	for _, c := range cells {
		total += max(c.width, 1)
		if c.text == "\t" {
			total += 7
		}
	}
	if total <= width {
		return cells
	}
	cells = append([]cell(nil), cells...)
	mark := 0
	for i := range cells {
		if cells[i].text == "\t" {
			cells[i].text, cells[i].width = " ", 1
		}
	}
	for mark < len(cells)-1 && !cells[mark].under {
		mark++
	}
	// A third of the window stands before the mark.
	from, room := mark, width/3
	for from > 0 && room >= cells[from-1].width {
		from--
		room -= cells[from].width
	}
	to, room := from, width-2*len("..")
	for to < len(cells) && room >= cells[to].width {
		room -= cells[to].width
		to++
	}
	for from > 0 && to == len(cells) && room >= cells[from-1].width { // the end is near
		from--
		room -= cells[from].width
	}
	cut := cells[from:to:to]
	if from > 0 {
		cut = append([]cell{{text: "..", width: 2}}, cut...)
	}
	if to < len(cells) {
		cut = append(cut, cell{text: "..", width: 2})
	}
	return cut
}
