package console

import (
	"errors"
	"fmt"
	"io"
	"os"
	"sync"
	"sync/atomic"
	"time"
	"unicode/utf8"

	"github.com/chzyer/readline"
)

// The terminal marks pasted text between these two, where it knows how to.
const (
	markPastes      = "\x1b[?2004h"
	leavePastesBare = "\x1b[?2004l"
)

// A person gives the lines that somebody types, through the line editor.
type person struct {
	editor    *readline.Instance
	stdin     *readline.CancelableStdin
	keys      *keys
	completer *completer
	history   *history
	raw       *rawMode
	width     func() int
	told      atomic.Int64 // columns that the editor was told
	prompt    atomic.Int64 // columns of the prompt
	marks     io.Writer    // for paste marks, nil where there is no terminal
	ended     bool
	empty     atomic.Bool // the line typed has no text
	deleting  bool        // what looks like Ctrl-D is the Delete key
}

func newPerson(in *os.File, o Options, width func() int) (*person, error) {
	h, err := openHistory(o.History)
	if err != nil {
		// A session without its history is better than none; the entries that
		// could be read are there.
		h.path = ""
	}
	out, _ := o.Out.(*os.File)
	p := &person{history: h, raw: &rawMode{file: in}, width: width}
	p.empty.Store(true)
	p.completer = &completer{complete: o.Complete, instead: o.Instead, screen: func() (int, int) {
		_, rows := size(out)
		return int(p.told.Load()), rows
	}}
	// On Windows the library's own streams turn keys into the codes it reads, and
	// the codes it writes into colours.
	var from, to = io.Reader(in), o.Out
	if in == os.Stdin {
		from = readline.Stdin
	}
	if out == os.Stdout {
		to = readline.Stdout
	}
	if Terminal(out) {
		p.marks = to
	}
	p.keys = &keys{from: from, now: time.Now}
	p.stdin = readline.NewCancelableStdin(p.keys)
	p.editor, err = readline.NewEx(&readline.Config{
		Stdin:                  p.stdin,
		Stdout:                 to,
		Stderr:                 to,
		AutoComplete:           p.completer,
		Listener:               readline.FuncListener(p.watch),
		FuncFilterInputRune:    p.filter,
		HistoryLimit:           2 * historyEntries, // never reached: ours is
		DisableAutoSaveHistory: true,
		HistorySearchFold:      true,
		InterruptPrompt:        "^C",
		EOFPrompt:              "\n", // means none
		FuncIsTerminal:         func() bool { return true },
		FuncGetWidth:           p.editorWidth,
		FuncMakeRaw:            p.raw.enter,
		FuncExitRaw:            p.raw.leave,
	})
	if err != nil {
		return nil, err
	}
	p.showHistory()
	return p, nil
}

// editorWidth is the number of columns the editor is to count on. It divides by
// how many words of its list fit on a line, and by what is left beside the
// prompt: neither may become zero when the window is made narrow meanwhile.
func (p *person) editorWidth() int {
	width := max(int64(p.width()), 2*p.prompt.Load(), p.completer.widest.Load(), 4)
	p.told.Store(width)
	return int(width)
}

// watch is called by the editor after each key, and may change the line.
func (p *person) watch(line []rune, pos int, key rune) ([]rune, int, bool) {
	p.empty.Store(len(line) == 0)
	switch key {
	case 0: // a line begins; this is not the editor's own goroutine
		return nil, 0, false
	case readline.CharTab:
		return p.completer.turns.next(line, pos)
	}
	p.completer.turns.stop()
	return nil, 0, false
}

// filter is called by the editor before each key. Dropping one has it read on, so
// that may only be done with a key after which it would wait.
func (p *person) filter(key rune) (rune, bool) {
	switch {
	case key == deleteComes:
		p.deleting = true
		return readline.CharBell, true // leaves a list or a search, else nothing
	case key == readline.CharDelete && p.deleting:
		p.deleting = false
		return key, !p.empty.Load()
	}
	return key, true
}

func (p *person) line(prompt string, offer bool) (string, error) {
	if p.ended {
		return "", io.EOF
	}
	prompt = fitPrompt(prompt, p.width())
	p.prompt.Store(int64(columns(prompt)))
	p.completer.widest.Store(0)
	p.completer.off.Store(!offer)
	p.editor.SetPrompt(prompt)
	if p.marks != nil {
		fmt.Fprint(p.marks, markPastes)
		defer fmt.Fprint(p.marks, leavePastesBare)
	}
	text, err := p.editor.Readline()
	switch {
	case errors.Is(err, readline.ErrInterrupt):
		return text, ErrInterrupt
	case errors.Is(err, io.EOF):
		// Ctrl-D may be followed by more; a terminal that is gone may not, and
		// the editor would wait for it for ever.
		p.ended = p.keys.ended.Load()
		return "", io.EOF
	case err == nil && utf8.RuneCountInString(text) >= longestTyped:
		return text, &LongLineError{longestTyped, "characters"}
	}
	return text, err
}

func (p *person) remember(statement string) error {
	err := p.history.add(statement)
	p.showHistory()
	return err
}

// showHistory gives the editor the entries afresh. Adding one to its own would
// store the line that was recalled last in place of the statement.
func (p *person) showHistory() {
	p.editor.ResetHistory()
	for _, entry := range p.history.entries {
		_ = p.editor.SaveHistory(entry) // no file, so no error
	}
	if len(p.history.entries) == 0 {
		// Leaving a search of a history without any entry ends the program.
		_ = p.editor.SaveHistory("")
	}
}

func (p *person) restore() {
	if p.marks != nil {
		fmt.Fprint(p.marks, leavePastesBare)
	}
	_ = p.raw.leave()
}

func (p *person) close() error {
	// The editor waits for a key if it is reading ahead. Ending its input at once
	// instead would have it wipe the line the cursor is on.
	late := time.AfterFunc(100*time.Millisecond, func() { p.stdin.Close() })
	defer late.Stop()
	return p.editor.Close()
}

// A rawMode switches a terminal between giving each key and giving lines.
type rawMode struct {
	file *os.File
	mu   sync.Mutex
	was  *readline.State // nil while it gives lines
}

func (m *rawMode) enter() (err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.was != nil {
		return nil
	}
	control(m.file, func(fd int) { m.was, err = readline.MakeRaw(fd) })
	return err
}

func (m *rawMode) leave() (err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.was == nil {
		return nil
	}
	control(m.file, func(fd int) { err = readline.Restore(fd, m.was) })
	m.was = nil
	return err
}
