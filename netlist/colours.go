package netlist

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// Published is the source of the published colour codes. The tool has them
// itself: they are the weakest source of all, so that no notebook can say them
// anew or trust them.
const Published = "published"

// colours makes the colour keys and the flying leads that they name.
//
// Leads of one colour get numbers in the order written: they are the
// builder's tape marks and claim nothing about the end. A colour that any key
// of the part has twice is numbered in all of them.
func (b *builder) colours() {
	type line struct {
		key    *ColourKey
		fact   *Fact
		pair   lang.Pair
		colour lang.Colour
		number int // as written; 0 for none
	}
	lines := map[*Part][]line{}
	var order []*Part
	for _, f := range b.Facts {
		c, ok := f.Statement.(*lang.Colours)
		if !ok || f.StruckBy != nil {
			continue
		}
		part := b.Part(c.Part.Text)
		if part == nil {
			b.unknownPart(c.Part.Text, c.Part.Place, b.nearestRef(c.Part.Text))
			continue
		}
		if lang.Fold(c.Origin.Text) == Published {
			b.mistake(diag.Diagnostic{Rule: "reserved-name", Place: c.Origin.Place,
				Message: "published is the published colour codes, which the tool has itself",
				Mend:    []string{"call the source by what was read: sheet, stickers, lid", "see what the codes say: sources " + part.Ref + " published"}})
			continue
		}
		key := b.key(part, c.Origin.Text)
		key.Facts = append(key.Facts, f)
		if lines[part] == nil {
			order = append(order, part)
		}
		struck := b.struckWord[f]
		for _, pair := range c.Pairs {
			if struck[lang.Fold(pair.Left.Text)] {
				continue
			}
			colour, number, ok := lang.ReadTaped(pair.Left.Text)
			if !ok {
				b.notAColour(part, pair)
				continue
			}
			lines[part] = append(lines[part], line{key, f, pair, colour, number})
		}
	}
	for _, part := range order {
		most := map[lang.Colour]int{}
		for _, key := range b.Keys {
			seen := map[lang.Colour]int{}
			for _, l := range lines[part] {
				if l.key == key {
					seen[l.colour] = max(seen[l.colour]+1, l.number)
					most[l.colour] = max(most[l.colour], seen[l.colour])
				}
			}
		}
		next := map[*ColourKey]map[lang.Colour]int{}
		for _, l := range lines[part] {
			number := l.number
			if number == 0 && most[l.colour] > 1 {
				if next[l.key] == nil {
					next[l.key] = map[lang.Colour]int{}
				}
				next[l.key][l.colour]++
				number = next[l.key][l.colour]
			}
			b.keyPair(l.key, l.fact, l.pair, leadName(l.colour, number))
		}
	}
}

func (b *builder) notAColour(part *Part, pair lang.Pair) {
	d := diag.Diagnostic{Rule: "unknown-name", Place: pair.Left.Place,
		Message: fmt.Sprintf("%s is not a colour", pair.Left.Text)}
	d.Nearest, _ = lang.Nearest(pair.Left.Text, lang.ColourNames())
	if _, _, ok := lang.ReadTaped(pair.Right.Text); ok {
		d.Mend = []string{fmt.Sprintf("the colour comes first: %s %s", pair.Right.Text, pair.Left.Text)}
	}
	b.mistake(d)
}

func (b *builder) key(part *Part, origin string) *ColourKey {
	for _, k := range b.Keys {
		if k.Part == part && strings.EqualFold(k.Origin, origin) {
			return k
		}
	}
	k := &ColourKey{Part: part, Origin: origin}
	if d := b.drawings[lang.Fold(origin)]; d != nil {
		k.Paper, k.Origin = true, d.Name
	}
	b.Keys = append(b.Keys, k)
	return k
}

// keyPair adds one line of a colour key: a lead, and the end that it is.
func (b *builder) keyPair(key *ColourKey, f *Fact, pair lang.Pair, lead string) {
	part := key.Part
	if indices, _ := part.Kind.Find(lead); len(indices) > 0 {
		b.mistake(diag.Diagnostic{Rule: "same-name-twice", Place: pair.Left.Place,
			Message: fmt.Sprintf("%s is the name of an end of %s, so it cannot be a colour of its leads", lead, part.Ref),
			Mend:    []string{"give the end another name in the part's block"}})
		return
	}
	id, ok := part.byName[lead]
	if !ok {
		id = b.newTerminal(Terminal{Part: part, Name: lead, Index: -1, Lead: true, Named: f})
		part.byName[lead] = id
	}
	end := NoTerminal
	if !strings.EqualFold(pair.Right.Text, "unknown") {
		indices, problem := part.Kind.Find(pair.Right.Text)
		if len(indices) != 1 {
			d := diag.Diagnostic{Rule: "unknown-name", Place: pair.Right.Place, Message: problem,
				Notes: []string{part.terminalsSentence(b.Book)}}
			if d.Message == "" {
				d.Message = fmt.Sprintf("%s has no end called %s", part.Ref, pair.Right.Text)
			}
			if near, ok := lang.Nearest(pair.Right.Text, part.names(b.Book)); ok {
				d.Nearest = near
			}
			b.mistake(d)
			return
		}
		end = part.Terminals[indices[0]]
	}
	for _, other := range key.Pairs {
		if other.Lead == id && other.End == end {
			return
		}
		if other.Lead == id || other.End == end && end != NoTerminal {
			b.mistake(diag.Diagnostic{Rule: "same-name-twice", Place: pair.Left.Place.To(pair.Right.Place),
				Message: fmt.Sprintf("%s says of %s both %s and %s", key.Origin, part.Ref, other.text(b.Book), KeyPair{Lead: id, End: end}.text(b.Book)),
				Also:    []diag.Note{{Place: other.Place, Text: other.Fact.Text()}}})
			return
		}
	}
	key.Pairs = append(key.Pairs, KeyPair{Lead: id, End: end, Fact: f, Place: pair.Left.Place.To(pair.Right.Place)})
}

func (p KeyPair) text(b *Book) string {
	end := "unknown"
	if p.End != NoTerminal {
		end = b.Terminals[p.End].Name
	}
	return b.Terminals[p.Lead].Name + " " + end
}

// drawn is what a terminal of the plan means: a colour is the end that the
// colour key of the same drawing gives it; without one it is that very lead.
func (b *builder) drawn(t TerminalID, f *Fact) TerminalID {
	term := &b.Terminals[t]
	if !term.Lead || f.Drawing == nil {
		return t
	}
	for _, k := range b.Keys {
		if k.Part != term.Part || !k.Paper || k.Origin != f.Drawing.Name {
			continue
		}
		for _, p := range k.Pairs {
			if p.Lead == t && p.End != NoTerminal {
				return p.End
			}
		}
	}
	return t
}

// maxMeanings bounds the ways in which colours are taken together. Beyond it
// each open part is varied by itself.
const maxMeanings = 16

// Meanings are the ways in which the colours of flying leads can be taken:
// one where every source that counts agrees or is trusted, more where sources
// disagree and nobody has said which holds. There is always at least one. Trust
// is read as it stands last, for earlier facts too: a key only says what the
// leads are.
func (b *Book) Meanings() []Meaning {
	base := Meaning{Origins: map[*Part]string{}, Ends: map[TerminalID]TerminalID{}}
	var open []*Part
	choices := map[*Part][]*ColourKey{}
	total := 1
	for _, p := range b.Parts {
		keys := b.KeysOf(p)
		if len(keys) == 0 {
			continue
		}
		base.Loose = append(base.Loose, b.loose(p)...)
		undecided := b.decide(p, keys, base.Ends)
		if len(undecided) == 0 {
			continue
		}
		open = append(open, p)
		choices[p] = differing(keys, undecided)
		total *= len(choices[p])
	}
	meanings := []Meaning{base}
	if total > maxMeanings {
		for _, p := range open {
			for i, k := range choices[p] {
				if i > 0 || p == open[0] {
					meanings = append(meanings, under(base, p, k))
				}
			}
		}
		return meanings[1:]
	}
	for _, p := range open {
		var next []Meaning
		for _, m := range meanings {
			for _, k := range choices[p] {
				next = append(next, under(m, p, k))
			}
		}
		meanings = next
	}
	return meanings
}

// KeysOf are the colour keys of a part, in the order in which their sources
// were first told.
func (b *Book) KeysOf(p *Part) []*ColourKey {
	var keys []*ColourKey
	for _, k := range b.Keys {
		if k.Part == p {
			keys = append(keys, k)
		}
	}
	return keys
}

// Trusts are the facts that trust a source of a part, in their order: the last
// is the one that holds for the leads that its source names.
func (b *Book) Trusts(p *Part) []Trust {
	var list []Trust
	for _, t := range b.log.trusts {
		if t.Key.Part == p {
			list = append(list, t)
		}
	}
	return list
}

// decide settles the leads of a part that a trusted source names, or that all
// sources agree on, and gives those that stay open.
func (b *Book) decide(p *Part, keys []*ColourKey, ends map[TerminalID]TerminalID) (open []TerminalID) {
	for _, lead := range p.Terminals {
		if !b.Terminals[lead].Lead {
			continue
		}
		if end := b.trusted(p, lead); end != NoTerminal {
			ends[lead] = end
			continue
		}
		end, agree := NoTerminal, true
		for _, k := range keys {
			says := k.End(lead)
			if says == NoTerminal {
				continue
			}
			if end != NoTerminal && says != end {
				agree = false
			}
			end = says
		}
		if !agree {
			open = append(open, lead)
		} else if end != NoTerminal {
			ends[lead] = end
		}
	}
	return open
}

// trusted is the end that the latest trusted source which names the lead
// gives it.
func (b *Book) trusted(p *Part, lead TerminalID) TerminalID {
	for _, t := range slices.Backward(b.log.trusts) {
		if t.Key.Part != p {
			continue
		}
		if end := t.Key.End(lead); end != NoTerminal {
			return end
		}
	}
	return NoTerminal
}

// End is the end that the key gives a lead, or NoTerminal.
func (k *ColourKey) End(lead TerminalID) TerminalID {
	for _, p := range k.Pairs {
		if p.Lead == lead {
			return p.End
		}
	}
	return NoTerminal
}

// differing are the keys that say different things of the open leads: two
// that say the same are one choice.
func differing(keys []*ColourKey, open []TerminalID) []*ColourKey {
	var list []*ColourKey
	seen := map[string]bool{}
	for _, k := range keys {
		var says []string
		known := false
		for _, lead := range open {
			end := k.End(lead)
			known = known || end != NoTerminal
			says = append(says, fmt.Sprint(end))
		}
		if s := strings.Join(says, " "); known && !seen[s] {
			seen[s] = true
			list = append(list, k)
		}
	}
	return list
}

// under is the meaning with the open leads of a part taken as one key says.
func under(m Meaning, p *Part, k *ColourKey) Meaning {
	next := Meaning{Origins: map[*Part]string{p: k.Origin}, Ends: map[TerminalID]TerminalID{}, Loose: m.Loose}
	for part, origin := range m.Origins {
		next.Origins[part] = origin
	}
	for lead, end := range m.Ends {
		next.Ends[lead] = end
	}
	for _, pair := range k.Pairs {
		if _, settled := next.Ends[pair.Lead]; !settled && pair.End != NoTerminal {
			next.Ends[pair.Lead] = pair.End
		}
	}
	return next
}

// loose are the groups of leads of one colour on a part.
func (b *Book) loose(p *Part) []LooseLeads {
	var groups []LooseLeads
	at := map[lang.Colour]int{}
	for _, t := range p.Terminals {
		if !b.Terminals[t].Lead {
			continue
		}
		c, number, _ := lang.ReadTaped(b.Terminals[t].Name)
		if number == 0 {
			continue
		}
		i, ok := at[c]
		if !ok {
			i = len(groups)
			at[c] = i
			groups = append(groups, LooseLeads{Part: p})
		}
		groups[i].Leads = append(groups[i].Leads, t)
	}
	return slices.DeleteFunc(groups, func(g LooseLeads) bool { return len(g.Leads) < 2 })
}
