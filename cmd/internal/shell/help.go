package shell

import (
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

func helpQueries() []query {
	return []query{
		{
			name: "language", bare: true, line: "the language of the notebook: its grammar, and every word with an example",
			text:    "For those who want to know exactly; `help` and one word is the shorter way.",
			example: "language", run: askLanguage,
		},
		{
			name: "help", bare: true, also: "?", args: "[WORD]", line: "what can be typed; with a word, all about it",
			text:    "A query, a fact, a line of a kind's block, a rule, or a word of the trade.",
			example: "help lead",
			most:    1, takes: []slot{slotHelp}, run: askHelp,
		},
	}
}

// A topic is one word of which help knows.
type topic struct {
	Word    string         `json:"word"`
	Sort    string         `json:"sort"` // query, fact, line, rule, page, word or kind
	Form    string         `json:"form"`
	Line    string         `json:"line"`
	Text    string         `json:"text"`
	Example string         `json:"example"`
	Also    listOf[string] `json:"also"`
}

func queryTopic(q *query) *topic {
	t := &topic{Word: q.name, Sort: "query", Form: q.form(), Line: q.line, Text: q.text, Example: q.example}
	if q.also != "" {
		t.Also = []string{q.also}
	}
	return t
}

func findTopic(word string) *topic {
	if q := findQuery(word); q != nil {
		return queryTopic(q)
	}
	if w, known := lang.WordFor(word); known {
		t := &topic{Word: w.Word, Sort: "line", Form: w.Form, Line: w.Purpose, Example: w.Example, Text: moreHelp[w.Word]}
		if slices.ContainsFunc(lang.FactWords(), func(f lang.WordHelp) bool { return f.Word == w.Word }) {
			t.Sort, t.Example = "fact", demoExamples[w.Word]
		}
		// A word of the trade may begin a line as well: tell both.
		if also := findTerm(word); also != nil {
			t.Text = strings.TrimSpace(t.Text + "\n\n" + also.mind)
		}
		return t
	}
	if r := findRule(word); r != nil {
		return &topic{Word: r.Name, Sort: "rule", Form: "explain " + r.Name, Line: r.Title, Text: strings.TrimSpace(r.Text), Example: "explain " + r.Name}
	}
	if page, known := helpPages[strings.ToLower(word)]; known {
		return &topic{Word: strings.ToLower(word), Sort: "page", Line: page.line, Text: page.text}
	}
	if t := findTerm(word); t != nil {
		return &topic{Word: t.printed, Sort: "word", Text: t.mind, Also: t.also}
	}
	if k, known := parts.Builtin().Kind(word); known {
		return kindTopic(k)
	}
	return nil
}

// kindTopic is the help on a kind of part that comes with the tool.
func kindTopic(k *parts.Kind) *topic {
	t := &topic{Word: k.Name, Sort: "kind", Form: "part REF " + k.Name, Line: k.Title, Also: k.Also,
		Text: "A kind of part. `about " + k.Name + "` lists its terminals and what it does."}
	if len(k.Terminals) == 0 && !k.Any && !k.Counts {
		t.Text = "A kind of part. What it has is told in braces, in lines of their own or parted by `;`. Help tells of each word there."
		t.Example = "part T9 transformer { winding primary p1 p2; winding heater h-a h-b; volts h-a h-b 6.3V 2A; dcr p1 p2 22 }"
	}
	return t
}

// helpWords are all the words of which help knows.
func helpWords() []string {
	names := slices.Concat(queryWords(), factWords(), blockWords())
	for _, r := range allRules() {
		names = append(names, r.Name)
	}
	for _, t := range vocabulary {
		names = append(append(names, t.printed), t.also...)
	}
	for name := range helpPages {
		names = append(names, name)
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func factWords() []string  { return wordsOf(lang.FactWords()) }
func blockWords() []string { return wordsOf(lang.BlockWords()) }

func wordsOf(helps []lang.WordHelp) []string {
	var names []string
	for _, h := range helps {
		names = append(names, h.Word)
	}
	return names
}

func askHelp(s *Session, a *asked) (answer, *diag.Diagnostic) {
	if a.word(0) == "" {
		return overview(everywhere, atPrompt), nil
	}
	if t := findTopic(a.word(0)); t != nil {
		return t, nil
	}
	d := unknown(a.place(0), "help knows nothing of "+a.word(0), nearestName(a.word(0), helpWords()))
	if d.Nearest == "" {
		d.Mend = []string{"see what there is: help"}
	}
	return nil, d
}

// Help is the help on a word, without a notebook; "" is the list of queries
// that can be asked from the command line. found is false for a word that
// nobody knows, and nearest is then one that was probably meant.
func Help(word string, width int, palette Palette) (text, nearest string, found bool) {
	p := newPage(width, palette)
	if word == "" {
		overview(everywhere).write(p)
		return p.text.String(), "", true
	}
	t := findTopic(word)
	if t == nil {
		return "", nearestName(word, helpWords()), false
	}
	t.write(p)
	return p.text.String(), "", true
}

func (t *topic) write(p *page) {
	switch t.Sort {
	case "query", "fact":
		p.line(0, strong(t.Form))
	case "line":
		p.line(0, strong(t.Form))
		p.say(2, 2, faint("A line in the braces of a kind or of a part."))
	case "rule", "page":
		p.say(0, 2, strong(t.Word), plain(": "+t.Line))
		p.gap()
		p.prose(0, t.Text)
		return
	case "kind":
		p.line(0, strong(t.Form))
		p.say(2, 2, plain(sentence(capital(t.Line))))
		p.prose(2, t.Text)
		if t.Example != "" {
			p.gap()
			p.say(2, 4, faint("For example: "), plain(t.Example))
		}
		return
	case "word":
		p.say(0, 2, strong(t.Word), faint(alsoText(t.Also)))
		p.say(2, 2, plain(t.Text))
		return
	}
	p.say(2, 2, plain(sentence(capital(t.Line))))
	if len(t.Also) > 0 {
		p.say(2, 2, plain("Also read: "+strings.Join(t.Also, ", ")+"."))
	}
	if t.Text != "" {
		p.prose(2, t.Text)
	}
	p.gap()
	p.line(2, faint("For example:  "), plain(t.Example))
}

func alsoText(also []string) string {
	if len(also) == 0 {
		return ""
	}
	return "  (also " + strings.Join(also, ", ") + ")"
}

// An overviewAnswer is help without a word.
type overviewAnswer struct {
	Queries listOf[topic] `json:"queries"`
	Facts   listOf[topic] `json:"facts"`
}

func overview(scopes ...scope) overviewAnswer {
	var o overviewAnswer
	for i := range queries {
		if slices.Contains(scopes, queries[i].scope) {
			o.Queries = append(o.Queries, *queryTopic(&queries[i]))
		}
	}
	for _, w := range lang.FactWords() {
		o.Facts = append(o.Facts, topic{Word: w.Word, Sort: "fact", Form: w.Form, Line: w.Purpose, Example: w.Example})
	}
	return o
}

func (o overviewAnswer) write(p *page) {
	p.line(0, strong("To ask"))
	var rows []row
	for _, q := range o.Queries {
		rows = append(rows, row{{strong(q.Word)}, cell(q.Line)})
	}
	p.table(2, rows)
	p.gap()
	p.line(0, strong("To tell"))
	rows = nil
	for _, f := range o.Facts {
		rows = append(rows, row{{strong(f.Word)}, cell(f.Line)})
	}
	p.table(2, rows)
	p.gap()
	p.say(0, 0, plain("help and any of these words shows how it is written, with an example. So does a word of the trade: help plate. help keys, help json and help status tell the rest."))
}

type languageAnswer struct {
	Grammar string `json:"grammar"`
}

func askLanguage(*Session, *asked) (answer, *diag.Diagnostic) {
	return languageAnswer{lang.Grammar()}, nil
}

func (a languageAnswer) write(p *page) {
	for line := range strings.Lines(a.Grammar) {
		p.line(0, plain(strings.TrimRight(line, "\n")))
	}
}
