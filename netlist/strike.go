package netlist

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// strikes takes out what a strike fact says was never true: the one earlier
// fact with the same words, or some members of the lists of a net, a colour
// key or spare.
func (b *builder) strikes() {
	for _, f := range b.Facts {
		s, ok := f.Statement.(*lang.Strike)
		if !ok {
			continue
		}
		if !b.strikeWhole(f, s.Struck) && !b.strikeMembers(f, s.Struck) {
			b.noStrike(f, s)
		}
	}
}

func (b *builder) strikeWhole(by *Fact, struck lang.Fact) bool {
	words := factWords(struck)
	for i := by.Index - 1; i >= 0; i-- {
		f := b.Facts[i]
		if f.StruckBy == nil && f.Statement.Verb() == struck.Verb() && slices.Equal(factWords(f.Statement), words) {
			f.StruckBy = by
			return true
		}
	}
	return false
}

// strikeMembers takes members out of earlier facts of the same net, part or
// list. Each member must be in one of them.
func (b *builder) strikeMembers(by *Fact, struck lang.Fact) bool {
	head, members := memberWords(b, struck)
	if len(members) == 0 {
		return false
	}
	hits := make([]*Fact, len(members))
	for i, m := range members {
		for n := by.Index - 1; n >= 0 && hits[i] == nil; n-- {
			f := b.Facts[n]
			if f.StruckBy != nil || b.struckWord[f][m] {
				continue
			}
			h, list := memberWords(b, f.Statement)
			if slices.Equal(h, head) && slices.Contains(list, m) {
				hits[i] = f
			}
		}
		if hits[i] == nil {
			return false
		}
	}
	for i, m := range members {
		if b.struckWord[hits[i]] == nil {
			b.struckWord[hits[i]] = map[string]bool{}
		}
		b.struckWord[hits[i]][m] = true
	}
	return true
}

// memberWords are the head and the members of a fact whose members can be
// struck one by one; for a colour key the members are the colours.
func memberWords(b *builder, f lang.Fact) (head, members []string) {
	switch f := f.(type) {
	case *lang.Net:
		head = []string{f.Verb(), lang.Fold(f.Name.Text)}
		members = folded(b.expand(f.List))
	case *lang.Spare:
		head = []string{f.Verb()}
		members = folded(b.expand(f.List))
	case *lang.Colours:
		head = []string{f.Verb(), lang.Fold(f.Part.Text), lang.Fold(f.Origin.Text)}
		for _, p := range f.Pairs {
			members = append(members, lang.Fold(p.Left.Text))
		}
	}
	return head, members
}

func folded(words []lang.Word) []string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = lang.Fold(w.Text)
	}
	return list
}

// noStrike tells that no earlier fact has these words, with the fact that
// comes nearest.
func (b *builder) noStrike(by *Fact, s *lang.Strike) {
	d := diag.Diagnostic{Rule: "nothing-to-strike", Place: s.Struck.Span(),
		Message: "no fact before this line says so"}
	words := factWords(s.Struck)
	best, score := (*Fact)(nil), 0
	for i := by.Index - 1; i >= 0; i-- {
		f := b.Facts[i]
		if f.StruckBy != nil || f.Statement.Verb() != s.Struck.Verb() {
			continue
		}
		same := 0
		for _, w := range factWords(f.Statement) {
			if slices.Contains(words, w) {
				same++
			}
		}
		if same > score {
			best, score = f, same
		}
	}
	if best != nil {
		d.Also = []diag.Note{{Place: best.Place(), Text: best.Text()}}
		d.Notes = []string{"That one comes nearest."}
	}
	b.mistake(d)
}

// factWords are the words that tell one fact from another: capitals, commas
// and texts in quotes do not count, except where a text is all there is.
func factWords(f lang.Fact) []string {
	var list []string
	add := func(words ...lang.Word) { list = append(list, folded(words)...) }
	pairs := func(pairs []lang.Pair) {
		for _, p := range pairs {
			add(p.Left, p.Right)
		}
	}
	switch f := f.(type) {
	case *lang.Amplifier:
		list = append(list, strings.ToLower(f.Title.Text))
	case *lang.Use:
		list = append(list, f.Path.Text)
	case *lang.Kind:
		add(f.Name)
	case *lang.Part:
		add(f.Refs...)
		add(f.Kind)
		add(f.Words...)
	case *lang.Net:
		add(f.Name)
		add(f.List...)
	case *lang.Spare:
		add(f.List...)
	case *lang.Drawing:
		add(f.Name)
	case *lang.Colours:
		add(f.Part, f.Origin)
		pairs(f.Pairs)
	case *lang.Trust:
		add(f.Part, f.Origin)
	case *lang.Lead:
		add(f.Colour)
		add(f.Points...)
		list = append(list, "screen")
		add(f.Screen...)
	case *lang.Spot:
		add(f.List...)
	case *lang.Fit:
		add(f.Refs...)
		list = append(list, ",")
		add(f.Words...)
	case *lang.Reading:
		add(f.Words...)
		list = append(list, "with")
		pairs(f.With)
	case *lang.Set:
		pairs(f.Pairs)
	case *lang.Wiring:
		list = append(list, fmt.Sprint(f.Complete))
		add(f.Nets...)
	case *lang.Remark:
		list = append(list, f.Text.Text)
	}
	return list
}
