package shell

import (
	"fmt"
	"strconv"
	"strings"

	"buzzout/lang/diag"
	"buzzout/verify/legend"
)

func (a disputesAnswer) write(p *page) {
	if a.asked {
		p.asIs(a.Markdown)
		return
	}
	if len(a.Disputes) == 0 {
		p.say(0, 2, plain("Nobody disagrees about the leads"+a.about+"."))
		return
	}
	for i := range a.Disputes {
		p.gap()
		a.Disputes[i].write(p, i+1)
	}
}

// write tells a dispute as a bench record: what each said, what happened in
// order, what was decided and why, what that rests on, and what it changed.
func (d *disputeRow) write(p *page, number int) {
	p.say(0, 3, strong(fmt.Sprintf("%d. %s: %s.", number, d.Part, d.Message)), plain(" "), span{d.style(), d.stands()})
	if says := weightSays[d.Weight]; says != "" {
		p.say(3, 5, plain(says))
	}
	head := row{{faint("lead")}}
	for _, said := range d.Said {
		head = append(head, []span{faint(said.Source)})
	}
	rows := []row{head}
	for i, lead := range d.Leads {
		r := row{leadName(lead)}
		for _, said := range d.Said {
			r = append(r, cell(or(said.Ends[i], "-")))
		}
		rows = append(rows, r)
	}
	p.table(3, rows)
	d.writeHistory(p)
	if d.Kind == disputeKinds[legend.WithTheWiring] {
		return
	}
	d.writeDecision(p)
	d.writeEvidence(p)
	d.writeChange(p)
	d.writeOpen(p)
}

func (d *disputeRow) writeHistory(p *page) {
	p.say(3, 5, faint("In order:"))
	var notes []diag.Note
	for _, e := range d.History {
		n := diag.Note{Place: e.place}
		if len(e.Against) > 0 {
			n.Text = "speaks against " + joinAnd(e.Against)
		}
		notes = append(notes, n)
	}
	p.quote(5, notes)
}

func (d *disputeRow) writeDecision(p *page) {
	if d.Decided == nil {
		return
	}
	text := "Decided for " + d.Decided.Source
	if d.Decided.Instead != "" {
		text += ", instead of " + d.Decided.Instead
	}
	p.say(3, 5, plain(text+whyText(d.Decided.Why)+", at "+placeText(d.Decided.place)+"."))
}

// writeEvidence tells what the decision rests on.
func (d *disputeRow) writeEvidence(p *page) {
	switch {
	case len(d.Before)+len(d.After) == 0 && d.Decided != nil:
		p.say(3, 5, plain("No reading was taken at these leads: it rests on that word alone."))
		return
	case len(d.Before)+len(d.After) == 0:
		p.say(3, 5, plain("No reading was taken at these leads yet."))
		return
	case d.Decided != nil && len(d.Before) == 0:
		p.say(3, 5, plain(fmt.Sprintf("%s at these leads, taken since; none stood there when it was decided.", count(len(d.After), "reading"))))
	case d.Decided != nil:
		since := "none"
		if len(d.After) > 0 {
			since = strconv.Itoa(len(d.After))
		}
		p.say(3, 5, plain(count(len(d.Before), "reading")+" at these leads when it was decided, "+since+" since."))
	}
	p.say(3, 5, plain(judgedText(d.Judged)))
}

// writeChange tells what the decision changed: what the leads are from then on,
// and what that made of the wiring.
func (d *disputeRow) writeChange(p *page) {
	if len(d.Changed) == 0 {
		return
	}
	text := "Changed by it: " + strings.Join(d.Changed, "; ") + ". "
	switch d.Wired {
	case seatNames[legend.Unwired]:
		p.say(3, 5, plain(text+"None of these leads was wired then."))
		return
	case seatNames[legend.AllRight]:
		p.say(3, 5, plain(text+"As wired then, each sat on its place."))
		return
	}
	text += "As wired then, they sat on wrong places"
	if len(d.Effects) == 0 {
		p.say(3, 5, plain(text+"."))
	} else {
		p.say(3, 5, plain(text+":"))
	}
	for i := range d.Effects {
		d.Effects[i].write(p, 5)
	}
	if len(d.Rework) > 0 {
		p.say(3, 5, plain("They were moved since."))
	}
}

// writeOpen tells what is left to do about a dispute that is not settled.
func (d *disputeRow) writeOpen(p *page) {
	decides := "trust " + d.Part + " SOURCE \"why\""
	switch d.state {
	case legend.Undecided:
		p.say(3, 5, plain("Nobody has decided it. sources "+d.Part+" says what would follow, settle "+d.Part+" what to read; "+decides+" decides."))
	case legend.Reopened:
		p.say(3, 5, span{cautionStyle, "Readings taken since speak against " + d.Decided.Source + ", so that it is open again."},
			plain(" Take them once more, or decide anew: "+decides+"."))
	case legend.Overridden:
		p.say(3, 5, span{cautionStyle, "It was decided against readings that stood there already."}, plain(" Take them once more, or decide anew: "+decides+"."))
	}
}

// judgedText says in a sentence what readings make of some sources.
func judgedText(list []judgedRow) string {
	by := map[legend.Verdict][]string{}
	for _, j := range list {
		by[j.verdict] = append(by[j.verdict], j.Source)
	}
	fit, lean, against := by[legend.Agrees], by[legend.LeansAgainst], by[legend.Contradicted]
	if len(lean)+len(against) == 0 && len(fit) > 1 {
		return "The readings fit what " + joinAnd(fit) + " say, and decide nothing between them."
	}
	says := func(sources []string) string { return inNumber(len(sources), " says", " say") }
	var texts []string
	if len(fit) > 0 {
		texts = append(texts, "fit what "+joinAnd(fit)+says(fit))
	}
	if len(lean) > 0 {
		texts = append(texts, "lean against what "+joinAnd(lean)+says(lean)+", though a poor contact could do that")
	}
	if len(against) > 0 {
		texts = append(texts, "contradict what "+joinAnd(against)+says(against))
	}
	if len(texts) == 0 {
		return "The readings say nothing of it."
	}
	return "The readings " + strings.Join(texts, ", and ") + "."
}

// stands says in a sentence how a dispute stands.
func (d *disputeRow) stands() string {
	switch {
	case d.Kind == disputeKinds[legend.WithTheWiring] && d.state == legend.Settled:
		return "It was so on the bench, and was put right."
	case d.Kind == disputeKinds[legend.WithTheWiring]:
		return "It is so on the bench."
	case d.Decided != nil && d.state == legend.Settled:
		return "Settled for " + d.Decided.Source + "."
	case d.Decided != nil && d.state == legend.Overridden:
		return "Decided for " + d.Decided.Source + ", against the readings."
	}
	return capital(d.state.String()) + "."
}

func (d *disputeRow) style() style {
	if d.state == legend.Settled {
		return plainStyle
	}
	return cautionStyle
}
