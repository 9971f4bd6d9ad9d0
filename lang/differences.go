package lang

import (
	"fmt"
	"strings"
)

// contextLines are how many unchanged lines are shown around changes.
const contextLines = 2

// Differences shows what tidying changes, in the form of a unified diff without
// its two lines of file names; "" if nothing. It is meant for texts that differ
// in white space: two lines are taken for the same if their other characters
// are. Whatever the texts, what it gives turns the one into the other.
//
// Lines are given as they are: make them visible before they reach a terminal.
func Differences(before, after string) string {
	edits := edit(splitAll(before), splitAll(after))
	var b strings.Builder
	for i := 0; i < len(edits); {
		if edits[i].sign == ' ' {
			i++
			continue
		}
		start := max(i-contextLines, 0)
		end, last := i, i
		for end < len(edits) && end-last <= 2*contextLines {
			if edits[end].sign != ' ' {
				last = end
			}
			end++
		}
		end = min(last+1+contextLines, len(edits))
		writeHunk(&b, edits[start:end])
		i = end
	}
	return b.String()
}

// An edited line stays, goes or comes. The numbers count from one, of the line
// in each text, or of where it would be.
type editedLine struct {
	sign          byte // ' ', '-' or '+'
	text          string
	before, after int
}

func writeHunk(b *strings.Builder, lines []editedLine) {
	removed, added := 0, 0
	for _, l := range lines {
		if l.sign != '+' {
			removed++
		}
		if l.sign != '-' {
			added++
		}
	}
	fmt.Fprintf(b, "@@ -%s +%s @@\n", hunkRange(lines[0].before, removed), hunkRange(lines[0].after, added))
	for _, l := range lines {
		b.WriteByte(l.sign)
		b.WriteString(l.text)
		if !strings.HasSuffix(l.text, "\n") {
			b.WriteString("\n\\ No newline at end of file\n")
		}
	}
}

// hunkRange writes a first line and a count as a unified diff has them: a range
// of no lines is named by the line before it.
func hunkRange(first, count int) string {
	switch count {
	case 0:
		return fmt.Sprintf("%d,0", first-1)
	case 1:
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d,%d", first, count)
}

// splitAll cuts a text after each line feed.
func splitAll(text string) []string {
	lines := strings.SplitAfter(text, "\n")
	if last := len(lines) - 1; lines[last] == "" {
		lines = lines[:last]
	}
	return lines
}

// edit pairs the lines of two texts off, first with first.
func edit(before, after []string) []editedLine {
	var edits, coming []editedLine
	i, j := 0, 0
	remove := func() {
		edits = append(edits, editedLine{'-', before[i], i + 1, j + 1})
		i++
	}
	add := func() {
		coming = append(coming, editedLine{'+', after[j], i + 1, j + 1})
		j++
	}
	flush := func() {
		edits = append(edits, coming...)
		coming = coming[:0]
	}
	for i < len(before) || j < len(after) {
		switch {
		case i < len(before) && j < len(after) && before[i] == after[j]:
			flush()
			edits = append(edits, editedLine{' ', before[i], i + 1, j + 1})
			i++
			j++
		case i == len(before):
			add()
		case j == len(after):
			remove()
		case blank(before[i]) && !blank(after[j]):
			remove()
		case blank(after[j]) && !blank(before[i]):
			add()
		default:
			remove()
			add()
		}
	}
	flush()
	return edits
}

func blank(line string) bool { return strings.TrimSpace(line) == "" }
