// Package console takes one line at a time from a person or from a pipe, and
// knows what the screen can show. It is the only door to the line editor.
//
// [Open] decides which of the two it is: a person sits there when both the input
// and the output are terminals. A person gets a prompt, keys for editing,
// completion and history. A pipe is read as it stands: no prompt is written and
// no character of it acts as a key.
//
// A Console belongs to one goroutine, from Open to Close.
package console

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// ErrInterrupt says that the person gave the line up with Ctrl-C. [Console.Line]
// gives what had been typed along with it.
var ErrInterrupt = errors.New("interrupted")

// ErrNobody says that a question was put where no person answers.
var ErrNobody = errors.New("there is no terminal to ask at")

// A LongLineError says that a line was too long to be taken. The whole line was
// read: the next one is the one after it.
type LongLineError struct {
	Limit int    // the most that is taken
	Unit  string // what Limit counts: "bytes" from a pipe, "characters" typed
}

func (e *LongLineError) Error() string {
	return fmt.Sprintf("the line is longer than %d %s", e.Limit, e.Unit)
}

// Options say where lines come from and what a person is offered.
type Options struct {
	In  io.Reader // os.Stdin if nil
	Out io.Writer // os.Stdout if nil

	// Force treats whoever types at the terminal In as a person, even if Out
	// is not a terminal. It is for tests of whole sessions.
	Force bool
	// Plain reads without the line editor's keys, where the terminal cannot
	// move its cursor (TERM=dumb). A person still gets a prompt.
	Plain bool
	// Width is the number of columns to count on, or zero to ask the terminal.
	Width int

	// History is the file of earlier statements, as [HistoryFile] names it.
	// Empty, nothing is read, kept or recalled from earlier sessions.
	History string
	// Complete gives the words that fit where the cursor is. It sees the line
	// up to the cursor; the words stand for before[start:], and those that do
	// not begin with it, capitals aside, are left out. Nil offers nothing.
	Complete func(before string) (start int, words []string)
	// Instead gives words that are put in the place of before[start:] where
	// Complete has none, the next one with each further Tab. Nil gives none.
	Instead func(before string) (start int, words []string)
}

// A Console gives lines.
type Console struct {
	lines  lines
	out    io.Writer
	person bool
	width  func() int
}

// lines is where lines come from.
type lines interface {
	line(prompt string, offer bool) (string, error)
	remember(statement string) error
	restore()
	close() error
}

// Open begins to read.
func Open(o Options) (*Console, error) {
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	in, _ := o.In.(*os.File)
	out, _ := o.Out.(*os.File)
	c := &Console{out: o.Out}
	c.person = Terminal(in) && (Terminal(out) || o.Force)
	c.width = func() int {
		if o.Width > 0 {
			return o.Width
		}
		return Width(out)
	}
	switch {
	case !c.person:
		c.lines = newScript(o.In, nil)
	case o.Plain:
		c.lines = newScript(o.In, o.Out)
	default:
		p, err := newPerson(in, o, c.width)
		if err != nil {
			return nil, err
		}
		c.lines = p
	}
	return c, nil
}

// Person reports whether somebody sits there.
func (c *Console) Person() bool { return c.person }

// Width is the number of columns of the screen; 80 where nobody knows.
func (c *Console) Width() int { return c.width() }

// Line gives the next line without its line break. The prompt may have colours
// ("\x1b[32m"); whatever else the cursor cannot be kept in step with is shown as
// "?", and a prompt too long for the screen is cut. The error is [io.EOF] at the
// end of the input (for a person: Ctrl-D on an empty line), [ErrInterrupt] with
// the text that was dropped, a [*LongLineError] with what a person typed of it, or
// what the system says.
func (c *Console) Line(prompt string) (string, error) {
	return c.lines.line(prompt, true)
}

// Remember makes a statement the latest entry of the history; one of several
// lines has to be joined to one first. It does nothing for a pipe.
func (c *Console) Remember(statement string) error {
	return c.lines.remember(statement)
}

// Ask puts a question that is answered with yes or no. No answer, an unclear one
// three times, and the end of the input mean no. The answer is not remembered.
// Where nobody sits there the error is [ErrNobody].
func (c *Console) Ask(question string) (bool, error) {
	if !c.person {
		return false, ErrNobody
	}
	fmt.Fprintln(c.out, printable(question))
	for range 3 {
		answer, err := c.lines.line("yes or no? ", false)
		if errors.Is(err, io.EOF) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		switch strings.ToLower(strings.TrimSpace(answer)) {
		case "y", "yes":
			return true, nil
		case "n", "no", "":
			return false, nil
		}
	}
	return false, nil
}

// Restore gives the terminal back as it was found. Unlike all else it may be
// called from any goroutine: it is for a program that has to leave in a hurry.
func (c *Console) Restore() { c.lines.restore() }

// Close ends the reading.
func (c *Console) Close() error { return c.lines.close() }
