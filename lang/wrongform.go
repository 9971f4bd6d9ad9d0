package lang

import (
	"fmt"
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"buzzout/lang/diag"
)

// wrongForm: a fact's words are not in the order that it wants, or one is
// missing. at is the index of the token that cannot stand where it does.
func (p *parser) wrongForm(h head, tokens []token, at int) diag.Diagnostic {
	if d, wrong := p.unreadableToken(tokens); wrong {
		return d
	}
	return p.wrongWord(h.form, tokens, h.verb, at)
}

// wrongLine: the same for a line of a block, or it begins with no word that
// such a line may begin with.
func (p *parser) wrongLine(tokens []token, at int) diag.Diagnostic {
	if d, wrong := p.unreadableToken(tokens); wrong {
		return d
	}
	if tokens[0].kind > verbToken {
		return p.wrongWord(formOf(p.textOf(tokens[0])), tokens, 0, at)
	}
	where := p.span(tokens[:1])
	if tokens[0].kind != wordToken {
		return fault(ruleWrongForm, where, "a line of a kind or part begins with a word, not with %s", p.describe(tokens, 0))
	}
	word := Fold(p.textOf(tokens[0]))
	if slices.Contains(p.questions, word) || word == "try" {
		return fault(ruleQuestion, where, "`%s` is a question, and braces hold the lines of a kind or part", word)
	}
	d := fault(ruleUnknownWord, where, "%s begins no line of a kind or part", p.describe(tokens, 0))
	suggest(&d, word, otherLineWords, wordsOf(blockLineForms))
	if d.Nearest == "" && d.Mend == nil {
		d.Notes = []string{"Such lines begin with: " + strings.Join(wordsOf(blockLineForms), ", ") + "."}
	}
	return d
}

// wrongWord finds out what was wanted at a token, from the words before it.
// first is the index of the word that the form is of.
func (p *parser) wrongWord(f *form, tokens []token, first, at int) diag.Diagnostic {
	said := p.retrace(f, tokens[first+1:at])
	if said.pairing() && said.pair == 0 && at < len(tokens) && tokens[at].kind == wordToken {
		// The word is right as far as it goes: the other of its pair is missing.
		at++
		said.pair++
	}
	wanted := said.wanted()
	if missed := said.missed(); missed != "" && at >= len(tokens) {
		// Perhaps the word that parts the line is there, and mistyped.
		for i := first + 2; i < len(tokens); i++ {
			if near, ok := Nearest(p.textOf(tokens[i]), []string{missed}); ok {
				d := p.stands(tokens, i, "`"+missed+"`")
				d.Nearest = near
				return withForm(d, f)
			}
		}
	}
	if wanted == "" {
		what := p.describe(tokens, at)
		if said.ended == textToken && at < len(tokens) && tokens[at].kind == textToken {
			what = "another one"
		}
		d := fault(ruleWrongForm, p.spot(tokens, at), "after %s nothing more is wanted, and %s stands there", said.end(), what)
		if at < len(tokens) && tokens[at].kind == wordToken && said.ended == textToken {
			d.Mend = []string{"move the text in quotes to the end"}
		}
		return withForm(d, f)
	}
	d := p.stands(tokens, at, wanted)
	if at < len(tokens) {
		p.mendWord(&d, said, tokens, at)
	}
	return withForm(d, f)
}

// stands says that a token stands where something else is wanted.
func (p *parser) stands(tokens []token, at int, wanted string) diag.Diagnostic {
	if at >= len(tokens) || tokens[at].kind == breakToken {
		return fault(ruleWrongForm, p.spot(tokens, at), "the line ends where %s is wanted", wanted)
	}
	return fault(ruleWrongForm, p.spot(tokens, at), "%s stands where %s is wanted", p.describe(tokens, at), wanted)
}

func withForm(d diag.Diagnostic, f *form) diag.Diagnostic {
	d.Notes = append(d.Notes, "The form is:  "+f.Form, "An example:   "+f.Example)
	return d
}

// mendWord says what to do about a word that is there and wrong.
func (p *parser) mendWord(d *diag.Diagnostic, said retraced, tokens []token, at int) {
	f, t := said.form, tokens[at]
	switch t.kind {
	case textToken:
		d.Mend = []string{"write names and figures without quotes, and a remark at the end"}
	case openToken:
		switch {
		case said.inside:
			d.Mend = []string{"take it out: braces do not stand in braces"}
		case !f.braces:
			d.Mend = []string{fmt.Sprintf("write a `%s` in one line, without braces", f.Word)}
		}
	case closeToken:
		if !said.inside {
			d.Mend = []string{"take it out: no brace is open here"}
		}
	case commaToken:
		d.Mend = []string{"take the comma out"}
	case wordToken:
		if said.wanted() == aText {
			rest := p.src.Text[t.start:tokens[len(tokens)-1].end]
			d.Mend = []string{`put it in quotes: ` + f.Word + ` "` + strings.ReplaceAll(rest, `"`, "") + `"`}
			return
		}
		if f.Word == "strike" {
			if Fold(p.textOf(t)) == "strike" {
				d.Mend = []string{"tell the fact again that was struck by mistake: a strike is not struck"}
				return
			}
			suggest(d, Fold(p.textOf(t)), otherWords, wordsOf(facts))
			return
		}
		d.Nearest, _ = Nearest(p.textOf(t), said.known())
	}
}

func (p *parser) wrongQuestion(tokens []token, at int) diag.Diagnostic {
	if d, wrong := p.unreadableToken(tokens); wrong {
		return d
	}
	return fault(ruleWrongQuestion, p.spot(tokens, at), "%s cannot stand in a question", p.describe(tokens, at))
}

// A retraced form is what the words of a fact or line have said up to a
// mistake.
type retraced struct {
	form   *form
	part   *laterPart // the part that the words belong to by now; nil: the form itself
	words  int        // words of that part; several with commas between count once where that is allowed
	pair   int        // words of the pair begun
	comma  bool       // the last of them is a comma
	inside bool       // they stand in braces
	ended  lexer.TokenType
	last   string
}

// retrace goes through the words after the first one of a form.
func (p *parser) retrace(f *form, prior []token) retraced {
	r := retraced{form: f}
	for _, t := range prior {
		switch t.kind {
		case textToken, closeToken:
			r.inside, r.ended = false, t.kind
		case openToken:
			r.inside, r.pair = true, 0
		case commaToken, breakToken:
			r.pair = 0
		case markToken:
			r.last = p.textOf(t)
			if part := f.laterPart(Fold(r.last)); part != nil {
				r.part, r.words = part, 0
			} else {
				r.words++
			}
		case wordToken:
			r.last = p.textOf(t)
			switch {
			case r.pairing():
				r.pair++
			case !r.comma || r.words > f.commas:
				r.words++
			}
		}
		r.comma = t.kind == commaToken
	}
	return r
}

// pairing reports whether pairs are wanted by now.
func (r *retraced) pairing() bool {
	switch {
	case r.form.pairs == "" || r.ended != 0:
		return false
	case len(r.form.later) > 0:
		return r.part != nil
	}
	return r.words >= r.form.pairsAfter
}

// missed is the word of a later part that may not be left out and has not come.
func (r *retraced) missed() string {
	if r.part != nil {
		return ""
	}
	for _, part := range r.form.later {
		if part.must {
			return part.word
		}
	}
	return ""
}

// wanted is what may come next, "" if nothing may.
func (r *retraced) wanted() string {
	wants, words := r.form.wants, r.words
	if r.part != nil {
		wants = r.part.wants
	}
	switch {
	case r.ended == textToken && r.form.Word == "kind":
		return wants[len(wants)-1]
	case r.ended != 0:
		return ""
	case r.pairing() && r.pair == 1:
		return r.form.pairs
	case r.pairing() && r.pair == 2:
		return "a comma"
	case r.missed() != "" && words >= len(wants):
		return "`" + r.missed() + "`"
	case r.comma && words > 0 && words <= r.form.commas:
		words-- // one more of the same
	case words >= len(wants) && r.form.only:
		return ""
	}
	return wants[min(words, len(wants)-1)]
}

// end names what nothing may follow.
func (r *retraced) end() string {
	switch r.ended {
	case textToken:
		return "the text in quotes"
	case closeToken:
		return "the closing brace"
	}
	return "`" + diag.Visible(r.last) + "`"
}

// known are the words of the language that could come next.
func (r *retraced) known() []string {
	if r.part != nil && r.words == 0 && len(r.form.last) > 0 {
		return r.form.last
	}
	words := slices.Clone(r.form.second)
	for _, part := range r.form.later {
		words = append(words, part.word)
	}
	return words
}
