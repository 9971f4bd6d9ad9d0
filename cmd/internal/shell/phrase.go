package shell

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// count says how many there are: "1 joint", "3 joints".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + plural(what)
}

func plural(what string) string {
	if strings.HasSuffix(what, "y") && !strings.HasSuffix(what, "ey") && !strings.HasSuffix(what, "ay") {
		return strings.TrimSuffix(what, "y") + "ies"
	}
	return what + "s"
}

// inNumber chooses a word by how many there are that it goes with.
func inNumber(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// themOf stands for things that were counted.
func themOf(n int) string { return inNumber(n, "it", "them") }

// sentence puts a full stop behind a fact that stands alone. Its first letter
// stays: the first word may be a name.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// joinAnd lists names as a sentence does: "A", "A and B", "A, B and C".
func joinAnd(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// joinOr lists what something can be: "A", "A or B", "A, B or C".
func joinOr(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

func containsFold(text, word string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(word))
}

// article chooses "a" or "an" by the first letter; valve types such as el84
// and ecc83 are said letter by letter, and begin with a vowel all the same.
func article(name string) string {
	if name != "" && strings.ContainsRune("aeiouAEIO", rune(name[0])) {
		return "an"
	}
	return "a"
}

// capital begins a sentence that does not begin with a name.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if first == utf8.RuneError { // nothing, or a byte that is no letter
		return text
	}
	return strings.ToUpper(string(first)) + text[size:]
}
