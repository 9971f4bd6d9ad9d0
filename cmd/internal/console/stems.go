package console

import (
	"strings"
	"unicode/utf8"
)

// Where more words fit than the screen has room for, a list that ends at its
// edge hides the rest, and nobody can tell. The words are then gathered under the
// beginnings that they share, and a further Tab parts those.

// A stem cuts a word's ending to the beginning by which it is gathered.
type stem func(ending string) string

// stems go from the finest to the coarsest.
var stems = []stem{
	func(ending string) string { return ending },
	func(ending string) string { return ending[:afterMark(ending)] },
	func(ending string) string { return ending[:afterLetters(ending)] },
	func(ending string) string {
		_, n := utf8.DecodeRuneInString(ending)
		return ending[:n]
	},
}

// afterMark is the length of an ending up to its first hyphen or full stop.
func afterMark(ending string) int {
	if i := strings.IndexAny(ending, "-."); i >= 0 {
		return i + 1
	}
	return len(ending)
}

// afterLetters is the same, or the length up to its first figure: R for R1.1.
func afterLetters(ending string) int {
	if i := strings.IndexAny(ending, "0123456789"); i > 0 {
		return min(i, afterMark(ending))
	}
	return afterMark(ending)
}

// gather gives the endings under their stems, in the order given. One that has
// its stem to itself stays whole.
func gather(endings []string, cut stem) []string {
	times := make(map[string]int, len(endings))
	for _, e := range endings {
		times[cut(e)]++
	}
	var kept []string
	for _, e := range endings {
		s := cut(e)
		switch n := times[s]; {
		case n == 1:
			kept = append(kept, e)
		case n > 1:
			kept = append(kept, s)
			times[s] = 0 // given
		}
	}
	return kept
}
