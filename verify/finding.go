// Package verify says what a finding is, what a rule is, and how rules are
// run. The packages below it each answer one kind of question.
package verify

import (
	"buzzout/lang/diag"
	"buzzout/netlist"
)

// A Finding is one thing found about the plan or the wiring. It is a value:
// how it is shown is somebody else's business.
type Finding struct {
	Rule     string
	Severity diag.Severity
	// ToDo says that this is not wrong, only not done yet.
	ToDo      bool
	Message   string // the fact, as one sentence in the builder's words; no full stop
	Terminals []netlist.TerminalID
	Nets      []string
	Settings  []string    // in which it holds; empty: in all
	Evidence  []diag.Note // the facts it rests on, the one to look at first in front
	Cause     string      // why, in a sentence, where the message does not say it
	Action    string      // what to do at the bench, in a sentence
	Check     string      // the reading or the look that would confirm it
	Under     string      // "stickers is right about T2": what it hangs on, where sources disagree about leads; "" for nothing
	Group     string      // a key: findings of one cause share it
	Rivals    []Rival     // other explanations, equally small
}

// A Rival is another explanation of the same difference.
type Rival struct {
	Message string
	Action  string
}
