package shell

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/verify"
	"buzzout/verify/legend"
)

func verdictQueries() []query {
	return []query{
		{
			name: "check", args: "[plan | built] [RULE]", line: "the verdict: what is wrong in the notebook, the plan and the wiring",
			text: "All rules, and the comparison of plan and wiring. Without a word: everything. " +
				"`plan`: the drawing alone, before anything is soldered. `built`: the wiring as it is. " +
				"With a rule's name: only that, and all of it. While the wiring is not complete, what is missing is only counted; `todo` lists it.",
			example: "check",
			most:    2, takes: []slot{slotCheck, slotRule}, run: askCheck,
		},
		{
			name: "compare", line: "the wiring as built against the wiring as drawn",
			text: "Told as the fewest things to do at the bench that make the one into the other. " +
				"Ends that are alike may be used either way round; where that decides something, it is remarked.",
			example: "compare", run: askCompare,
		},
		{
			name: "todo", args: "[REF | NET]", line: "what to wire next, part by part",
			text: "Parts to be fitted first, then the joints that are missing, gathered at the part where most of them are. " +
				"With a part or a net: only what is left to do there.",
			example: "todo",
			most:    1, takes: []slot{slotAbout}, run: askTodo,
		},
		{
			name: "try", args: "FACT", line: "what a fact would change, without writing it down",
			text:    "The fact is understood as if it stood at the end of the notebook, and the verdict is found anew. Nothing is kept.",
			example: "try unsolder J1.tip R1.1",
			least:   1, most: -1, run: askTry,
		},
	}
}

type checkAnswer struct {
	Of       string             `json:"of"` // plan, built, or all
	Rule     string             `json:"rule"`
	Settings int                `json:"settings"` // how many settings of the controls were looked at
	Findings listOf[findingDoc] `json:"findings"`
	Summary  tallyOf            `json:"summary"`
	Made     int                `json:"joints_made"`
	Joints   int                `json:"joints"`
	Proven   bool               `json:"proven"`   // no smaller explanation of the differences exists
	Disputed listOf[string]     `json:"disputed"` // parts about whose leads sources differ, and none is trusted
	findings []verify.Finding
	mistakes []diag.Diagnostic // of the notebook; they are among Findings, and told as mistakes of a text
	unread   int               // faults of the notebook, whatever rule was asked for
	plan     bool
}

func (a checkAnswer) bad() bool { return a.Summary.bad() }

func askCheck(s *Session, a *asked) (answer, *diag.Diagnostic) {
	of, rule := "all", ""
	for i := range a.words {
		word := strings.ToLower(a.word(i))
		switch {
		case i == 0 && (word == "plan" || word == "built"):
			of = word
		case rule == "" && findRule(word) != nil:
			rule = word
		default:
			return nil, noRule(a, i, nearestName(word, append([]string{"plan", "built"}, s.ruleNames()...)))
		}
	}
	v := s.verdict()
	found := checkAnswer{Of: of, Rule: rule, Settings: 1, Made: v.made, Joints: v.of, Proven: !v.unproven, unread: faults(s.book.Mistakes), plan: of == "plan"}
	for _, p := range legend.InDispute(s.book) {
		found.Disputed = append(found.Disputed, p.Ref)
	}
	for _, m := range s.book.Mistakes {
		if rule == "" || m.Rule == rule {
			found.mistakes = append(found.mistakes, m)
		}
	}
	for _, f := range v.findings {
		if (of == "all" || judges(f.Rule, of)) && (rule == "" || f.Rule == rule) {
			found.findings = append(found.findings, f)
		}
	}
	all := append(mistakeFindings(found.mistakes), found.findings...)
	verify.Sort(all)
	found.Findings, found.Summary = findingDocs(s.book, all), tallied(all)
	return found, nil
}

// judges reports whether a rule looks at the plan or at the wiring; a mistake
// of the notebook counts for both.
func judges(rule, of string) bool {
	r := findRule(rule)
	return r == nil || r.Judges == verify.Notebook || r.Judges.String() == of
}

func findRule(name string) *verify.Rule {
	all := allRules()
	i := slices.IndexFunc(all, func(r verify.Rule) bool { return strings.EqualFold(r.Name, name) })
	if i < 0 {
		return nil
	}
	return &all[i]
}

func (a checkAnswer) write(p *page) {
	var wrong []verify.Finding
	for _, f := range a.findings {
		if !f.ToDo {
			wrong = append(wrong, f)
		}
	}
	p.mistakes(a.mistakes, a.Rule != "")
	p.findings(wrong, a.Rule != "")
	p.gap()
	if !a.Proven && !a.plan {
		p.say(0, 2, plain(unprovenText))
	}
	if a.unread > 0 {
		p.say(0, 2, plain(mistakenText(a.unread)+". Mend the notebook before anything is undone at the bench."))
	}
	p.say(0, 2, a.verdict()...)
	if a.Summary.ToDo > 0 {
		p.say(0, 2, faint("Not done yet: "+count(a.Summary.ToDo, "thing")+"; todo lists them."))
	}
	if text := a.disputed(); text != "" {
		p.say(0, 2, plain(text))
	}
	if rule := a.worstRule(wrong); rule != "" {
		p.say(0, 2, faint("Why it matters: explain "+rule))
	}
}

// disputed points to what follows where sources differ about leads; all was
// judged under each.
func (a checkAnswer) disputed() string {
	if len(a.Disputed) == 0 {
		return ""
	}
	var asks []string
	for _, ref := range a.Disputed {
		asks = append(asks, "sources "+ref)
	}
	return "Sources disagree about the leads of " + joinAnd(a.Disputed) + ", and none is trusted; all was judged under each. What would follow: " + strings.Join(asks, ", ")
}

// worstRule is the rule to ask about first: of what was told last.
func (a checkAnswer) worstRule(wrong []verify.Finding) string {
	if len(wrong) > 0 {
		return wrong[len(wrong)-1].Rule
	}
	for _, m := range a.mistakes {
		if findRule(m.Rule) != nil {
			return m.Rule
		}
	}
	return ""
}

// verdict is the line that everything else leads to.
func (a checkAnswer) verdict() []span {
	progress := "."
	if a.Joints > 0 && !a.plan {
		progress = fmt.Sprintf("; %d of %s made.", a.Made, count(a.Joints, "joint"))
	}
	text := a.Summary.text()
	if a.Summary.bad() {
		return []span{{faultStyle, text}, plain(progress)}
	}
	switch {
	case text != "" && a.Rule != "":
		text = a.Rule + " finds " + text + ", and nothing worse"
	case a.Rule != "":
		text = a.Rule + " finds nothing"
	case text != "":
		text += ", and nothing wrong"
	default:
		text = "Nothing wrong"
	}
	return []span{{goodStyle, text}, plain(progress)}
}

type compareAnswer struct {
	Findings listOf[findingDoc] `json:"findings"`
	Summary  tallyOf            `json:"summary"`
	Made     int                `json:"joints_made"`
	Joints   int                `json:"joints"`
	// Served are parts whose like ends are used otherwise than drawn, which is
	// no mistake.
	Served listOf[servedDoc] `json:"served"`
	// Proven says that no explanation is smaller; else the search stopped at
	// its bound.
	Proven   bool `json:"proven"`
	findings []verify.Finding
}

type servedDoc struct {
	Part  string         `json:"part"`
	Moved listOf[string] `json:"moved"` // "R5.1 as R5.2": the first does the work of the second
}

func (s *Session) servedDocs(v *verdict) listOf[servedDoc] {
	var l listOf[servedDoc]
	for _, part := range v.served {
		d := servedDoc{Part: part.Part.Ref}
		for _, m := range part.Moved {
			d.Moved = append(d.Moved, s.book.Name(m[0])+" as "+s.book.Name(m[1]))
		}
		l = append(l, d)
	}
	return l
}

func (a compareAnswer) bad() bool { return a.Summary.bad() }

func askCompare(s *Session, _ *asked) (answer, *diag.Diagnostic) {
	v := s.verdict()
	var kept []verify.Finding
	for _, f := range v.findings {
		if ofComparison(f.Rule) {
			kept = append(kept, f)
		}
	}
	return compareAnswer{
		Findings: findingDocs(s.book, kept), Summary: tallied(kept), Made: v.made, Joints: v.of,
		Served: s.servedDocs(v), Proven: !v.unproven, findings: kept,
	}, nil
}

// ofComparison reports whether a rule's findings come from comparing plan and
// wiring: it looks at what is built, and does not look for itself.
func ofComparison(rule string) bool {
	r := findRule(rule)
	return r != nil && r.Look == nil && r.Judges == verify.Built
}

func (a compareAnswer) write(p *page) {
	var wrong []verify.Finding
	for _, f := range a.findings {
		if !f.ToDo {
			wrong = append(wrong, f)
		}
	}
	p.findings(wrong, false)
	p.gap()
	a.writeServed(p)
	if !a.Proven {
		p.say(0, 2, plain(unprovenText))
	}
	switch {
	case a.Joints == 0:
		p.say(0, 2, plain("There is nothing to compare yet: the plan has no net of two terminals."))
	case a.Summary.bad():
		p.say(0, 2, span{faultStyle, a.Summary.text()}, plain(fmt.Sprintf("; %d of %s made.", a.Made, count(a.Joints, "joint"))))
	case a.Made == a.Joints:
		p.say(0, 2, span{goodStyle, "Wired as drawn"}, plain(": all "+count(a.Joints, "joint")+"."))
	default:
		p.say(0, 2, span{goodStyle, "So far wired as drawn"}, plain(fmt.Sprintf(": %d of %s; todo lists the rest.", a.Made, count(a.Joints, "joint"))))
	}
	if reading := firstCheck(wrong); reading != "" {
		p.say(0, 2, faint("Next at the bench: "+sentence(reading)))
	}
}

// unprovenText is said where the search for the smallest explanation stopped.
const unprovenText = "So much is wrong in one place that not every explanation was tried: fewer findings might explain as much."

// writeServed tells, in one paragraph, which like ends are used otherwise than
// drawn. Two ends that stand in for each other are the part the other way round.
func (a compareAnswer) writeServed(p *page) {
	var round, others []string
	for _, s := range a.Served {
		if len(s.Moved) == 2 {
			round = append(round, s.Part)
		} else {
			others = append(others, strings.Join(s.Moved, ", "))
		}
	}
	if len(round) > 0 {
		p.say(0, 2, faint("The other way round than drawn, which is no mistake: "+joinAnd(round)+"."))
	}
	if len(others) > 0 {
		p.say(0, 2, faint("Like for like, which is no mistake either: "+strings.Join(others, "; ")+"."))
	}
}

// firstCheck is what to measure first: what would confirm the worst finding.
func firstCheck(list []verify.Finding) string {
	for _, f := range slices.Backward(list) {
		if f.Check != "" {
			return f.Check
		}
	}
	return ""
}

type tryAnswer struct {
	Fact string `json:"fact"`
	changeDoc
	Summary tallyOf `json:"summary"`
	change  change
	message string
}

func (a tryAnswer) bad() bool { return a.change.bad() }

func askTry(s *Session, a *asked) (answer, *diag.Diagnostic) {
	next, wrong := s.with(a.try, "")
	if len(wrong) > 0 {
		return nil, &wrong[0]
	}
	return s.tried(a.try, next), nil
}

func (s *Session) tried(fact lang.Fact, next built) tryAnswer {
	c := s.change(next)
	t := tryAnswer{Fact: factText(fact), changeDoc: c.document(next.book), change: c, message: c.sentence()}
	if c.judged != nil {
		t.Summary = tallied(append(mistakeFindings(next.book.Mistakes), c.judged.findings...))
	}
	return t
}

func (a tryAnswer) write(p *page) {
	text := strings.TrimSuffix(strings.TrimSpace("If that were so: "+a.message), ":")
	if a.message == "" {
		text += ", no net of the plan would gain or lose by it."
	}
	p.say(0, 2, plain(text))
	a.change.write(p)
	switch text := a.Summary.text(); {
	case text != "":
		p.say(0, 2, plain("The verdict would be "+text+". "), faint("Nothing was written down."))
	case a.change.judged != nil:
		p.say(0, 2, plain("Nothing would be wrong. "), faint("Nothing was written down."))
	default:
		p.say(0, 2, faint("Nothing was written down."))
	}
}
