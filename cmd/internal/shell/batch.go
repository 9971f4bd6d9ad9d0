package shell

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"

	"buzzout/cmd/internal/notebook"
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// Ask is Exec without a prompt and without writing: a fact holds for the
// questions behind it, and is forgotten with the session. What is about a
// prompt is refused. A statement that is not understood does not keep the
// others from being asked.
func (s *Session) Ask(ctx context.Context, line string) []Result {
	file := lang.ParseLine(diag.NewSource("question", line), questionWords()...)
	if len(file.Mistakes) > 0 {
		return []Result{s.refused(firstVerb(file), file.Mistakes)}
	}
	var results []Result
	for _, statement := range file.Statements {
		if fact, tells := statement.(lang.Fact); tells {
			results = append(results, s.suppose(fact))
			continue
		}
		question := statement.(*lang.Question)
		if q := findQuery(question.Words[0].Text); q != nil && q.scope == atPrompt {
			results = append(results, s.refused(q.name, []diag.Diagnostic{{
				Rule: "bad-question", Severity: diag.Fault, Place: question.Words[0].Place,
				Message: q.name + " is for the shell's prompt",
			}}))
			continue
		}
		results = append(results, s.question(ctx, question))
	}
	return results
}

// suppose takes a fact for true, without writing it down.
func (s *Session) suppose(fact lang.Fact) Result {
	next, wrong := s.with(fact, "")
	if len(wrong) > 0 {
		return s.refused(fact.Verb(), wrong)
	}
	t := s.tried(fact, next)
	s.take(next)
	s.settle(t.change)
	return s.answered(fact.Verb(), t)
}

// Document is the JSON document of a result.
func (r *Result) Document() json.RawMessage {
	doc, err := r.JSON()
	if err != nil {
		panic(err) // every answer can be encoded
	}
	return doc
}

// DocumentList is one document for several answers.
func DocumentList(docs []json.RawMessage) json.RawMessage {
	doc, err := encode(struct {
		Schema  string                  `json:"schema"`
		Answers listOf[json.RawMessage] `json:"answers"`
	}{Schema, docs})
	if err != nil {
		panic(err) // its parts are documents
	}
	return doc
}

// Queries are the names of the queries that can be asked without a prompt.
func Queries() []string {
	var names []string
	for _, q := range queries {
		if q.scope == everywhere {
			names = append(names, q.name)
		}
	}
	return names
}

// IsTyped reports whether a word begins a fact, or something to do, and so is
// typed in the shell.
func IsTyped(word string) bool {
	word = strings.ToLower(word)
	return slices.Contains(factWords(), word) || findQuery(word) != nil
}

// NeedsNotebook reports whether a query's answer hangs on a notebook. The
// others can be asked without one; so can about, of a kind that comes with the
// tool and of a word that help knows.
func NeedsNotebook(name string, words []string) bool {
	q := findQuery(name)
	if q != nil && q.name == "about" && len(words) == 1 {
		_, kind := parts.Builtin().Kind(words[0])
		return !kind && findTopic(words[0]) == nil
	}
	return q == nil || !q.bare
}

// KindNames are the kinds of part that come with the tool.
func KindNames() []string { return parts.Builtin().Names() }

// IsLocked reports whether an error of Open says that another shell has the
// notebook.
func IsLocked(err error) bool {
	var locked *notebook.LockedError
	return errors.As(err, &locked)
}

// Visible makes a text from elsewhere fit for a terminal.
func Visible(text string) string { return diag.Visible(text) }

// Nearest is the name that was probably meant, "" where none is near.
func Nearest(word string, among []string) string { return nearestName(word, among) }

// Tidy gives a notebook its one look. A text with mistakes is refused.
func Tidy(name, text string) (tidy string, mistakes []diag.Diagnostic) {
	return lang.Tidy(diag.NewSource(name, text))
}
