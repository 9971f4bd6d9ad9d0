package diag

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible makes a text from a notebook fit for a terminal: what would move the
// cursor, change colours, turn the reading direction or hide itself is written
// out. A control character becomes its picture (␛), another invisible one its
// number (<U+202E>), a byte that is not UTF-8 its value (<E9>).
func Visible(text string) string {
	if !strings.ContainsFunc(text, invisible) && utf8.ValidString(text) {
		return text
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		b.WriteString(visibleRune(r, text[i:i+size]))
		i += size
	}
	return b.String()
}

// invisible reports whether a character must not reach a terminal as it is.
func invisible(r rune) bool {
	if r < utf8.RuneSelf {
		return r < ' ' || r == 0x7F
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co)
}

// visibleRune writes out one character; raw is its bytes.
func visibleRune(r rune, raw string) string {
	switch {
	case r == utf8.RuneError && len(raw) == 1:
		return fmt.Sprintf("<%02X>", raw[0])
	case r < ' ':
		return string('␀' + r) // the control pictures, U+2400 on
	case r == 0x7F:
		return "␡"
	case invisible(r):
		return fmt.Sprintf("<%U>", r)
	}
	return raw
}
