package console

import (
	"slices"
	"strings"
	"sync/atomic"
	"unicode"
	"unicode/utf8"
)

// A completer fits the pure function of [Options] to the line editor, which asks
// for what is to be added after the cursor. The editor draws the list in its own
// goroutine, where a panic would end the program and leave the terminal without
// echo, so nothing may get through that it cannot draw.
type completer struct {
	complete func(before string) (start int, words []string)
	instead  func(before string) (start int, words []string) // may be nil
	screen   func() (columns, rows int)
	off      atomic.Bool  // while a question is answered
	widest   atomic.Int64 // columns that the last list given out needs
	turns    turns
}

// Do gives the endings that fit at pos, and how many characters before it they
// share.
func (c *completer) Do(line []rune, pos int) (endings [][]rune, shared int) {
	defer func() {
		if recover() != nil {
			endings, shared = nil, 0
		}
	}()
	if c.off.Load() || c.complete == nil {
		return nil, 0
	}
	pos = max(0, min(pos, len(line)))
	before := string(line[:pos])
	if c.turns.at(before) {
		return nil, 0 // the next word takes the place of this one
	}
	start, words := c.complete(before)
	if start < 0 || start > len(before) {
		return nil, 0
	}
	columns, rows := c.screen()
	endings, widest := offer(before[start:], words, columns, rows)
	if len(endings) > 0 {
		c.widest.Store(int64(widest))
	} else if c.instead != nil && plain(before) {
		if start, words := c.instead(before); start >= 0 && start <= len(before) {
			c.turns.begin(before, start, words)
		}
	}
	return endings, utf8.RuneCountInString(before[start:])
}

// offer gives the endings of the words that begin with what is typed, capitals
// aside, each in memory of its own, and the columns that the widest word needs.
// Where they do not all fit on the screen, the beginnings that they share are
// given in their place. If one does not fit on a line, or the editor could not
// count the columns right, none are.
func offer(typed string, words []string, columnsWide, rows int) (endings [][]rune, widest int) {
	// The editor takes each character it repeats in the list for one column.
	if !plain(typed) {
		return nil, 0
	}
	seen := map[string]bool{}
	var fits []string
	for _, word := range words {
		ending, ok := cutPrefixFold(word, typed)
		if !ok || seen[ending] || !plain(ending) {
			continue
		}
		seen[ending] = true
		fits = append(fits, ending)
	}
	inList := 0
	for _, cut := range stems {
		fits = gather(fits, cut)
		widest = 0
		for _, ending := range fits {
			widest = max(widest, utf8.RuneCountInString(typed)+utf8.RuneCountInString(ending))
		}
		// One column parts the words, one is left free at the edge.
		widest += 2
		if widest > columnsWide {
			return nil, 0
		}
		if inList = max(1, (rows-2)*((columnsWide-1)/(widest-1))); len(fits) <= inList {
			break
		}
	}
	for _, ending := range fits[:min(len(fits), inList)] {
		endings = append(endings, slices.Clip([]rune(ending)))
	}
	return endings, widest
}

// cutPrefixFold cuts what is typed off the front of a word, capitals aside.
func cutPrefixFold(word, typed string) (ending string, ok bool) {
	for _, t := range typed {
		w, n := utf8.DecodeRuneInString(word)
		if n == 0 || w != t && unicode.ToLower(w) != unicode.ToLower(t) {
			return "", false
		}
		word = word[n:]
	}
	return word, true
}

// plain reports whether a text is of printable characters of one column each.
func plain(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool {
		return columnsOf(r) != 1 || !unicode.IsPrint(r) && r != '\u00a0'
	})
}
