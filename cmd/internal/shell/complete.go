package shell

import (
	"slices"
	"strings"

	"buzzout/lang"
)

// Complete gives the words that may stand at the end of a line, and the byte
// at which the word that they would replace begins. What fits is decided by
// the statement's form: after "lead" a colour, after that terminals. Capitals
// do not count.
func (s *Session) Complete(before string) (start int, found []string) {
	line := scan(s.pending + before)
	if line.inText || len(line.last) > len(before) {
		return len(before), nil
	}
	start = len(before) - len(line.last)
	for _, w := range s.candidates(line) {
		if beginsFold(w, line.last) {
			found = append(found, w)
		}
	}
	return start, found
}

// Instead gives the words that may take the place of the one at the end of a
// line, where no word begins with it: the terminals that have the electrode of
// which it is the beginning, V1.2-grid and V1.7-grid for V1.gr.
func (s *Session) Instead(before string) (start int, found []string) {
	line := scan(s.pending + before)
	if line.inText || len(line.last) > len(before) {
		return len(before), nil
	}
	return len(before) - len(line.last), byElectrode(s.candidates(line), line.last)
}

func beginsFold(word, with string) bool {
	return len(word) >= len(with) && strings.EqualFold(word[:len(with)], with)
}

// byElectrode are the words REF.PIN-ELECTRODE for the beginning of
// REF.ELECTRODE.
func byElectrode(words []string, typed string) []string {
	ref, begun, dotted := strings.Cut(typed, ".")
	if !dotted || begun == "" {
		return nil
	}
	var found []string
	for _, w := range words {
		r, terminal, _ := strings.Cut(w, ".")
		_, electrode, checked := strings.Cut(terminal, "-")
		if checked && strings.EqualFold(r, ref) && beginsFold(electrode, begun) {
			found = append(found, w)
		}
	}
	return found
}

// CompleteWord is Complete for a line editor: a word that is the only one
// possible gets the blank that ends it.
func (s *Session) CompleteWord(before string) (start int, found []string) {
	start, found = s.Complete(before)
	if len(found) == 1 {
		found = []string{found[0] + " "}
	}
	return start, found
}

// A typed line, as far as completion has to know it.
type typed struct {
	words   []string // of the statement that is being typed, without the last; "," "{" and line ends among them
	last    string   // the word at the cursor, perhaps empty
	inText  bool     // the cursor stands in a text in quotes or in a comment
	comment int      // where the comment begins in which the cursor stands, -1 if none
	depth   int      // braces that are open
}

// scan cuts a line into words as the language does, without its mistakes.
func scan(before string) typed {
	t := typed{comment: -1}
	word := -1 // where the word at the cursor begins
	end := func(i int) {
		if word >= 0 {
			t.words = append(t.words, before[word:i])
			word = -1
		}
	}
	for i := 0; i < len(before); i++ {
		switch c := before[i]; c {
		case ' ', '\t', '\r':
			end(i)
		case '"':
			end(i)
			closing := strings.IndexAny(before[i+1:], "\"\n")
			if closing < 0 {
				return typed{inText: true, comment: -1}
			}
			if before[i+1+closing] == '"' {
				closing++
			}
			t.words = append(t.words, `""`)
			i += closing
		case '#':
			if word >= 0 {
				continue
			}
			lineEnd := strings.IndexByte(before[i:], '\n')
			if lineEnd < 0 {
				return typed{inText: true, comment: i}
			}
			i += lineEnd - 1
		case '{', '}', ',':
			end(i)
			t.words = append(t.words, string(c))
			switch c {
			case '{':
				t.depth++
			case '}':
				t.depth = max(t.depth-1, 0)
			}
		case ';', '\n':
			end(i)
			if t.depth > 0 {
				t.words = append(t.words, "\n")
			} else {
				t.words = nil
			}
		default:
			if word < 0 {
				word = i
			}
		}
	}
	if word >= 0 {
		t.last = before[word:]
	}
	return t
}

// candidates are all the words that may stand where the line ends.
func (s *Session) candidates(t typed) []string {
	if len(t.words) == 0 {
		return append(factWords(), queryWords()...)
	}
	verb, rest := strings.ToLower(t.words[0]), t.words[1:]
	if verb == "try" || verb == "strike" {
		if len(rest) == 0 {
			return factWords()
		}
		if verb == "strike" {
			if words := s.struckWords(rest[0], items(rest[1:])); len(words) > 0 {
				return words
			}
		}
		verb, rest = strings.ToLower(rest[0]), rest[1:]
	}
	if q := findQuery(verb); q != nil {
		return s.queryCandidates(q, rest)
	}
	return s.factCandidates(verb, rest, t.depth)
}

func (s *Session) queryCandidates(q *query, rest []string) []string {
	if len(q.takes) == 0 {
		return nil
	}
	at := min(len(items(rest)), len(q.takes)-1)
	if at < len(items(rest)) && !q.repeats() {
		return nil
	}
	return q.takes[at].words(s, rest)
}

// items are the words of a list that are not separators.
func items(list []string) []string {
	var kept []string
	for _, w := range list {
		switch w {
		case ",", "{", "}", "\n", `""`:
		default:
			kept = append(kept, w)
		}
	}
	return kept
}

// factCandidates follows the form of each fact.
func (s *Session) factCandidates(verb string, rest []string, depth int) []string {
	said := items(rest)
	n := len(said)
	switch verb {
	case "part":
		refs := refsBefore(rest)
		switch {
		case n == 0 || len(rest) > 0 && rest[len(rest)-1] == ",":
			return nil // a new name is the builder's to find
		case depth > 0:
			return s.kindLineCandidates(rest)
		case n == refs:
			return s.kindNames()
		}
		return s.kindWords(said[min(refs, n-1)])
	case "kind":
		if depth > 0 {
			return s.kindLineCandidates(rest)
		}
		return nil
	case "net", "copper":
		if n == 0 {
			return s.netNames()
		}
		return s.terminalNames()
	case "spare", "solder", "bolt":
		return s.terminalNames()
	case "unsolder":
		return s.joinedNames(said)
	case "drawing":
		if n == 0 {
			return s.drawingNames()
		}
	case "colours", "trust":
		switch {
		case n == 0:
			return s.partNames(hasKey)
		case n == 1:
			return s.originNames(said[0])
		case verb == "colours" && n%2 == 0:
			return lang.ColourNames()
		case verb == "colours":
			return append(s.endNames(said[0]), "unknown")
		}
	case "lead":
		if n == 0 {
			return lang.ColourNames()
		}
		if n >= 3 && !slices.Contains(said, "screen") {
			return append(s.terminalNames(), "screen")
		}
		return s.terminalNames()
	case "fit":
		if n == 0 || rest[len(rest)-1] == "," {
			return s.partNames(nil)
		}
		list := append([]string{"none", "turned"}, s.endNames(said[0])...)
		list = append(list, s.terminalNames()...)
		return append(list, s.kindNames()...)
	case "reading":
		if with := slices.Index(said, "with"); with >= 0 {
			return s.settingCandidates(said[with+1:])
		}
		switch {
		case n == 0:
			return append([]string{"probes"}, s.terminalNames()...)
		case n == 1 && !strings.EqualFold(said[0], "probes"):
			return s.terminalNames()
		case n == 2:
			return []string{"open", "over", "rising", "buzz", "silent"}
		}
		return []string{"with"}
	case "set":
		return s.settingCandidates(said)
	case "wiring":
		if n == 0 {
			return []string{"complete", "open"}
		}
		return s.netNames()
	}
	return nil
}

// refsBefore counts the references with which a part fact begins: the comma
// goes on with them.
func refsBefore(rest []string) int {
	n := 0
	for i := 0; i < len(rest); i += 2 {
		n++
		if i+1 >= len(rest) || rest[i+1] != "," {
			break
		}
	}
	return n
}

// kindLineCandidates completes a line in the block of a kind or of a part.
func (s *Session) kindLineCandidates(rest []string) []string {
	begin := 0
	for i, w := range rest {
		if w == "{" || w == "\n" {
			begin = i + 1
		}
	}
	if begin == len(rest) {
		return blockWords()
	}
	if strings.EqualFold(rest[begin], "like") {
		return s.kindNames()
	}
	return nil
}

// settingCandidates completes pairs of a control and its position.
func (s *Session) settingCandidates(said []string) []string {
	if len(said)%2 == 0 {
		return s.controlNames()
	}
	part, control := s.controlNamed(said[len(said)-1])
	if part == nil {
		return nil
	}
	c := part.Kind.Controls[control]
	if c.Turns {
		return []string{"ccw", "cw", "50%"}
	}
	return c.Positions
}
