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
// most a third of them, or one in a short name. Of several it is the one with
// more of them swapped, where every letter is there, and then the first.
// Capitals do not count. Names of at most two characters with different digits
// are never near: R5 is no slip for R6.
func Nearest(name string, among []string) (string, bool) {
	wanted := []rune(Fold(name))
	if len(wanted) == 0 || len(wanted) > longestGuess {
		return "", false
	}
	limit := max(1, len(wanted)/3)
	best, nearest := limit*slip+1, ""
	for _, candidate := range among {
		other := []rune(Fold(candidate))
		if len(other) > longestGuess || abs(len(other)-len(wanted))*slip >= best || numberedApart(wanted, other) {
			continue
		}
		// With every letter wrong it is no longer the same name.
		c := slips(wanted, other)
		if d := distance(c); c < best && d < len(wanted) && d < max(2, len(other)) {
			best, nearest = c, candidate
		}
	}
	return nearest, nearest != ""
}

func abs(n int) int { return max(n, -n) }

// numberedApart reports that two names are so short that their numbers are all
// that tells them apart, and have different ones.
func numberedApart(a, b []rune) bool {
	return len(a) <= 2 && len(b) <= 2 && numberOf(a) != numberOf(b)
}

func numberOf(name []rune) string {
	digits := ""
	for _, r := range name {
		if '0' <= r && r <= '9' {
			digits += string(r)
		}
	}
	return digits
}

// slip is what slips counts for a letter to change, add or drop. A swap counts
// one less, and no two names that are compared have so many that it adds up to
// a slip.
const slip = longestGuess

// distance is the number of letters to change, add, drop or swap, of a count of
// slips.
func distance(slips int) int { return (slips + slip - 1) / slip }

// slips counts the letters to change, add, drop or swap with a neighbour to
// make b out of a, no letter touched twice.
func slips(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j * slip
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i * slip
		for j := 1; j <= len(b); j++ {
			wrong := slip
			if a[i-1] == b[j-1] {
				wrong = 0
			}
			row[j] = min(last[j]+slip, row[j-1]+slip, last[j-1]+wrong)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+slip-1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
