package lang

import (
	"io"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// The kinds of token. Blanks and comments are cut out for the formatter only;
// the parser never sees them.
const (
	wordToken    lexer.TokenType = iota + 1
	textToken                    // a text in quotes, quotes included
	breakToken                   // a line break or ;
	commaToken                   // parts words; a decimal comma stays in its word
	openToken                    // {
	closeToken                   // }
	openText                     // a text whose closing quote is missing
	badToken                     // characters that no word may hold
	blankToken                   // blanks
	commentToken                 // # to the end of the line
	// The cutter turns some words into these, by where they stand.
	verbToken    // the word that begins a fact or a question
	declareToken // the word that begins a line of a block, in three groups …
	betweenToken
	elementToken
	lineToken // … and the rest of those words
	markToken // a word that parts a line: screen, with, by, complete …
)

var symbols = map[string]lexer.TokenType{
	"EOF":  lexer.EOF,
	"Word": wordToken, "Text": textToken, "Break": breakToken, "Comma": commaToken,
	"Open": openToken, "Close": closeToken, "OpenText": openText, "Bad": badToken,
	"Blank": blankToken, "Comment": commentToken,
	"Verb": verbToken, "Declare": declareToken, "Between": betweenToken, "Element": elementToken,
	"Line": lineToken, "Mark": markToken,
}

// A token is the half-open span [start, end) of the text and what it is.
// There are 32 bits for an offset because no text is longer than MaxSize.
type token struct {
	kind       lexer.TokenType
	start, end int32
}

// A scanner cuts a text into tokens. It cannot fail: what is wrong becomes a
// token of its own, so that one bad character never hides the rest.
type scanner struct {
	text string
	at   int
	all  bool // hand out blanks and comments, too
}

// maxWord is how long a word may be, in bytes. A longer one is a bad token.
const maxWord = 200

const byteOrderMark = "\uFEFF"

func newScanner(text string, all bool) *scanner {
	s := &scanner{text: text, all: all}
	if !all && len(text) >= len(byteOrderMark) && text[:len(byteOrderMark)] == byteOrderMark {
		s.at = len(byteOrderMark)
	}
	return s
}

// next gives the next token; at the end of the text its kind is lexer.EOF.
func (s *scanner) next() token {
	for s.at < len(s.text) {
		start := s.at
		kind := s.token()
		if s.all || kind != blankToken && kind != commentToken {
			return token{kind, int32(start), int32(s.at)}
		}
	}
	return token{lexer.EOF, int32(len(s.text)), int32(len(s.text))}
}

// scan cuts all of a text, without blanks and comments.
func scan(text string) []token {
	s := newScanner(text, false)
	tokens := make([]token, 0, len(text)/5+8)
	for t := s.next(); t.kind != lexer.EOF; t = s.next() {
		tokens = append(tokens, t)
	}
	return tokens
}

// token moves past one token and says what it was.
func (s *scanner) token() lexer.TokenType {
	switch c := s.text[s.at]; c {
	case '\n', ';':
		s.at++
		return breakToken
	case '\r':
		s.at++
		if s.at < len(s.text) && s.text[s.at] == '\n' {
			s.at++
		}
		return breakToken
	case ',':
		s.at++
		return commaToken
	case '{':
		s.at++
		return openToken
	case '}':
		s.at++
		return closeToken
	case '"':
		return s.quoted(`"`, `"`)
	case '#':
		s.at = s.lineEnd()
		return commentToken
	}
	switch class, _ := s.class(); class {
	case blankClass:
		s.run(blankClass)
		return blankToken
	case badClass:
		s.run(badClass)
		return badToken
	case quoteClass:
		if s.starts("“") {
			return s.quoted("“", "”")
		}
		s.at += len("”")
		return badToken
	}
	start := s.at
	if s.word(); s.at-start > maxWord {
		return badToken
	}
	return wordToken
}

func (s *scanner) starts(with string) bool {
	return len(s.text)-s.at >= len(with) && s.text[s.at:s.at+len(with)] == with
}

// lineEnd is the offset of the next line break, or of the end.
func (s *scanner) lineEnd() int {
	for i := s.at; i < len(s.text); i++ {
		if s.text[i] == '\n' || s.text[i] == '\r' {
			return i
		}
	}
	return len(s.text)
}

// quoted moves past a text in quotes. If the closing quote is missing the
// token ends with the line, but before a brace at the very end of it: that
// brace was surely meant as one.
func (s *scanner) quoted(opening, closing string) lexer.TokenType {
	start := s.at
	s.at += len(opening)
	for ; s.at < len(s.text); s.at++ {
		switch {
		case s.starts(closing):
			s.at += len(closing)
			return textToken
		case s.text[s.at] == '\n' || s.text[s.at] == '\r':
			s.at = beforeLastBrace(s.text, start+len(opening), s.at)
			return openText
		}
	}
	s.at = beforeLastBrace(s.text, start+len(opening), s.at)
	return openText
}

func beforeLastBrace(text string, from, to int) int {
	last := to
	for last > from && (text[last-1] == ' ' || text[last-1] == '\t') {
		last--
	}
	if last == from || text[last-1] != '{' && text[last-1] != '}' {
		return to
	}
	last--
	for last > from && (text[last-1] == ' ' || text[last-1] == '\t') {
		last--
	}
	return last
}

// word moves past the characters of one word.
func (s *scanner) word() {
	for s.at < len(s.text) {
		if s.text[s.at] == ',' {
			if !s.decimalComma() {
				return
			}
			s.at++
			continue
		}
		class, size := s.class()
		if class != wordClass {
			return
		}
		s.at += size
	}
}

// decimalComma reports whether the comma here stands between two digits.
func (s *scanner) decimalComma() bool {
	return s.at > 0 && s.at+1 < len(s.text) && isDigit(s.text[s.at-1]) && isDigit(s.text[s.at+1])
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// run moves past all characters of one class.
func (s *scanner) run(of class) {
	for s.at < len(s.text) {
		class, size := s.class()
		if class != of {
			return
		}
		s.at += size
	}
}

// A class is what a character can be part of.
type class uint8

const (
	wordClass class = iota
	blankClass
	badClass   // control and invisible characters, and what is not UTF-8
	quoteClass // “ and ”
	ownClass   // a token by itself: line breaks, braces, comma, semicolon, "
)

// asciiClass saves the common characters a longer look.
var asciiClass = func() (table [utf8.RuneSelf]class) {
	for c := range table {
		if c < ' ' || c == 0x7F {
			table[c] = badClass
		}
	}
	table[' '], table['\t'], table['\f'], table['\v'] = blankClass, blankClass, blankClass, blankClass
	for _, c := range "\r\n{},;\"" {
		table[c] = ownClass
	}
	return table
}()

// class gives the class and the size in bytes of the character here.
func (s *scanner) class() (class, int) {
	if c := s.text[s.at]; c < utf8.RuneSelf {
		return asciiClass[c], 1
	}
	r, size := utf8.DecodeRuneInString(s.text[s.at:])
	switch {
	case r == utf8.RuneError && size == 1:
		return badClass, 1
	case r == '“' || r == '”':
		return quoteClass, size
	case unicode.Is(unicode.Zs, r):
		return blankClass, size
	case unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co):
		return badClass, size
	}
	return wordClass, size
}

// notInWord reports whether no word may hold a character.
func notInWord(r rune) bool {
	s := scanner{text: string(r)}
	class, _ := s.class()
	return class != wordClass
}

// definition plugs the scanner into participle.
type definition struct{}

func (definition) Symbols() map[string]lexer.TokenType { return symbols }

func (definition) Lex(_ string, r io.Reader) (lexer.Lexer, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return &replay{text: string(text), tokens: scan(string(text))}, nil
}

// replay hands tokens that were cut out before to participle. Their position
// is the offset alone: line and column are counted when somebody asks.
type replay struct {
	text   string
	tokens []token
	at     int
}

func (r *replay) Next() (lexer.Token, error) {
	if r.at == len(r.tokens) {
		end := 0
		if r.at > 0 {
			end = int(r.tokens[r.at-1].end)
		}
		return lexer.EOFToken(lexer.Position{Offset: end}), nil
	}
	t := r.tokens[r.at]
	r.at++
	return lexer.Token{Type: t.kind, Value: t.value(r.text), Pos: lexer.Position{Offset: int(t.start)}}, nil
}

// value is the text of the token as participle compares it: words that the
// language knows are in lower case.
func (t token) value(text string) string {
	switch {
	case t.kind == closeToken: // the parser may have put it where it is missing
		return "}"
	case t.kind >= verbToken:
		return Fold(text[t.start:t.end])
	}
	return text[t.start:t.end]
}
