package shell

import (
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
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
		if len(w) >= len(line.last) && strings.EqualFold(w[:len(line.last)], line.last) {
			found = append(found, w)
		}
	}
	return start, found
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
	case "spare", "solder", "bolt", "unsolder":
		return s.terminalNames()
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

func (s *Session) kindWords(kind string) []string {
	if k, _ := s.book.Library.Kind(kind); k != nil {
		return k.Words
	}
	return nil
}

func (s *Session) kindNames() []string { return s.book.Library.Names() }

func (s *Session) netNames() []string {
	var list []string
	for _, n := range s.book.Nets {
		list = append(list, n.Name)
	}
	return list
}

func (s *Session) drawingNames() []string {
	var list []string
	for _, d := range s.book.Drawings {
		if d.Name != "" && !slices.Contains(list, d.Name) {
			list = append(list, d.Name)
		}
	}
	return list
}

// partNames are the references of the parts that keep accepts; nil keeps all.
func (s *Session) partNames(keep func(*Session, *netlist.Part) bool) []string {
	var list []string
	for _, p := range s.book.Parts {
		if keep == nil || keep(s, p) {
			list = append(list, p.Ref)
		}
	}
	return list
}

// hasKey keeps the parts with flying leads: those of which a colour key
// speaks, and those with windings, of which one may speak yet.
func hasKey(s *Session, p *netlist.Part) bool {
	if len(p.Kind.Windings) > 0 {
		return true
	}
	return slices.ContainsFunc(s.book.Keys, func(k *netlist.ColourKey) bool { return k.Part == p })
}

// originNames are the sources that speak of a part's leads, then the drawings.
func (s *Session) originNames(ref string) []string {
	var list []string
	for _, k := range s.book.Keys {
		if strings.EqualFold(k.Part.Ref, ref) && !slices.Contains(list, k.Origin) {
			list = append(list, k.Origin)
		}
	}
	for _, d := range s.drawingNames() {
		if !slices.Contains(list, d) {
			list = append(list, d)
		}
	}
	return list
}

func (s *Session) endNames(ref string) []string {
	p := s.book.Part(ref)
	if p == nil {
		return nil
	}
	var list []string
	for _, t := range p.Kind.Terminals {
		list = append(list, t.Name)
	}
	return list
}

// terminalNames are all terminals as a person types them: with the electrode
// where there is one. A part of one terminal is its reference alone.
func (s *Session) terminalNames() []string {
	var list []string
	for _, p := range s.book.Parts {
		list = append(list, s.terminalsOf(p)...)
	}
	return list
}

func (s *Session) terminalsOf(p *netlist.Part) []string {
	if len(p.Terminals) == 1 && !p.Kind.Any {
		return []string{p.Ref}
	}
	var names []string
	for _, id := range p.Terminals {
		t := s.book.Terminals[id]
		if t.Index >= 0 {
			if role := electrodeName(p.Kind, t.Index); role != "" {
				names = append(names, p.Ref+"."+role)
				if strings.HasPrefix(role, t.Name+"-") {
					continue // the pin is in it
				}
			}
		}
		names = append(names, p.Ref+"."+t.Name)
	}
	return names
}

// electrodeName is the name of a terminal that says which electrode it is:
// "grid" where the part has one grid, "2-grid" where it has more, "" where it
// is no electrode or its own name says so.
func electrodeName(k *parts.Kind, terminal int) string {
	own := k.Terminals[terminal].Name
	for _, plain := range k.Electrodes(terminal) {
		role, known := shortRoles[plain]
		if !known || role == own {
			continue
		}
		if found, _ := k.Find(role); len(found) == 1 {
			return role
		}
		if role != "heater" { // which end of a heater it is does not matter
			return own + "-" + role
		}
	}
	return ""
}

// shortRoles are the electrodes as one word of the language.
var shortRoles = map[string]string{
	"anode": "anode", "grid": "grid", "cathode": "cathode", "screen grid": "screen", "suppressor grid": "suppressor",
	"heater": "heater", "wiper": "wiper", "anticlockwise end": "ccw", "clockwise end": "cw",
}

// controlNames are the controls as set wants them: the reference, and the
// control's name after a dot where the part has several.
func (s *Session) controlNames() []string {
	var list []string
	for _, p := range s.book.Parts {
		for _, c := range p.Kind.Controls {
			if len(p.Kind.Controls) == 1 {
				list = append(list, p.Ref)
			} else {
				list = append(list, p.Ref+"."+c.Name)
			}
		}
	}
	return list
}

func (s *Session) controlNamed(name string) (*netlist.Part, int) {
	ref, control, dotted := strings.Cut(name, ".")
	p := s.book.Part(ref)
	if p == nil {
		return nil, 0
	}
	for i, c := range p.Kind.Controls {
		if !dotted && len(p.Kind.Controls) == 1 || dotted && strings.EqualFold(c.Name, control) {
			return p, i
		}
	}
	return nil, 0
}
