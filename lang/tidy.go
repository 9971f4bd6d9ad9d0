package lang

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"buzzout/lang/diag"
)

// Tidy gives a notebook in the one style there is. Only white space changes:
// words, signs and comments stay as they are and in their order, line by line.
// Tidying twice is the same as once.
//
// A text with mistakes is refused: it is given back as it was, with them.
//
// It is done on tokens, not on the tree, so that no comment can be lost.
func Tidy(src *diag.Source) (string, []diag.Diagnostic) {
	if file := Parse(src); len(file.Mistakes) > 0 {
		return src.Text, file.Mistakes
	}
	t := tidier{text: strings.TrimPrefix(src.Text, byteOrderMark)}
	t.readRows()
	t.dropEmptyRows()
	t.layOut()
	t.alignComments()
	return t.String(), nil
}

const (
	tidyIndent = "    "
	// widestColumn is the widest that a word of a column may be for others to
	// be moved under it, and widestRest the same for all before a remark, and
	// widestLine for all before a comment.
	widestColumn = 24
	widestRest   = 44
	widestLine   = 64
	commentGap   = 2
)

// A tidier holds a text as rows, one a line.
type tidier struct {
	text string
	rows []row
}

// A row is one line of the text.
type row struct {
	tokens  []token
	comment string
	inside  bool  // it begins in braces
	form    *form // not nil: it may be aligned with its neighbours of the same form
	laid    string
}

func (r *row) empty() bool { return len(r.tokens) == 0 && r.comment == "" }

// readRows cuts the text into rows and finds out what each is about.
func (t *tidier) readRows() {
	s := newScanner(t.text, true)
	var r row
	var outer *form // of the statement whose braces are open
	for {
		tok := s.next()
		switch {
		case tok.kind == blankToken:
			continue
		case tok.kind == commentToken:
			r.comment = strings.TrimRight(t.text[tok.start:tok.end], " \t")
			continue
		case tok.kind != lexer.EOF && !t.endsLine(tok):
			r.tokens = append(r.tokens, tok)
			continue
		}
		next := row{inside: r.inside}
		for _, tok := range r.tokens {
			switch tok.kind {
			case openToken:
				next.inside = true
			case closeToken:
				next.inside = false
			}
		}
		r.form = t.alignable(&r, next.inside, outer)
		if next.inside && !r.inside {
			outer = t.formOf(r.tokens)
		}
		t.rows = append(t.rows, r)
		if tok.kind == lexer.EOF {
			return
		}
		r = next
	}
}

// endsLine tells a line break from a semicolon.
func (t *tidier) endsLine(tok token) bool {
	return tok.kind == breakToken && t.text[tok.start] != ';'
}

func (t *tidier) formOf(tokens []token) *form {
	if len(tokens) == 0 || tokens[0].kind != wordToken {
		return nil
	}
	return formOf(t.text[tokens[0].start:tokens[0].end])
}

// alignable gives the form of a row that is one whole fact, or one whole line
// of a block, and nil for others.
func (t *tidier) alignable(r *row, open bool, outer *form) *form {
	f := t.formOf(r.tokens)
	if f == nil || r.inside != open || f.Word == "strike" {
		return nil
	}
	if r.inside && (outer == nil || !outer.block) {
		return nil
	}
	depth := 0
	for _, tok := range r.tokens {
		switch {
		case tok.kind == openToken:
			depth++
		case tok.kind == closeToken:
			depth--
		case tok.kind == breakToken && depth == 0: // several in one row
			return nil
		}
	}
	return f
}

// dropEmptyRows leaves at most one empty row between others, and none at the
// beginning, at the end, after an opening brace and before a closing one.
func (t *tidier) dropEmptyRows() {
	kept := t.rows[:0]
	gap := false
	for _, r := range t.rows {
		if r.empty() {
			gap = true
			continue
		}
		closes := len(r.tokens) > 0 && r.tokens[0].kind == closeToken
		if gap && len(kept) > 0 && !closes && !opensBlock(kept[len(kept)-1]) {
			kept = append(kept, row{inside: r.inside})
		}
		gap = false
		kept = append(kept, r)
	}
	t.rows = kept
}

func opensBlock(r row) bool {
	return len(r.tokens) > 0 && r.tokens[len(r.tokens)-1].kind == openToken
}

// layOut writes every row, those of one form in a run under each other.
func (t *tidier) layOut() {
	for i := 0; i < len(t.rows); {
		end := i + 1
		for end < len(t.rows) && t.rows[i].form != nil && t.rows[end].form == t.rows[i].form {
			end++
		}
		if t.rows[i].form != nil {
			t.align(t.rows[i:end])
		} else {
			t.rows[i].laid = t.join(t.rows[i].tokens)
		}
		i = end
	}
	for i := range t.rows {
		r := &t.rows[i]
		closes := len(r.tokens) > 0 && r.tokens[0].kind == closeToken
		if r.inside && !closes && !r.empty() {
			r.laid = tidyIndent + r.laid
		}
	}
}

// align lays a run of rows of one form out in columns.
func (t *tidier) align(run []row) {
	cells := make([][]string, len(run))
	for i := range run {
		cells[i] = t.cells(&run[i])
	}
	widths := make([]int, len(cells[0]))
	for c := range widths {
		limit := widestColumn
		if c > run[0].form.columns {
			limit = widestRest
		}
		for _, row := range cells {
			if w := diag.Columns(row[c]); more(row, c) && w <= limit {
				widths[c] = max(widths[c], w)
			}
		}
	}
	for i, row := range cells {
		var b strings.Builder
		over := false
		for c, cell := range row {
			b.WriteString(cell)
			if !more(row, c) {
				break
			}
			if cell == "" && widths[c] == 0 {
				continue
			}
			gap := widths[c] - diag.Columns(cell)
			if over = over || gap < 0; over {
				gap = 0 // a row that sticks out is not in columns after that
			}
			b.WriteString(strings.Repeat(" ", gap+1))
		}
		run[i].laid = b.String()
	}
}

// more reports whether anything stands in the row after a cell.
func more(row []string, cell int) bool {
	return slices.ContainsFunc(row[cell+1:], func(s string) bool { return s != "" })
}

// cells cuts a row into the first word, the columns of its form, the rest, what
// follows the word that has a column of its own, and the remark with all after
// it. Every row of a form has as many.
func (t *tidier) cells(r *row) []string {
	rest, cells := r.tokens[1:], []string{t.join(r.tokens[:1])}
	for range r.form.columns {
		n := 0
		if len(rest) > 0 && rest[0].kind == wordToken {
			n = 1
			for n+1 < len(rest) && rest[n].kind == commaToken && rest[n+1].kind == wordToken && r.form.commas > len(cells)-1 {
				n += 2
			}
		}
		cells = append(cells, t.join(rest[:n]))
		rest = rest[n:]
	}
	end := slices.IndexFunc(rest, func(tok token) bool { return tok.kind == textToken || tok.kind == openToken })
	if end < 0 {
		end = len(rest)
	}
	split := end
	if r.form.column != "" {
		split = slices.IndexFunc(rest[:end], func(tok token) bool {
			return tok.kind == wordToken && Fold(t.text[tok.start:tok.end]) == r.form.column
		})
		if split < 0 {
			split = end
		}
		cells = append(cells, t.join(rest[:split]), t.join(rest[split:end]))
	} else {
		cells = append(cells, t.join(rest[:end]))
	}
	return append(cells, t.join(rest[end:]))
}

// join writes tokens with one blank between them, and none before a comma or
// semicolon.
func (t *tidier) join(tokens []token) string {
	var b strings.Builder
	for i, tok := range tokens {
		if i > 0 && tok.kind != commaToken && tok.kind != breakToken {
			b.WriteByte(' ')
		}
		b.WriteString(t.text[tok.start:tok.end])
	}
	return b.String()
}

// alignComments puts the comments behind neighbouring rows under each other.
func (t *tidier) alignComments() {
	for i := 0; i < len(t.rows); i++ {
		end, width := i, 0
		for end < len(t.rows) && t.rows[end].comment != "" && len(t.rows[end].tokens) > 0 {
			if w := diag.Columns(t.rows[end].laid); w <= widestLine {
				width = max(width, w)
			}
			end++
		}
		for ; i < end; i++ {
			r := &t.rows[i]
			r.laid += strings.Repeat(" ", max(width-diag.Columns(r.laid), 0)+commentGap) + r.comment
		}
		if i < len(t.rows) && len(t.rows[i].tokens) == 0 {
			t.rows[i].laid += t.rows[i].comment // its indent is there already
		}
	}
}

func (t *tidier) String() string {
	var b strings.Builder
	for _, r := range t.rows {
		b.WriteString(r.laid)
		b.WriteByte('\n')
	}
	return b.String()
}
