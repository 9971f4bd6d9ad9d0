package shell

import (
	"fmt"
	"math"
	"strings"
)

func (a sheetAnswer) write(p *page) {
	if a.csv {
		p.asIs(a.table())
		return
	}
	if len(a.Rows) == 0 {
		p.say(0, 2, plain("Nothing is joined yet, so there is nothing to read."))
		return
	}
	a.writeHead(p)
	p.gap()
	p.table(0, a.rows(p.width))
	a.writeFoot(p)
}

func (a *sheetAnswer) writeHead(p *page) {
	if a.fill {
		p.say(0, 2, plain("Test sheet of "), strong(a.title), plain(", without power. "+a.what+"; the black probe stays on "), strong(a.Black), plain("."))
	} else {
		with := ""
		if a.With != "" {
			with = ", with " + a.With
		}
		p.say(0, 2, plain(a.what+", the black probe on "), strong(a.Black), plain(with+":"))
	}
	if a.fill {
		p.say(0, 2, span{dangerStyle, "First"}, plain(" pull the mains plug out of the wall, discharge the capacitors, and verify that they are empty: the end of the sheet tells how."))
	}
	if a.fill && len(a.Settings) > 0 {
		var texts, unset []string
		for _, s := range a.Settings {
			if s.Position == "not set" {
				unset = append(unset, s.Control)
			} else {
				texts = append(texts, s.Control+" "+s.Position)
			}
		}
		if len(texts) > 0 {
			p.say(0, 2, plain("Put the controls so: "+strings.Join(texts, ", ")+"."))
		}
		if len(unset) > 0 {
			p.say(0, 2, plain("Nobody has set "+joinAnd(unset)+": half the track is taken, and any turn is within."))
		}
	}
}

// rows have a mark where a probe has to wait, the red probe's place, what is
// there, what the meter should show, and from where to where that may go.
func (a *sheetAnswer) rows(width int) []row {
	rows := a.rowsWith(mostNetColumns)
	if over := widest(rows) - width; over > 0 {
		return a.rowsWith(max(mostNetColumns-over, leastNetColumns))
	}
	return rows
}

// The column of nets gives way where the page is narrow.
const mostNetColumns, leastNetColumns = 18, 6

// widest is how many columns a table of such rows takes.
func widest(rows []row) int {
	var widths []int
	for _, r := range rows {
		for i, cell := range r {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], cellColumns(cell))
		}
	}
	total := 0
	for _, w := range widths {
		total += w + 2
	}
	return total - 2
}

func (a *sheetAnswer) rowsWith(net int) []row {
	head := row{{}, {faint("red probe")}, {faint("net")}, {faint("should show")}, {faint("or between")}}
	if a.fill {
		head = row{{}, {faint("red probe")}, {faint("net")}, {faint("should show")}, {faint("or between")}, {faint("read")}}
	}
	rows := []row{head}
	for i := range a.Rows {
		r := &a.Rows[i]
		line := row{{{dangerStyle, r.mark()}}, {strong(r.Red)}, cell(clip(r.netText(), net)), cell(shownText(&r.e)), cell(r.betweenText())}
		if a.fill {
			line = append(line, cell("______"))
		}
		rows = append(rows, line)
	}
	return rows
}

// betweenText is what still counts as within, "" where it is over range alone.
func (r *sheetRow) betweenText() string {
	if math.IsInf(float64(r.ShownLow), 1) {
		return ""
	}
	return rangeText(float64(r.ShownLow), float64(r.ShownHigh), ohmsText)
}

// mark says why a probe has to wait: ! a charge, ~ the mains.
func (r *sheetRow) mark() string {
	text := ""
	if r.Charged {
		text = "!"
	}
	if r.Mains {
		text += "~"
	}
	return text
}

// mostDiffering bounds how many readings are named that differ from the plan:
// of a wiring that is half done, nearly all do.
const mostDiffering = 8

func (r *sheetRow) netText() string {
	switch n := len(r.Nets); n {
	case 0:
		return "-"
	case 1, 2:
		return strings.Join(r.Nets, ", ")
	default:
		return r.Nets[0] + fmt.Sprintf(" and %d more", n-1)
	}
}

func (a *sheetAnswer) writeFoot(p *page) {
	p.gap()
	var differing, mains []string
	total := 0
	for i := range a.Rows {
		r := &a.Rows[i]
		if r.Mains {
			mains = append(mains, r.Red)
		}
		if r.Differs {
			if total++; total <= mostDiffering {
				differing = append(differing, r.Red+" ("+drawnText(&r.expectRow)+")")
			}
		}
	}
	p.say(0, 2, plain(count(len(a.Rows), "reading")+"; the meter's leads ("+ohmsSaid(a.Probes)+") and its own error are in each. OL is over range."))
	switch {
	case total == 1:
		p.say(0, 2, plain("As drawn, one would read otherwise: "+differing[0]+". compare says why."))
	case total > mostDiffering:
		p.say(0, 2, plain(fmt.Sprintf("As drawn, %d would read otherwise, among them %s. compare says why.", total, joinAnd(differing))))
	case total > 1:
		p.say(0, 2, plain(fmt.Sprintf("As drawn, %d would read otherwise: %s. compare says why.", total, joinAnd(differing))))
	}
	a.writeRivals(p)
	if a.fill {
		p.say(0, 2, plain("What you read goes into the notebook as: reading "+a.Rows[0].Red+" "+a.Black+" and what the meter says. readings then judges it."))
	} else {
		p.say(0, 2, plain("Why a reading is so: expect "+a.Rows[0].Red+" "+a.Black))
	}
	writeCautions(p, a.Cautions, mains)
	if len(a.Cautions) > 0 {
		p.say(2, 4, plain("Lines with ! are those where the charge is met."))
	}
}

// writeRivals names the readings that hang on which source of the colours is
// right.
func (a *sheetAnswer) writeRivals(p *page) {
	var texts []string
	total := 0
	for i := range a.Rows {
		for _, r := range a.Rows[i].Rivals {
			if total++; total <= mostDiffering {
				texts = append(texts, a.Rows[i].Red+" ("+ohmsSaid(float64(r.Ohms))+" with "+r.Under+")")
			}
		}
	}
	if total == 0 {
		return
	}
	more := ""
	if n := total - len(texts); n > 0 {
		more = fmt.Sprintf(" and %d more", n)
	}
	p.say(0, 2, plain("Sources disagree about the colours of "+joinAnd(a.disputed)+". The figures are with "+a.Under+"; otherwise would read "+strings.Join(texts, ", ")+more+". "+
		howToSettle(a.disputed)))
}
