package console

import (
	"slices"
	"unicode/utf8"
)

// turns are words that take the place of what was typed, one after another:
// the editor itself can only add to it. They are used by its goroutine alone.
type turns struct {
	before string   // the line up to the cursor, as the last turn left it
	start  int      // the byte of it at which the words stand
	words  []string // none where nothing takes turns
	turn   int
}

// begin has words take the place of before[start:] with the Tab that is being
// handled and those that follow it.
func (t *turns) begin(before string, start int, words []string) {
	words = slices.DeleteFunc(slices.Clone(words), func(w string) bool { return w == "" || !plain(w) })
	*t = turns{before, start, words, -1}
}

// stop lets the word stand that has its turn.
func (t *turns) stop() { *t = turns{} }

// at reports whether the line up to the cursor is as the last turn left it, so
// that it is the next one's.
func (t *turns) at(before string) bool { return len(t.words) > 0 && t.before == before }

// next gives the line with the next word, and where the cursor stands behind it.
func (t *turns) next(line []rune, pos int) (changed []rune, at int, ok bool) {
	pos = max(0, min(pos, len(line)))
	if !t.at(string(line[:pos])) {
		t.stop()
		return nil, 0, false
	}
	t.turn = (t.turn + 1) % len(t.words)
	t.before = t.before[:t.start] + t.words[t.turn]
	return slices.Concat([]rune(t.before), line[pos:]), utf8.RuneCountInString(t.before), true
}
