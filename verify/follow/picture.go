package follow

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// Text draws the way as a picture in plain text, one thing passed a line, from
// top to bottom, to be pasted anywhere. width is the width of the page in
// characters; 60 is the least that is used.
func (w *Way) Text(width int) string {
	p := &picture{Way: w, width: max(width, 60)}
	p.columns()
	p.say("", fmt.Sprintf("The signal from %s, followed at 1 kHz.", w.Point(w.From)))
	p.line("+ right way up   - upside down")
	p.line("")
	p.steps(w.Stem, "│", true)
	p.lanes()
	p.steps(w.Tail, "│", false)
	for i := range w.Stops {
		p.stop(&w.Stops[i])
	}
	if w.Arrives && len(w.Stops) == 0 {
		p.line("▼")
	}
	for i := range w.Loops {
		p.line("")
		p.say("↺  ", w.LoopText(&w.Loops[i]))
	}
	for i := range w.Faint {
		p.line("")
		p.say("↺  ", w.FaintText(&w.Faint[i]))
	}
	if len(w.Assumed) > 0 {
		p.line("")
		for _, a := range w.Assumed {
			p.say("·  ", w.AssumptionText(a))
		}
	}
	return p.out.String()
}

type picture struct {
	*Way
	width int
	out   strings.Builder
	ends  int // width of the column of terminals
	names int // width of the column of conductors
}

func (p *picture) line(text string) {
	p.out.WriteString(strings.TrimRight(text, " "))
	p.out.WriteByte('\n')
}

// say breaks a text into lines behind a lead-in, under which further lines
// are set in.
func (p *picture) say(lead, text string) {
	p.set(lead, strings.Repeat(" ", utf8.RuneCountInString(lead)), text)
}

func (p *picture) set(lead, further, text string) {
	room := p.width - utf8.RuneCountInString(lead)
	line := lead
	used := 0
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		if used > 0 && used+1+n > room {
			p.line(line)
			line, used = further, 0
		}
		if used > 0 {
			line += " "
			used++
		}
		line += word
		used += n
	}
	p.line(line)
}

func (p *picture) columns() {
	for _, s := range p.Steps() {
		p.ends = max(p.ends, utf8.RuneCountInString(p.endsOf(&s)))
		p.names = max(p.names, utf8.RuneCountInString(diag.Visible(s.Conductor)))
	}
	p.ends, p.names = min(p.ends, 30), min(p.names, 24)
}

func (p *picture) endsOf(s *Step) string {
	switch {
	case s.In == netlist.NoTerminal:
		return p.Point(s.Out)
	case s.Out == netlist.NoTerminal:
		return p.Point(s.In)
	}
	return p.Point(s.In) + " → " + p.Point(s.Out)
}

// gutter is how wide the line on the left is, lanes included.
const gutter = 4

func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(text)))
}

func (p *picture) steps(list []Step, left string, first bool) {
	for i := range list {
		s := &list[i]
		if i > 0 && s.Kind == End && s.In == list[i-1].Out && p.StepText(s) == "" {
			continue // the line above has told it
		}
		mark := "+"
		if s.Over {
			mark = "-"
		}
		rail := left
		if first && i == 0 {
			rail = "●"
		}
		lead := pad(rail, gutter) + mark + " " + pad(p.endsOf(s), p.ends) + "  " + pad(diag.Visible(s.Conductor), p.names) + "  "
		text := p.StepText(s)
		further := pad(left, utf8.RuneCountInString(lead))
		if p.width-utf8.RuneCountInString(lead) < 24 {
			// No room beside it: what is to say goes below.
			p.line(lead)
			if text != "" {
				lead = pad(left, gutter+4)
				p.set(lead, lead, text)
			}
			continue
		}
		p.set(lead, further, text)
	}
}

func (p *picture) lanes() {
	for i, l := range p.Lanes {
		p.line("│")
		p.line("├─┬─ " + string(rune('a'+i)))
		p.steps(l, "│ │", false)
		if i == len(p.Lanes)-1 {
			p.line("│ ╵")
		}
	}
	if len(p.Lanes) == 0 {
		return
	}
	var names []string
	for i := range p.Lanes {
		names = append(names, string(rune('a'+i)))
	}
	at := ""
	if l := p.Lanes[0]; len(l) > 0 && l[len(l)-1].Out != netlist.NoTerminal {
		at = " at " + p.Point(l[len(l)-1].Out)
	}
	switch p.Meeting {
	case Adding:
		p.set("├─ ", "│  ", parts.Listed(names)+" come together"+at+" and help one another"+p.uneven(names))
	case Against:
		p.set("├─ ", "│  ", parts.Listed(names)+" come together"+at+" and work against one another: little or nothing is left")
	}
}

// uneven names the lanes that bring less than half of what the strongest
// does: the two halves of a push-pull stage are meant to bring alike.
func (p *picture) uneven(names []string) string {
	text := ""
	for i, share := range p.Brings {
		if share < 0.5 {
			text += fmt.Sprintf("; %s brings %.2g %% of what the strongest does", names[i], share*100)
		}
	}
	return text
}

func (p *picture) stop(s *Stop) {
	p.line("│")
	lead := "✕  "
	if s.Half {
		lead = "✕  Not all of the way as drawn. "
	}
	p.set(lead, "   ", p.StopText(s))
}
