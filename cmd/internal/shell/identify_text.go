package shell

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"buzzout/lang/diag"
)

func (a identifyAnswer) write(p *page) {
	if len(a.Leads) == 0 {
		p.say(0, 2, plain("The notebook names no flying lead of "+a.Part+". Leads are named by the fact colours; what nobody knows is unknown."))
		return
	}
	if a.Counted == 0 {
		p.say(0, 2, plain("No reading tells anything of the leads of "+a.Part+" yet."))
	} else {
		p.say(0, 2, plain("The leads of "+a.Part+", by "+count(a.Counted, "reading")+" and nothing else:"))
	}
	p.gap()
	rows := []row{{{faint("lead")}, {faint("what it is")}}}
	for i := range a.Leads {
		rows = append(rows, row{leadName(a.Leads[i].Lead), a.Leads[i].told()})
	}
	p.table(2, rows)
	a.writeWindings(p)
	for i := range a.Contradictions {
		a.Contradictions[i].write(p)
	}
	if len(a.Aside) > 0 {
		p.gap()
		p.say(0, 2, plain("These readings tell nothing of the leads:"))
		for _, x := range a.Aside {
			p.quote(2, []diag.Note{{Place: x.Reading.place}})
			p.say(4, 6, faint(sentence(capital(x.Why))))
		}
	}
	if len(a.Assumes) > 0 {
		p.gap()
		p.say(0, 2, plain("That rests on the readings, and on this:"))
		for _, text := range a.Assumes {
			p.say(2, 4, plain(text))
		}
	}
	a.writeNext(p)
	if a.Key != "" {
		p.gap()
		p.say(0, 2, plain("What is known so far, as a fact for the notebook:"))
		p.line(2, plain(a.Key))
	}
}

// told says what a lead is, and how sure that is.
func (l *foundLead) told() []span {
	choices := joinOr(l.Choices)
	switch {
	case l.NoEnd:
		return []span{strong("no end of a winding"), plain(", certain")}
	case l.Sure == "certain":
		return []span{strong(l.End), plain(", certain")}
	case l.Sure == "either-way":
		return []span{strong(l.End), plain(", either way: " + choices + " makes no difference")}
	case len(l.Choices) == 0:
		return []span{{cautionStyle, "open"}, plain(": it can be any")}
	case l.PhaseOnly:
		return []span{{cautionStyle, "open"}, plain(": " + choices + ", by how the winding runs")}
	}
	return []span{{cautionStyle, "open"}, plain(": " + choices)}
}

func (a *identifyAnswer) writeWindings(p *page) {
	told := false
	for i := range a.Windings {
		w := &a.Windings[i]
		if len(w.Leads) < 2 {
			continue
		}
		if !told {
			p.gap()
			p.say(0, 2, plain("Found to be joined inside:"))
			told = true
		}
		p.say(2, 4, plain(w.text()))
	}
	for _, f := range a.Phases {
		p.say(2, 4, plain(fmt.Sprintf("From %s to %s the winding runs as from %s to %s.", f.First[0], f.First[1], f.Second[0], f.Second[1])))
	}
}

func (w *foundWinding) text() string {
	text := joinAnd(w.Leads)
	if w.Ordered && len(w.Leads) > 2 {
		text += ", in this order"
	}
	if len(w.Names) > 0 {
		text += ": " + joinOr(w.Names)
	}
	var steps []string
	for i, o := range w.Ohms {
		if figure := o.text(ohmsText); figure != "" {
			steps = append(steps, fmt.Sprintf("%s to %s %s", w.Leads[i], w.Leads[i+1], tied(figure)))
		}
	}
	if len(steps) > 0 {
		text += "; " + strings.Join(steps, ", ")
	}
	if !w.Whole {
		text += "; others may belong to it"
	}
	return text + "."
}

// text is a range in words, "" where nothing bounds it.
func (r spanRow) text(figure func(float64) string) string {
	if math.IsInf(float64(r.High), 1) {
		return ""
	}
	return rangeText(float64(r.Low), float64(r.High), figure)
}

func (c *clashRow) write(p *page) {
	p.gap()
	p.say(0, 2, span{cautionStyle, sentence(capital(c.Message))})
	writeReadings(p, 2, "These readings:", c.Readings)
	if c.Suspect != nil {
		writeReadings(p, 2, "Most likely wrong, so take it again:", []readingNote{*c.Suspect})
	}
	if c.Why != "" {
		p.say(2, 4, plain(sentence(c.Why)))
	}
}

func (a *identifyAnswer) writeNext(p *page) {
	p.gap()
	switch {
	case a.Next != nil:
		p.say(0, 2, plain("Next, read "+a.Next.probes()+". "+a.Next.Why))
		for _, text := range a.Next.Cautions { // before anything is done
			p.say(2, 4, span{cautionStyle, text})
		}
		p.say(0, 2, plain("Write down what it says, and ask again:"))
		a.Next.writeLines(p, 2)
	case a.Done && slices.ContainsFunc(a.Leads, func(l foundLead) bool { return l.Sure == "either-way" }):
		p.say(0, 2, plain("Every lead is known, or may be taken either way. Nothing is left to read."))
	case a.Done:
		p.say(0, 2, plain("Every lead is known. Nothing is left to read."))
	default:
		p.say(0, 2, plain("No further reading that could be taken without danger would tell more."))
	}
	for _, e := range a.Even {
		p.say(0, 2, plain(fmt.Sprintf("The winding of %s and %s reads the same from either end. If either may be used for the other, say so in the block of %s: alike %s with %s",
			e[0], e[1], a.Part, e[0], e[1])))
	}
}
