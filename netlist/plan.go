package netlist

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// parts makes the parts of the plan, in the order in which they are first
// named. The same part in two drawings is one part.
func (b *builder) parts() {
	for _, f := range b.Facts {
		p, ok := f.Statement.(*lang.Part)
		if !ok || f.StruckBy != nil {
			continue
		}
		made := b.Library.ForPart(p)
		b.Mistakes = append(b.Mistakes, made.Mistakes...)
		if made.Kind == nil {
			for _, ref := range b.expand(p.Refs) {
				b.untold[lang.Fold(ref.Text)] = true
			}
			continue
		}
		for _, ref := range b.expand(p.Refs) {
			if other := b.Part(ref.Text); other != nil {
				b.partAgain(other, f, ref, made.Kind.Name, made.Figures)
				continue
			}
			part := &Part{
				Index: len(b.Parts), Ref: ref.Text, Kind: made.Kind,
				Figures: made.Figures, Words: made.Words, Values: made.Values,
				Facts: []*Fact{f}, byName: map[string]TerminalID{},
			}
			if p.Label != nil {
				part.Label = p.Label.Text
			}
			b.Parts = append(b.Parts, part)
			b.partByName[lang.Fold(part.Ref)] = part
			b.kindTerminals(part)
		}
	}
}

// partAgain is a second part fact for one reference. From another drawing it
// is the same part, and what differs is told with both sources; from the same
// drawing it is a name given twice.
func (b *builder) partAgain(p *Part, f *Fact, ref lang.Word, kind string, figures []lang.Figure) {
	first := p.Facts[0]
	p.Facts = append(p.Facts, f)
	if first.Drawing == f.Drawing {
		b.mistake(diag.Diagnostic{Rule: "same-name-twice", Place: ref.Place,
			Message: fmt.Sprintf("%s is a part already", p.Ref),
			Also:    []diag.Note{{Place: first.Place(), Text: first.Text()}},
			Mend:    []string{"give one of the two another reference, or strike the line that is wrong"}})
		return
	}
	if !strings.EqualFold(kind, p.Kind.Name) || !sameFigures(figures, p.Figures) {
		b.mistake(diag.Diagnostic{Rule: "drawings-differ", Place: ref.Place, Severity: diag.Caution,
			Message: fmt.Sprintf("%s is not the same part in %s as in %s", p.Ref, drawingName(f), drawingName(first)),
			Also:    []diag.Note{{Place: first.Place(), Text: first.Text()}},
			Notes:   []string{fmt.Sprintf("What %s says is used.", drawingName(first))},
			Mend:    []string{"look at the part, then strike the line that is wrong"}})
	}
}

func sameFigures(a, b []lang.Figure) bool {
	return slices.EqualFunc(a, b, func(x, y lang.Figure) bool {
		return x.Value == y.Value && x.Quantity == y.Quantity
	})
}

func drawingName(f *Fact) string {
	if f.Drawing == nil {
		return "the notebook"
	}
	return f.Drawing.Name
}

// nets makes the plan's conductors.
func (b *builder) nets() {
	for _, f := range b.Facts {
		n, ok := f.Statement.(*lang.Net)
		if !ok || f.StruckBy != nil {
			continue
		}
		net := b.net(n, f)
		var print *Print
		if n.Copper {
			net.Copper = true
			print = &Print{Net: net.ID, Fact: f}
			b.Prints = append(b.Prints, print)
		}
		if part := b.Part(n.Name.Text); part != nil && part.single() {
			b.addMember(net, part.Terminals[0], n.Name, f, print)
		}
		struck := b.struckWord[f]
		for _, w := range b.expand(n.List) {
			if struck[lang.Fold(w.Text)] {
				continue
			}
			if t, ok := b.terminal(w, f, inPlan); ok {
				b.addMember(net, b.drawn(t, f), w, f, print)
			}
		}
	}
}

func (b *builder) net(n *lang.Net, f *Fact) *Net {
	key := lang.Fold(n.Name.Text)
	if id, ok := b.netByName[key]; ok {
		net := b.Nets[id]
		if net.Name != n.Name.Text {
			b.mistake(diag.Diagnostic{Rule: "capitals", Severity: diag.Remark, Place: n.Name.Place,
				Message: fmt.Sprintf("%s is the net %s: capitals do not count", n.Name.Text, net.Name)})
		}
		return net
	}
	net := &Net{ID: NetID(len(b.Nets)), Name: n.Name.Text}
	b.Nets = append(b.Nets, net)
	b.netByName[key] = net.ID
	return net
}

func (b *builder) addMember(net *Net, t TerminalID, w lang.Word, f *Fact, print *Print) {
	switch other := b.netOf[t]; other {
	case NoNet:
		b.netOf[t] = net.ID
		net.Members = append(net.Members, Member{Terminal: t, Fact: f, Place: w.Place})
	case net.ID: // a wiring table repeats its pads: harmless
	default:
		also := b.mention(other, t)
		b.mistake(diag.Diagnostic{Rule: "drawn-twice", Place: w.Place,
			Message: fmt.Sprintf("%s is on two conductors of the plan: %s and %s", b.Name(t), b.Nets[other].Name, net.Name),
			Also:    []diag.Note{{Place: also.Place, Text: also.Fact.Text()}},
			Notes:   []string{fmt.Sprintf("It is taken as %s, where it was named first.", b.Nets[other].Name)},
			Mend: []string{
				fmt.Sprintf("if the two are one conductor, give them one name: net %s %s", b.Nets[other].Name, b.Name(t)),
				fmt.Sprintf("if this one is wrong, leave %s out here; if the other is: strike net %s %s", b.Name(t), b.Nets[other].Name, b.Name(t))}})
		return
	}
	if print == nil || b.printOf[t] != nil {
		return
	}
	b.printOf[t] = print
	if part := b.Terminals[t].Part; part.Kind.Any || part.single() {
		print.Pads = append(print.Pads, t)
	} else {
		print.Legs = append(print.Legs, t)
	}
}

// mention finds where a net names a terminal.
func (b *Book) mention(n NetID, t TerminalID) Member {
	for _, m := range b.Nets[n].Members {
		if m.Terminal == t {
			return m
		}
	}
	return Member{}
}

// Mention gives the fact and place where the plan puts a terminal on its
// conductor; the zero Member if it does not.
func (b *Book) Mention(t TerminalID) Member {
	if n := b.netOf[t]; n != NoNet {
		return b.mention(n, t)
	}
	return Member{}
}

// prints gives each piece of print a vertex of its own.
func (b *builder) prints() {
	for _, p := range b.Prints {
		p.ID = b.newTerminal(Terminal{Name: b.Nets[p.Net].Name, Index: -1, Tie: true, Print: p})
		b.netOf[p.ID] = p.Net
	}
}

func (b *builder) spares() {
	for _, f := range b.Facts {
		s, ok := f.Statement.(*lang.Spare)
		if !ok || f.StruckBy != nil {
			continue
		}
		struck := b.struckWord[f]
		for _, w := range b.expand(s.List) {
			if struck[lang.Fold(w.Text)] {
				continue
			}
			t, ok := b.terminal(w, f, inPlan)
			if !ok {
				continue
			}
			t = b.drawn(t, f)
			if n := b.netOf[t]; n != NoNet {
				also := b.mention(n, t)
				b.mistake(diag.Diagnostic{Rule: "drawn-twice", Place: w.Place,
					Message: fmt.Sprintf("%s is said to be spare, and the plan puts it on %s", b.Name(t), b.Nets[n].Name),
					Also:    []diag.Note{{Place: also.Place, Text: also.Fact.Text()}},
					Mend:    []string{"strike the one that is wrong: strike spare " + b.Name(t)}})
				continue
			}
			b.spareBy[t] = f
		}
	}
}
