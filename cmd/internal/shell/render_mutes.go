package shell

import (
	"fmt"
	"math"
	"slices"

	"buzzout/verify/states"
)

func (a mutesAnswer) write(p *page) {
	if len(a.Grids) == 0 {
		p.say(0, 2, plain(a.what+", no jack leads to "+a.point+"."))
		if a.point == "a grid" {
			p.say(0, 2, plain("To ask of another point where signals meet, name it: mutes TERMINAL."))
		} else {
			p.say(0, 2, plain("A way is looked for through resistors, capacitors and pots; a valve ends it. Through valves too: follow JACK "+a.point+"."))
		}
	}
	for _, m := range a.Grids {
		p.gap()
		m.write(p, a.what)
	}
	if len(a.Grids) > 1 {
		p.gap()
		p.say(0, 2, plain(fmt.Sprintf("What selects between jacks of different grids lies behind their valves: follow %s and follow %s tell.", a.Grids[0].inputs[0].Jack.Ref, a.Grids[1].inputs[0].Jack.Ref)))
	}
	for i, stray := range a.Strays {
		if i == 0 {
			p.gap()
		}
		if stray.Shorted {
			p.say(0, 2, plain(fmt.Sprintf("%s is no input: with a plug in it %s and %s are one conductor. why %s %s tells by what.", stray.Input, stray.tip, stray.sleeve, stray.tip, stray.sleeve)))
		} else {
			p.say(0, 2, plain(fmt.Sprintf("%s does not lead to %s as wired, and it does in the plan: follow %s tells where it stops.", stray.Input, a.point, stray.Input)))
		}
	}
}

func (m mixing) write(p *page, what string) {
	var names []string
	for _, in := range m.inputs {
		name := in.Jack.Ref
		if in.Jack.Label != "" {
			name += " “" + in.Jack.Label + "”"
		}
		names = append(names, name)
	}
	p.say(0, 2, plain(what+", "), strong(m.Grid), plain(" is reached from "+joinAnd(names)+". Of a signal at the tip, it gets:"))
	p.gap()
	rows, left := m.table(fateRow.cell)
	if widthOf(rows) > p.width {
		rows, left = m.table(fateRow.shortCell)
	}
	p.table(2, rows)
	if left > 0 {
		p.say(2, 4, plain(fmt.Sprintf("and %s of plugging in, which --json has as well", count(left, "more way"))))
	}
	m.writeCauses(p)
	m.writePairs(p)
	if len(m.Unset) > 0 {
		p.gap()
		p.say(0, 2, plain("Nobody has set "+joinAnd(m.Unset)+"; half travel is taken."))
	}
	if len(m.Bare) > 0 {
		p.gap()
		p.say(0, 2, plain("Without a figure, and taken for 100k (resistors), 500k (pots) or 100n (capacitors): "+joinAnd(m.Bare)+"."))
	}
	if len(m.Left) > 0 {
		p.gap()
		p.say(0, 2, plain("Not looked at, since there are too many ways of plugging in: "+joinAnd(m.Left)+"."))
	}
}

// mostRows is how many ways of plugging in are shown in full; of more, those
// with one or two plugs in, and with all.
const mostRows = 32

// table is a row for each way of plugging in. left counts those left out.
func (m mixing) table(cellOf func(fateRow) []span) (rows []row, left int) {
	head := row{{faint("plugged in")}}
	for _, in := range m.inputs {
		head = append(head, []span{faint(in.Jack.Ref)})
	}
	rows = []row{head}
	for _, r := range m.Rows {
		if n := len(r.Plugged); len(m.Rows) > mostRows && n > 2 && n < len(m.inputs) {
			left++
			continue
		}
		plugged := "nothing"
		if len(r.Plugged) > 0 {
			plugged = joinAnd(r.Plugged)
		}
		if len(r.Plugged) > 4 {
			plugged = "all" // others of as many are left out
		}
		cells := row{cell(plugged)}
		for _, f := range r.Inputs {
			cells = append(cells, cellOf(f))
		}
		rows = append(rows, cells)
	}
	return rows, left
}

// widthOf is how many characters a table takes, set in by two.
func widthOf(rows []row) int {
	var widths []int
	for _, r := range rows {
		for i, c := range r {
			for len(widths) <= i {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], cellColumns(c)+2)
		}
	}
	sum := 0
	for _, w := range widths {
		sum += w
	}
	return sum
}

// shortCell is cell for a table that would be too wide.
func (f fateRow) shortCell() []span {
	switch f.fate.Reach {
	case states.Reduced:
		return []span{plain(partText(f.Level))}
	case states.Shorted:
		return []span{{faultStyle, "shorted"}}
	case states.Muted:
		return []span{{faultStyle, "grounded"}}
	case states.CutOff:
		return []span{{faultStyle, "cut off"}}
	}
	return f.cell()
}

func (f fateRow) cell() []span {
	switch f.fate.Reach {
	case states.Unplugged:
		return []span{faint("–")}
	case states.Full:
		return []span{strong("all")}
	case states.Reduced:
		return []span{plain(levelText(f.Level))}
	case states.Shorted:
		return []span{{faultStyle, "nothing: shorted"}}
	case states.Muted:
		return []span{{faultStyle, "nothing: the grid is on ground"}}
	}
	return []span{{faultStyle, "nothing: cut off"}}
}

// levelText says a level in words and in decibels.
func levelText(level float64) string {
	return fmt.Sprintf("%s (%.1f dB)", partText(level), 20*math.Log10(level))
}

// partText says a level in words.
func partText(level float64) string {
	if math.Abs(level-0.5) < 0.02 {
		return "half"
	}
	return fmt.Sprintf("%.2g of it", level)
}

// writeCauses tells the reason of each loss. The same reason for several
// ways of plugging in is told once; where there are more than two inputs, so
// is the same loss by the same sort of cause.
func (m mixing) writeCauses(p *page) {
	type loss struct {
		text, like string
		earth      listOf[stepRow]
		tip        string
		more       int
	}
	var losses []loss
	for _, r := range m.Rows {
		for _, f := range r.Inputs {
			text := f.because()
			if text == "" {
				continue
			}
			text = "With a plug in " + joinAnd(r.Plugged) + ", " + text
			like := text
			if len(m.inputs) > 2 {
				like = fmt.Sprint(f.Input, f.Reach, levelText(f.Level), f.Cause != nil, f.Other != "", f.Turn)
			}
			if i := slices.IndexFunc(losses, func(l loss) bool { return l.like == like }); i >= 0 {
				losses[i].more++
				continue
			}
			losses = append(losses, loss{text: text, like: like, earth: f.Earth, tip: m.tipOf(f)})
		}
	}
	for i, l := range losses {
		if i == 0 {
			p.gap()
		}
		text := l.text
		if l.more > 0 {
			text += fmt.Sprintf(" As much is lost, and in the same manner, in %s of plugging in.", count(l.more, "more way"))
		}
		p.say(0, 2, plain(text))
		if len(l.earth) > 0 {
			way{Joined: true, Steps: l.earth}.write(p, l.tip)
		}
	}
}

func (m mixing) tipOf(f fateRow) string {
	for _, in := range m.inputs {
		if in.Jack.Ref == f.Input {
			return in.Jack.Ref + ".tip"
		}
	}
	return f.Input
}

// because says what an input loses and by what; "" if nothing.
func (f fateRow) because() string {
	loses := f.Input + " is cut off"
	switch f.fate.Reach {
	case states.Unplugged, states.Full:
		return ""
	case states.Reduced:
		loses = fmt.Sprintf("%s is divided down to %s", f.Input, levelText(f.Level))
	case states.Shorted:
		loses = f.Input + " is shorted to ground"
	case states.Muted:
		loses = f.Input + " is muted, since the grid is on ground"
	}
	gain := ""
	if f.Would > f.Level {
		gain = ", and " + f.Input + " would have " + levelWords(f.Would)
	}
	switch {
	case f.Cause != nil:
		return loses + ": " + f.contacts() + " " + f.remedy() + gain + "."
	case f.Other != "":
		pull := ""
		if gain != "" {
			pull = " Pull that plug" + gain + "."
		}
		return fmt.Sprintf("%s: the source plugged in at %s is of low resistance and pulls on the same point.%s", loses, f.Other, pull)
	case f.fate.Reach == states.Reduced:
		return loses + ", by the parts on its way alone."
	}
	return fmt.Sprintf("%s, and no one contact, and no two, would bring it back by changing; follow %s tells where it stops.", loses, f.Input)
}

// contacts names the contacts that take the signal, and how they stand.
func (f fateRow) contacts() string {
	stands := func(opens bool) string {
		if opens {
			return "closed"
		}
		return "open"
	}
	text := fmt.Sprintf("the contact of %s between %s and %s is %s", f.Cause.Part, f.Cause.From, f.Cause.To, stands(f.Opens))
	for _, also := range f.Also {
		text += fmt.Sprintf(", and that of %s between %s and %s is %s", also.Part, also.From, also.To, stands(f.fate.WithOpens))
	}
	if !f.Opens && len(f.Also) == 0 {
		text += ", and the way led through it"
	}
	return text + "."
}

// remedy says what would bring the signal back.
func (f fateRow) remedy() string {
	switch {
	case f.Turn != "":
		return "Set " + f.Turn
	case len(f.Also) > 0 && f.Opens != f.fate.WithOpens:
		return "Change both"
	case len(f.Also) > 0 && f.Opens:
		return "Open both"
	case len(f.Also) > 0:
		return "Close both"
	case f.Opens:
		return "Open it"
	}
	return "Close it"
}

func levelWords(level float64) string {
	if level >= 0.9 {
		return "all of it"
	}
	return levelText(level)
}

// writePairs says whether two inputs can be selected from outside. An answer
// that is the same but for the names is told once, and then for whom else.
func (m mixing) writePairs(p *page) {
	var told []pairRow
	for _, r := range m.Pairs {
		if r.pair.Verified && slices.ContainsFunc(told, r.like) {
			continue
		}
		told = append(told, r)
		p.gap()
		r.write(p)
		var legs []string
		for _, other := range m.Pairs {
			if other.Inputs != r.Inputs && r.pair.Verified && r.like(other) {
				legs = append(legs, fmt.Sprintf("%s and %s (lift %s and %s)", other.Inputs[0], other.Inputs[1], other.Switch[0], other.Switch[1]))
			}
		}
		if len(legs) > 0 {
			p.say(2, 4, plain("The same holds of "+joinAnd(legs)+"."))
		}
	}
}

// like says that the answer for another pair is the same but for the names.
func (r pairRow) like(other pairRow) bool {
	return other.Verified && r.Verified && r.why() == other.why() && r.Settings == other.Settings &&
		slices.Equal(r.Unmoved, other.Unmoved) && r.Together && other.Together
}

func (r pairRow) write(p *page) {
	a, b := r.Inputs[0], r.Inputs[1]
	p.say(0, 2, plain("Can "+a+" and "+b+" both stay plugged in, and be selected?"))
	if r.OnlyA != nil && r.OnlyB != nil {
		p.say(2, 4, plain(fmt.Sprintf("Yes: with %s only %s is heard, with %s only %s.", r.onlyA, a, r.onlyB, b)))
		return
	}
	p.say(2, 4, plain(fmt.Sprintf("No: %s (%s of the switches looked at).", r.why(), count(r.Settings, "setting"))))
	if len(r.Unmoved) > 0 {
		p.say(2, 4, plain("Not moved for that, since there are too many settings: "+joinAnd(r.Unmoved)+"."))
	}
	switch {
	case r.Verified:
		under := ""
		if len(r.pair.Tried) > 0 {
			under = ", with " + settingText(r.pair.Tried)
		}
		p.say(2, 4, plain(fmt.Sprintf("The least that would do it is one change-over switch where their ways meet: lift %s and %s, put each on a way of the switch, and the common on the conductor that they left. A trial of that selects, on paper%s.", r.Switch[0], r.Switch[1], under)))
	case r.silent() != "":
		p.say(2, 4, plain(fmt.Sprintf("To begin with, %s has to be heard while both are plugged in: lead it past what takes it away, as told above, and ask again.", r.silent())))
	case r.Switch[0] != "":
		p.say(2, 4, plain(fmt.Sprintf("Their ways meet where %s and %s arrive; a change-over switch there alone does not part them.", r.Switch[0], r.Switch[1])))
	}
}

// silent is an input that is heard in no setting with both plugged in.
func (r pairRow) silent() string {
	switch {
	case !r.pair.EverA:
		return r.Inputs[0]
	case !r.pair.EverB:
		return r.Inputs[1]
	}
	return ""
}

// why says why the two cannot be selected.
func (r pairRow) why() string {
	alone, other, only, with, ever := r.Inputs[0], r.Inputs[1], r.OnlyA, r.onlyA, r.pair.EverB
	if only == nil {
		alone, other, only, with, ever = other, alone, r.OnlyB, r.onlyB, r.pair.EverA
	}
	switch {
	case only == nil && r.Together:
		return "both are heard at once, and no switch stands in either way"
	case only == nil && r.pair.EverA:
		return "where one is heard the other is heard too"
	case only == nil:
		return "neither is heard in any position"
	case !ever:
		return fmt.Sprintf("%s is heard, and %s in no position", alone, other)
	}
	return fmt.Sprintf("%s can be heard alone, with %s, and %s in no position alone", alone, with, other)
}
