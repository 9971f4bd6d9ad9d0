package lang

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"buzzout/lang/diag"
)

// The printed reference is held to the parser in both directions: whatever can
// be made from the printed rules is read, and of spoilt sentences both say the
// same.

// A rule is a node of a printed rule: a terminal, a reference to another rule,
// or several nodes in a row or to choose from.
type rule struct {
	op   byte // '"' literal, 'r' reference, '.' sequence, '|' choice, '[' optional, '{' repeated
	text string
	of   []*rule
}

// readRules reads the printed rules, those of words and characters aside, which
// are told in plain words and known to the test.
func readRules(t *testing.T) map[string]*rule {
	t.Helper()
	r := &ruleReader{t: t, rules: map[string]*rule{}}
	for _, text := range []string{textRules, factRules, lineRules} {
		for _, paragraph := range strings.Split(text, "\n\n") {
			if name, _, found := strings.Cut(paragraph, " = "); !found || strings.Contains(strings.TrimSpace(name), " ") {
				continue // plain words
			}
			r.words = strings.Fields(paragraph)
			for r.at < len(r.words) {
				r.rule()
			}
			r.at = 0
		}
	}
	for _, lexical := range []string{"text", "eol", "comment", "string", "word"} {
		delete(r.rules, lexical)
	}
	if len(r.rules) < 30 {
		t.Fatalf("only %d rules found in the reference", len(r.rules))
	}
	return r.rules
}

type ruleReader struct {
	t     *testing.T
	words []string
	at    int
	rules map[string]*rule
}

func (r *ruleReader) peek() string {
	if r.at < len(r.words) {
		return r.words[r.at]
	}
	return ""
}

func (r *ruleReader) rule() {
	name := r.words[r.at]
	r.at += 2 // the name and =
	if name == "eol" || name == "comment" || name == "string" || name == "word" {
		for r.peek() != "." { // told in plain words
			r.at++
		}
		r.at++
		return
	}
	r.rules[name] = r.choice()
	if r.peek() != "." {
		r.t.Fatalf("rule %s: %q stands where it should end", name, r.peek())
	}
	r.at++
}

func (r *ruleReader) choice() *rule {
	c := &rule{op: '|', of: []*rule{r.sequence()}}
	for r.peek() == "|" {
		r.at++
		c.of = append(c.of, r.sequence())
	}
	if len(c.of) == 1 {
		return c.of[0]
	}
	return c
}

func (r *ruleReader) sequence() *rule {
	s := &rule{op: '.'}
	for {
		switch word := r.peek(); {
		case word == "" || strings.Contains("|.)]}", word):
			return s
		case word == "(" || word == "[" || word == "{":
			r.at++
			inner := r.choice()
			if want := map[string]string{"(": ")", "[": "]", "{": "}"}[word]; r.peek() != want {
				r.t.Fatalf("%q stands where %s is wanted", r.peek(), want)
			}
			r.at++
			if word != "(" {
				inner = &rule{op: word[0], of: []*rule{inner}}
			}
			s.of = append(s.of, inner)
		case strings.HasPrefix(word, `"`):
			r.at++
			s.of = append(s.of, &rule{op: '"', text: strings.Trim(word, `"`)})
		default:
			r.at++
			s.of = append(s.of, &rule{op: 'r', text: word})
		}
	}
}

// A maker makes random sentences from rules.
type maker struct {
	rules map[string]*rule
	*rand.Rand
}

var (
	someWords = []string{"R1.2", "V1.2-grid", "grid-1", "100k", "0,6", "red/yellow", "P1", "50%", "C6.+", "+255", "R1..R24", "screen", "with", "by", "phase", "but", "when", "hum", "seen", "open"}
	someTexts = []string{`"a remark"`, `""`, `“in curly quotes”`, `"# { } , ;"`}
)

// sentence makes one from a rule. Known are the literals of the rule that is
// being made, since its words must not be among them.
func (m *maker) sentence(node *rule, known []string, out []string) []string {
	switch node.op {
	case '"':
		word := node.text
		if m.IntN(4) == 0 {
			word = strings.ToUpper(word)
		}
		return append(out, word)
	case '.':
		for _, n := range node.of {
			out = m.sentence(n, known, out)
		}
	case '|':
		return m.sentence(node.of[m.IntN(len(node.of))], known, out)
	case '[':
		if m.IntN(2) == 0 {
			return m.sentence(node.of[0], known, out)
		}
	case '{':
		for range m.IntN(4) {
			out = m.sentence(node.of[0], known, out)
		}
	case 'r':
		return m.reference(node.text, known, out)
	}
	return out
}

func (m *maker) reference(name string, known []string, out []string) []string {
	switch name {
	case "word":
		for {
			if w := someWords[m.IntN(len(someWords))]; !slices.Contains(known, w) {
				return append(out, w)
			}
		}
	case "string":
		return append(out, someTexts[m.IntN(len(someTexts))])
	case "eol":
		return append(out, []string{"\n", ";"}[m.IntN(2)])
	case "queryword":
		return append(out, "check")
	case "part":
		known = append(slices.Clip(known), reserved...)
	}
	// The literals of a rule are no words of it, nor of the lists in it.
	return m.sentence(m.rules[name], append(slices.Clip(known), literals(m.rules[name])...), out)
}

func literals(node *rule) []string {
	if node.op == '"' {
		return []string{node.text}
	}
	var all []string
	for _, n := range node.of {
		all = append(all, literals(n)...)
	}
	return all
}

// A recogniser says whether tokens fit the printed rules: from an index it
// gives all at which a rule can end.
type recogniser struct {
	rules  map[string]*rule
	text   string
	tokens []token
}

func (r *recogniser) ends(node *rule, from int) []int {
	switch node.op {
	case '"':
		if from < len(r.tokens) && r.tokens[from].value(r.text) == node.text &&
			(r.tokens[from].kind >= verbToken || strings.Contains("{},", node.text)) {
			return []int{from + 1}
		}
		return nil
	case '.':
		at := []int{from}
		for _, n := range node.of {
			at = r.all(n, at)
		}
		return at
	case '|':
		var at []int
		for _, n := range node.of {
			at = append(at, r.ends(n, from)...)
		}
		return unique(at)
	case '[':
		return unique(append(r.ends(node.of[0], from), from))
	case '{':
		at := []int{from}
		for next := at; len(next) > 0; {
			next = r.all(node.of[0], next)
			next = slices.DeleteFunc(next, func(i int) bool { return slices.Contains(at, i) })
			at = append(at, next...)
		}
		return unique(at)
	}
	for name, kind := range map[string]int{"word": int(wordToken), "string": int(textToken), "eol": int(breakToken)} {
		if node.text == name {
			if from < len(r.tokens) && int(r.tokens[from].kind) == kind {
				return []int{from + 1}
			}
			return nil
		}
	}
	return r.ends(r.rules[node.text], from)
}

func (r *recogniser) all(node *rule, from []int) []int {
	var at []int
	for _, i := range from {
		at = append(at, r.ends(node, i)...)
	}
	return unique(at)
}

func unique(list []int) []int {
	slices.Sort(list)
	return slices.Compact(list)
}

func TestReferenceMakesOnlyWhatIsRead(t *testing.T) {
	m := &maker{readRules(t), rand.New(rand.NewPCG(1, 2))}
	for range 10_000 {
		name := []string{"fact", "question"}[m.IntN(2)]
		text := strings.Join(m.reference(name, nil, nil), " ")
		file := ParseLine(diag.NewSource("made", text), "check")
		if len(file.Mistakes) > 0 {
			t.Fatalf("%s\n%s: %s", text, file.Mistakes[0].Place, file.Mistakes[0].Message)
		}
		if len(file.Statements) != 1 {
			t.Fatalf("%s\nmade %d statements", text, len(file.Statements))
		}
	}
}

func TestReferenceAndParserAgreeOnSpoiltSentences(t *testing.T) {
	rules := readRules(t)
	m := &maker{rules, rand.New(rand.NewPCG(3, 4))}
	verdicts := map[bool]int{}
	for range 10_000 {
		words := m.reference("fact", nil, nil)
		text := strings.Join(m.spoil(words), " ")
		p := &parser{builder: builder{diag.NewSource("spoilt", text)}, file: &File{}, grammar: entries()}
		for pc := range cut(text) {
			h := pc.head(text, false)
			if h.form == nil {
				continue // not a fact, and nobody would say it was
			}
			pc.classify(text, h)
			g, at := p.parse(h, pc.tokens)
			r := &recogniser{rules, text, pc.tokens}
			want := slices.Contains(r.ends(rules["fact"], 0), len(pc.tokens))
			if (g != nil) != want {
				t.Fatalf("%s\nby the printed rules %t, by the parser %t (at token %d)", text, want, g != nil, at)
			}
			verdicts[want]++
		}
	}
	if verdicts[true] < 500 || verdicts[false] < 500 {
		t.Errorf("the spoilt sentences say little: %v", verdicts)
	}
}

// spoil drops, doubles, swaps or adds a word or two.
func (m *maker) spoil(words []string) []string {
	words = slices.Clone(words)
	for range 1 + m.IntN(2) {
		if len(words) < 2 {
			return words
		}
		i := 1 + m.IntN(len(words)-1)
		switch m.IntN(4) {
		case 0:
			words = slices.Delete(words, i, i+1)
		case 1:
			words = slices.Insert(words, i, words[i])
		case 2:
			j := 1 + m.IntN(len(words)-1)
			words[i], words[j] = words[j], words[i]
		case 3:
			extra := []string{",", "{", "}", ";", ";", ";", `"x"`, `"x"`, `"x"`, "screen", "with", "by", "moves", "when", "but", "phase", "complete", "seen", "word"}
			words = slices.Insert(words, i+m.IntN(2), extra[m.IntN(len(extra))])
		}
	}
	return words
}

func TestEveryWordHasAnExampleThatIsRead(t *testing.T) {
	for _, f := range slices.Concat(facts, blockLineForms) {
		if f.Purpose == "" || f.Form == "" || !strings.HasPrefix(f.Example, f.Word+" ") {
			t.Errorf("%s: purpose %q, form %q, example %q", f.Word, f.Purpose, f.Form, f.Example)
		}
		text := f.Example
		if f.begins != verbToken {
			text = fmt.Sprintf("kind sample { %s }", f.Example)
		}
		file := Parse(diag.NewSource("example", text))
		for _, m := range file.Mistakes {
			t.Errorf("%s: %s", f.Example, m.Message)
		}
		if tidy, _ := Tidy(file.Source); tidy != text+"\n" {
			t.Errorf("the example of %s is not tidy: %s", f.Word, tidy)
		}
	}
}

func TestFormsAndGrammarKnowTheSameWords(t *testing.T) {
	printed := readRules(t)
	var verbs, lines []string
	for _, name := range literals(printed["told"]) {
		t.Fatalf("told has a literal %s", name)
	}
	for _, ref := range printed["told"].of {
		verbs = append(verbs, literals(printed[ref.of[0].text])...)
	}
	verbs = append(verbs, "strike")
	for _, ref := range printed["kindline"].of {
		lines = append(lines, literals(printed[ref.of[0].text])...)
	}
	for _, f := range facts {
		if !slices.Contains(verbs, f.Word) {
			t.Errorf("no printed rule begins with %s", f.Word)
		}
		if entries().facts[f.Word] == nil {
			t.Errorf("no production begins with %s", f.Word)
		}
	}
	for _, f := range blockLineForms {
		if !slices.Contains(lines, f.Word) {
			t.Errorf("no printed rule begins with %s", f.Word)
		}
		if len(f.Word) > longestWord {
			t.Errorf("%s is longer than the longest word", f.Word)
		}
	}
}

func newRand(t *rapid.T) *rand.Rand {
	return rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
}

// What the reference says of figures, colours and ranges is so.
func TestReferenceExamples(t *testing.T) {
	paragraph := func(label string) []string {
		_, text, found := strings.Cut(textRules, "\n"+label+":")
		if !found {
			t.Fatalf("nothing is said of %s", label)
		}
		text, _, _ = strings.Cut(text, "\n\n")
		return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,\n", r) })
	}
	read := 0
	for i, word := range paragraph("Figures") {
		if _, ok := ReadFigure(word); ok {
			read++
		} else if _, _, ok := ReadFuse(strings.TrimSuffix(word, ".")); ok {
			read++
		} else if strings.ContainsAny(word, "0123456789") {
			t.Errorf("word %d, %s, is no figure", i+1, word)
		}
	}
	if read < 20 {
		t.Errorf("%d figures", read)
	}
	var named []string
	for _, word := range paragraph("Colours") {
		if c, ok := ReadColour(strings.Trim(word, ".;")); ok && c.Tracer == "" {
			named = append(named, c.Base)
		}
	}
	for _, name := range ColourNames() {
		if n := len(slices.DeleteFunc(slices.Clone(named), func(s string) bool { return s != name })); n != 2 && name != "bare" {
			t.Errorf("%s is named %d times, by name and by letters it would be twice", name, n)
		}
	}
	for _, word := range paragraph("Ranges")[:3] {
		if names, ranged, problem := Expand(Word{Text: word}); !ranged || problem != "" || len(names) < 2 {
			t.Errorf("%s is no range", word)
		}
	}
}

func TestReferenceFitsTheScreen(t *testing.T) {
	for line := range strings.SplitSeq(Grammar(), "\n") {
		if diag.Columns(line) > 79 {
			t.Errorf("%d columns: %s", diag.Columns(line), line)
		}
	}
	for _, word := range reserved {
		if !strings.Contains(strings.Join(strings.Fields(factRules), " "), " "+word) {
			t.Errorf("the reference does not say that %s is reserved", word)
		}
	}
}
