// Package diag holds places in text and what is said about them.
//
// A [Source] is one text; a [Place] is a half-open span of it; a [Diagnostic]
// is one mistake, told once: the fact, where it is, what else had a part in
// it, and what to do. Whoever finds a mistake fills in a Diagnostic; how it
// looks on a screen is decided in render.go alone.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode/utf8"
)

// A Source is a text that places point into. Name is what a person calls it:
// a path relative to the working folder, or "prompt" for a typed line.
type Source struct {
	Name string
	Text string
	// FirstLine is the number of the text's first line, where the text is a
	// piece of something longer. Zero means one.
	FirstLine int

	once  sync.Once
	lines []int // byte offset at which each line begins, built when first needed
}

// NewSource names a text.
func NewSource(name, text string) *Source {
	return &Source{Name: name, Text: text}
}

func (s *Source) lineStarts() []int {
	s.once.Do(func() {
		s.lines = append(s.lines, 0)
		for i := 0; i < len(s.Text); i++ {
			if s.Text[i] == '\n' || s.Text[i] == '\r' && (i+1 == len(s.Text) || s.Text[i+1] != '\n') {
				s.lines = append(s.lines, i+1)
			}
		}
	})
	return s.lines
}

// Position gives line and column, both from one, of a byte offset. Columns
// count characters, not bytes.
func (s *Source) Position(offset int) Position {
	offset = min(max(offset, 0), len(s.Text))
	starts := s.lineStarts()
	n := sort.SearchInts(starts, offset+1) - 1
	return Position{
		File:   s.Name,
		Line:   n + max(s.FirstLine, 1),
		Column: utf8.RuneCountInString(s.Text[starts[n]:offset]) + 1,
	}
}

// Line gives the text of the line that holds the byte offset, without its
// line break, and the offset at which it starts.
func (s *Source) Line(offset int) (text string, start int) {
	offset = min(max(offset, 0), len(s.Text))
	starts := s.lineStarts()
	n := sort.SearchInts(starts, offset+1) - 1
	end := len(s.Text)
	if n+1 < len(starts) {
		end = starts[n+1]
	}
	return strings.TrimRight(s.Text[starts[n]:end], "\r\n"), starts[n]
}

// A Position is a place as a person reads it. Line and Column count from one.
type Position struct {
	File   string
	Line   int
	Column int
}

func (p Position) String() string {
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// A Place is the half-open span [Start, End) of byte offsets in a source.
// The zero Place is nowhere.
type Place struct {
	Source     *Source
	Start, End int
}

// Known reports whether the place is somewhere.
func (p Place) Known() bool { return p.Source != nil }

// Position is where the place begins.
func (p Place) Position() Position {
	if p.Source == nil {
		return Position{}
	}
	return p.Source.Position(p.Start)
}

// Text is what stands there.
func (p Place) Text() string {
	if p.Source == nil {
		return ""
	}
	return p.Source.Text[p.Start:p.End]
}

// To spans from the start of p to the end of q.
func (p Place) To(q Place) Place {
	return Place{p.Source, p.Start, max(p.End, q.End)}
}

func (p Place) String() string {
	if p.Source == nil {
		return ""
	}
	return p.Position().String()
}

// Severity says how much a diagnostic or a finding matters. The zero value is
// none of them, so that a forgotten field shows.
type Severity uint8

const (
	_       Severity = iota
	Danger           // could hurt somebody: never hidden, told last, where the eye rests
	Fault            // cannot be right
	Caution          // likely not what was meant
	Remark           // worth knowing
)

var severityNames = [...]string{"", "danger", "fault", "caution", "remark"}

func (s Severity) String() string {
	if int(s) < len(severityNames) {
		return severityNames[s]
	}
	return ""
}

// Bad reports whether the severity makes a run fail (exit status 1).
func (s Severity) Bad() bool { return s == Danger || s == Fault }

// A Note is a place with a sentence about it.
type Note struct {
	Place Place
	Text  string
}

// A Diagnostic is one mistake in a text.
type Diagnostic struct {
	Rule     string   // stable short name in lower case with hyphens, as "unknown-name"
	Severity Severity // Fault, unless there is a reason
	Place    Place    // the smallest span that shows it
	Message  string   // a fact that stands alone; no full stop, no capital unless a name begins it
	Also     []Note   // other places that had a part: "Also at line 9: …"
	Notes    []string // whole sentences of background
	Mend     []string // things to do, most likely first, three at most
	Nearest  string   // the name that was probably meant, as it can be typed
}

// Sort orders by file, line and column, then by rule and message, and drops
// what is said twice.
func Sort(list []Diagnostic) []Diagnostic {
	slices.SortStableFunc(list, func(a, b Diagnostic) int {
		return cmp.Or(ComparePlaces(a.Place, b.Place), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(list, func(a, b Diagnostic) bool {
		return a.Place == b.Place && a.Rule == b.Rule && a.Message == b.Message
	})
}

// ComparePlaces orders places by file name and offset; nowhere comes first.
func ComparePlaces(a, b Place) int {
	name := func(p Place) string {
		if p.Source == nil {
			return ""
		}
		return p.Source.Name
	}
	return cmp.Or(cmp.Compare(name(a), name(b)), cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End))
}
