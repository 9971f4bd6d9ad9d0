package lang

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"buzzout/lang/diag"
)

func fault(rule string, at diag.Place, format string, args ...any) diag.Diagnostic {
	return diag.Diagnostic{Rule: rule, Severity: diag.Fault, Place: at, Message: fmt.Sprintf(format, args...)}
}

func (p *parser) span(tokens []token) diag.Place {
	return diag.Place{Source: p.src, Start: int(tokens[0].start), End: int(tokens[len(tokens)-1].end)}
}

// spot is the place of a token, or the spot after the last of them.
func (p *parser) spot(tokens []token, i int) diag.Place {
	if i < len(tokens) {
		return p.span(tokens[i : i+1])
	}
	end := int(tokens[len(tokens)-1].end)
	return diag.Place{Source: p.src, Start: end, End: end}
}

func (p *parser) textOf(t token) string { return p.src.Text[t.start:t.end] }

// notText finds out that a text is none: it is far too long, or in another
// encoding, or made of bytes that are no letters.
func notText(src *diag.Source) (diag.Diagnostic, bool) {
	start := diag.Place{Source: src}
	text := src.Text
	switch {
	case len(text) > MaxSize:
		d := fault(ruleTooLong, start, "this text has %d million bytes, and a notebook has at most %d million", len(text)/1_000_000, MaxSize/1_000_000)
		d.Mend = []string{"part it into several notebooks, and read them with `use`"}
		return d, true
	case strings.HasPrefix(text, "\xFF\xFE"), strings.HasPrefix(text, "\xFE\xFF"):
		d := fault(ruleNotText, start, "this text is kept as UTF-16, and a notebook is kept as UTF-8")
		d.Mend = []string{"save it as UTF-8 in the editor"}
		return d, true
	}
	if strange := strangeBytes(text); strange > 8 && strange > len(text)/10 {
		return fault(ruleNotText, start, "this is not a text: %d of its %d bytes are no letters", strange, len(text)), true
	}
	return diag.Diagnostic{}, false
}

// strangeBytes counts the control characters and the bytes that are not UTF-8.
func strangeBytes(text string) int {
	n := 0
	for i := 0; i < len(text); {
		if c := text[i]; c < utf8.RuneSelf {
			if asciiClass[c] == badClass {
				n++
			}
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size == 1 {
			n++
		}
		i += size
	}
	return n
}

func tooManyMistakes(at diag.Place) diag.Diagnostic {
	return fault(ruleTooMany, at, "%d mistakes were found up to here, and the rest was not read", maxMistakes)
}

// outOfBounds finds what makes a whole statement unreadable before its words
// are looked at: it is too long, or has no business where it stands.
func (p *parser) outOfBounds(pc piece) (diag.Diagnostic, bool) {
	if pc.stray {
		return p.strayLines(pc), true
	}
	if len(pc.tokens) > maxTokens {
		d := fault(ruleTooLong, p.span(pc.tokens[:1]), "this fact has %d words and signs, and one has at most %d", len(pc.tokens), maxTokens)
		d.Mend = []string{"part it into several facts"}
		return d, true
	}
	if pc.tokens[0].kind != wordToken {
		if d, wrong := p.unreadableToken(pc.tokens); wrong {
			return d, true
		}
		d := fault(ruleWrongForm, p.span(pc.tokens[:1]), "a line begins with the word that says what it is about, not with %s", p.describe(pc.tokens, 0))
		if pc.tokens[0].kind == openToken {
			d.Mend = []string{"open the brace in the line of its fact"}
		}
		return d, true
	}
	return diag.Diagnostic{}, false
}

// unreadableToken finds the first token that no statement may have.
func (p *parser) unreadableToken(tokens []token) (diag.Diagnostic, bool) {
	for i, t := range tokens {
		at := p.span(tokens[i : i+1])
		switch t.kind {
		case openText:
			d := fault(ruleOpenText, at, "this text is not closed")
			quote := `"`
			if strings.HasPrefix(p.textOf(t), "“") {
				quote = "”"
			}
			d.Mend = []string{"put " + quote + " after its last word"}
			return d, true
		case badToken:
			switch {
			case p.textOf(t) == "”":
				return fault(ruleBadCharacter, at, "” closes a text, and none is open here"), true
			case t.end-t.start > maxWord && !strings.ContainsFunc(p.textOf(t), notInWord):
				return fault(ruleTooLong, at, "this word has %d characters, and a name has at most %d", utf8.RuneCountInString(p.textOf(t)), maxWord), true
			}
			return fault(ruleBadCharacter, at, "%s", strangeCharacter(p.textOf(t))), true
		}
	}
	return diag.Diagnostic{}, false
}

// strangeCharacter says what is wrong with the first character of a run of
// those that no word may hold.
func strangeCharacter(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	if r == utf8.RuneError && size == 1 {
		return fmt.Sprintf("the byte %02X (hexadecimal) is not UTF-8", text[0])
	}
	if r < ' ' || r == 0x7F {
		return fmt.Sprintf("a control character, %U, stands here", r)
	}
	return fmt.Sprintf("an invisible character, %U, stands here", r)
}

// describe names a token for a message, or the end of the line.
func (p *parser) describe(tokens []token, at int) string {
	if at >= len(tokens) {
		return "the end of the line"
	}
	switch tokens[at].kind {
	case textToken:
		return "a text in quotes"
	case commaToken:
		return "a comma"
	case openToken:
		return "the brace {"
	case closeToken:
		return "the brace }"
	}
	return "`" + diag.Visible(p.textOf(tokens[at])) + "`"
}

// strayLines: lines of a block stand where no block is open, or a brace closes
// what was not opened.
func (p *parser) strayLines(pc piece) diag.Diagnostic {
	first := pc.tokens[0]
	if first.kind == closeToken {
		d := fault(ruleStrayLine, p.span(pc.tokens[:1]), "this brace closes nothing: none is open here")
		d.Mend = []string{"take it out, or look for a brace that was closed too early above"}
		return d
	}
	word := formOf(p.textOf(first)).Word
	d := fault(ruleStrayLine, p.span(pc.tokens[:1]), "`%s` begins a line of a kind or part, and no braces are open here", word)
	d.Mend = []string{"put it in the braces of a kind or part, or look for a brace that was closed too early above"}
	return d
}

// closedEarly: a closing brace stands alone in a line of somebody's braces,
// which are closed further down.
func (p *parser) closedEarly(pc piece, line []token) diag.Diagnostic {
	d := fault(ruleStrayLine, p.span(line[:1]), "this brace closes too early: lines follow it, and another brace")
	if pc.close < len(pc.tokens) {
		d.Also = []diag.Note{{Place: p.span(pc.tokens[pc.close : pc.close+1]), Text: "the other brace"}}
	}
	d.Mend = []string{"take one of the two out"}
	return d
}

// factInBraces: a fact stands in the braces of another, which are closed below
// it.
func (p *parser) factInBraces(pc piece) diag.Diagnostic {
	d := fault(ruleFactInBraces, p.span(pc.tokens[:1]), "`%s` begins a fact, and stands inside the braces of another", Fold(p.textOf(pc.tokens[0])))
	brace := diag.Place{Source: p.src, Start: pc.within, End: pc.within + 1}
	d.Also = []diag.Note{{Place: brace, Text: "the braces are opened here"}}
	d.Notes = []string{"It was read as if it stood after them."}
	d.Mend = []string{"move it below the brace that closes"}
	return d
}

// openBrace: a brace is never closed, and the next fact or the end of the text
// shows it.
func (p *parser) openBrace(pc piece) diag.Diagnostic {
	d := fault(ruleOpenBrace, p.span(pc.tokens[pc.open:pc.open+1]), "this brace is never closed")
	d.Mend = []string{"put } after the last of its lines"}
	if pc.proof >= 0 {
		proof := diag.Place{Source: p.src, Start: pc.proof, End: pc.proof + 1}
		d.Also = []diag.Note{{Place: proof, Text: "the next fact begins"}}
		d.Mend = []string{"put } above the next fact"}
	}
	return d
}

// unknownWord: the first word begins neither a fact nor, at the prompt, a
// question.
func (p *parser) unknownWord(pc piece, verb int) diag.Diagnostic {
	if verb >= len(pc.tokens) || pc.tokens[verb].kind != wordToken {
		d := fault(ruleWrongForm, p.spot(pc.tokens, verb), "after `try` a fact is wanted")
		d.Mend = []string{"write a fact after it, as in: try lead green TB1.1 V1.3"}
		return d
	}
	at := p.span(pc.tokens[verb : verb+1])
	word := Fold(p.textOf(pc.tokens[verb]))
	if !p.prompt && (word == "try" || slices.Contains(p.questions, word)) {
		d := fault(ruleQuestion, at, "`%s` is a question, and a notebook holds facts alone", word)
		d.Mend = []string{"type it at the prompt"}
		return d
	}
	if f := formOf(word); f != nil { // after try; at the start of a line it is a stray line
		d := fault(ruleWrongForm, at, "`%s` begins a line of a kind or part, and no fact", word)
		return d
	}
	d := fault(ruleUnknownWord, at, "`%s` begins no fact", diag.Visible(p.textOf(pc.tokens[verb])))
	if p.prompt && verb == 0 {
		d.Message = fmt.Sprintf("`%s` begins no fact and no question", diag.Visible(p.textOf(pc.tokens[verb])))
	}
	suggest(&d, word, otherWords, p.firstWords(verb))
	if d.Nearest == "" && d.Mend == nil {
		d.Notes = []string{"Facts begin with: " + strings.Join(wordsOf(facts), ", ") + "."}
	}
	return d
}

// firstWords are the words with which a line may begin here.
func (p *parser) firstWords(verb int) []string {
	if p.prompt && verb == 0 {
		return slices.Concat(wordsOf(facts), p.questions, []string{"try"})
	}
	return wordsOf(facts)
}

// wordsOf are the words that forms are of.
func wordsOf(forms []form) []string {
	words := make([]string, len(forms))
	for i := range forms {
		words[i] = forms[i].Word
	}
	return words
}

// reservedName: a part is called by a word that means something else.
func (p *parser) reservedName(s Statement) (diag.Diagnostic, bool) {
	switch carrier := s.(type) {
	case *Question:
		if carrier.Try != nil {
			return p.reservedName(carrier.Try)
		}
	case *Strike:
		return p.reservedName(carrier.Struck)
	}
	part, ok := s.(*Part)
	if !ok {
		return diag.Diagnostic{}, false
	}
	for _, ref := range part.Refs {
		if Reserved(ref.Text) {
			return fault(ruleReservedName, ref.Place, "no part may be called `%s`: the word has a meaning of its own", Fold(ref.Text)), true
		}
	}
	return diag.Diagnostic{}, false
}
