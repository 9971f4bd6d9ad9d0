package shell

import (
	"bytes"
	"encoding/json"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// Schema names the form of the documents that --json prints. Fields may be
// added under the same name; none is renamed or taken away.
const Schema = "buzzout/1"

// A listOf is never null in a document.
type listOf[T any] []T

func (l listOf[T]) MarshalJSON() ([]byte, error) {
	if len(l) == 0 {
		return []byte("[]"), nil
	}
	return encode([]T(l))
}

// head is what every document begins with.
type head struct {
	Schema    string `json:"schema"`
	Query     string `json:"query"`
	Notebook  string `json:"notebook"`
	Amplifier string `json:"amplifier"`
	Complete  bool   `json:"complete"` // the wiring was said to be complete, everywhere
	Status    int    `json:"status"`   // what the process would end with for this answer alone
	// Mistakes are what could not be understood: of the notebook, so that
	// the answer may lack something, and of the question.
	Mistakes listOf[mistakeDoc] `json:"mistakes"`
}

// A placeDoc is a place in a text. Line and Column count from one, in
// characters; Byte counts from zero.
type placeDoc struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Byte   int    `json:"byte"`
	Text   string `json:"text"` // what stands there
	Fact   string `json:"fact"` // the whole fact, where it is more than that
}

func placed(p diag.Place) placeDoc {
	at := p.Position()
	return placeDoc{File: at.File, Line: at.Line, Column: at.Column, Byte: p.Start, Text: p.Text()}
}

func places(notes []diag.Note) listOf[placeDoc] {
	var l listOf[placeDoc]
	for _, n := range notes {
		if n.Place.Known() {
			d := placed(n.Place)
			if quotes(n) && n.Text != d.Text {
				d.Fact = n.Text
			}
			l = append(l, d)
		}
	}
	return l
}

// quotes reports whether a note's text is the fact that its place is in, and
// not something that is said about it.
func quotes(n diag.Note) bool {
	return n.Text != "" && (strings.Contains(n.Text, n.Place.Text()) || n.Text == firstLine(n.Place.Text()))
}

func factPlaces(facts ...*netlist.Fact) listOf[placeDoc] {
	var l listOf[placeDoc]
	for _, f := range facts {
		if f != nil {
			l = append(l, placed(f.Place()))
		}
	}
	return l
}

type mistakeDoc struct {
	Rule     string           `json:"rule"`
	Severity string           `json:"severity"`
	Message  string           `json:"message"`
	Where    listOf[placeDoc] `json:"where"`
	Notes    listOf[string]   `json:"notes"`
	Mend     listOf[string]   `json:"mend"`
	Nearest  string           `json:"nearest"`
}

func mistakeDocs(mistakes []diag.Diagnostic) listOf[mistakeDoc] {
	var l listOf[mistakeDoc]
	for _, m := range mistakes {
		where := listOf[placeDoc]{}
		if m.Place.Known() {
			where = append(where, placed(m.Place))
		}
		l = append(l, mistakeDoc{m.Rule, m.Severity.String(), m.Message, append(where, places(m.Also)...), m.Notes, m.Mend, m.Nearest})
	}
	return l
}

type findingDoc struct {
	Rule      string           `json:"rule"`
	Severity  string           `json:"severity"`
	ToDo      bool             `json:"todo"` // not wrong, only not done yet
	Message   string           `json:"message"`
	Terminals listOf[string]   `json:"terminals"`
	Nets      listOf[string]   `json:"nets"`
	Settings  listOf[string]   `json:"settings"`
	Where     listOf[placeDoc] `json:"where"`
	Cause     string           `json:"cause"`
	Action    string           `json:"action"`
	Check     string           `json:"check"`
	Under     string           `json:"under"`
	Group     string           `json:"group"`
	Rivals    listOf[rivalDoc] `json:"rivals"`
}

type rivalDoc struct {
	Message string `json:"message"`
	Action  string `json:"action"`
}

func findingDocs(b *netlist.Book, findings []verify.Finding) listOf[findingDoc] {
	var l listOf[findingDoc]
	for _, f := range findings {
		d := findingDoc{
			Rule: f.Rule, Severity: f.Severity.String(), ToDo: f.ToDo, Message: f.Message,
			Nets: f.Nets, Settings: f.Settings, Where: places(f.Evidence),
			Cause: f.Cause, Action: f.Action, Check: f.Check, Under: f.Under, Group: f.Group,
		}
		for _, t := range f.Terminals {
			d.Terminals = append(d.Terminals, b.Name(t))
		}
		for _, r := range f.Rivals {
			d.Rivals = append(d.Rivals, rivalDoc{r.Message, r.Action})
		}
		l = append(l, d)
	}
	return l
}

// document is the one JSON document of an answer: the head, and then the
// answer's own fields. A nil answer has none.
func document(h head, a answer) (json.RawMessage, error) {
	first, err := encode(h)
	if err != nil || a == nil {
		return first, err
	}
	rest, err := encode(a)
	if err != nil || len(rest) <= 2 {
		return first, err
	}
	joined := append(first[:len(first)-1], ',')
	return append(joined, rest[1:]...), nil
}

func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}
