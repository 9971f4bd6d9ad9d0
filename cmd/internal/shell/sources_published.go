package shell

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"buzzout/lang"
	"buzzout/netlist/parts"
	"buzzout/verify/legend"
)

// sureness says how sure a published fact is and where it was read.
type sureness struct {
	Status  string         `json:"status"`  // verified, mixed, common practice, or from memory
	Origins listOf[string] `json:"origins"` // titles with their edition
}

func surenessOf(p *parts.Standing) sureness {
	s := sureness{Status: p.Status}
	for _, c := range p.Origins {
		s.Origins = append(s.Origins, c.String())
	}
	return s
}

// A codeRow is what one published code says of a colour.
type codeRow struct {
	Code string         `json:"code"`
	Says string         `json:"says"`
	Ends listOf[string] `json:"ends"` // of the part, that it would be
	Note string         `json:"note"`
	sureness
}

func (s *Session) codeRow(e *legend.CodeEntry) codeRow {
	return codeRow{e.Code, e.Says, s.shortNames(e.Ends), e.Note, surenessOf(&e.Standing)}
}

// A differsRow is a lead that a source names otherwise than the code.
type differsRow struct {
	Source string         `json:"source"`
	Lead   string         `json:"lead"`
	End    string         `json:"end"`
	Code   listOf[string] `json:"code_ends"`
	Which  string         `json:"code"`
	sureness
}

// A collisionRow is a colour of which two codes say different things.
type collisionRow struct {
	Colour string    `json:"colour"`
	Says   [2]string `json:"says"`
	Codes  [2]string `json:"codes"`
	Hazard string    `json:"hazard"`
	Advice string    `json:"advice"`
	sureness
	colour lang.Colour
}

// A variesRow is a point on which makers differ.
type variesRow struct {
	Item   string         `json:"item"`
	Says   listOf[string] `json:"says"`
	Advice string         `json:"advice"`
	sureness
}

// codesOf is what the published codes make of a part's leads as a whole.
type codesOf struct {
	Differs    listOf[differsRow]   `json:"differs"`
	Collisions listOf[collisionRow] `json:"collisions"`
	Varies     listOf[variesRow]    `json:"varies"`
}

func (s *Session) codesOf(t *legend.Table) codesOf {
	var c codesOf
	for i := range t.Differs {
		d := &t.Differs[i]
		c.Differs = append(c.Differs, differsRow{d.Source, s.shortName(d.Lead), s.shortName(d.End), s.shortNames(d.Code), d.Entry.Code,
			surenessOf(&d.Entry.Standing)})
	}
	for i := range t.Collisions {
		x := &t.Collisions[i]
		c.Collisions = append(c.Collisions, collisionRow{x.Colour.String(), x.Says, x.Codes, x.Hazard, x.Advice, surenessOf(&x.Standing), x.Colour})
	}
	for i := range t.Varies {
		v := &t.Varies[i]
		c.Varies = append(c.Varies, variesRow{v.Item, v.Says, v.Advice, surenessOf(&v.Standing)})
	}
	return c
}

// coded is what the codes make of a lead in a few words: the ends of the part
// that its colour would be; where the part has no windings, what such wire does
// inside a chassis.
func (r *saysRow) coded(windings bool) string {
	var ends []string
	remembered := true
	for _, c := range r.Codes {
		for _, end := range c.Ends {
			remembered = remembered && c.Status == "from memory"
			if !slices.Contains(ends, end) {
				ends = append(ends, end)
			}
		}
	}
	switch {
	case len(ends) > 0 && remembered:
		return joinOr(ends) + " (from memory)"
	case len(ends) > 0:
		return joinOr(ends)
	case windings:
		return "-"
	}
	for _, c := range r.Codes {
		if c.Code == legend.WireCode {
			return c.Says
		}
	}
	return "-"
}

// reserved is the one colour that a standard keeps for one use (IEC 60445,
// 6.3.2: the protective conductor).
var reserved = lang.Colour{Base: "green", Tracer: "yellow"}

// writeDiffers tells in the answer about a part what of the codes cannot wait:
// where a source says otherwise, and the colours that are kept for earth.
func (c *codesOf) writeDiffers(p *page) {
	for i := 0; i < len(c.Differs); {
		d := c.Differs[i]
		sources := []string{d.Source}
		for i++; i < len(c.Differs) && c.Differs[i].Lead == d.Lead && c.Differs[i].End == d.End; i++ {
			sources = append(sources, c.Differs[i].Source)
		}
		text := append([]span{plain("By the published " + d.Which + " ")}, leadName(d.Lead)...)
		p.say(0, 2, append(text, plain(fmt.Sprintf(" is %s; %s by %s.", joinOr(d.Code), d.End, joinAnd(sources))))...)
	}
	for i := range c.Collisions {
		if x := &c.Collisions[i]; x.colour == reserved {
			p.say(0, 2, span{cautionStyle, x.text()})
		}
	}
}

func (x *collisionRow) text() string {
	text := fmt.Sprintf("%s: %s (%s); %s (%s).", capital(x.Colour), x.Says[0], x.Codes[0], x.Says[1], x.Codes[1])
	if x.Advice != "" {
		text += " " + sentence(capital(x.Advice))
	}
	return text
}

// citations numbers what was read, in the order in which it is first told.
type citations struct{ titles []string }

// mark is what stands behind a fact: "[1, 3]", or how it is known otherwise.
func (c *citations) mark(s *sureness) string {
	var numbers []string
	for _, title := range s.Origins {
		i := slices.Index(c.titles, title)
		if i < 0 {
			i = len(c.titles)
			c.titles = append(c.titles, title)
		}
		numbers = append(numbers, strconv.Itoa(i+1))
	}
	text := ""
	if s.Status == "from memory" || s.Status == "common practice" || s.Status == "mixed" {
		text = "(" + strings.Replace(s.Status, "mixed", "partly from memory", 1) + ")"
	}
	if len(numbers) > 0 {
		text = strings.TrimSpace(text + " [" + strings.Join(numbers, ", ") + "]")
	}
	return text
}

// writeCodes tells all that the published codes say of a part's leads.
func (k *keyedPart) writeCodes(p *page) {
	var c citations
	p.say(0, 2, plain("What the published codes say of the colours on "+k.Part+". They say what a colour meant to those who wrote them, and nothing of this part: "+
		"a key off the object or a reading outranks them."))
	p.gap()
	k.writeEntries(p, &c)
	k.writeCollisions(p, &c)
	k.writeVaries(p, &c)
	if len(c.titles) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("Read in:"))
	for i, title := range c.titles {
		p.say(2, 4, plain(fmt.Sprintf("[%d] %s", i+1, title)))
	}
}

// writeEntries lists what each code says of each lead.
func (k *keyedPart) writeEntries(p *page, c *citations) {
	rows := []row{{{faint("lead")}, {faint("code")}, {faint("what it says")}}}
	for _, l := range k.Leads {
		name := leadName(l.Lead)
		for _, code := range l.Says[len(l.Says)-1].Codes {
			text := code.Says
			if len(code.Ends) > 0 {
				text += "; here " + joinOr(code.Ends)
			}
			if code.Note != "" {
				text += "; " + code.Note
			}
			rows = append(rows, row{name, cell(strings.TrimSuffix(code.Code, " code")), []span{plain(text + " "), faint(c.mark(&code.sureness))}})
			name = nil
		}
		if name != nil {
			rows = append(rows, row{name, cell("-"), cell("no code has it")})
		}
	}
	p.table(2, rows)
}

func (k *keyedPart) writeCollisions(p *page, c *citations) {
	if len(k.Collisions) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("Where codes contradict each other:"))
	for i := range k.Collisions {
		x := &k.Collisions[i]
		style := plainStyle
		if x.Hazard == "high" {
			style = cautionStyle
		}
		p.say(2, 4, span{style, x.text() + " "}, faint(c.mark(&x.sureness)))
	}
}

func (k *keyedPart) writeVaries(p *page, c *citations) {
	if len(k.Varies) == 0 {
		return
	}
	p.gap()
	p.say(0, 2, plain("Where makers differ:"))
	for i := range k.Varies {
		v := &k.Varies[i]
		text := capital(v.Item) + ": " + strings.Join(v.Says, "; or ") + "."
		if v.Advice != "" {
			text += " " + sentence(capital(v.Advice))
		}
		p.say(2, 4, plain(text+" "), faint(c.mark(&v.sureness)))
	}
}
