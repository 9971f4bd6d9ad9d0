package shell

import (
	"fmt"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

func (a sourcesAnswer) write(p *page) {
	switch {
	case len(a.Parts) == 0 && a.only != "":
		p.say(0, 2, plain("Nobody has said anything of the leads of "+a.only+". The fact colours does: colours "+a.only+" stickers { red …, blue … }"))
	case len(a.Parts) == 0:
		p.say(0, 2, plain("No part here has a colour key. One is told by the fact colours."))
	}
	for i := range a.Parts {
		part := &a.Parts[i]
		if a.codes {
			part.writeCodes(p)
			continue
		}
		p.gap()
		part.writeTable(p)
		part.writeConflicts(p)
		if a.only != "" {
			part.writeStanding(p)
		}
	}
}

// writeTable puts the sources side by side, the published codes last; those
// give way where the screen is too narrow for all.
func (k *keyedPart) writeTable(p *page) {
	title := []span{strong(k.Part)}
	if k.label != "" {
		title = append(title, plain(" “"+k.label+"”"))
	}
	p.line(0, title...)
	top := row{{faint("lead")}}
	for _, o := range k.Sources {
		top = append(top, []span{faint(o)})
	}
	rows := []row{append(top, []span{faint(netlist.Published)}, []span{faint("taken as")})}
	for i := range k.Leads {
		l := &k.Leads[i]
		r := row{leadName(l.Lead)}
		last := len(l.Says) - 1
		for _, says := range l.Says[:last] {
			r = append(r, cell(or(says.End, "-")))
		}
		rows = append(rows, append(r, []span{faint(l.Says[last].coded(k.wound))}, l.taken()))
	}
	if columns := len(k.Sources) + 1; tableColumns(rows) > p.width-2 {
		for i := range rows {
			rows[i] = slices.Delete(rows[i], columns, columns+1)
		}
	}
	p.table(2, rows)
}

func (l *leadRow) taken() []span {
	switch {
	case l.Holds == "" && l.Open:
		return []span{{cautionStyle, "open"}}
	case l.Holds == "":
		return cell("not known")
	case !l.Agree:
		return []span{{cautionStyle, l.Holds}} // how they differ is told below the table
	}
	return cell(l.Holds)
}

// writeConflicts tells what the sources differ in, as exchanges.
func (k *keyedPart) writeConflicts(p *page) {
	if len(k.Conflicts) == 0 {
		return
	}
	p.gap()
	for i := range k.Conflicts {
		c := &k.Conflicts[i]
		same := func(other conflictRow) bool { return other.Message == c.Message && other.Weight == c.Weight }
		if slices.IndexFunc(k.Conflicts, same) < i {
			continue // told with the first
		}
		text := "Between "
		for n, other := range slices.DeleteFunc(slices.Clone(k.Conflicts), func(other conflictRow) bool { return !same(other) }) {
			if n > 0 {
				text += ", and between "
			}
			text += other.Sources[0] + " and " + other.Sources[1]
		}
		text += ", " + c.Message + "."
		if says := weightSays[c.Weight]; says != "" {
			text += " " + says
		}
		p.say(0, 2, plain(text))
	}
	open := k.open()
	if t := k.Trusted; t != nil {
		p.say(0, 2, plain(t.Source+" is trusted"+whyText(t.Why)+":"))
		p.quote(2, []diag.Note{{Place: t.place}})
		if len(open) > 0 {
			p.say(0, 2, plain("Of "+joinAnd(open)+" no trusted source speaks."))
		}
	}
	if len(open) > 0 && k.matters() {
		none := ""
		if k.Trusted == nil {
			none = "None is trusted: "
		}
		p.say(0, 2, plain(none+"check judges under each. settle "+k.Part+" says what to read; trust "+k.Part+" SOURCE \"why\" decides."))
	}
}

// open are the leads about which sources differ and none is trusted.
func (k *keyedPart) open() []string {
	var names []string
	for i := range k.Leads {
		if k.Leads[i].Open {
			names = append(names, k.Leads[i].Lead)
		}
	}
	return names
}

// weightSays is what a difference does that matters little.
var weightSays = map[string]string{
	disputeWeights[legend.NoMatter]: "It makes no difference.",
	disputeWeights[legend.PhaseAlone]: "That is a winding end for end: it turns the signal over, and where two windings are joined it sets them against each other. " +
		"Else it does nothing.",
}

func (k *keyedPart) matters() bool {
	return slices.ContainsFunc(k.Conflicts, func(c conflictRow) bool { return c.Weight != disputeWeights[legend.NoMatter] })
}

// whyText is the reason that goes with a decision.
func whyText(why string) string {
	if why == "" {
		return ", without a reason given"
	}
	return ", since “" + why + "”"
}

// writeStanding tells of one part what follows, what the readings say, and how
// the published codes compare.
func (k *keyedPart) writeStanding(p *page) {
	if len(k.Follows) > 0 {
		p.gap()
		if len(k.Follows[0].WiredBy) > 0 {
			p.say(0, 2, plain("No lead in dispute is on a place of the drawing yet. What would follow:"))
		} else {
			p.say(0, 2, plain("What follows for the wiring as built:"))
		}
		effects := 0
		for i := range k.Follows {
			k.Follows[i].write(p)
			effects += len(k.Follows[i].Effects)
		}
		if effects > 0 {
			p.say(2, 4, faint("Figures are worked out from the part's loads and volts; what they do is common practice, no source."))
		}
	}
	k.writeAgreement(p)
	k.writeJudged(p)
	p.gap()
	k.writeDiffers(p)
	p.say(0, 2, faint("Makers vary, and no code proves what a lead is. What each says, and where it was read: sources "+k.Part+" "+netlist.Published))
}

func (k *keyedPart) writeAgreement(p *page) {
	if len(k.Agree) == 0 || len(k.Conflicts) == 0 {
		return
	}
	p.gap()
	for _, a := range k.Agree {
		about := count(a.Leads, "lead")
		if a.Leads == 0 {
			about = "no lead"
		}
		p.say(0, 2, plain(fmt.Sprintf("%s and %s agree about %s.", a.Sources[0], a.Sources[1], about)))
	}
}

// writeJudged tells what the readings say of each source; where they touch
// none, nothing.
func (k *keyedPart) writeJudged(p *page) {
	if !slices.ContainsFunc(k.Judged, func(j judgedRow) bool { return j.verdict != legend.Untested }) {
		return
	}
	p.gap()
	writeJudged(p, 0, k.Judged)
}

// leadName paints the colour in a flying lead's name.
func leadName(name string) []span {
	c, tape, known := lang.ReadTaped(name)
	if !known {
		return cell(name)
	}
	spans := swatch(c)
	if tape > 0 {
		spans = append(spans, plain(name[len(c.String()):]))
	}
	return spans
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
