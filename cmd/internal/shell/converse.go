package shell

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"

	"buzzout/cmd/internal/console"
	"buzzout/lang"
	"buzzout/lang/diag"
)

// A Screen says where answers and complaints go, and how they look.
type Screen struct {
	Out, Err   io.Writer
	Palette    Palette // of Out
	ErrPalette Palette
	Width      func() int
	JSON       bool // one document for each statement, and nothing else on Out
	Stop       bool // leave at the first line that is not understood
	Quiet      bool // leave the banner out
}

// A Prompter gives lines; console.Console is one.
type Prompter interface {
	Line(prompt string) (string, error)
	Remember(statement string) error
	Person() bool
}

// Converse asks for lines and answers them, to the end of the input or to
// quit. The status is the worst of all lines; a person who leaves has done
// nothing wrong, so for a person it is Sound.
func (s *Session) Converse(lines Prompter, screen *Screen) Status {
	worst := Sound
	warned := false
	read := &counted{Prompter: lines}
	lines = read
	screen.news(s.Recover())
	if lines.Person() && !screen.Quiet {
		screen.say(s.Banner())
	}
	for {
		if !lines.Person() {
			s.piped = read.lines + 1
		}
		statement, err := s.statement(lines, screen)
		var long *console.LongLineError
		switch {
		case errors.Is(err, io.EOF):
			if lines.Person() {
				if !warned && s.onlyHere(screen) {
					warned = true
					continue
				}
				return Sound
			}
			return worst
		case errors.As(err, &long):
			screen.complain(Result{Mistakes: []diag.Diagnostic{{Rule: "too-long", Severity: diag.Fault, Message: long.Error(),
				Mend: []string{"A line of a notebook has some hundred characters; nothing of this one was taken."}}}})
			worst = max(worst, NotUnderstood)
		case errors.Is(err, errGivenUp):
			continue
		case err != nil:
			fmt.Fprintf(screen.Err, "buzzout: cannot read on: %s\n", err)
			return NotUnderstood
		}
		status, over := s.answer(statement, lines, screen)
		worst = max(worst, status)
		if over && lines.Person() && !warned && s.onlyHere(screen) {
			warned = true
			continue
		}
		if over || screen.Stop && status >= NotUnderstood {
			if lines.Person() {
				return Sound
			}
			return worst
		}
	}
}

// A counted Prompter counts the lines that it gives.
type counted struct {
	Prompter
	lines int
}

func (c *counted) Line(prompt string) (string, error) {
	line, err := c.Prompter.Line(prompt)
	c.lines++
	return line, err
}

// Banner is what a person is told first.
func (s *Session) Banner() string {
	name := s.name
	if s.book.Title != "" {
		name = s.book.Title + " (" + s.name + ")"
	}
	text := name + ": " + s.size() + "."
	switch {
	case s.store != nil && !s.store.Exists():
		text = s.name + " is not there yet: the first fact makes it."
	case s.store != nil && s.store.Writable() != nil:
		text += " " + sentence(capital(s.store.Writable().Error())) + " Questions can be asked."
	}
	return text + " Type help to see what can be typed."
}

var errGivenUp = errors.New("given up")

// statement reads one statement, over several lines where a brace is open.
func (s *Session) statement(lines Prompter, screen *Screen) (string, error) {
	name := promptName(s.name)
	text, err := lines.Line(name + "> ")
	if errors.Is(err, console.ErrInterrupt) {
		screen.giveUp(lines, text)
		return "", errGivenUp
	}
	if err != nil {
		return "", err
	}
	for lang.NeedsMore(text) {
		s.pending = text + "\n"
		next, err := lines.Line(strings.Repeat(".", columns(name)) + "{ ")
		s.pending = ""
		switch {
		case errors.Is(err, console.ErrInterrupt), err == nil && lines.Person() && strings.TrimSpace(next) == "":
			screen.giveUp(lines, text+"\n"+next)
			return "", errGivenUp
		case errors.Is(err, io.EOF) && !lines.Person():
			return text, nil // what is said of the open brace is the complaint
		case errors.Is(err, io.EOF):
			screen.giveUp(lines, text)
			return "", errGivenUp
		case err != nil:
			return "", err
		case lines.Person() && leaves(next):
			screen.giveUp(lines, text)
			return next, nil
		}
		text += "\n" + next
	}
	return text, nil
}

// leaves reports whether a line ends the session, also inside braces: nobody
// is to be stuck there.
func leaves(line string) bool {
	q := findQuery(strings.TrimSpace(line))
	return q != nil && q.name == "quit"
}

// giveUp says that what was typed is dropped. It stays in the history.
func (c *Screen) giveUp(lines Prompter, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	_ = lines.Remember(oneLine(text))
	c.say("Given up, and nothing written. The up key brings it back.")
}

// oneLine joins the lines of a statement in braces, so that it is one entry
// of the history and can be typed again as it is. A comment would swallow
// what follows it, so comments are left out.
func oneLine(text string) string {
	lines := strings.Split(text, "\n")
	var kept []string
	for i, line := range lines {
		line = strings.TrimSpace(line)
		if len(lines) > 1 {
			if t := scan(line); t.inText && t.comment >= 0 {
				line = strings.TrimSpace(line[:t.comment])
			}
		}
		if line == "" {
			continue
		}
		if i > 0 && len(kept) > 0 && !strings.HasSuffix(kept[len(kept)-1], "{") && !strings.HasSuffix(kept[len(kept)-1], ",") && line != "}" {
			kept[len(kept)-1] += ";"
		}
		kept = append(kept, line)
	}
	return strings.Join(kept, " ")
}

// promptName is the notebook's name without folder and ending.
func promptName(name string) string {
	name = strings.TrimSuffix(filepath.Base(name), ".buzzout")
	return clip(diag.Visible(name), 24)
}

// answer does what a statement says and shows what came of it.
func (s *Session) answer(statement string, lines Prompter, screen *Screen) (status Status, over bool) {
	if strings.TrimSpace(statement) == "" {
		return Sound, false
	}
	_ = lines.Remember(oneLine(statement))
	ctx := context.Background()
	if lines.Person() {
		// At the prompt the editor handles Ctrl-C; while a question is being
		// answered it stops that question and not the shell.
		var done context.CancelFunc
		ctx, done = signal.NotifyContext(ctx, os.Interrupt)
		defer done()
	}
	results := s.Exec(ctx, statement)
	for _, r := range results {
		screen.Show(&r)
		status = max(status, r.Status)
		over = over || r.Quit
	}
	if lines.Person() && len(results) == 1 && results[0].answer == nil && tells(statement) && !screen.JSON {
		screen.say("Nothing of it was written down. The up key brings it back.")
	}
	return status, over
}

// tells reports whether a statement begins as a fact does.
func tells(statement string) bool {
	words := strings.Fields(statement)
	return len(words) > 0 && slices.Contains(factWords(), strings.ToLower(words[0]))
}

// Show writes a result: the answer to Out, complaints to Err.
func (c *Screen) Show(r *Result) {
	c.news(r.News, nil)
	if c.JSON {
		if r.Quit || r.blank() {
			return
		}
		c.Document(r.JSON())
		return
	}
	fmt.Fprint(c.Out, r.Text(c.Width(), c.Palette))
	// check tells it beside its verdict, and reload as what it found.
	if r.NotebookMistakes > 0 && r.Query != "check" && r.Query != "reload" {
		p := newPage(c.Width(), c.ErrPalette)
		p.say(0, 2, faint(mistakenText(r.NotebookMistakes)+" (check tells "+themOf(r.NotebookMistakes)+")."))
		fmt.Fprint(c.Err, p.text.String())
	}
	c.complain(*r)
}

// mistakenText says what a notebook that is not understood as a whole does to
// answers: one mistyped line of the plan makes good work look wrong.
func mistakenText(n int) string {
	return fmt.Sprintf("The notebook has %s; what is told of plan and wiring may follow from %s", count(n, "mistake"), themOf(n))
}

// Document writes one JSON document.
func (c *Screen) Document(doc json.RawMessage, err error) {
	if err != nil {
		panic(err) // every answer can be encoded
	}
	fmt.Fprintf(c.Out, "%s\n", doc)
}

func (c *Screen) complain(r Result) { c.Complaints(r.Mistakes) }

// Complaints tells of mistakes in a text.
func (c *Screen) Complaints(mistakes []diag.Diagnostic) {
	_ = diag.Render(c.Err, mistakes, diag.Options{Width: c.Width(), Colour: c.ErrPalette != NoColour})
}

// say writes a sentence to a person.
func (c *Screen) say(text string) {
	p := newPage(c.Width(), c.ErrPalette)
	p.say(0, 2, plain(text))
	fmt.Fprint(c.Err, p.text.String())
}

// news tells what happened to the file meanwhile.
func (c *Screen) news(text string, err error) {
	if err != nil {
		c.say(sentence(capital(err.Error())))
	} else if text != "" {
		c.say(text)
	}
}
