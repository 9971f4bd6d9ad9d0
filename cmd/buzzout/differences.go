package main

import (
	"fmt"
	"strings"

	"buzzout/cmd/internal/shell"
)

// differences shows what tidying changes, line by line: "-" for a line as it
// is, "+" as it would be. Tidying moves no line past another, so the two are
// walked side by side: lines that hold the same words belong together.
func differences(name, before, after string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", shell.Visible(name))
	old, tidy := lines(before), lines(after)
	i, j := 0, 0
	show := func(sign byte, number int, line string) {
		fmt.Fprintf(&b, "%c %4d  %s\n", sign, number, shell.Visible(line))
	}
	for i < len(old) || j < len(tidy) {
		switch {
		case i < len(old) && j < len(tidy) && old[i] == tidy[j]:
			i++
			j++
		case i < len(old) && j < len(tidy) && sameWords(old[i], tidy[j]):
			show('-', i+1, old[i])
			show('+', j+1, tidy[j])
			i++
			j++
		case i < len(old) && (j == len(tidy) || strings.TrimSpace(old[i]) == ""):
			show('-', i+1, old[i])
			i++
		case j < len(tidy) && (i == len(old) || strings.TrimSpace(tidy[j]) == ""):
			show('+', j+1, tidy[j])
			j++
		default:
			show('-', i+1, old[i])
			show('+', j+1, tidy[j])
			i++
			j++
		}
	}
	return b.String()
}

func lines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}

func sameWords(a, b string) bool {
	return strings.Join(strings.Fields(a), "") == strings.Join(strings.Fields(b), "")
}
