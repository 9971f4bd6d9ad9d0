// Package parts holds the kinds of part, and the library of kinds that comes
// with the tool, written in the notebook language and embedded.
//
// [Builtin] gives that library. [Library.With] makes one for a notebook, to
// which its own kinds are added with [Library.Define] and, after the last of
// them, [Library.Settle]. [Library.ForPart] makes of a part's line a kind with
// the part's own block, and deals the figures out to its elements.
// [Kind.Find] finds a terminal by what a builder calls it.
package parts

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// A Library finds kinds by name. Kinds of the embedded library are read when
// first asked for; a notebook's own kinds are added with Define. Once it is
// settled, any number may use it at a time.
type Library struct {
	parent  *Library
	entries []*entry
	byName  map[string]*entry // by folded name and other name
}

// An entry is a kind of the library, before and after it is read.
type entry struct {
	Summary
	library *Library // where the kinds that it is like are looked up
	order   int
	text    string // in the embedded library, the kind's own lines
	line    int    // and where they begin
	also    []lang.Word

	parsing  sync.Once
	tree     *lang.Kind
	reading  sync.Once
	layers   layers
	kind     *Kind
	mistakes []diag.Diagnostic

	lock    sync.Mutex
	counted map[int]counted // for kinds with a count, by count
}

// counted is a kind whose count is known.
type counted struct {
	kind     *Kind
	mistakes []diag.Diagnostic
}

// A Summary is what a list of kinds tells of one.
type Summary struct {
	Name  string
	Also  []string
	Title string
	Group string // the library's group, as "valves"; "own" for a notebook's kind
}

// With makes a library for a notebook: it has all kinds of this one, and
// takes own ones.
func (l *Library) With() *Library {
	return &Library{parent: l, byName: make(map[string]*entry)}
}

// Define adds a notebook's own kind. A name that a kind already has is a
// mistake; the notebook's kind then stands in front of the library's, and the
// first of two in the notebook holds. What is wrong with the kind's lines is
// told by [Library.Settle], since a kind may be like one that is defined later.
func (l *Library) Define(k *lang.Kind) []diag.Diagnostic {
	e := &entry{
		Summary: Summary{Name: k.Name.Text, Group: "own"},
		library: l, order: len(l.entries), tree: k,
	}
	e.parsing.Do(func() {})
	if k.Title != nil {
		e.Title = k.Title.Text
	}
	e.also = alsoWords(k)
	for _, w := range e.also {
		e.Also = append(e.Also, w.Text)
	}
	var mistakes []diag.Diagnostic
	claim := func(w lang.Word) {
		key := lang.Fold(w.Text)
		if other := l.find(key); other != nil {
			mistakes = append(mistakes, other.taken(w, e))
			if other.library == l {
				return
			}
		}
		l.byName[key] = e
	}
	claim(k.Name)
	for _, w := range e.also {
		claim(w)
	}
	l.entries = append(l.entries, e)
	return mistakes
}

// taken says that a kind's name is already this entry's.
func (e *entry) taken(w lang.Word, by *entry) diag.Diagnostic {
	m := diag.Diagnostic{Rule: "same-name-twice", Severity: diag.Fault, Place: w.Place}
	tree := e.parse()
	switch {
	case e == by:
		m.Message = fmt.Sprintf("%s is already a name of this kind", w.Text)
	case e.library == by.library:
		m.Message = fmt.Sprintf("there are two kinds called %s", w.Text)
		m.Also = []diag.Note{{Place: tree.Name.Place, Text: "the other kind"}}
		m.Mend = []string{"give one of the two another name"}
	default:
		m.Message = fmt.Sprintf("the library already has a kind called %s", w.Text)
		m.Also = []diag.Note{{Place: tree.Name.Place, Text: "the library's own"}}
		m.Mend = []string{
			"leave this kind out if the library's will do",
			fmt.Sprintf("give it a name of its own, and say `like %s` in it", e.Name),
		}
	}
	return m
}

// Settle reads the notebook's own kinds and tells their mistakes, kind after
// kind as they were defined. After it the library is not changed any more.
func (l *Library) Settle() []diag.Diagnostic {
	var mistakes []diag.Diagnostic
	for _, e := range l.entries {
		e.read()
		mistakes = append(mistakes, e.mistakes...)
	}
	return mistakes
}

// find gives the entry of a folded name.
func (l *Library) find(key string) *entry {
	for ; l != nil; l = l.parent {
		if e := l.byName[key]; e != nil {
			return e
		}
	}
	return nil
}

// Kind finds a kind by its name or another of its names; capitals do not
// count. A kind that counts its terminals (tagboard) is given without them.
func (l *Library) Kind(name string) (*Kind, bool) {
	e := l.find(lang.Fold(name))
	if e == nil {
		return nil, false
	}
	e.read()
	return e.kind, true
}

// Names gives every name that a part's line may give for a kind, sorted.
func (l *Library) Names() []string {
	var list []string
	for _, s := range l.Summaries() {
		list = append(list, s.Name)
		list = append(list, s.Also...)
	}
	sort.Strings(list)
	return slices.Compact(list)
}

// Summaries lists the kinds without reading them: the library's, group after
// group, then the notebook's own.
func (l *Library) Summaries() []Summary {
	var list []Summary
	if l.parent != nil {
		list = l.parent.Summaries()
	}
	for _, e := range l.entries {
		list = append(list, e.Summary)
	}
	return list
}

// parse gives the kind as it was written.
func (e *entry) parse() *lang.Kind {
	e.parsing.Do(func() {
		source := &diag.Source{Name: "library/" + e.Group + ".buzzout", Text: e.text, FirstLine: e.line}
		source.Position(0) // finds the lines now: many may ask for places at a time later
		file := lang.Parse(source)
		for _, s := range file.Statements {
			if k, ok := s.(*lang.Kind); ok {
				e.tree = k
				return
			}
		}
		panic("library kind " + e.Name + " cannot be read") // a test reads them all
	})
	return e.tree
}

// read makes the kind, once.
func (e *entry) read() {
	e.reading.Do(func() {
		tree := e.parse()
		e.layers, e.mistakes = e.flatten([]*entry{e})
		head := Kind{Name: e.Name, Also: e.Also, Title: e.Title, Place: tree.Name.Place}
		var mistakes []diag.Diagnostic
		e.kind, mistakes = compile(head, e.layers, 0)
		e.mistakes = append(e.mistakes, mistakes...)
	})
}

// flatten gives the lines of a kind with those that it takes over below them.
// trail is the way here from the kind that is being read, this one last. The
// mistakes are those of the kind at its beginning.
func (e *entry) flatten(trail []*entry) (layers, []diag.Diagnostic) {
	var below layers
	var mistakes []diag.Diagnostic
	for _, w := range likeWords(e.parse().Lines) {
		other := e.library.find(lang.Fold(w.Text))
		if other == e && e.library.parent != nil {
			// Its name is the library's, which was told; what it wants to be
			// like is the library's kind.
			if above := e.library.parent.find(lang.Fold(w.Text)); above != nil {
				other = above
			}
		}
		switch {
		case other == nil:
			if len(trail) == 1 {
				mistakes = append(mistakes, unknownKind(w, e.library))
			}
		case slices.Contains(trail, other):
			if other == trail[0] && isFirst(other, trail) {
				mistakes = append(mistakes, likeItself(trail, w))
			}
		default:
			lines, more := other.flatten(append(slices.Clone(trail), other))
			below = append(below, lines...)
			mistakes = append(mistakes, more...)
		}
	}
	return append(below, e.parse().Lines), mistakes
}

// isFirst reports whether a kind was defined first of those in a loop, so
// that the loop is told once.
func isFirst(e *entry, loop []*entry) bool {
	return !slices.ContainsFunc(loop, func(other *entry) bool { return other.order < e.order })
}

// likeItself tells of a loop: closing is the word that leads back to its
// beginning.
func likeItself(loop []*entry, closing lang.Word) diag.Diagnostic {
	first := loop[0]
	m := diag.Diagnostic{Rule: "bad-kind", Severity: diag.Fault, Place: closing.Place}
	if len(loop) == 1 {
		m.Message = fmt.Sprintf("the kind %s cannot be like itself", first.Name)
		return m
	}
	var names []string
	for _, e := range loop[1:] {
		names = append(names, e.Name)
	}
	m.Message = fmt.Sprintf("the kind %s is like itself, by way of %s", first.Name, Listed(names))
	m.Place = first.parse().Name.Place
	m.Also = []diag.Note{{Place: closing.Place, Text: "this leads back to it"}}
	return m
}

func unknownKind(w lang.Word, l *Library) diag.Diagnostic {
	m := diag.Diagnostic{
		Rule: "unknown-name", Severity: diag.Fault, Place: w.Place,
		Message: fmt.Sprintf("there is no kind of part called %s", w.Text),
		Nearest: nearest(w.Text, l.Names()),
	}
	if speaking := l.speakingOf(w.Text); len(speaking) > 0 {
		m.Notes = []string{fmt.Sprintf("Kinds with that word: %s.", Listed(speaking))}
		m.Mend = []string{"see them: kinds " + w.Text}
	} else if m.Nearest == "" {
		m.Mend = []string{"look for it in the list: kinds"}
	}
	return m
}

// mostSpeaking is how many kinds are named that speak of a word.
const mostSpeaking = 4

// speakingOf names the kinds in whose name or title a word stands, or begins one
// that does: the first few, and how many there are besides.
func (l *Library) speakingOf(word string) []string {
	var list []string
	word = lang.Fold(word)
	if utf8.RuneCountInString(word) < 2 {
		return nil
	}
	for _, s := range l.Summaries() {
		of := strings.FieldsFunc(lang.Fold(strings.Join(append([]string{s.Name, s.Title}, s.Also...), " ")),
			func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
		if slices.ContainsFunc(of, func(w string) bool { return strings.HasPrefix(w, word) }) {
			list = append(list, s.Name)
		}
	}
	if more := len(list) - mostSpeaking; more > 0 {
		list = append(list[:mostSpeaking], fmt.Sprintf("%d more", more))
	}
	return list
}

func likeWords(lines []lang.KindLine) []lang.Word { return declared(lines, "like") }
func alsoWords(k *lang.Kind) []lang.Word          { return declared(k.Lines, "also") }

// declared gathers the words of all lines with a verb.
func declared(lines []lang.KindLine, verb string) []lang.Word {
	var list []lang.Word
	for _, line := range lines {
		if l, ok := line.(*lang.Declare); ok && l.Verb() == verb {
			list = append(list, l.Words...)
		}
	}
	return list
}

// countsTerminals reports whether lines speak of n.
func countsTerminals(lines []lang.KindLine) bool {
	return slices.ContainsFunc(lines, func(line lang.KindLine) bool {
		l, ok := line.(*lang.Declare)
		return ok && slices.ContainsFunc(l.Words, func(w lang.Word) bool {
			_, is := toCount(w.Text)
			return is
		})
	})
}

var elementRoles = [...][]string{
	Resistance:  {"", ""},
	Capacitance: {"", ""},
	Track:       {"ccw", "wiper", "cw"},
	Diode:       {"anode", "cathode"},
	Triode:      {"anode", "grid", "cathode"},
	Pentode:     {"anode", "screen", "grid", "cathode", "suppressor"},
	Heater:      {"heater", "heater"},
	Lamp:        {"", ""},
	Fuse:        {"", ""},
	Coil:        {"", ""},
}

// embedded builds the index of the library's text.
func embedded(groups []group) *Library {
	l := &Library{byName: make(map[string]*entry)}
	for _, g := range groups {
		for _, e := range scan(g) {
			e.library, e.order = l, len(l.entries)
			l.entries = append(l.entries, e)
			l.byName[lang.Fold(e.Name)] = e
			for _, a := range e.Also {
				l.byName[lang.Fold(a)] = e
			}
		}
	}
	return l
}

// scan finds the kinds in a group's text without reading them. It relies on
// how the library is laid out, which a test holds: "kind" begins a line, "also"
// has a line of its own, and the closing brace stands alone in its line.
func scan(g group) []*entry {
	var list []*entry
	var e *entry
	start := 0 // where e begins
	line := 0
	for at := 0; at < len(g.text); {
		end := strings.IndexByte(g.text[at:], '\n')
		if end < 0 {
			end = len(g.text) - at
		}
		text := g.text[at : at+end]
		line++
		next := min(at+end+1, len(g.text))
		switch {
		case strings.HasPrefix(text, "kind "):
			e = &entry{line: line}
			start = at
			e.Group = g.name
			e.Name, _, _ = strings.Cut(text[len("kind "):], " ")
			if _, rest, ok := strings.Cut(text, `"`); ok {
				e.Title, _, _ = strings.Cut(rest, `"`)
			}
		case e != nil && strings.HasPrefix(text, "    also "):
			words, _, _ := strings.Cut(text, "#")
			e.Also = append(e.Also, strings.Fields(words)[1:]...)
		case e != nil && text == "}":
			e.text = g.text[start:next]
			list = append(list, e)
			e = nil
		}
		at = next
	}
	return list
}
