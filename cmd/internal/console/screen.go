package console

import (
	"os"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/chzyer/readline"
)

// usualWidth is the number of columns where no terminal tells.
const usualWidth = 80

// Terminal reports whether the file is a terminal.
func Terminal(f *os.File) bool {
	terminal := false
	control(f, func(fd int) { terminal = readline.IsTerminal(fd) })
	return terminal
}

// Width is the number of columns of the terminal, or 80 where it is none or
// does not tell.
func Width(f *os.File) int {
	columns, _ := size(f)
	return columns
}

// size gives columns and rows, 80 and 24 where they are not known.
func size(f *os.File) (columns, rows int) {
	columns, rows = usualWidth, 24
	control(f, func(fd int) {
		if c, r, err := readline.GetSize(fd); err == nil && c > 0 && r > 0 {
			columns, rows = c, r
		}
	})
	return columns, rows
}

// control uses the descriptor of an open file. (Calling Fd instead could leave a
// pipe in another mode than it was found in.)
func control(f *os.File, use func(fd int)) {
	if f == nil {
		return
	}
	raw, err := f.SyscallConn()
	if err != nil {
		return
	}
	_ = raw.Control(func(fd uintptr) { use(int(fd)) })
}

// ColourWanted reports whether to write colours to f. The flag is "always",
// "never" or "auto"; with auto, and whatever else it says, the environment
// decides: NO_COLOR, if not empty, and TERM=dumb forbid colour, FORCE_COLOR, if
// not empty, gives it to what is not a terminal. Each stream is asked about
// apart.
func ColourWanted(f *os.File, flag string, env func(string) string) bool {
	switch {
	case flag == "always":
		return true
	case flag == "never", env("NO_COLOR") != "", env("TERM") == "dumb":
		return false
	}
	return env("FORCE_COLOR") != "" || Terminal(f)
}

// printable shows each control character as "?", colours excepted.
func printable(s string) string {
	var b strings.Builder
	for s != "" {
		if n := colourLength(s); n > 0 {
			b.WriteString(s[:n])
			s = s[n:]
			continue
		}
		r, n := utf8.DecodeRuneInString(s)
		if unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) {
			r = '?'
		}
		b.WriteRune(r)
		s = s[n:]
	}
	return b.String()
}

// fitPrompt makes a prompt that the line editor counts right and that leaves at
// least half of the line to type on.
func fitPrompt(prompt string, width int) string {
	var b strings.Builder
	columns := 0
	for s := printable(prompt); s != ""; {
		if n := colourLength(s); n > 0 {
			b.WriteString(s[:n])
			s = s[n:]
			continue
		}
		r, n := utf8.DecodeRuneInString(s)
		s = s[n:]
		if columnsOf(r) != 1 {
			r = '?'
		}
		if columns++; columns <= width/2 {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// colourLength is the length of the colour sequence at the start of s, as
// "\x1b[1;32m", or zero.
func colourLength(s string) int {
	rest, ok := strings.CutPrefix(s, "\x1b[")
	if !ok {
		return 0
	}
	rest = strings.TrimLeft(rest, "0123456789;")
	if !strings.HasPrefix(rest, "m") {
		return 0
	}
	return len(s) - len(rest) + 1
}

// columnsOf is the number of columns a character takes. The wide ones begin with
// the Hangul Jamo; from there on all but punctuation, arrows and technical signs
// count as two. One too many does no harm, one too few would.
func columnsOf(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cc, unicode.Cf):
		return 0
	case r >= 0x1100 && !(r >= 0x2000 && r < 0x2e80):
		return 2
	}
	return 1
}

// columns is the number of columns a text takes.
func columns(s string) int {
	n := 0
	for _, r := range s {
		n += columnsOf(r)
	}
	return n
}
