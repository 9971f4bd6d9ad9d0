package shell

import (
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
	"buzzout/verify/compare"
	"buzzout/verify/rules"
	"buzzout/verify/states"
)

// allRules are the rules of every package that has some, in the order told.
func allRules() []verify.Rule { return append(rules.All(), states.Rules()...) }

// symptoms are rules that tell what another finding tells better: a leg in the
// air is the joint that is missing there, and a missing joint at the mains
// earth is the danger of having none.
var symptoms = map[string][]string{
	"leg-in-the-air": {"missing-joint", "misplaced", "unfitted"},
	"goes-nowhere":   {"misplaced"},
	"spare-used":     {"misplaced", "exchanged"},
	"missing-joint":  {"no-earth"},
	// In which settings is more than that it is not so in all.
	"grid-floats":      {"input-floats-drawn"},
	"no-bleeder":       {"bleeder-lost"},
	"no-bleeder-drawn": {"bleeder-lost-drawn"},
}

// folded leaves out what is only a symptom of another finding at the same
// terminal: one cause is told once.
func folded(found []verify.Finding) []verify.Finding {
	at := map[string]map[netlist.TerminalID]bool{}
	for _, f := range found {
		if at[f.Rule] == nil {
			at[f.Rule] = map[netlist.TerminalID]bool{}
		}
		for _, t := range f.Terminals {
			at[f.Rule][t] = true
		}
	}
	return slices.DeleteFunc(found, func(f verify.Finding) bool {
		for _, cause := range symptoms[f.Rule] {
			for _, t := range f.Terminals {
				if at[cause][t] {
					return true
				}
			}
		}
		return false
	})
}

// A verdict is all that is found about a book.
type verdict struct {
	findings []verify.Finding // sorted as they are told; mistakes of the notebook are not among them
	made, of int              // joints made, of all that the plan takes
	unproven bool             // the search of the comparison stopped at its bound
	served   []compare.Serving
	book     *netlist.Book
}

func (s *Session) verdict() *verdict {
	if s.judged == nil {
		s.judged = judge(s.book)
	}
	return s.judged
}

// judge asks every rule, and compares plan and wiring, under each meaning of
// the leads' colours, in the present position of every control.
func judge(book *netlist.Book) *verdict {
	bench := book.Bench()
	v := &verdict{book: book}
	meanings := book.Meanings()
	all := allRules()
	var found []supposed
	for i, m := range meanings {
		c := &verify.Case{Bench: bench, Meaning: m, Setting: bench.Setting}
		compared := compare.Compare(bench, m)
		if i == 0 {
			v.made, v.of, v.served = compared.Done, compared.Wanted, compared.Served
		}
		v.unproven = v.unproven || compared.Unproven
		for _, f := range folded(append(verify.Run(all, c), compared.Findings...)) {
			found = append(found, supposed{f, i})
		}
	}
	v.findings = under(book, meanings, found)
	verify.Sort(v.findings)
	return v
}

// about are the findings that name a terminal of a part.
func (v *verdict) about(p *netlist.Part) []verify.Finding {
	var found []verify.Finding
	for _, f := range v.findings {
		for _, t := range f.Terminals {
			if v.book.Terminals[t].Part == p {
				found = append(found, f)
				break
			}
		}
	}
	return found
}

// mistakeFindings are the mistakes of the notebook as findings, so that check
// tells all in one list.
func mistakeFindings(mistakes []diag.Diagnostic) []verify.Finding {
	var found []verify.Finding
	for _, m := range mistakes {
		f := verify.Finding{Rule: m.Rule, Severity: m.Severity, Message: m.Message}
		f.Evidence = append([]diag.Note{{Place: m.Place}}, m.Also...)
		if len(m.Mend) > 0 {
			f.Action = m.Mend[0]
		}
		found = append(found, f)
	}
	return found
}

// tallyOf counts findings by severity; what is only not done yet is apart.
type tallyOf struct {
	Danger  int `json:"danger"`
	Fault   int `json:"fault"`
	Caution int `json:"caution"`
	Remark  int `json:"remark"`
	ToDo    int `json:"todo"`
}

func tallied(findings []verify.Finding) tallyOf {
	var t tallyOf
	for _, f := range findings {
		switch {
		case f.ToDo:
			t.ToDo++
		case f.Severity == diag.Danger:
			t.Danger++
		case f.Severity == diag.Fault:
			t.Fault++
		case f.Severity == diag.Caution:
			t.Caution++
		default:
			t.Remark++
		}
	}
	return t
}

func (t tallyOf) bad() bool { return t.Danger+t.Fault > 0 }

// text says it in words, worst first: "1 danger, 3 faults, 1 caution"; ""
// where there is nothing.
func (t tallyOf) text() string {
	var texts []string
	for _, k := range []struct {
		n    int
		what string
	}{{t.Danger, "danger"}, {t.Fault, "fault"}, {t.Caution, "caution"}, {t.Remark, "remark"}} {
		if k.n > 0 {
			texts = append(texts, count(k.n, k.what))
		}
	}
	return strings.Join(texts, ", ")
}

// summary counts findings in words.
func summary(findings []verify.Finding) string { return tallied(findings).text() }
