package lang

import (
	"iter"
	"slices"
)

// A head is what the first words of a piece say about it.
type head struct {
	form  *form  // of the fact itself, not of the "strike" before it; nil if the word begins no fact
	first string // the first word that participle sees: the fact's, or "strike"
	verb  int    // index of the word that form is of
	try   bool   // it begins with "try"
}

// head looks at the words with which a piece begins: "try" at the prompt,
// perhaps "strike", and the word that begins a fact.
func (p piece) head(text string, prompt bool) head {
	h := head{try: prompt && Fold(p.word(text, 0)) == "try"}
	if h.try {
		h.verb++
	}
	f := formOf(p.word(text, h.verb))
	if f == nil || f.begins != verbToken {
		return h
	}
	h.form, h.first = f, f.Word
	if f.Word != "strike" {
		return h
	}
	// A strike is not struck: what it took out is told again.
	if struck := formOf(p.word(text, h.verb+1)); struck != nil && struck.begins == verbToken && struck.Word != "strike" {
		h.form = struck
		h.verb++
	}
	return h
}

// word is the text of the word at an index, "" if no word is there.
func (p piece) word(text string, i int) string {
	if i >= len(p.tokens) || p.tokens[i].kind != wordToken {
		return ""
	}
	return text[p.tokens[i].start:p.tokens[i].end]
}

// classify makes the words that the grammar knows into what it knows them as.
func (p piece) classify(text string, h head) {
	for i := 0; i <= h.verb; i++ {
		p.tokens[i].kind = verbToken
	}
	outside := len(p.tokens)
	if p.open >= 0 {
		outside = p.open
	}
	h.form.mark(text, p.tokens[h.verb:outside])
	if !h.form.block || p.open < 0 {
		return
	}
	inside := p.tokens[p.open+1:]
	if p.close >= 0 {
		inside = p.tokens[p.open+1 : p.close]
	}
	for line := range splitLines(inside) {
		if line[0].kind != wordToken {
			continue
		}
		if f := formOf(text[line[0].start:line[0].end]); f != nil && f.begins != verbToken {
			line[0].kind = f.begins
			f.mark(text, line)
		}
	}
}

// mark makes Marks of the words that part a line of this form. The first token
// is the word that the form is of.
func (f *form) mark(text string, tokens []token) {
	if f.second == nil && f.later == nil {
		return
	}
	word := func(i int) string {
		if i >= len(tokens) || tokens[i].kind != wordToken || tokens[i].end-tokens[i].start > longestWord {
			return ""
		}
		return Fold(text[tokens[i].start:tokens[i].end])
	}
	if slices.Contains(f.second, word(1)) {
		tokens[1].kind = markToken
	}
	if f.later == nil {
		return
	}
	for i := 2; i < len(tokens); i++ {
		w := word(i)
		if w == "" || f.laterPart(w) == nil {
			continue
		}
		tokens[i].kind = markToken
		if w == f.later[len(f.later)-1].word && slices.Contains(f.last, word(i+1)) {
			tokens[i+1].kind = markToken
		}
	}
}

// splitLines parts tokens at their line breaks, and says of each line whether
// no line break follows it. There are no empty lines.
func splitLines(tokens []token) iter.Seq2[[]token, bool] {
	return func(yield func([]token, bool) bool) {
		start := 0
		for i := 0; i <= len(tokens); i++ {
			if i < len(tokens) && tokens[i].kind != breakToken {
				continue
			}
			if i > start && !yield(tokens[start:i], i == len(tokens)) {
				return
			}
			start = i + 1
		}
	}
}
