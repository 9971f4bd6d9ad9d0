package lang

import (
	"github.com/alecthomas/participle/v2/lexer"

	"buzzout/lang/diag"
)

// A builder turns what participle captured into the exported tree.
type builder struct {
	src *diag.Source
}

func (b *builder) place(t lexer.Token) diag.Place {
	return diag.Place{Source: b.src, Start: t.Pos.Offset, End: t.Pos.Offset + len(t.Value)}
}

func (b *builder) word(t lexer.Token) Word {
	return Word{Text: t.Value, Place: b.place(t)}
}

// wordOrNone is nil for a word that was not written.
func (b *builder) wordOrNone(t lexer.Token) *Word {
	if t.Type != wordToken {
		return nil
	}
	w := b.word(t)
	return &w
}

// words takes the words out of a captured list, in which commas, braces and
// line breaks may stand between them.
func (b *builder) words(tokens []lexer.Token) []Word {
	n := 0
	for i := range tokens {
		if tokens[i].Type == wordToken {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	words := make([]Word, 0, n)
	for i := range tokens {
		if tokens[i].Type == wordToken {
			words = append(words, b.word(tokens[i]))
		}
	}
	return words
}

// pairs takes the words of a captured list two by two.
func (b *builder) pairs(tokens []lexer.Token) []Pair {
	words := b.words(tokens)
	if len(words) == 0 {
		return nil
	}
	pairs := make([]Pair, 0, len(words)/2)
	for i := 0; i+1 < len(words); i += 2 {
		pairs = append(pairs, Pair{words[i], words[i+1]})
	}
	return pairs
}

func (b *builder) text(t lexer.Token) Text {
	return Text{Text: unquote(t.Value), Place: b.place(t)}
}

// textOrNone is nil for a text that was not written.
func (b *builder) textOrNone(t lexer.Token) *Text {
	if t.Type != textToken {
		return nil
	}
	text := b.text(t)
	return &text
}

// unquote takes the quotes off, "…" or “…”.
func unquote(text string) string {
	if text[0] == '"' {
		return text[1 : len(text)-1]
	}
	return text[len("“") : len(text)-len("”")]
}

func (b *builder) lines(grammars []lineGrammar) []KindLine {
	if len(grammars) == 0 {
		return nil
	}
	lines := make([]KindLine, len(grammars))
	for i, g := range grammars {
		lines[i] = g.line(b)
	}
	return lines
}

func (g *amplifierGrammar) fact(b *builder, n factNode) Fact {
	return &Amplifier{n, b.text(g.Title)}
}

func (g *useGrammar) fact(b *builder, n factNode) Fact {
	return &Use{n, b.text(g.Path)}
}

func (g *kindGrammar) fact(b *builder, n factNode) Fact {
	return &Kind{n, b.word(g.Name), b.textOrNone(g.Title), b.lines(g.Lines)}
}

func (g *partGrammar) fact(b *builder, n factNode) Fact {
	return &Part{n, b.words(g.Refs), b.word(g.Kind), b.words(g.Words), b.textOrNone(g.Label), b.lines(g.Lines)}
}

func (g *netGrammar) fact(b *builder, n factNode) Fact {
	return &Net{n, g.Verb == "copper", b.word(g.Name), b.words(g.List), b.textOrNone(g.Remark)}
}

func (g *spareGrammar) fact(b *builder, n factNode) Fact {
	return &Spare{n, b.words(g.List), b.textOrNone(g.Remark)}
}

func (g *drawingGrammar) fact(b *builder, n factNode) Fact {
	return &Drawing{n, b.word(g.Name), b.textOrNone(g.Remark)}
}

func (g *coloursGrammar) fact(b *builder, n factNode) Fact {
	return &Colours{n, b.word(g.Part), b.word(g.Origin), b.pairs(g.Pairs), b.textOrNone(g.Remark)}
}

func (g *trustGrammar) fact(b *builder, n factNode) Fact {
	return &Trust{n, b.word(g.Part), b.word(g.Origin), b.textOrNone(g.Reason)}
}

func (g *leadGrammar) fact(b *builder, n factNode) Fact {
	return &Lead{n, b.word(g.Colour), b.words(g.Points), b.words(g.Screen), b.textOrNone(g.Label)}
}

func (g *spotGrammar) fact(b *builder, n factNode) Fact {
	return &Spot{n, b.words(g.List), b.textOrNone(g.Remark)}
}

func (g *fitGrammar) fact(b *builder, n factNode) Fact {
	return &Fit{n, b.words(g.Refs), b.words(g.Words), b.textOrNone(g.Remark)}
}

func (g *readingGrammar) fact(b *builder, n factNode) Fact {
	return &Reading{n, b.words(g.Words), b.pairs(g.With), b.textOrNone(g.Remark)}
}

func (g *setGrammar) fact(b *builder, n factNode) Fact {
	return &Set{n, b.pairs(g.Pairs), b.textOrNone(g.Remark)}
}

func (g *wiringGrammar) fact(b *builder, n factNode) Fact {
	return &Wiring{n, g.State == "complete", b.words(g.Nets), b.textOrNone(g.Remark)}
}

func (g *noteGrammar) fact(b *builder, n factNode) Fact {
	return &Remark{n, b.text(g.Text)}
}

func (g *strikeGrammar) fact(b *builder, n factNode) Fact {
	return &Strike{n, g.Struck.fact(b, b.second(n))}
}

// second is the node of the fact that another verb carries: strike FACT,
// try FACT.
func (b *builder) second(n factNode) factNode {
	s := newScanner(b.src.Text[:n.place.End], false)
	s.at = n.place.Start
	s.next()
	verb := s.next()
	n.place.Start = int(verb.start)
	n.verb = Fold(s.text[verb.start:verb.end])
	return n
}

// line makes the node of a line of a block from its tokens.
func (b *builder) node(tokens []lexer.Token) kindNode {
	return kindNode{node{
		place: b.place(tokens[0]).To(b.place(tokens[len(tokens)-1])),
		verb:  tokens[0].Value,
	}}
}

func (g *declareGrammar) line(b *builder) KindLine {
	return &Declare{b.node(g.Tokens), b.words(g.Words), b.textOrNone(g.Remark)}
}

func (g *betweenGrammar) line(b *builder) KindLine {
	return &Between{b.node(g.Tokens), b.word(g.From), b.word(g.To), b.words(g.Figures), b.textOrNone(g.Remark)}
}

func (g *elementGrammar) line(b *builder) KindLine {
	return &Element{b.node(g.Tokens), b.words(g.Words), b.wordOrNone(g.By), b.wordOrNone(g.Moves), b.textOrNone(g.Remark)}
}

func (g *contactGrammar) line(b *builder) KindLine {
	return &Contact{b.node(g.Tokens), b.word(g.From), b.word(g.To), b.word(g.Control), b.words(g.Positions), b.textOrNone(g.Remark)}
}

func (g *poleGrammar) line(b *builder) KindLine {
	return &Pole{b.node(g.Tokens), b.word(g.Common), b.words(g.Ways), b.word(g.By), b.textOrNone(g.Remark)}
}

func (g *alikeGrammar) line(b *builder) KindLine {
	return &Alike{b.node(g.Tokens), b.words(g.These), b.words(g.Those), g.But, b.textOrNone(g.Remark)}
}

func (g *limitGrammar) line(b *builder) KindLine {
	return &Limit{b.node(g.Tokens), b.word(g.Name), b.words(g.Figures), b.textOrNone(g.Remark)}
}

func (g *originGrammar) line(b *builder) KindLine {
	return &Origin{b.node(g.Tokens), g.Status, b.textOrNone(g.Remark)}
}

// arguments are the words and texts of a question.
func (b *builder) arguments(tokens []lexer.Token) []Argument {
	var list []Argument
	for _, t := range tokens {
		switch t.Type {
		case verbToken, wordToken:
			list = append(list, Argument{Word: b.word(t)})
		case textToken:
			text := b.text(t)
			list = append(list, Argument{Word: Word(text), Quoted: true})
		}
	}
	return list
}
