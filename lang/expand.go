package lang

import (
	"fmt"
	"strconv"
	"strings"
)

// MaxRange is how many names a range may stand for.
const MaxRange = 500

// Expand gives the names that a word stands for. A range is two or three dots
// between numbers that rise, with the same letters before both or before the
// first alone: R1..R24, R1..24, V1.4..5, a1..a6. What follows the last number
// after a dot is said of all: V1..V4.9 is pin 9 of four valves.
//
// Anything else, 1..n and 0%..100% among it, is one name, and ranged is false.
// A range that falls or is too long is no name at all: problem says so in a
// sentence without a full stop.
func Expand(w Word) (names []string, ranged bool, problem string) {
	left, right, found := cutDots(w.Text)
	if !found {
		return []string{w.Text}, false, ""
	}
	letters, first := splitNumber(left)
	last, tail, agree := lastOfRange(letters, right)
	if first == "" || !agree {
		return []string{w.Text}, false, ""
	}
	from, err1 := strconv.Atoi(first)
	to, err2 := strconv.Atoi(last)
	switch {
	case err1 != nil || err2 != nil: // more digits than a number holds
		return nil, true, fmt.Sprintf("a range stands for at most %d names", MaxRange)
	case to < from:
		return nil, true, fmt.Sprintf("a range rises: %s comes after %s", first, last)
	case to-from >= MaxRange:
		return nil, true, fmt.Sprintf("a range stands for at most %d names, and this one for %d", MaxRange, to-from+1)
	}
	width := 0 // R01..R12 keeps its noughts
	if first[0] == '0' && len(first) == len(last) {
		width = len(first)
	}
	for n := from; n <= to; n++ {
		names = append(names, fmt.Sprintf("%s%0*d%s", letters, width, n, tail))
	}
	return names, true, ""
}

// cutDots parts a word at its only two or three dots in a row.
func cutDots(text string) (left, right string, found bool) {
	text = strings.Replace(text, "…", "...", 1)
	left, right, found = strings.Cut(text, "..")
	right = strings.TrimPrefix(right, ".")
	if left == "" || right == "" || right[0] == '.' || strings.Contains(right, "..") {
		return "", "", false
	}
	return left, right, found
}

// splitNumber parts the digits at the end of a name from what is before them.
func splitNumber(name string) (letters, digits string) {
	i := len(name)
	for i > 0 && isDigit(name[i-1]) {
		i--
	}
	return name[:i], name[i:]
}

// lastOfRange finds the last number of a range in what stands after the dots:
// at its end (S1.a6), or before a dot whose tail is said of all (V4.9).
func lastOfRange(letters, right string) (last, tail string, agree bool) {
	own, last := splitNumber(right)
	if last != "" && lettersAgree(letters, own) {
		return last, "", true
	}
	i := strings.IndexByte(right, '.')
	if i < 0 {
		return "", "", false
	}
	own, last = splitNumber(right[:i])
	return last, right[i:], last != "" && len(right) > i+1 && lettersAgree(letters, own)
}

// lettersAgree reports whether what stands before the second number repeats
// what stands before the first: all of it, its last letters, or nothing.
func lettersAgree(first, second string) bool {
	first, second = Fold(first), Fold(second)
	if second == "" || first == second {
		return true
	}
	i := len(first)
	for i > 0 && first[i-1] != '.' {
		i--
	}
	return i > 0 && first[i:] == second
}
