package lang

import (
	"iter"

	"github.com/alecthomas/participle/v2/lexer"
)

// A piece is one statement's tokens, before anybody knows whether they make
// sense. Line breaks are left in it only inside its braces.
type piece struct {
	tokens []token
	open   int // index in tokens of the brace that opens its list or block; -1 if none
	close  int // index of the brace that closes it; -1 if none
	// proof is the offset of the fact's word by which the brace must have been
	// closed; -1 where the text ended first. It counts only if close is -1.
	proof int
	// within is the offset of the brace of another statement inside which this
	// one was written; -1 if none.
	within int
	// stray says that these are lines of a block without a block around them.
	stray bool
}

// A cutter parts the tokens of a text into statements: at line ends outside
// braces, and where braces were opened and never closed, before the first line
// that begins with a fact's word, since no line in braces may begin with one.
//
// Braces never nest. A brace too many is part of the line that it stands in.
type cutter struct {
	text   string
	tokens []token
	at     int
	ready  []piece // cut off and not yet handed out
}

// cut parts a text into statements. There are no empty ones.
func cut(text string) iter.Seq[piece] {
	return func(yield func(piece) bool) {
		c := cutter{text: text, tokens: scan(text)}
		for c.more() {
			c.ready = c.ready[:0]
			c.statement()
			for _, p := range c.ready {
				if !yield(p) {
					return
				}
			}
		}
	}
}

// more moves to where the next statement begins, if there is one.
func (c *cutter) more() bool {
	for c.kind(c.at) == breakToken {
		c.at++
	}
	return c.at < len(c.tokens)
}

// kind is the kind of the token at an index, lexer.EOF after the last.
func (c *cutter) kind(i int) lexer.TokenType {
	if i >= len(c.tokens) {
		return lexer.EOF
	}
	return c.tokens[i].kind
}

func (c *cutter) form(i int) *form {
	if c.kind(i) != wordToken {
		return nil
	}
	return formOf(c.text[c.tokens[i].start:c.tokens[i].end])
}

// beginsFact reports whether the token at an index is the first word of a fact.
func (c *cutter) beginsFact(i int) bool {
	f := c.form(i)
	return f != nil && f.begins == verbToken
}

// lineEnd is the index of the break that ends the line of token i.
func (c *cutter) lineEnd(i int) int {
	for c.kind(i) != breakToken && c.kind(i) != lexer.EOF {
		i++
	}
	return i
}

// statement cuts one statement off, which begins here.
func (c *cutter) statement() {
	start := c.at
	if c.strayLine(start) {
		c.strayLines()
		return
	}
	p := piece{open: -1, close: -1, proof: -1, within: -1}
	var strangers []span // facts written inside these braces
	inner := 0           // braces opened and not closed again in this line of the list
loop:
	for ; c.at < len(c.tokens); c.at++ {
		inside := p.open >= 0 && p.close < 0
		switch c.kind(c.at) {
		case openToken:
			switch {
			case p.open < 0:
				p.open = c.at
			case inside:
				inner++
			}
		case closeToken:
			switch {
			case inside && inner > 0:
				inner--
			case inside && !c.closesTooEarly(c.at):
				p.close = c.at
			}
		case breakToken:
			if !inside {
				break loop
			}
			inner = 0
			if next := c.at + 1; c.beginsFact(next) {
				end, stranger := c.stranger(next)
				if !stranger {
					p.proof = int(c.tokens[next].start)
					break loop
				}
				strangers = append(strangers, span{next, end})
				c.at = end - 1
			}
		}
	}
	p.tokens = c.tokens[start:c.at]
	p.open, p.close = shift(p.open, start), shift(p.close, start)
	if len(strangers) > 0 {
		c.partStrangers(p, start, strangers)
		return
	}
	c.ready = append(c.ready, p.trimmed())
}

type span struct{ start, end int }

func shift(index, by int) int {
	if index < 0 {
		return index
	}
	return index - by
}

// trimmed drops line breaks at the end, which are there if a brace is open.
func (p piece) trimmed() piece {
	for len(p.tokens) > 0 && p.tokens[len(p.tokens)-1].kind == breakToken {
		p.tokens = p.tokens[:len(p.tokens)-1]
	}
	return p
}

// closesTooEarly reports whether the closing brace at an index, alone in its
// line, is one too many: there is a later one before any fact or other brace.
func (c *cutter) closesTooEarly(i int) bool {
	if c.kind(i-1) != breakToken || c.kind(i+1) != breakToken {
		return false
	}
	between := false
	for i++; i < len(c.tokens); i++ {
		switch c.kind(i) {
		case openToken, lexer.EOF:
			return false
		case closeToken:
			return between
		case breakToken:
			if c.beginsFact(i + 1) {
				return false
			}
		default:
			between = true
		}
	}
	return false
}

// stranger looks at a fact that begins in a line of somebody's braces. If the
// braces are closed after it, before another fact begins or a brace opens,
// then it is the fact that is in the wrong place, and end is where it ends.
// Otherwise it proves that the braces were never closed.
func (c *cutter) stranger(fact int) (end int, stranger bool) {
	end = c.lineEnd(fact)
	if open, close := braces(c.tokens[fact:end]); open >= 0 && close < 0 {
		return 0, false // it opens braces of its own
	}
	for i := end; i < len(c.tokens); i++ {
		switch c.kind(i) {
		case openToken:
			return 0, false
		case closeToken:
			return end, true
		case breakToken:
			if c.beginsFact(i + 1) {
				return 0, false
			}
		}
	}
	return 0, false
}

// partStrangers makes statements of a piece and of the facts written inside
// its braces.
func (c *cutter) partStrangers(p piece, start int, strangers []span) {
	end := start + len(p.tokens)
	brace := int(p.tokens[p.open].start)
	own := make([]token, 0, len(p.tokens))
	from := start
	for _, s := range strangers {
		own = append(own, c.tokens[from:s.start]...)
		from = s.end
	}
	own = append(own, c.tokens[from:end]...)
	if p.close >= 0 {
		p.close -= len(p.tokens) - len(own)
	}
	p.tokens = own
	c.ready = append(c.ready, p.trimmed())
	for _, s := range strangers {
		own := c.tokens[s.start:s.end]
		open, close := braces(own)
		c.ready = append(c.ready, piece{tokens: own, open: open, close: close, proof: -1, within: brace})
	}
}

// braces finds the first brace that opens in a line, and the one that closes
// it; -1 for one that is not there.
func braces(line []token) (open, close int) {
	open = -1
	depth := 0
	for i, t := range line {
		switch t.kind {
		case openToken:
			if depth++; open < 0 {
				open = i
			}
		case closeToken:
			if depth > 0 {
				if depth--; depth == 0 {
					return open, i
				}
			}
		}
	}
	return open, -1
}

// strayLine reports whether a line of a block, or the brace that closes one,
// begins here, where no block is open.
func (c *cutter) strayLine(i int) bool {
	if c.kind(i) == closeToken {
		return true
	}
	f := c.form(i)
	return f != nil && f.begins != verbToken
}

// strayLines takes such lines in a row as one piece: their block was opened
// wrongly, or closed too early, and that is one mistake.
func (c *cutter) strayLines() {
	start, end := c.at, c.at
	for c.more() && c.strayLine(c.at) {
		end = c.lineEnd(c.at)
		c.at = end
	}
	c.at = end
	c.ready = append(c.ready, piece{tokens: c.tokens[start:end], open: -1, close: -1, proof: -1, within: -1, stray: true})
}
