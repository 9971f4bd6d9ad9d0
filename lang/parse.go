package lang

import (
	"errors"
	"slices"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"buzzout/lang/diag"
)

// The bounds of what is read. A notebook of 10,000 parts and 30,000 joints has
// about a quarter of MaxSize.
const (
	// MaxSize is how long a text may be, in bytes.
	MaxSize = 8 << 20
	// maxMistakes is after how many mistakes reading stops: that is no notebook.
	maxMistakes = 1000
	// maxTokens is how many words and signs one statement may have.
	maxTokens = 200_000
	// longestHead is how many of them may stand before a list in braces for
	// its lines to be read one by one, each with the head.
	longestHead = 64
)

// Parse reads a notebook. It never fails: what could not be read is in
// File.Mistakes, and the rest is understood.
//
// Words with which questions begin at the prompt may be given, so that a
// question that strayed into a file is called one; it is a mistake all the same.
func Parse(src *diag.Source, questions ...string) *File {
	return parse(src, questions, false)
}

// ParseLine reads what was typed at the prompt: facts, and questions that begin
// with "try" or with one of these words.
func ParseLine(src *diag.Source, questions ...string) *File {
	return parse(src, questions, true)
}

// NeedsMore reports whether a brace is open at the end of the text, so that a
// shell should ask for another line before it parses.
func NeedsMore(text string) bool {
	if len(text) > MaxSize {
		return false
	}
	more := false
	for pc := range cut(text) {
		f := pc.head(text, true).form
		more = pc.open >= 0 && pc.close < 0 && pc.proof < 0 && f != nil && f.braces
	}
	return more
}

func parse(src *diag.Source, questions []string, prompt bool) *File {
	p := &parser{
		builder:   builder{src},
		file:      &File{Source: src},
		grammar:   entries(),
		questions: questions,
		prompt:    prompt,
	}
	if d, wrong := notText(src); wrong {
		p.complain(d)
		return p.file
	}
	for pc := range cut(src.Text) {
		p.statement(pc)
		if len(p.file.Mistakes) >= maxMistakes {
			p.complain(tooManyMistakes(p.spot(pc.tokens, len(pc.tokens))))
			break
		}
	}
	p.file.Mistakes = diag.Sort(p.file.Mistakes)
	return p.file
}

type parser struct {
	builder
	file      *File
	grammar   productions
	questions []string
	prompt    bool
}

func (p *parser) complain(d diag.Diagnostic) {
	p.file.Mistakes = append(p.file.Mistakes, d)
}

// statement reads one statement and puts it into the file.
func (p *parser) statement(pc piece) {
	n := node{place: p.span(pc.tokens), verb: Fold(pc.word(p.src.Text, 0))}
	before := len(p.file.Mistakes)
	if s := p.read(pc, n); s != nil {
		p.file.Statements = append(p.file.Statements, s)
	} else {
		p.file.Statements = append(p.file.Statements, &Bad{n})
	}
	p.onePerLine(before)
}

// onePerLine keeps the first mistake of each line among the latest ones.
func (p *parser) onePerLine(from int) {
	if len(p.file.Mistakes)-from < 2 {
		return
	}
	lines := map[int]bool{}
	kept := p.file.Mistakes[:from]
	for _, m := range p.file.Mistakes[from:] {
		if line := m.Place.Position().Line; !lines[line] {
			lines[line] = true
			kept = append(kept, m)
		}
	}
	p.file.Mistakes = kept
}

// read gives the statement, or nil when it has complained.
func (p *parser) read(pc piece, n node) Statement {
	if d, wrong := p.outOfBounds(pc); wrong {
		p.complain(d)
		return nil
	}
	if p.prompt && n.verb != "try" && slices.Contains(p.questions, n.verb) {
		return p.question(pc, n)
	}
	h := pc.head(p.src.Text, p.prompt)
	if h.form == nil {
		p.complain(p.unknownWord(pc, h.verb))
		return nil
	}
	pc.classify(p.src.Text, h)
	before := len(p.file.Mistakes)
	s := p.entry(pc, h, n)
	if s == nil {
		return nil
	}
	if d, wrong := p.reservedName(s); wrong {
		p.complain(d)
		return nil
	}
	if pc.within >= 0 && len(p.file.Mistakes) == before {
		p.complain(p.factInBraces(pc))
	}
	if pc.open >= 0 && pc.close < 0 {
		p.complain(p.openBrace(pc))
	}
	return s
}

func (p *parser) question(pc piece, n node) Statement {
	pc.tokens[0].kind = verbToken
	g, err := p.grammar.question.ParseFromLexer(p.replay(pc.tokens))
	if err != nil {
		p.complain(p.wrongQuestion(pc.tokens, unexpected(pc.tokens, err)))
		return nil
	}
	return &Question{node: n, Words: p.arguments(g.Words)}
}

// entry reads a fact, or "try" and a fact.
func (p *parser) entry(pc piece, h head, n node) Statement {
	if pc.open >= 0 && pc.close < 0 {
		end := pc.tokens[len(pc.tokens)-1].end
		pc.close = len(pc.tokens)
		pc.tokens = append(slices.Clip(pc.tokens), token{closeToken, end, end})
	}
	g, at := p.parse(h, pc.tokens)
	if g == nil && pc.open >= 0 && h.form.braces && (h.form.block || pc.open <= longestHead) {
		n.partial = true
		g = p.parts(pc, h)
	} else if g == nil {
		p.complain(p.wrongForm(h, pc.tokens, at))
	}
	if g == nil {
		return nil
	}
	if !h.try {
		return g.fact(&p.builder, factNode{n})
	}
	try := &Question{node: n, Try: g.fact(&p.builder, p.second(factNode{n}))}
	try.Words = []Argument{{Word: Word{Text: "try", Place: p.span(pc.tokens[:1])}}}
	return try
}

// parts reads a statement with braces of which something is wrong: its head
// with nothing in the braces, and then each line in them by itself. It
// complains of what is wrong and gives the rest, nil if the head is wrong.
func (p *parser) parts(pc piece, h head) factGrammar {
	opening, closing := pc.tokens[:pc.open+1], pc.tokens[pc.close:]
	empty := slices.Concat(opening, closing)
	whole, at := p.parse(h, empty)
	if whole == nil {
		p.complain(p.wrongForm(h, empty, at))
		if !h.form.block {
			return nil // a line of a list means nothing without its head
		}
	}
	good := slices.Clone(opening)
	before := len(p.file.Mistakes)
	for line, last := range splitLines(pc.tokens[pc.open+1 : pc.close]) {
		if len(p.file.Mistakes)-before > maxMistakes {
			break
		}
		if d, wrong := p.wrongInside(pc, h, line, last); wrong {
			p.complain(d)
			continue
		}
		good = append(good, line...)
		good = append(good, token{kind: breakToken})
	}
	if whole == nil {
		return nil
	}
	whole, _ = p.parse(h, append(good, closing...))
	if whole == nil {
		panic("lang: lines that can be read one by one cannot be read together")
	}
	return whole
}

// wrongInside finds out what is wrong with one line in the braces of a piece.
// The last may end with the closing brace.
func (p *parser) wrongInside(pc piece, h head, line []token, last bool) (diag.Diagnostic, bool) {
	if line[0].kind == closeToken {
		return p.closedEarly(pc, line), true
	}
	if h.form.block {
		_, err := blockLines().ParseFromLexer(p.replay(line))
		if err == nil {
			return diag.Diagnostic{}, false
		}
		return p.wrongLine(line, unexpected(line, err)), true
	}
	tokens := slices.Concat(pc.tokens[:pc.open+1], line, pc.tokens[pc.close:])
	list, at := p.parse(h, tokens)
	if list != nil {
		return diag.Diagnostic{}, false
	}
	// Where the brace was put in by the parser, or stands in a line further
	// down, the line is what ends.
	closing := pc.tokens[pc.close]
	if end := pc.open + 1 + len(line); !last || closing.start == closing.end {
		tokens, at = tokens[:end], min(at, end)
	}
	return p.wrongForm(h, tokens, at), true
}

// parse lets participle read the tokens of a fact. If it cannot, at is the
// index of the token that it did not expect, len(tokens) if that is the end.
func (p *parser) parse(h head, tokens []token) (g factGrammar, at int) {
	var err error
	if h.try {
		var t *tryGrammar
		if t, err = p.grammar.try.ParseFromLexer(p.replay(tokens)); err == nil {
			return t.Fact, 0
		}
	} else if g, err = p.grammar.facts[h.first](p.replay(tokens)); err == nil {
		return g, 0
	}
	return nil, unexpected(tokens, err)
}

func (p *parser) replay(tokens []token) *lexer.PeekingLexer {
	peeking, err := lexer.Upgrade(&replay{text: p.src.Text, tokens: tokens})
	if err != nil {
		panic(err) // the replay never fails
	}
	return peeking
}

// unexpected finds the token that participle's error is about.
func unexpected(tokens []token, err error) int {
	var at participle.Error
	if !errors.As(err, &at) {
		return len(tokens)
	}
	for i, t := range tokens {
		if int(t.start) == at.Position().Offset {
			return i
		}
	}
	return len(tokens)
}
