package shell

import (
	"encoding/json"

	"buzzout/lang/diag"
)

// A Status is what a process ends with.
type Status int

// The statuses; the worst of several answers counts.
const (
	Sound         Status = iota // nothing bad was found
	Bad                         // a danger or a fault was found
	NotUnderstood               // the notebook or the command line
	Broken                      // a fault of the tool itself
)

// An answer is what a query found. It is a value: told to a person by write,
// and to a program as the JSON of its own fields, beside those of head.
type answer interface {
	write(p *page)
}

// A judgement is an answer that can be bad news.
type judgement interface {
	answer
	bad() bool
}

// A Result is what came of one statement: an answer, or what was not
// understood of it. The zero Result is of a blank line.
type Result struct {
	Query    string
	Status   Status
	Quit     bool              // the session is over
	News     string            // what another program did to the notebook meanwhile, in a sentence
	Mistakes []diag.Diagnostic // of the statement
	// NotebookMistakes counts what is not understood of the notebook itself.
	NotebookMistakes int
	answer           answer
	head             head
}

// blank reports that nothing was said: a line of blanks.
func (r *Result) blank() bool { return r.answer == nil && len(r.Mistakes) == 0 }

// Text is the answer for a person; "" where there is none.
func (r *Result) Text(width int, palette Palette) string {
	if r.answer == nil {
		return ""
	}
	p := newPage(width, palette)
	r.answer.write(p)
	return p.text.String()
}

// JSON is the one document of the result.
func (r *Result) JSON() (json.RawMessage, error) { return document(r.head, r.answer) }

// A said answer is one plain sentence.
type said struct {
	Message string `json:"message"`
}

func (a said) write(p *page) { p.say(0, 0, plain(a.Message)) }
