package shell

import (
	"fmt"
	"math"
	"strings"

	"buzzout/verify/diagnose"
)

func (a nextAnswer) write(p *page) {
	a.writeUnder(p)
	writeContradictions(p, a.Contradictions)
	writeSlips(p, a.Slips)
	if a.Done != doneNames[diagnose.Settled] {
		a.writeUnset(p)
	}
	p.gap()
	if a.Done != doneNames[diagnose.NotDone] {
		a.writeDone(p)
		return
	}
	if a.Confirms && len(a.Top) > 0 {
		p.say(0, 2, plain("As good as certain by the readings so far: "), strong(sentence(a.Top[0].Explanations[0].Text)), plain(" One more reading is to bear it out."))
	}
	p.say(0, 2, plain("Next, the red probe on "), strong(a.Red), plain(" and the black one on "), strong(a.Black), plain("."))
	p.say(2, 4, plain("Where all is sound it "+should(a.expected)+". It is worth "+bits(float64(a.Gain))+"."))
	a.writeOutcomes(p)
	p.gap()
	p.say(0, 2, plain("Write down what it says, and ask again: reading "+a.Red+" "+a.Black+" …"))
	var mains []string
	if a.Mains {
		mains = []string{a.Red, a.Black}
	}
	writeCautions(p, a.Cautions, mains)
}

// bits says how much a reading tells.
func bits(b float64) string {
	told := fmt.Sprintf("%.2g", math.Max(b, 0.01))
	if told == "1" {
		return "1\u00a0bit: it halves what is open"
	}
	return told + "\u00a0bits; one bit would halve what is open"
}

// writeDone says what is left once no reading in this setting tells more.
func (a *nextAnswer) writeDone(p *page) {
	settled := a.Done == doneNames[diagnose.Settled]
	switch {
	case settled:
		p.say(0, 2, plain("That is as good as certain:"))
	case len(a.Unexplained) > 0:
		p.say(0, 2, plain("No reading in this setting would tell more, and no fault of the list explains all of those taken."))
	default:
		p.say(0, 2, plain("No reading in this setting would tell more."))
	}
	for i := range a.Top {
		a.Top[i].write(p, i, true)
	}
	a.writeProposals(p)
	p.gap()
	if settled {
		a.writeAfterwards(p)
	} else {
		p.say(0, 2, plain("suspect tells what else is left."))
	}
}

// writeAfterwards says what to type once a fault is mended: readings that it
// explains hold no longer, and would accuse it for ever.
func (a *nextAnswer) writeAfterwards(p *page) {
	if len(a.Top) == 0 || len(a.Top[0].Explanations[0].Faults) == 0 {
		return
	}
	var strikes []string
	for _, e := range a.Top[0].Evidence {
		if float64(e.Weight) >= leastWeight && !e.Wild {
			strikes = append(strikes, "strike "+e.fact)
		}
	}
	if len(strikes) == 0 {
		return
	}
	p.say(0, 2, plain("Once it is mended, what it explains holds no longer: "+strings.Join(strikes, "; ")))
	p.say(0, 2, plain("Then ask again: a second fault would show."))
	for _, x := range a.Second {
		p.say(0, 2, plain("Or look for a second fault before that: the red probe on "), strong(x.Red), plain(" and the black one on "), strong(x.Black),
			plain(", which reads "+ohmsSaid(float64(x.Alone))+" if this is all. reading "+x.Red+" "+x.Black+" …"))
		var mains []string
		if a.Mains {
			mains = []string{x.Red, x.Black}
		}
		writeCautions(p, a.Cautions, mains)
	}
}

// writeProposals says which other settings would tell apart what is left.
func (a *nextAnswer) writeProposals(p *page) {
	for i := range a.Proposals {
		x := &a.Proposals[i]
		p.gap()
		head := "Another setting would tell them apart: "
		if i > 0 {
			head = "So would: "
		}
		p.say(0, 2, plain(head), strong(x.Set), plain(", then read "), strong(x.Red), plain(" to "), strong(x.Black), plain("."))
		p.table(2, outcomeTable(x.Outcomes))
	}
}

// mostOutcomes bounds how many outcomes are told.
const mostOutcomes = 6

func (a *nextAnswer) writeOutcomes(p *page) {
	if len(a.Outcomes) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("What it may say, the meter's leads taken off, and what that would mean:"))
	p.table(2, outcomeTable(a.Outcomes))
	if n := len(a.Outcomes) - mostOutcomes; n > 0 {
		p.say(2, 4, plain("and "+count(n, "less likely outcome")))
	}
}

func outcomeTable(list []outcomeRow) []row {
	var rows []row
	for i := range list[:min(len(list), mostOutcomes)] {
		o := &list[i]
		rows = append(rows, row{cell(fmt.Sprintf("%5s", percent(float64(o.Probability)))),
			cell(rangeText(float64(o.Low), float64(o.High), ohmsText)), cell(o.meaning())})
	}
	return rows
}

// meaning says what an outcome would mean.
func (o *outcomeRow) meaning() string {
	first := &o.Means[0]
	text := first.Text
	switch {
	case o.Sound && len(first.Faults) == 0:
		text = "as it should be"
	case o.Sound:
		text = "as it should be, or " + text
	}
	if len(o.Means) > 1 {
		text += ", or something else"
	}
	return text
}

// writeUnset asks for pots to be set before the next reading.
func (a *nextAnswer) writeUnset(p *page) {
	if len(a.Unset) == 0 {
		return
	}
	text := a.Set
	if len(a.Unset) > mostSet {
		text += " and so on"
	}
	p.gap()
	p.say(0, 2, plain("Nobody has set "+firstOf(a.Unset)+", and readings that hang on "+themOf(len(a.Unset))+" tell little. Better first turn "+themOf(len(a.Unset))+
		" half way, and type: "), strong(text))
}
