package shell

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

const (
	leastTold     = 0.005 // probability, 1 in 200: what rounds to nothing is not told
	leastSuspects = 2     // are told in any case
	mostTold      = 3     // suspects told with their evidence
	mostEvidence  = 5     // readings told for a suspect, and against it
	leastWeight   = 0.5   // bits that a reading must weigh to be told
	mostAlike     = 6     // explanations told of one suspect
	mostChecks    = 3     // things to do about one suspect
	mostUnclear   = 5     // suspects told where nothing stands out
	mostNames     = 16    // told in a row
)

func (a suspectAnswer) write(p *page) {
	if a.Readings == 0 {
		p.say(0, 2, plain("There are no readings of ohms yet, so these are the odds alone. where-next says where to begin."))
	} else {
		p.say(0, 2, plain(fmt.Sprintf("%s, by %s:", a.what, count(a.Readings, "reading"))))
	}
	a.writeUnder(p)
	writeContradictions(p, a.Contradictions)
	writeSlips(p, a.Slips)
	if a.unclear() {
		a.writeUnclear(p)
	} else {
		a.writeSuspects(p)
	}
	if a.Unlisted > leastTold {
		p.gap()
		p.say(0, 2, plain(tied(percent(float64(a.Unlisted)))+" are left for a fault that is not on the list."))
	}
	a.writeRest(p)
}

// leastClear is how likely a suspect must be to stand out.
const leastClear = 0.2

// unclear says that no suspect stands out by the readings.
func (a *suspectAnswer) unclear() bool {
	return a.Readings > 0 && (len(a.Suspects) == 0 || a.Suspects[0].Probability < leastClear)
}

func (a *suspectAnswer) writeSuspects(p *page) {
	for i := range a.Suspects {
		if i >= leastSuspects && a.Suspects[i].Probability < leastTold {
			p.gap()
			p.say(0, 2, plain(fmt.Sprintf("%d more, all less likely than 1 in 200.", len(a.Suspects)-i)))
			break
		}
		a.Suspects[i].write(p, i, i < mostTold && a.Readings > 0)
	}
}

// writeUnclear tells in short what is likeliest where nothing stands out, and
// which readings nothing explains.
func (a *suspectAnswer) writeUnclear(p *page) {
	p.gap()
	p.say(0, 2, plain("Nothing stands out yet. where-next proposes the reading that tells most."))
	var rows []row
	for i := range a.Suspects[:min(len(a.Suspects), mostUnclear)] {
		r := &a.Suspects[i]
		rows = append(rows, row{cell(fmt.Sprintf("%5s", percent(float64(r.Probability)))), cell(r.Explanations[0].Text)})
	}
	p.table(2, rows)
	if len(a.Suspects) == 0 {
		return
	}
	for i := range a.Suspects[0].Evidence {
		if e := &a.Suspects[0].Evidence[i]; a.explainedByNone(i) {
			p.say(2, 4, plain(fmt.Sprintf("None of these explains that %s to %s said %s (%s): take that again.", e.Red, e.Black, e.Value, e.place)))
		}
	}
}

// explainedByNone says that every suspect takes a reading for a slip.
func (a *suspectAnswer) explainedByNone(reading int) bool {
	for i := range a.Suspects {
		if !a.Suspects[i].Evidence[reading].Wild {
			return false
		}
	}
	return true
}

func (r *suspectRow) write(p *page, i int, full bool) {
	p.gap()
	first := &r.Explanations[0]
	head := fmt.Sprintf("%d. %s: ", i+1, percent(float64(r.Probability)))
	p.say(0, 4, plain(head), strong(sentence(capitalFault(first))))
	if len(r.Explanations) > 1 {
		p.say(3, 5, plain("No reading in this setting can tell it from:"))
		for j := 1; j < len(r.Explanations); j++ {
			if j > mostAlike {
				p.say(5, 7, plain(fmt.Sprintf("and %d more", len(r.Explanations)-j)))
				break
			}
			p.say(5, 7, plain(sentence(r.Explanations[j].Text)))
		}
	}
	if !full {
		return
	}
	r.writeEvidence(p, "For it:", func(e *evidenceRow) bool { return float64(e.Weight) >= leastWeight && !e.Wild })
	r.writeEvidence(p, "Against it:", func(e *evidenceRow) bool { return float64(e.Weight) <= -leastWeight || e.Wild })
	for i, check := range r.checks() {
		p.say(3, 5, plain([...]string{"To be sure: ", "Or: "}[min(i, 1)]+sentence(check)))
	}
}

// checks are what to do about a suspect: for its first explanation, and for
// others of it that ask for something else.
func (r *suspectRow) checks() []string {
	var list []string
	for i := range r.Explanations {
		var of []string
		for k := range r.Explanations[i].Faults {
			if check := r.Explanations[i].Faults[k].Check; check != "" {
				of = append(of, check)
			}
		}
		if check := strings.Join(of, "; and "); check != "" && len(list) < mostChecks && !slices.Contains(list, check) {
			list = append(list, check)
		}
	}
	return list
}

// capitalFault begins a sentence, unless it begins with a name.
func capitalFault(e *explanationRow) string {
	if len(e.Faults) == 0 || len(e.Text) > 4 && (e.Text[:4] == "the " || e.Text[:4] == "heat") {
		return capital(e.Text)
	}
	return e.Text
}

func (r *suspectRow) writeEvidence(p *page, head string, keep func(*evidenceRow) bool) {
	n := 0
	for i := range r.Evidence {
		e := &r.Evidence[i]
		if !keep(e) {
			continue
		}
		if n++; n > mostEvidence {
			continue
		}
		if n == 1 {
			p.say(3, 5, faint(head))
		}
		text := fmt.Sprintf("%s to %s said %s: %s if so, ", e.Red, e.Black, e.Value, ohmsSaid(float64(e.Under)))
		p.say(5, 7, plain(text+ohmsSaid(float64(e.Sound))+" if sound"), faint(" ("+e.place+")"))
	}
	if n > mostEvidence {
		p.say(5, 7, plain("and "+count(n-mostEvidence, "more reading")))
	}
}

func (a *suspectAnswer) writeRest(p *page) {
	p.gap()
	if a.Pairs {
		p.say(0, 2, plain("No single fault of the list fits well, so pairs of faults were tried as well."))
	}
	if len(a.Cleared) > 0 {
		p.say(0, 2, plain("The readings clear "+firstOf(a.Cleared)+"."))
	}
	if len(a.Unseen) > 0 {
		p.say(0, 2, plain("No reading in this setting shows "+count(len(a.Unseen), "fault")+" of the list, as: "+sentence(a.Unseen[0])))
	}
	if a.showOdds {
		a.writeOdds(p)
		p.gap()
		p.say(0, 2, plain("Not considered:"))
		for _, n := range a.NotConsidered {
			p.say(2, 4, plain(n))
		}
		return
	}
	var what []string
	for _, o := range a.omissions {
		what = append(what, o.What)
	}
	p.say(0, 2, faint("Not considered: "+strings.Join(what, "; ")+"."))
	p.say(0, 2, faint("The odds before any reading are a builder's guess, and readings overrule them: suspect --odds lists them."))
}

// firstOf lists the first names and says how many more there are.
func firstOf(names []string) string {
	if len(names) <= mostNames {
		return joinAnd(names)
	}
	return strings.Join(names[:mostNames], ", ") + fmt.Sprintf(" and %d more", len(names)-mostNames)
}

func (a *suspectAnswer) writeOdds(p *page) {
	p.gap()
	p.say(0, 2, plain("Odds of each single fault before any reading, in units of a bridge between two neighbours:"))
	var rows []row
	for _, o := range a.Odds {
		name := o.Kind
		if o.Slip != "" {
			name += ", " + o.Slip
		}
		rows = append(rows, row{cell(name), cell(strconv.FormatFloat(o.Odds, 'g', 3, 64)), {faint(o.Basis)}})
	}
	p.table(2, rows)
}

// percent is a probability; certainty is never quite reached.
func percent(p float64) string {
	switch {
	case p > 1-leastTold:
		return ">99 %"
	case p < leastTold:
		return "<1 %"
	}
	return fmt.Sprintf("%.0f %%", p*100)
}
