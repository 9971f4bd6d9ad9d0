package shell

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"buzzout/lang/diag"
)

// defaultWidth is used where the width of the screen is not known, and where
// there is no screen.
const defaultWidth = 80

// A span is a piece of text in one style. Its text may come from a notebook:
// the page makes control characters visible before it writes it, so that
// nothing that a builder wrote reaches the terminal raw.
type span struct {
	style style
	text  string
}

// plain, strong and faint make spans; none of them is needed to understand
// what is written.
func plain(text string) span  { return span{plainStyle, text} }
func strong(text string) span { return span{strongStyle, text} }
func faint(text string) span  { return span{faintStyle, text} }

// A page is a text for a person that is being written: paragraphs, quotes
// and tables, broken at its width.
type page struct {
	text    strings.Builder
	width   int
	palette Palette
}

func newPage(width int, palette Palette) *page {
	if width <= 0 {
		width = defaultWidth
	}
	return &page{width: max(width, 30), palette: palette}
}

// gap leaves one blank line, unless the page is empty or has one already.
func (p *page) gap() {
	if s := p.text.String(); s != "" && !strings.HasSuffix(s, "\n\n") {
		p.text.WriteByte('\n')
	}
}

// say writes a paragraph: the first line indented by indent, the others by hang.
func (p *page) say(indent, hang int, spans ...span) {
	p.flow(indent, hang, words(spans))
}

// line writes one line as it is, without breaking it.
func (p *page) line(indent int, spans ...span) {
	p.text.WriteString(strings.Repeat(" ", indent))
	for _, s := range spans {
		p.paint(s)
	}
	p.text.WriteByte('\n')
}

func (p *page) paint(s span) {
	p.text.WriteString(p.palette.paint(s.style, diag.Visible(s.text)))
}

// words parts spans at their blanks; what stands together in neighbouring
// spans stays one unbroken word.
func words(spans []span) [][]span {
	var list [][]span
	open := false // the last word may still grow
	for _, s := range spans {
		for i, piece := range strings.FieldsFunc(s.text, breaks) {
			if i == 0 && open && !startsWithBreak(s.text) {
				list[len(list)-1] = append(list[len(list)-1], span{s.style, piece})
				continue
			}
			list = append(list, []span{{s.style, piece}})
		}
		if s.text != "" {
			open = len(list) > 0 && !endsWithBreak(s.text)
		}
	}
	return list
}

// A no-break blank holds a figure and its unit together, so it is not a break.
func breaks(r rune) bool { return r != '\u00a0' && r != '\u202f' && unicode.IsSpace(r) }

func startsWithBreak(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return breaks(r)
}

func endsWithBreak(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	return breaks(r)
}

func (p *page) flow(indent, hang int, list [][]span) {
	column, margin := 0, indent
	for _, word := range list {
		size := 0
		for _, s := range word {
			size += columns(diag.Visible(s.text))
		}
		switch {
		case column == 0:
			p.text.WriteString(strings.Repeat(" ", margin))
			column = margin
		case column+1+size > p.width:
			p.text.WriteByte('\n')
			margin = hang
			p.text.WriteString(strings.Repeat(" ", margin))
			column = margin
		default:
			p.text.WriteByte(' ')
			column++
		}
		for _, s := range word {
			p.paint(s)
		}
		column += size
	}
	p.text.WriteByte('\n')
}

// columns counts the columns that a text takes on a screen.
func columns(text string) int { return diag.Columns(text) }

// columnGap is how many blanks part the columns of a table.
const columnGap = 2

// A row of a table; each cell is a list of spans.
type row [][]span

// table writes rows with their columns aligned. The last column is broken
// at the width of the page, and goes on under itself.
func (p *page) table(indent int, rows []row) { p.columnsOf(indent, rows, p.lastCell) }

// listing is a table whose last column is a line of a notebook: it is cut off
// at the width of the page, since broken it would read as two lines.
func (p *page) listing(indent int, rows []row) { p.columnsOf(indent, rows, p.clippedCell) }

// columnWidths are the widths of the columns of a table, but for the last cell
// of each row.
func columnWidths(rows []row) []int {
	var widths []int
	for _, r := range rows {
		for i, cell := range r[:max(len(r)-1, 0)] {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], cellColumns(cell))
		}
	}
	return widths
}

// tableColumns counts the columns of the screen that a table takes where
// nothing of it is broken.
func tableColumns(rows []row) int {
	sum, last := 0, 0
	for _, w := range columnWidths(rows) {
		sum += w + columnGap
	}
	for _, r := range rows {
		last = max(last, cellColumns(r[len(r)-1]))
	}
	return sum + last
}

func (p *page) columnsOf(indent int, rows []row, last func(column int, cell []span)) {
	widths := columnWidths(rows)
	for _, r := range rows {
		p.text.WriteString(strings.Repeat(" ", indent))
		column := indent
		for i, cell := range r {
			if i == len(r)-1 {
				last(column, cell)
				break
			}
			for _, s := range cell {
				p.paint(s)
			}
			p.text.WriteString(strings.Repeat(" ", widths[i]-cellColumns(cell)+columnGap))
			column += widths[i] + columnGap
		}
	}
}

// lastCell writes a cell that begins at a column that the line has reached.
// Where too little room is left beside it, it goes on further left.
func (p *page) lastCell(column int, cell []span) {
	list := words(cell)
	if len(list) == 0 {
		p.trimBlanks()
		p.text.WriteByte('\n')
		return
	}
	hang := column
	if p.width-column < 24 {
		hang = min(column, 8)
	}
	sub := &page{width: p.width, palette: p.palette}
	sub.flow(column, hang, list)
	p.text.WriteString(sub.text.String()[column:])
}

func (p *page) clippedCell(column int, cell []span) {
	room := max(p.width-column, 20)
	for i, s := range cell {
		text := clip(s.text, room)
		room -= columns(diag.Visible(text))
		p.paint(span{s.style, text})
		if text != s.text || room <= 0 && i < len(cell)-1 {
			break
		}
	}
	p.trimBlanks()
	p.text.WriteByte('\n')
}

func (p *page) trimBlanks() {
	s := strings.TrimRight(p.text.String(), " ")
	p.text.Reset()
	p.text.WriteString(s)
}

func cellColumns(cell []span) int {
	n := 0
	for _, s := range cell {
		n += columns(diag.Visible(s.text))
	}
	return n
}

// cell makes a table's cell of plain text.
func cell(text string) []span { return []span{plain(text)} }

// quote writes facts as they were typed, each with its place in front, the
// places aligned.
func (p *page) quote(indent int, notes []diag.Note) {
	widest := 0
	for _, n := range notes {
		if n.Place.Known() {
			widest = max(widest, columns(placeText(n.Place)))
		}
	}
	for _, n := range notes {
		if !n.Place.Known() {
			if n.Text != "" {
				p.say(indent, indent, plain(n.Text))
			}
			continue
		}
		place := placeText(n.Place)
		text, about := n.Place.Text(), n.Text
		if quotes(n) {
			text, about = n.Text, ""
		}
		text = firstLine(text)
		room := p.width - indent - widest - 2
		if room < 20 { // a narrow screen: the fact goes under its place
			p.line(indent, faint(place))
			p.line(indent+2, plain(clip(text, max(p.width-indent-2, 20))))
		} else {
			p.line(indent, faint(place), plain(strings.Repeat(" ", widest-columns(place)+2)), plain(clip(text, room)))
		}
		if about != "" {
			p.say(indent+2, indent+2, faint(about))
		}
	}
}

// placeText is file and line: the column matters to an editor, and JSON has it.
func placeText(p diag.Place) string {
	at := p.Position()
	return at.File + ":" + strconv.Itoa(at.Line)
}

// firstLine is the first line of a fact that goes over several, with an
// ellipsis where something follows.
func firstLine(text string) string {
	line, rest, more := strings.Cut(text, "\n")
	line = strings.TrimRight(line, " \t\r")
	if more && strings.TrimSpace(rest) != "" {
		line += " …"
	}
	return strings.Join(strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == '\t' }), " ")
}

// clip shortens a text to a number of columns.
func clip(text string, room int) string {
	if columns(diag.Visible(text)) <= room {
		return text
	}
	var b strings.Builder
	used := 0
	for _, r := range text {
		n := columns(diag.Visible(string(r)))
		if used+n > room-1 {
			break
		}
		b.WriteRune(r)
		used += n
	}
	return strings.TrimRight(b.String(), " ") + "…"
}

// prose writes paragraphs parted by blank lines; lines that are set in by
// four blanks are an example, and are written as they stand.
func (p *page) prose(indent int, text string) {
	var paragraph []string
	flush := func() {
		if len(paragraph) > 0 {
			p.say(indent, indent, plain(strings.Join(paragraph, " ")))
			paragraph = nil
		}
	}
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "    "):
			flush()
			p.line(indent, plain(line))
		case strings.TrimSpace(line) == "":
			flush()
			p.gap()
		default:
			paragraph = append(paragraph, strings.TrimSpace(line))
		}
	}
	flush()
}
