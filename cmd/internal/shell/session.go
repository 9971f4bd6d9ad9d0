package shell

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"buzzout/cmd/internal/notebook"
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A Session is one notebook that is being asked and told things. It has no
// terminal: [Session.Exec] takes a line and gives what came of it.
//
// It is for one goroutine at a time.
type Session struct {
	name   string             // of the notebook, as the person named it
	undone string             // the file that keeps what undo takes out
	store  *notebook.Notebook // nil where facts cannot be kept: a text from standard input
	shelf  *shelf
	text   string
	file   *lang.File
	book   *netlist.Book
	gone   bool     // the file was removed or renamed, and is not back yet
	typed  []string // lines typed since it was opened, those that were refused among them

	// pending are the earlier lines of a statement in braces that is being
	// typed, for completion.
	pending string
	// piped is the line of the input that is being answered, from 1, where no
	// person types; 0 at the prompt.
	piped int

	looked *wiring  // made when first needed, dropped when the book changes
	judged *verdict // likewise
}

// Options say how a notebook is opened.
type Options struct {
	// ReadOnly is for questions that never write: no lock is taken, and the
	// file has to be there.
	ReadOnly bool
	// Undone is the file that keeps what undo takes out; see package notebook.
	Undone string
}

// Open opens a notebook.
func Open(path string, o Options) (*Session, error) {
	store, err := notebook.Open(path, notebook.Options{ReadOnly: o.ReadOnly, Undone: o.Undone})
	if err != nil {
		return nil, err
	}
	s := &Session{name: filepath.Clean(path), store: store, undone: o.Undone, shelf: newShelf(filepath.Dir(path))}
	s.read(store.Text())
	return s, nil
}

// FromText makes a session of a text that is in no file. What it uses is
// looked for in the folder.
func FromText(name, text, folder string) *Session {
	s := &Session{name: name, shelf: newShelf(folder)}
	s.read(text)
	return s
}

// Close lets the notebook go.
func (s *Session) Close() error {
	if s.store == nil {
		return nil
	}
	return s.store.Close()
}

// read makes the book of a text.
func (s *Session) read(text string) {
	s.take(s.build(text))
}

// A reading of a text: what build makes, and take makes the session's own.
type built struct {
	text string
	file *lang.File
	book *netlist.Book
}

func (s *Session) build(text string) built {
	file := lang.Parse(diag.NewSource(s.name, text), questionWords()...)
	return built{text, file, netlist.Build(file, s.shelf.open)}
}

func (s *Session) take(b built) {
	b.file.Source.Position(0) // finds the lines now: a question that is given up may still be reading
	s.text, s.file, s.book = b.text, b.file, b.book
	s.looked, s.judged = nil, nil
}

func (s *Session) undoneFile() string { return s.undone }

// Name is what the notebook is called.
func (s *Session) Name() string { return s.name }

// Mistakes are those of the notebook.
func (s *Session) Mistakes() []diag.Diagnostic { return s.book.Mistakes }

func (s *Session) wiring() *wiring {
	if s.looked == nil {
		s.looked = newWiring(s.book)
	}
	return s.looked
}

// progress is the wiring with what comparison knows of like ends, for counting
// the joints of nets.
func (s *Session) progress() *wiring { return s.wiring().serve(s.verdict().served) }

func (s *Session) bench() *netlist.Bench { return s.wiring().bench }

// Refresh reads the notebook again where another program has changed it, or a
// book that it uses, and says so in a sentence; "" is no change.
func (s *Session) Refresh() (news string, err error) {
	if s.store == nil {
		return "", nil
	}
	changed, err := s.store.Reload()
	if errors.Is(err, notebook.ErrGone) {
		if s.gone {
			return "", nil
		}
		s.gone = true
		return s.goneText() + " Questions are answered from what is known.", nil
	}
	if err != nil {
		return "", err
	}
	if s.gone && !changed {
		s.gone = false
		return s.name + " is back, and says what it said before: facts are recorded again.", nil
	}
	s.gone = false
	name := s.name
	if used := s.shelf.stale(); used != "" {
		changed, name = true, used
	}
	if !changed {
		return "", nil
	}
	s.shelf.forget()
	s.read(s.store.Text())
	return fmt.Sprintf("%s was changed by another program, and has been read again: %s.", name, s.size()), nil
}

// size says how much the notebook holds: "214 facts", "no facts yet", and its
// mistakes.
func (s *Session) size() string {
	text := count(len(s.book.Facts), "fact")
	if len(s.book.Facts) == 0 {
		text = "no facts yet"
	}
	if n := faults(s.book.Mistakes); n > 0 {
		text += ", " + count(n, "mistake") + " (check tells " + themOf(n) + ")"
	}
	return text
}

// Recover settles a last line that a crash may have cut short, and says what
// became of it; "" is that there was nothing to settle.
func (s *Session) Recover() (news string, err error) {
	if s.store == nil || s.store.Writable() != nil {
		return "", nil
	}
	line, torn := s.store.Torn()
	nuls := s.store.Nuls()
	if !torn && nuls == 0 {
		return "", nil
	}
	kept, err := s.store.Recover(func(line string) bool {
		without := lang.Parse(diag.NewSource(s.name, strings.TrimSuffix(s.store.Text(), line)))
		return len(s.file.Mistakes) <= len(without.Mistakes)
	})
	if err != nil {
		return "", err
	}
	s.read(s.store.Text())
	switch {
	case !torn:
		return fmt.Sprintf("A crash had left %d empty bytes at the end of %s; they are cut off.", nuls, s.name), nil
	case kept:
		return fmt.Sprintf("The last line of %s had no line break: an editor left it out, or a crash cut the line short. "+
			"It reads as a whole and was kept; look at it: %s", s.name, line), nil
	}
	return fmt.Sprintf("The last line of %s was cut short, as by a crash, and was never acknowledged. "+
		"It is kept as a comment: %s", s.name, line), nil
}

// Exec does what a line says, statement after statement, and stops at one
// that is not understood. Facts are in the file before it returns.
func (s *Session) Exec(ctx context.Context, line string) []Result {
	if strings.TrimSpace(line) == "" {
		return nil
	}
	s.typed = append(s.typed, line)
	news, err := s.Refresh()
	if err != nil {
		return []Result{s.refused("", []diag.Diagnostic{{Rule: "cannot-read", Severity: diag.Fault, Message: err.Error()}})}
	}
	results := s.execLine(ctx, line)
	if results[0].Query == "reload" {
		news = "" // its answer says the same
	}
	results[0].News = news
	return results
}

func (s *Session) execLine(ctx context.Context, line string) []Result {
	file := lang.ParseLine(s.source(line), questionWords()...)
	if len(file.Mistakes) > 0 {
		return []Result{s.refused(firstVerb(file), file.Mistakes)}
	}
	if len(file.Statements) == 0 {
		return []Result{s.remark(line)}
	}
	var results []Result
	for i, statement := range file.Statements {
		r := s.exec(ctx, statement, trailing(file, i))
		results = append(results, r)
		if r.Status >= NotUnderstood || r.Quit || ctx.Err() != nil {
			break
		}
	}
	return results
}

// source is where a line was typed: at the prompt, or at a line of what is
// piped in.
func (s *Session) source(line string) *diag.Source {
	if s.piped == 0 {
		return diag.NewSource("prompt", line)
	}
	return &diag.Source{Name: "input", Text: line, FirstLine: s.piped}
}

func firstVerb(f *lang.File) string {
	for _, s := range f.Statements {
		return s.Verb()
	}
	return ""
}

// trailing is what stands behind the last statement of a line: its comment,
// which is kept with the fact.
func trailing(file *lang.File, i int) string {
	if i < len(file.Statements)-1 {
		return ""
	}
	rest := strings.TrimRight(file.Source.Text[file.Statements[i].Span().End:], " \t\r\n;")
	if strings.HasPrefix(strings.TrimLeft(rest, " \t"), "#") && !strings.ContainsAny(rest, "\r\n") {
		return rest
	}
	return ""
}

func (s *Session) exec(ctx context.Context, statement lang.Statement, comment string) Result {
	switch statement := statement.(type) {
	case *lang.Question:
		return s.question(ctx, statement)
	case lang.Fact:
		return s.tell(statement, comment)
	}
	panic("a statement that is neither fact nor question, and no mistake: " + statement.Verb())
}

func (s *Session) question(ctx context.Context, question *lang.Question) Result {
	verb := strings.ToLower(question.Words[0].Text)
	q := findQuery(verb)
	a := &asked{context: ctx, words: question.Words[1:], whole: question.Span(), try: question.Try}
	if q == nil {
		return s.refused(verb, []diag.Diagnostic{*unknown(question.Words[0].Place,
			"there is no question "+verb, nearestName(verb, append(queryWords(), factWords()...)))})
	}
	if wrong := q.wrongCount(a); wrong != nil {
		return s.refused(q.name, []diag.Diagnostic{*wrong})
	}
	answer, wrong := s.ask(ctx, q, a)
	if wrong != nil {
		return s.refused(q.name, []diag.Diagnostic{*wrong})
	}
	r := s.answered(q.name, answer)
	_, r.Quit = answer.(farewell)
	return r
}

// ask runs a query. Where the context can be cancelled, a query that only
// reads is left to itself when it is: it works on a copy of the session, and
// books are never changed, so it disturbs nobody.
func (s *Session) ask(ctx context.Context, q *query, a *asked) (answer, *diag.Diagnostic) {
	if ctx.Done() == nil || q.scope == atPrompt {
		return q.run(s, a)
	}
	type outcome struct {
		answer answer
		wrong  *diag.Diagnostic
		failed any
	}
	copied := *s
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			// A panic here would end the program with the terminal as the line
			// editor left it; it is passed on to where panics are caught.
			o.failed = recover()
			done <- o
		}()
		o.answer, o.wrong = q.run(&copied, a)
	}()
	select {
	case o := <-done:
		if o.failed != nil {
			panic(o.failed)
		}
		s.looked, s.judged = copied.looked, copied.judged
		return o.answer, o.wrong
	case <-ctx.Done():
		return nil, &diag.Diagnostic{Rule: "given-up", Severity: diag.Fault, Message: "given up before there was an answer"}
	}
}

// wrongCount tells of a question with too few or too many words.
func (q *query) wrongCount(a *asked) *diag.Diagnostic {
	if a.try != nil {
		return nil
	}
	n := len(a.words)
	wrong := diag.Diagnostic{Rule: "bad-question", Severity: diag.Fault, Mend: []string{"type it as: " + q.form(), "see: help " + q.name}}
	switch {
	case n < q.least:
		wrong.Place = a.whole
		wrong.Message = q.name + " needs " + q.args
	case q.most >= 0 && n > q.most:
		wrong.Place = a.words[q.most].Place.To(a.words[n-1].Place)
		wrong.Message = q.name + " takes no more words here"
		if q.most == 0 {
			wrong.Message = q.name + " stands alone"
		}
	default:
		return nil
	}
	return &wrong
}

// form is how a query is typed.
func (q *query) form() string { return strings.TrimSpace(q.name + " " + q.args) }

func (s *Session) head(query string) head {
	return head{
		Schema: Schema, Query: query, Notebook: s.name, Amplifier: s.book.Title,
		Complete: s.bench().AllComplete(), Mistakes: mistakeDocs(s.book.Mistakes),
	}
}

// answered is the result of a statement that was understood. What the
// notebook itself leaves unclear counts all the same: the answer may lack
// something.
func (s *Session) answered(query string, a answer) Result {
	r := Result{Query: query, answer: a, head: s.head(query)}
	if j, can := a.(judgement); can && j.bad() {
		r.Status = Bad
	}
	r.NotebookMistakes = faults(s.book.Mistakes)
	if r.NotebookMistakes > 0 {
		r.Status = NotUnderstood
	}
	r.head.Status = int(r.Status)
	return r
}

// refused is the result of a statement that was not understood.
func (s *Session) refused(query string, mistakes []diag.Diagnostic) Result {
	r := Result{Query: query, Status: NotUnderstood, Mistakes: mistakes, head: s.head(query)}
	r.head.Mistakes = mistakeDocs(mistakes)
	r.head.Status = int(r.Status)
	return r
}

func faults(mistakes []diag.Diagnostic) int {
	n := 0
	for _, m := range mistakes {
		if m.Severity.Bad() {
			n++
		}
	}
	return n
}

// changedMeanwhile reports whether an error of the store says that another
// program wrote the file.
func changedMeanwhile(err error) bool { return errors.Is(err, notebook.ErrChanged) }

func nearestName(word string, among []string) string {
	near, _ := lang.Nearest(word, among)
	return near
}
