package shell

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"buzzout/lang/diag"
	"buzzout/verify"
)

// mostShown is how many findings are told before the rest is only counted.
// Dangers are always told, however many.
const mostShown = 20

var severityWords = map[diag.Severity]string{
	diag.Danger: "Danger", diag.Fault: "Fault", diag.Caution: "Caution", diag.Remark: "Remark",
}

func severityWord(s diag.Severity) string { return severityWords[s] }

func severityStyle(s diag.Severity) style {
	switch s {
	case diag.Danger:
		return dangerStyle
	case diag.Fault:
		return faultStyle
	case diag.Caution:
		return cautionStyle
	}
	return strongStyle
}

// findings tells findings that are sorted as verify.Sort does: those of one
// rule under one heading, what is dangerous last. all tells every one of them.
func (p *page) findings(list []verify.Finding, all bool) {
	hidden := map[string]int{}
	if !all {
		list, hidden = capped(list)
	}
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && sameHeading(list[i], list[j]) {
			j++
		}
		p.group(list[i:j], hidden[list[i].Rule])
		delete(hidden, list[i].Rule)
		i = j
	}
	p.hiddenRules(hidden)
}

// mistakes tells the mistakes of a text as such: with the line, and a mark
// under the words.
func (p *page) mistakes(list []diag.Diagnostic, all bool) {
	if len(list) == 0 {
		return
	}
	p.gap()
	o := diag.Options{Width: p.width, Colour: p.palette != NoColour, Limit: mostShown}
	if all {
		o.Limit = len(list)
	}
	_ = diag.Render(&p.text, list, o) // a strings.Builder takes all
}

func sameHeading(a, b verify.Finding) bool {
	return a.Rule == b.Rule && a.Severity == b.Severity && a.ToDo == b.ToDo
}

// capped keeps at most mostShown findings besides the dangers: the worst, and
// of those alike the first. hidden counts the others by rule.
func capped(list []verify.Finding) (kept []verify.Finding, hidden map[string]int) {
	list = byHeading(list)
	hidden = map[string]int{}
	room := mostShown
	keep := make([]bool, len(list))
	for _, severity := range []diag.Severity{diag.Danger, diag.Fault, diag.Caution, diag.Remark} {
		for i, f := range list {
			if f.Severity != severity {
				continue
			}
			if severity == diag.Danger || room > 0 {
				keep[i] = true
				if severity != diag.Danger {
					room--
				}
			} else {
				hidden[f.Rule]++
			}
		}
	}
	for i, f := range list {
		if keep[i] {
			kept = append(kept, f)
		}
	}
	return kept, hidden
}

// byHeading brings findings of one rule together within their severity, in
// the order in which the rules first occur.
func byHeading(list []verify.Finding) []verify.Finding {
	list = slices.Clone(list)
	first := map[string]int{}
	for i, f := range list {
		if _, known := first[f.Rule]; !known {
			first[f.Rule] = i
		}
	}
	slices.SortStableFunc(list, func(a, b verify.Finding) int {
		if a.Severity != b.Severity {
			return int(b.Severity) - int(a.Severity)
		}
		return first[a.Rule] - first[b.Rule]
	})
	return list
}

func (p *page) group(list []verify.Finding, hidden int) {
	p.gap()
	first := list[0]
	heading := severityWord(first.Severity)
	if first.ToDo {
		heading = "To do"
	}
	spans := []span{{severityStyle(first.Severity), heading + ":"}, plain(" "), strong(first.Rule)}
	if n := len(list) + hidden; n > 1 {
		spans = append(spans, faint(" ("+count(n, "time")+")"))
	}
	p.line(0, spans...)
	for i, f := range list {
		if i > 0 {
			p.gap()
		}
		p.finding(unrepeated(list[:i], f))
	}
	if hidden > 0 {
		p.gap()
		p.say(2, 2, faint("and "+strconv.Itoa(hidden)+" more: check "+first.Rule+" tells them all."))
	}
}

// unrepeated leaves out of a finding the reason that those above it under one
// heading have told in the same words, and of a remark what to do about it. A
// danger is told in full each time.
func unrepeated(above []verify.Finding, f verify.Finding) verify.Finding {
	told := f
	for _, before := range above {
		if f.Severity == diag.Danger || before.Cause != f.Cause {
			continue
		}
		told.Cause = ""
		if f.Severity == diag.Remark && before.Action == f.Action && before.Check == f.Check {
			told.Action, told.Check = "", ""
		}
	}
	return told
}

func (p *page) finding(f verify.Finding) {
	p.say(2, 4, plain(findingSentence(f)))
	if f.Cause != "" {
		p.say(4, 4, plain(sentence(f.Cause)))
	}
	p.quote(6, onceEach(f.Evidence))
	if f.Action != "" {
		p.say(4, 6, faint("To mend: "), plain(sentence(f.Action)))
	}
	if f.Check != "" {
		p.say(4, 6, faint("To be sure: "), plain(sentence(f.Check)))
	}
	for _, r := range f.Rivals {
		p.say(4, 6, faint("Or else: "), plain(sentence(r.Message)))
		if r.Action != "" {
			p.say(6, 8, faint("To mend: "), plain(sentence(r.Action)))
		}
	}
}

// findingSentence is the message as a sentence, and what it hangs on where
// sources disagree.
func findingSentence(f verify.Finding) string {
	if f.Under != "" {
		return messageSentence(f) + " That is so if " + f.Under + "."
	}
	return messageSentence(f)
}

// messageSentence makes a sentence of a message; one that begins with a name
// keeps the name's own letters.
func messageSentence(f verify.Finding) string {
	first, _, _ := strings.Cut(f.Message, " ")
	isWord := !strings.ContainsFunc(first, func(r rune) bool { return r < 'a' || r > 'z' })
	if isWord && !slices.Contains(f.Nets, first) {
		return sentence(capital(f.Message))
	}
	return sentence(f.Message)
}

// onceEach drops facts that are quoted already, also for other words in them.
func onceEach(notes []diag.Note) []diag.Note {
	var kept []diag.Note
	for _, n := range notes {
		if !slices.ContainsFunc(kept, func(k diag.Note) bool {
			return k == n || quotes(k) && quotes(n) && k.Text == n.Text && placeText(k.Place) == placeText(n.Place)
		}) {
			kept = append(kept, n)
		}
	}
	return kept
}

// hiddenRules counts what was left out of rules that are not shown at all.
func (p *page) hiddenRules(hidden map[string]int) {
	var names []string
	n := 0
	for rule, times := range hidden {
		if times > 0 {
			names = append(names, rule)
			n += times
		}
	}
	if n == 0 {
		return
	}
	slices.Sort(names)
	p.gap()
	p.say(0, 2, faint(fmt.Sprintf("And %d more, by %s: check and the rule's name tells them all.", n, joinAnd(names))))
}
