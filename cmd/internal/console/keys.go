package console

import (
	"io"
	"sync/atomic"
	"time"
)

// longestTyped is the most characters of a line that reach the line editor. Its
// time grows with the square of the length.
const longestTyped = 4096

// loneEscape is how long after the Esc key another key is one of its own. Codes
// that a terminal sends for one key come together.
const loneEscape = 100 * time.Millisecond

// deleteComes stands before the Delete key, which the editor takes for the same as
// Ctrl-D. It is no character of any text (Unicode, noncharacters).
const deleteComes = '\U0010FFFE'

// Bytes that keys send.
const (
	ctrlC     = 0x03
	ctrlD     = 0x04
	ctrlG     = 0x07
	backspace = 0x08
	tab       = 0x09
	lineFeed  = 0x0a
	ctrlK     = 0x0b
	enter     = 0x0d
	ctrlU     = 0x15
	escape    = 0x1b
	del       = 0x7f
)

// The keys reader takes what a terminal sends and passes on what the line editor
// understands and survives.
type keys struct {
	from  io.Reader
	now   func() time.Time
	mend  mender
	last  time.Time // when something last came
	out   []byte    // to be passed on
	err   error
	ended atomic.Bool // no more will come
	typed int         // characters of this line
	drop  bool        // the last character was one too many
}

func (k *keys) Read(p []byte) (int, error) {
	chunk := make([]byte, 1024)
	for len(k.out) == 0 {
		if k.err != nil {
			k.ended.Store(true)
			return 0, k.err
		}
		n, err := k.from.Read(chunk)
		now := k.now()
		if n > 0 && now.Sub(k.last) > loneEscape {
			k.mend.settle()
		}
		k.last = now
		k.err = err
		k.out = k.bounded(k.mend.next(chunk[:n]))
	}
	n := copy(p, k.out)
	k.out = k.out[n:]
	return n, nil
}

// bounded drops what is typed on a line that is too long already; keys that make
// it shorter or end it still work. The editor then returns a line of the greatest
// length, by which it is known.
func (k *keys) bounded(in []byte) []byte {
	out := in[:0]
	for _, b := range in {
		later := b&0xc0 == 0x80 // goes the way of the first byte of its character
		switch {
		case b == enter || b == lineFeed || b == ctrlC || b == ctrlD || b == ctrlU:
			k.typed, k.drop = 0, false
		case b == backspace || b == del:
			k.typed, k.drop = max(0, k.typed-1), false
		case !later:
			k.drop = k.typed >= longestTyped
			if b >= ' ' && !k.drop {
				k.typed++
			}
		}
		if !k.drop {
			out = append(out, b)
		}
	}
	return out
}

// A mender turns what a terminal sends into what the line editor takes.
//
// Home and End of some terminals, and Ctrl with an arrow, become the codes it
// knows. Keys it does not know are dropped, where it would put them into the line
// or, for Ctrl-T, Ctrl-K and NUL, end the program: Ctrl-T steps beyond the end of
// a line of one letter, Ctrl-K in a list of words draws the list after it was
// forgotten, NUL is taken for the end of the input. Ctrl-Z would stop the
// program that started this one as well. The Delete key, which on an empty line
// would end the session like Ctrl-D, is announced by [deleteComes].
//
// Ctrl-C gives a line up whether a list of words is open or not; in the editor it
// would leave the list alone, and Ctrl-G does that first.
//
// In text that the terminal marks as pasted, a tab is a blank, the only other
// control characters are line breaks, and a line break of two is one. Blank lines
// of it are dropped: typed by hand, one would give up what is open in braces.
type mender struct {
	pasting bool
	afterCR bool   // in pasted text
	blank   bool   // in pasted text: a line has begun, and nothing but blanks came of it
	endless bool   // in a code longer than any key sends: the rest of its figures is dropped
	rest    []byte // a code that is not all there yet
}

// settle drops a code that will not be completed.
func (m *mender) settle() { m.rest, m.endless = nil, false }

// next takes what came and gives what is to be passed on.
func (m *mender) next(chunk []byte) []byte {
	in := append(m.rest, chunk...)
	m.rest = nil
	var out []byte
	for len(in) > 0 {
		n, key := m.key(in)
		if n == 0 {
			m.rest = append([]byte(nil), in...)
			break
		}
		out = append(out, key...)
		in = in[n:]
	}
	return out
}

// key takes the first key of in: how many bytes it has, and what is passed on for
// it. Zero bytes means that the rest of it is still to come.
func (m *mender) key(in []byte) (n int, pass string) {
	b := in[0]
	if m.endless = m.endless && b >= 0x20 && b < 0x40; m.endless {
		return 1, ""
	}
	afterCR := m.afterCR
	m.afterCR = m.pasting && b == enter
	blank := m.blank
	m.blank = m.pasting && (b == enter || b == lineFeed || blank && (b == ' ' || b == tab))
	switch {
	case b == escape:
		n, pass = m.code(in)
		if m.pasting {
			pass = ""
		}
		return n, pass
	case b == ctrlC || b == ctrlD:
		// Should the mark for the end of a paste be lost, these end it too.
		m.pasting = false
		if b == ctrlC {
			return 1, string([]byte{ctrlG, ctrlC})
		}
		return 1, string(in[:1])
	case m.pasting && b == tab:
		return 1, " "
	case m.pasting && b == lineFeed && afterCR, m.pasting && blank && (b == enter || b == lineFeed):
		return 1, ""
	case m.pasting && (b < ' ' && b != enter && b != lineFeed || b == del):
		return 1, ""
	case b == ctrlK:
		// Ctrl-G first: it leaves the list of words.
		return 1, string([]byte{ctrlG, ctrlK})
	case b == 0xc2:
		// The first byte of the C1 control characters, as of other characters.
		if len(in) < 2 {
			return 0, ""
		}
		if in[1] >= 0x80 && in[1] < 0xa0 {
			return 2, ""
		}
		return 1, string(in[:1])
	case b >= ' ' || editorKnows&(1<<b) != 0:
		return 1, string(in[:1])
	}
	return 1, ""
}

// editorKnows has a bit for each control character that does something sensible
// in the line editor: Ctrl-A to Ctrl-N, P, R, S, U, W and Y.
const editorKnows = 0x7ffe | 1<<16 | 1<<18 | 1<<19 | 1<<21 | 1<<23 | 1<<25

// longestCode is more bytes than any key sends.
const longestCode = 32

// code takes a key that begins with an escape.
func (m *mender) code(in []byte) (n int, pass string) {
	if len(in) == 1 {
		return 0, ""
	}
	switch in[1] {
	case '[':
		return m.sequence(in)
	case 'O':
		if len(in) == 2 {
			return 0, ""
		}
		switch in[2] {
		case 'A', 'B', 'C', 'D', 'H', 'F':
			return 3, "\x1b[" + string(in[2])
		case 'M': // Enter beside the figures
			return 3, "\r"
		case escape:
			return 2, ""
		}
		return 3, ""
	case 'b', 'f', 'd', del:
		return 2, string(in[:2])
	case backspace:
		return 2, "\x1b\x7f"
	}
	return 1, ""
}

// sequence takes a code of the form ESC [ figures letter (ECMA-48, 5.4).
func (m *mender) sequence(in []byte) (n int, pass string) {
	n = 2
	for n < len(in) && n <= longestCode && in[n] >= 0x20 && in[n] < 0x40 {
		n++
	}
	switch {
	case n > longestCode:
		m.endless = true
		return n, ""
	case n == len(in):
		return 0, ""
	case in[n] < 0x40 || in[n] > 0x7e:
		return n, "" // broken off: what follows is another key
	}
	last, figures := in[n], string(in[2:n])
	n++
	switch last {
	case '[': // a function key of the Linux console: one letter more
		if n == len(in) {
			return 0, ""
		}
		return n + 1, ""
	case 'A', 'B', 'H', 'F':
		return n, "\x1b[" + string(last)
	case 'C':
		if figures != "" {
			return n, "\x1bf" // a word on
		}
		return n, "\x1b[C"
	case 'D':
		if figures != "" {
			return n, "\x1bb"
		}
		return n, "\x1b[D"
	case '~':
		switch figures {
		case "1", "7":
			return n, "\x1b[H"
		case "4", "8":
			return n, "\x1b[F"
		case "3":
			return n, string(deleteComes) + "\x1b[3~"
		case "200":
			m.pasting = true
		case "201":
			m.pasting = false
		}
	}
	return n, ""
}
