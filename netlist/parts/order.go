package parts

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
)

// unknownKindOf tells of a part whose kind nobody knows. Where a figure stands
// in the place of the kind, it is the order that is wrong: a name that is like
// the figure would mislead.
func (l *Library) unknownKindOf(p *lang.Part) diag.Diagnostic {
	m := unknownKind(p.Kind, l)
	i := slices.IndexFunc(p.Words, func(w lang.Word) bool { return l.find(lang.Fold(w.Text)) != nil })
	if !startsLikeFigure(p.Kind.Text) {
		if text := p.Kind.Text; i >= 0 && m.Nearest == "" && '0' <= text[len(text)-1] && text[len(text)-1] <= '9' {
			m.Mend = []string{"if these are several parts, part them by commas: " + severalParts(p, i)}
		}
		return m
	}
	figures, _ := lang.ReadFigures([]lang.Word{p.Kind})
	switch {
	case i >= 0:
		m.Message = fmt.Sprintf("%s stands where the kind of part belongs: the kind comes first, then its figures", p.Kind.Text)
		m.Nearest = ""
		m.Mend = []string{"type it as: " + kindFirst(p, i)}
	case len(figures) > 0 && m.Nearest == "":
		m.Message = fmt.Sprintf("%s is a figure, and the line does not say what kind of part it is of", p.Kind.Text)
		m.Mend = []string{fmt.Sprintf("give the kind before the figure: `part %s KIND %s`", refs(p), p.Kind.Text)}
	}
	return m
}

// startsLikeFigure also holds of a figure that is mistyped.
func startsLikeFigure(text string) bool {
	return text != "" && strings.IndexByte("0123456789.+-", text[0]) >= 0
}

// kindFirst is the line of a part with one of its words put in the place of the
// kind.
func kindFirst(p *lang.Part, kind int) string {
	var names []string
	for _, w := range p.Refs {
		names = append(names, w.Text)
	}
	line := []string{"part", strings.Join(names, ", "), p.Words[kind].Text, p.Kind.Text}
	for i, w := range p.Words {
		if i != kind {
			line = append(line, w.Text)
		}
	}
	if p.Label != nil {
		line = append(line, p.Label.Place.Text())
	}
	if len(p.Lines) > 0 {
		line = append(line, "{ … }")
	}
	return strings.Join(line, " ")
}

// severalParts is the line of a part with the words before its kind taken for
// references.
func severalParts(p *lang.Part, kind int) string {
	var names []string
	for _, w := range p.Refs {
		names = append(names, w.Text)
	}
	names = append(names, p.Kind.Text)
	for _, w := range p.Words[:kind] {
		names = append(names, w.Text)
	}
	line := []string{"part", strings.Join(names, ", ")}
	for _, w := range p.Words[kind:] {
		line = append(line, w.Text)
	}
	return strings.Join(line, " ")
}
