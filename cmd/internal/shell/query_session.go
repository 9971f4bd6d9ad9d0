package shell

import (
	"errors"
	"fmt"
	"strconv"

	"buzzout/cmd/internal/notebook"
	"buzzout/lang"
	"buzzout/lang/diag"
)

func sessionQueries() []query {
	return []query{
		{
			name: "undo", line: "take the last fact of the notebook back",
			text: "The line is taken out of the file, and kept in a file of its own under the state folder. Said again, the fact before it is taken back. " +
				"What was undone at the bench is told by `unsolder`, and what was never true by `strike`: these keep the record.",
			example: "undo", scope: atPrompt, run: doUndo,
		},
		{
			name: "history", line: "what was typed since the shell was opened",
			text:    "Lines that were refused are among them, so that nothing typed is lost. The up key brings back earlier sessions as well.",
			example: "history", scope: atPrompt, run: askHistory,
		},
		{
			name: "reload", line: "read the notebook again",
			text: "An editor may change the file, and the books that it uses, at any time. The shell looks before each line, and says so when " +
				"something has changed; `reload` looks at once and says how much there is.",
			example: "reload", scope: atPrompt, run: doReload,
		},
		{
			name: "save", line: "write the notebook again, where its file is gone",
			text: "Every fact is in the file before it is answered, so there is seldom anything to save. Where the file was removed or renamed " +
				"under the shell, the shell says so, keeps what it knows, and records nothing more; `save` writes the file again from that. " +
				"A file that is there is never written over.",
			example: "save", scope: atPrompt, run: doSave,
		},
		{
			name: "quit", also: "exit", line: "end the session",
			text:    "Every fact is in the file already, so there is nothing to save. Ctrl-D on an empty line does the same; so does `exit`.",
			example: "quit", scope: atPrompt, run: doQuit,
		},
	}
}

type undoAnswer struct {
	Fact   string `json:"fact"`
	KeptIn string `json:"kept_in"`
	changeDoc
	change change
	place  diag.Place
}

func (a undoAnswer) bad() bool { return a.change.bad() }

func doUndo(s *Session, a *asked) (answer, *diag.Diagnostic) {
	if s.store == nil {
		return nil, &diag.Diagnostic{Rule: "cannot-write", Severity: diag.Fault, Place: a.whole,
			Message: "nothing can be taken back here: the notebook is not a file"}
	}
	last := lastFact(s.file)
	if last == nil {
		return said{"There is no fact in " + s.name + " to take back."}, nil
	}
	span := last.Span()
	text := span.Text()
	kept, err := s.store.Undo(span.Start, span.End)
	if err != nil {
		return nil, &diag.Diagnostic{Rule: "cannot-write", Severity: diag.Fault, Place: a.whole, Message: err.Error()}
	}
	next := s.build(s.store.Text())
	c := s.change(next)
	s.take(next)
	s.settle(c)
	return undoAnswer{
		Fact: text, KeptIn: kept, changeDoc: c.document(s.book), change: c, place: span}, nil
}

// lastFact is the fact that was written last; nil where there is none. A line
// that was not understood is no fact.
func lastFact(file *lang.File) lang.Fact {
	for i := len(file.Statements) - 1; i >= 0; i-- {
		if f, is := file.Statements[i].(lang.Fact); is {
			return f
		}
	}
	return nil
}

func (a undoAnswer) write(p *page) {
	p.say(0, 0, plain("Taken back:"))
	p.quote(2, []diag.Note{{Place: a.place}})
	if len(a.change.nets) > 0 {
		p.say(2, 4, plain(a.change.sentence()))
	}
	a.change.write(p)
	if a.KeptIn != "" {
		p.say(2, 4, faint("It is kept in "+a.KeptIn+"."))
	}
}

type historyAnswer struct {
	Lines listOf[string] `json:"lines"`
}

func askHistory(s *Session, _ *asked) (answer, *diag.Diagnostic) {
	return historyAnswer{append([]string(nil), s.typed...)}, nil
}

func (a historyAnswer) write(p *page) {
	var rows []row
	for i, line := range a.Lines {
		rows = append(rows, row{{faint(strconv.Itoa(i + 1))}, cell(firstLine(line))})
	}
	p.table(0, rows)
}

func doReload(s *Session, a *asked) (answer, *diag.Diagnostic) {
	if s.store == nil {
		return said{"The notebook is not a file, so there is nothing to read again."}, nil
	}
	_, err := s.store.Reload()
	if errors.Is(err, notebook.ErrGone) {
		s.gone = true
		err = errors.New(s.goneText())
	}
	if err != nil {
		return nil, &diag.Diagnostic{Rule: "cannot-read", Severity: diag.Fault, Place: a.whole, Message: err.Error()}
	}
	s.gone = false
	s.shelf.forget()
	s.read(s.store.Text())
	return said{fmt.Sprintf("Read %s again: %s.", s.name, s.size())}, nil
}

// farewell ends the session.
type farewell struct{}

func (farewell) write(*page) {}

func doQuit(*Session, *asked) (answer, *diag.Diagnostic) { return farewell{}, nil }
