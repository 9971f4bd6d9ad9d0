package shell

import (
	"strings"

	"buzzout/lang/diag"
)

type ruleRow struct {
	Rule   string `json:"rule"`
	Judges string `json:"judges"`
	Title  string `json:"title"`
}

type rulesAnswer struct {
	Rules listOf[ruleRow] `json:"rules"`
}

func (s *Session) ruleNames() []string {
	var names []string
	for _, r := range allRules() {
		names = append(names, r.Name)
	}
	return names
}

func askRules(*Session, *asked) (answer, *diag.Diagnostic) {
	var found rulesAnswer
	for _, r := range allRules() {
		found.Rules = append(found.Rules, ruleRow{r.Name, r.Judges.String(), r.Title})
	}
	return found, nil
}

func (a rulesAnswer) write(p *page) {
	for _, part := range []struct{ judges, title string }{
		{"notebook", "Of the notebook"}, {"plan", "Of the plan, before anything is soldered"}, {"built", "Of the wiring as built"},
	} {
		p.gap()
		p.line(0, strong(part.title))
		var rows []row
		for _, r := range a.Rules {
			if r.Judges == part.judges {
				rows = append(rows, row{cell(r.Rule), cell(r.Title)})
			}
		}
		p.table(2, rows)
	}
	p.gap()
	p.say(0, 0, faint("explain and a rule's name tells why it matters and how to check it."))
}

type explainAnswer struct {
	Rule   string `json:"rule"`
	Judges string `json:"judges"`
	Title  string `json:"title"`
	Text   string `json:"text"`
}

func askExplain(s *Session, a *asked) (answer, *diag.Diagnostic) {
	r := findRule(a.word(0))
	if r == nil {
		return nil, noRule(a, 0, nearestName(a.word(0), s.ruleNames()))
	}
	return explainAnswer{r.Name, r.Judges.String(), r.Title, strings.TrimSpace(r.Text)}, nil
}

// noRule tells of a word that should be a rule.
func noRule(a *asked, word int, nearest string) *diag.Diagnostic {
	d := unknown(a.place(word), "no rule is called "+a.word(word), nearest)
	if nearest == "" {
		d.Mend = []string{"see them: rules"}
	}
	return d
}

func (a explainAnswer) write(p *page) {
	p.say(0, 2, strong(a.Rule), plain(": "+a.Title))
	p.gap()
	p.prose(0, a.Text)
}
