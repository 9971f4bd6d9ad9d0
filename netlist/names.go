package netlist

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist/parts"
)

// Part finds a part by its reference; capitals do not count.
func (b *Book) Part(ref string) *Part { return b.partByName[lang.Fold(ref)] }

// NetNamed finds a net by its name; capitals do not count.
func (b *Book) NetNamed(name string) *Net {
	if id, ok := b.netByName[lang.Fold(name)]; ok {
		return b.Nets[id]
	}
	return nil
}

// Net gives the net of the plan that a terminal belongs to, or NoNet.
func (b *Book) Net(t TerminalID) NetID { return b.netOf[t] }

// Spare gives the fact that says that nothing belongs at a terminal, or nil.
func (b *Book) Spare(t TerminalID) *Fact { return b.spareBy[t] }

// PrintOf gives the piece of print in which a leg or pad belongs, or nil.
func (b *Book) PrintOf(t TerminalID) *Print { return b.printOf[t] }

// Name is how a terminal is called: "R1.2", "GND" for a part of one terminal,
// "T2.orange" for a lead, "the print grid-1" for a piece of print. An end of a
// track goes by what it is, "P1.cw" and not "P1.3": its numbers are counted
// from either side.
func (b *Book) Name(t TerminalID) string {
	term := &b.Terminals[t]
	switch {
	case term.Print != nil:
		return "the print " + term.Name
	case term.Part.single():
		return term.Part.Ref
	}
	return term.Part.Ref + "." + b.NameWithin(t)
}

// NameWithin is the same without the part: "2", "cw", "orange".
func (b *Book) NameWithin(t TerminalID) string {
	term := &b.Terminals[t]
	if term.Index >= 0 {
		if end := trackEnd(term.Part.Kind, term.Index); end != "" {
			return end
		}
	}
	return term.Name
}

// single says that the part's reference alone names its one terminal.
func (p *Part) single() bool { return single(p.Kind) }

// Terminal finds a terminal as a person types it: "R1.2", "V1.2-grid",
// "T2.orange", "GND". The problem, where there is one, is a sentence that
// says what is wrong; nearest is a name that was probably meant.
func (b *Book) Terminal(name string) (t TerminalID, problem, nearest string) {
	found := b.find(name)
	return found.id, found.problem, found.nearest
}

// found is what a terminal's name came to.
type found struct {
	id      TerminalID
	part    *Part  // nil: no part of that name
	ref     string // the part's reference as written
	problem string
	nearest string
	notes   []string
}

func (b *Book) find(word string) found {
	ref, name, dotted := strings.Cut(word, ".")
	part := b.Part(ref)
	if part == nil {
		f := found{id: NoTerminal, ref: ref, problem: fmt.Sprintf("no part is called %s", ref)}
		if near := b.nearestRef(ref); near != "" {
			if !dotted {
				f.nearest = near
			} else if there := b.findOn(b.Part(near), near, name); there.id != NoTerminal {
				f.nearest = near + "." + name
			}
		}
		return f
	}
	if !dotted {
		if part.single() {
			return found{id: part.Terminals[0], part: part, ref: ref}
		}
		return found{id: NoTerminal, part: part, ref: ref,
			problem: fmt.Sprintf("%s is a part: say which of its terminals", part.Ref),
			notes:   []string{part.terminalsSentence(b)}}
	}
	if name == "" {
		return found{id: NoTerminal, part: part, ref: ref,
			problem: fmt.Sprintf("the terminal of %s is missing after the dot", part.Ref),
			notes:   []string{part.terminalsSentence(b)}}
	}
	return b.findOn(part, ref, name)
}

// findOn looks a terminal up on its part: terminal or alias, electrode, pin
// with electrode, then lead colour.
func (b *Book) findOn(part *Part, ref, name string) found {
	indices, problem := part.Kind.Find(name)
	switch {
	case len(indices) == 1 && problem == "":
		return found{id: part.Terminals[indices[0]], part: part, ref: ref}
	case len(indices) > 1:
		var pins, whole []string
		for _, i := range indices {
			pin := part.Kind.Terminals[i].Name
			pins = append(pins, pin)
			whole = append(whole, part.Ref+"."+pin+"-"+lang.Fold(name))
		}
		f := found{id: NoTerminal, part: part, ref: ref,
			problem: fmt.Sprintf("%s.%s is %s: say which", part.Ref, name, parts.Listed(pins))}
		if _, problem := part.Kind.Find(pins[0] + "-" + name); problem == "" {
			f.notes = []string{"Write " + strings.Join(whole, " or ") + "."}
		}
		return f
	}
	if t, ok := part.byName[leadKey(name)]; ok {
		return found{id: t, part: part, ref: ref}
	}
	f := found{id: NoTerminal, part: part, ref: ref, problem: problem}
	if f.problem == "" {
		f.problem = fmt.Sprintf("%s has no terminal %s", part.Ref, name)
	}
	f.notes = []string{part.terminalsSentence(b)}
	if near, ok := lang.Nearest(name, part.names(b)); ok {
		f.nearest = part.Ref + "." + near
	}
	return f
}

// leadKey is the key of a terminal known by use or by colour: a colour has
// one key however it is written.
func leadKey(name string) string {
	if c, number, ok := lang.ReadTaped(name); ok {
		return leadName(c, number)
	}
	return lang.Fold(name)
}

func leadName(c lang.Colour, number int) string {
	if number == 0 {
		return c.String()
	}
	return fmt.Sprintf("%s-%d", c, number)
}

// nearestRef is the reference that was probably meant. Two that differ in a
// digit alone are two parts, not one and a slip of the pen.
func (b *Book) nearestRef(ref string) string {
	near, ok := lang.Nearest(ref, b.refs())
	if !ok {
		return ""
	}
	letters := func(s string) string { return strings.TrimRight(lang.Fold(s), "0123456789") }
	if len(near) == len(ref) && letters(near) == letters(ref) {
		return ""
	}
	return near
}

func (b *Book) refs() []string {
	refs := make([]string, len(b.Parts))
	for i, p := range b.Parts {
		refs[i] = p.Ref
	}
	return refs
}

// names are all that a part's terminals are called, aliases and electrodes too.
func (p *Part) names(b *Book) []string {
	var names []string
	for i, t := range p.Kind.Terminals {
		names = append(append(names, t.Name), t.Aliases...)
		for _, role := range p.Kind.Electrodes(i) {
			if found, _ := p.Kind.Find(role); len(found) > 1 {
				role = t.Name + "-" + role
			}
			names = append(names, role)
		}
	}
	for _, t := range p.Terminals[len(p.Kind.Terminals):] {
		names = append(names, b.Terminals[t].Name)
	}
	return names
}

func (p *Part) terminalsSentence(b *Book) string {
	var names []string
	for _, t := range p.Terminals {
		names = append(names, b.Terminals[t].Name)
	}
	if len(names) > 24 {
		names = append(names[:3:3], "… to "+names[len(names)-1])
	}
	article := "a"
	if strings.ContainsAny(p.Kind.Name[:1], "aeio") {
		article = "an"
	}
	if len(names) == 0 && p.Kind.JoinedAny {
		return fmt.Sprintf("%s is %s %s, and each of its bolts has a name that you give it: %s.star.", p.Ref, article, p.Kind.Name, p.Ref)
	}
	if len(names) == 0 {
		return fmt.Sprintf("%s is %s %s and has no terminals yet: its block has to name them.", p.Ref, article, p.Kind.Name)
	}
	return fmt.Sprintf("%s is %s %s; its terminals: %s.", p.Ref, article, p.Kind.Name, strings.Join(names, ", "))
}

// An unknownPart is a reference that no part fact names: told once, however
// often it was used.
type unknownPart struct {
	ref    string
	place  diag.Place
	others int
	near   string
}

func (b *builder) unknownPart(ref string, place diag.Place, near string) {
	key := lang.Fold(ref)
	if b.untold[key] {
		return
	}
	for _, u := range b.unknown {
		if lang.Fold(u.ref) == key {
			u.others++
			return
		}
	}
	b.unknown = append(b.unknown, &unknownPart{ref: ref, place: place, near: near})
}

func (b *builder) reportUnknownParts() {
	for _, u := range b.unknown {
		d := diag.Diagnostic{Rule: "unknown-name", Place: u.place, Nearest: u.near,
			Message: fmt.Sprintf("no part is called %s", u.ref)}
		if u.others == 1 {
			d.Message += ", and it is named in one more place"
		} else if u.others > 1 {
			d.Message += fmt.Sprintf(", and it is named in %d more places", u.others)
		}
		if net := b.NetNamed(u.ref); net != nil && len(net.Members) > 0 {
			d.Message = strings.Replace(d.Message, "no part is called "+u.ref, net.Name+" is a net: name one of its terminals", 1)
			d.Nearest, d.Notes = "", []string{b.onNet(net)}
		} else if u.near == "" {
			d.Mend = []string{fmt.Sprintf("if it is a part, say what it is: part %s KIND", u.ref)}
		}
		b.mistake(d)
	}
}

// onNet lists the first terminals of a net.
func (b *Book) onNet(net *Net) string {
	const most = 12
	var names []string
	for _, m := range net.Members {
		if len(names) == most {
			return fmt.Sprintf("On it: %s and more.", strings.Join(names, ", "))
		}
		names = append(names, b.Name(m.Terminal))
	}
	return fmt.Sprintf("On it: %s.", parts.Listed(names))
}

// where a terminal is named decides whether a new name makes a new terminal.
type where uint8

const (
	inPlan  where = iota // a name makes a new pad or bolt of a part that takes any
	onBench              // a name makes a new bolt; pads of a board are the plan's
)

// terminal resolves one word of a fact; a mistake is reported once.
func (b *builder) terminal(w lang.Word, f *Fact, at where) (TerminalID, bool) {
	if t, ok := b.exact[w.Text]; ok {
		return t, true
	}
	found := b.find(w.Text)
	if found.id == NoTerminal && found.part != nil && found.part.Kind.Any &&
		(at == inPlan || found.part.Kind.JoinedAny) {
		if _, name, ok := strings.Cut(w.Text, "."); ok && name != "" && !strings.Contains(name, "..") {
			found.id = b.newTerminal(Terminal{Part: found.part, Name: name, Index: -1, Tie: found.part.Kind.JoinedAny, Named: f})
			found.part.byName[leadKey(name)] = found.id
		}
	}
	if found.id != NoTerminal {
		b.exact[w.Text] = found.id
		return found.id, true
	}
	if found.part == nil {
		place := w.Place
		if place.Known() && place.End-place.Start > len(found.ref) && strings.HasPrefix(place.Text(), found.ref) {
			place.End = place.Start + len(found.ref)
		}
		b.unknownPart(found.ref, place, found.nearest)
		return NoTerminal, false
	}
	b.mistake(diag.Diagnostic{Rule: "unknown-name", Place: w.Place, Message: found.problem,
		Notes: found.notes, Nearest: found.nearest})
	return NoTerminal, false
}

func (b *builder) newTerminal(t Terminal) TerminalID {
	id := TerminalID(len(b.Terminals))
	b.Terminals = append(b.Terminals, t)
	b.netOf = append(b.netOf, NoNet)
	b.printOf = append(b.printOf, nil)
	b.spareBy = append(b.spareBy, nil)
	if t.Part != nil {
		t.Part.Terminals = append(t.Part.Terminals, id)
	}
	return id
}

// kindTerminals makes the terminals that the kind declares.
func (b *builder) kindTerminals(p *Part) {
	p.Terminals = slices.Grow(p.Terminals, len(p.Kind.Terminals))
	for i, t := range p.Kind.Terminals {
		b.newTerminal(Terminal{Part: p, Name: t.Name, Index: i, Tie: t.Tie})
	}
}
