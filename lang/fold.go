package lang

import (
	"strings"
	"unicode/utf8"
)

// Fold gives the form under which a name is looked up, since capitals do not
// count in names. A name without capitals is returned as it is.
func Fold(name string) string {
	for i := 0; i < len(name); i++ {
		if c := name[i]; 'A' <= c && c <= 'Z' || c >= utf8.RuneSelf {
			return strings.ToLower(name)
		}
	}
	return name
}

// longestGuess is the length in characters up to which Nearest looks; nobody
// mistypes a name longer than this and hopes for a hint.
const longestGuess = 60

// Nearest gives the one of the names that was probably meant: the one with the
// fewest letters wrong, missing, too many or swapped with a neighbour, and at
// most a third of them, or one in a short name. Capitals do not count. Of
// several it is the first.
func Nearest(name string, among []string) (string, bool) {
	wanted := []rune(Fold(name))
	if len(wanted) == 0 || len(wanted) > longestGuess {
		return "", false
	}
	limit := max(1, len(wanted)/3)
	best, nearest := limit+1, ""
	for _, candidate := range among {
		other := []rune(Fold(candidate))
		if len(other) > longestGuess || abs(len(other)-len(wanted)) >= best {
			continue
		}
		// With every letter wrong it is no longer the same name.
		if d := distance(wanted, other); d < best && d < len(wanted) && d < max(2, len(other)) {
			best, nearest = d, candidate
		}
	}
	return nearest, nearest != ""
}

func abs(n int) int { return max(n, -n) }

// distance counts the letters to change, add, drop or swap with a neighbour to
// make b out of a, no letter touched twice.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			wrong := 1
			if a[i-1] == b[j-1] {
				wrong = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+wrong)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
