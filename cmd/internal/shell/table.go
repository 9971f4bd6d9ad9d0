package shell

import (
	"context"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A query is one line of the table of queries, which serves the shell, the
// batch commands, completion, help and the README alike.
type query struct {
	name    string
	also    string // another name, read and not printed
	args    string // how the words after the name are written
	line    string // what it answers, in one line
	text    string // what help tells beyond that
	example string // can be typed at the demo's prompt as it stands
	least   int    // words that must follow
	most    int    // words that may follow; -1 for any number
	takes   []slot // what completion offers for each word; the last goes on
	scope   scope
	bare    bool // needs no notebook
	run     func(*Session, *asked) (answer, *diag.Diagnostic)
}

// A scope says where a query can be asked.
type scope uint8

const (
	everywhere scope = iota
	atPrompt         // it is about the session or changes the notebook
)

// asked is a question as it was typed.
type asked struct {
	context context.Context
	words   []lang.Argument // after the query's name
	whole   diag.Place      // the question from its first word to its last
	try     lang.Fact       // of try
}

// word gives the text of a word of the question, "" where it was not typed.
func (a *asked) word(i int) string {
	if i < len(a.words) {
		return a.words[i].Text
	}
	return ""
}

// place is where a word stands, or the whole question.
func (a *asked) place(i int) diag.Place {
	if i < len(a.words) {
		return a.words[i].Place
	}
	return a.whole
}

func (q *query) repeats() bool { return q.most < 0 }

// A slot is what one word of a question can be.
type slot uint8

const (
	slotNothing slot = iota
	slotPart
	slotTerminal
	slotNet
	slotKind
	slotRule
	slotAbout // part, net, kind or terminal
	slotCheck // plan, built, or a rule
	slotHelp  // any word of which help knows
	slotControl
	slotKeyed    // a part with flying leads
	slotWith     // with, and positions
	slotMutes    // a terminal, or with
	slotExpect   // a terminal, a part of two, or sheet
	slotExpectTo // a terminal, with, or a flag
	slotOdds     // --odds
	slotDisputes // a part with flying leads, or --markdown
	slotPublished
)

func (k slot) words(s *Session, said []string) []string {
	switch k {
	case slotPart:
		return s.partNames(nil)
	case slotTerminal:
		return s.terminalNames()
	case slotNet:
		return s.netNames()
	case slotKind:
		return s.kindNames()
	case slotRule:
		return s.ruleNames()
	case slotAbout:
		return slices.Concat(s.partNames(nil), s.netNames(), s.terminalNames(), s.kindNames())
	case slotCheck:
		if len(said) == 0 {
			return append([]string{"plan", "built"}, s.ruleNames()...)
		}
		return s.ruleNames()
	case slotHelp:
		return helpWords()
	case slotControl:
		return s.controlNames()
	case slotKeyed:
		return s.partNames(hasKey)
	case slotMutes:
		return append(s.terminalNames(), "with")
	case slotExpect:
		return slices.Concat([]string{"sheet"}, s.terminalNames(), s.partNames(ofTwo))
	case slotOdds:
		return []string{"--odds"}
	case slotDisputes:
		return append(s.partNames(hasKey), "--markdown")
	case slotPublished:
		return []string{netlist.Published}
	case slotExpectTo:
		return append(s.terminalNames(), "with", "--csv")
	case slotWith:
		if with := slices.Index(said, "with"); with >= 0 {
			return s.settingCandidates(said[with+1:])
		}
		return []string{"with"}
	}
	return nil
}

// queries is the table, in the order in which help shows it.
var queries []query

func init() {
	// A variable with these as its value would be a loop: help, a query, reads
	// the table.
	queries = slices.Concat(
		verdictQueries(),
		bookQueries(),
		benchQueries(),
		stateQueries(),
		meterQueries(),
		suspectQueries(),
		legendQueries(),
		ruleQueries(),
		sessionQueries(),
		helpQueries(),
	)
}

func findQuery(name string) *query {
	for i := range queries {
		if strings.EqualFold(queries[i].name, name) || queries[i].also != "" && strings.EqualFold(queries[i].also, name) {
			return &queries[i]
		}
	}
	return nil
}

// questionWords are all words that begin a question, for the parser.
func questionWords() []string {
	names := queryWords()
	for _, q := range queries {
		if q.also != "" {
			names = append(names, q.also)
		}
	}
	return names
}

func queryWords() []string {
	var names []string
	for _, q := range queries {
		names = append(names, q.name)
	}
	return names
}

// IsQuery reports whether a word names a query that can be asked without a
// prompt, so that it is a command of its own.
func IsQuery(name string) bool {
	q := findQuery(name)
	return q != nil && q.scope == everywhere && q.name == name
}

// QueryNames are the names of all queries, in the order of the table.
func QueryNames() []string { return queryWords() }
