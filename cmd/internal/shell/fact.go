package shell

import (
	"errors"
	"slices"
	"strings"

	"buzzout/cmd/internal/notebook"
	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

// tell adds a fact to the notebook, unless it is not understood there. It is
// on disk when tell returns.
func (s *Session) tell(fact lang.Fact, comment string) Result {
	next, wrong := s.with(fact, comment)
	if wrong != nil {
		return s.refused(fact.Verb(), wrong)
	}
	if s.store == nil {
		return s.refused(fact.Verb(), []diag.Diagnostic{s.cannotWrite(fact,
			"facts cannot be kept here: the notebook is not a file")})
	}
	err := s.store.Append(factText(fact) + comment)
	if changedMeanwhile(err) {
		// Somebody edited the file since the last statement: the fact is judged
		// against what the file says now, and then written.
		if _, err = s.Refresh(); err == nil && s.gone {
			err = errors.New(s.goneText())
		}
		if err != nil {
			return s.refused(fact.Verb(), []diag.Diagnostic{s.cannotWrite(fact, err.Error())})
		}
		if next, wrong = s.with(fact, comment); wrong != nil {
			return s.refused(fact.Verb(), wrong)
		}
		err = s.store.Append(factText(fact) + comment)
	}
	if err != nil {
		return s.refused(fact.Verb(), []diag.Diagnostic{s.cannotWrite(fact, err.Error())})
	}
	if text := s.store.Text(); text != next.text {
		next = s.build(text) // a fact of several lines got the line breaks of the file
	}
	change := s.change(next)
	s.take(next)
	s.settle(change)
	a := toldAnswer{Fact: factText(fact), Recorded: true, changeDoc: change.document(s.book), change: change}
	a.Message = s.acknowledge(fact, change)
	return s.answered(fact.Verb(), a)
}

// remark keeps a line that holds a comment and nothing else.
func (s *Session) remark(line string) Result {
	comment := strings.TrimSpace(line)
	if !strings.HasPrefix(comment, "#") || s.store == nil {
		return Result{}
	}
	if err := s.store.Append(comment); err != nil {
		if s.gone {
			err = errors.New(s.goneText())
		}
		return s.refused("#", []diag.Diagnostic{{Rule: "cannot-write", Severity: diag.Fault, Message: err.Error()}})
	}
	s.read(s.store.Text())
	return s.answered("#", toldAnswer{Fact: comment, Recorded: true, Message: "The comment is kept in the notebook."})
}

// factText is a fact as it was typed, without its comment.
func factText(fact lang.Fact) string { return fact.Span().Text() }

// with is the notebook as it would be with a fact at its end. wrong is what
// cannot be understood of the fact, placed in the line that was typed.
func (s *Session) with(fact lang.Fact, comment string) (next built, wrong []diag.Diagnostic) {
	text, lineBreak := s.text, notebook.Break(s.text)
	if text != "" && !strings.HasSuffix(text, "\n") {
		text += lineBreak
	}
	begin := len(text)
	text += factText(fact) + comment + lineBreak
	next = s.build(text)
	typed := typedAt{whole: next.file.Source, begin: begin, line: fact.Span()}
	_, use := fact.(*lang.Use)
	for _, m := range next.book.Mistakes {
		// What a used book brings is part of the fact that uses it. Elsewhere a
		// fact may well leave something unclear: strike takes a part's name from
		// under the facts that use it.
		if m.Severity.Bad() && (typed.holds(m.Place) || use && !s.knownMistake(m)) {
			wrong = append(wrong, typed.moved(m))
		}
	}
	return next, wrong
}

// knownMistake reports whether the notebook has a mistake already.
func (s *Session) knownMistake(m diag.Diagnostic) bool {
	return slices.ContainsFunc(s.book.Mistakes, func(k diag.Diagnostic) bool {
		return k.Rule == m.Rule && k.Message == m.Message && placeText(k.Place) == placeText(m.Place)
	})
}

// typedAt maps places in the end of a notebook's text back to the line that
// was typed.
type typedAt struct {
	whole *diag.Source
	begin int
	line  diag.Place
}

func (t typedAt) holds(p diag.Place) bool { return p.Source == t.whole && p.Start >= t.begin }

func (t typedAt) place(p diag.Place) diag.Place {
	if !t.holds(p) {
		return p
	}
	shift := t.line.Start - t.begin
	end := len(t.line.Source.Text)
	return diag.Place{Source: t.line.Source, Start: min(p.Start+shift, end), End: min(p.End+shift, end)}
}

func (t typedAt) moved(m diag.Diagnostic) diag.Diagnostic {
	m.Place = t.place(m.Place)
	m.Also = slices.Clone(m.Also)
	for i := range m.Also {
		m.Also[i].Place = t.place(m.Also[i].Place)
	}
	return m
}

func (s *Session) cannotWrite(fact lang.Fact, why string) diag.Diagnostic {
	return diag.Diagnostic{Rule: "cannot-write", Severity: diag.Fault, Place: fact.Span(), Message: why,
		Notes: []string{"The line is kept in the history, so that it can be had back with the up key."}}
}

// A toldAnswer answers a fact.
type toldAnswer struct {
	Fact     string `json:"fact"`
	Recorded bool   `json:"recorded"`
	Message  string `json:"message"`
	changeDoc
	change change
}

func (a toldAnswer) bad() bool { return a.change.bad() }

func (a toldAnswer) write(p *page) {
	p.say(0, 2, plain(a.Message))
	a.change.write(p)
}

// acknowledge says in one sentence what a fact changed.
func (s *Session) acknowledge(fact lang.Fact, c change) string {
	switch fact := fact.(type) {
	case *lang.Amplifier:
		return "The amplifier is called " + fact.Title.Text + "."
	case *lang.Use:
		return "Read " + fact.Path.Text + ": " + s.size() + " now."
	case *lang.Kind:
		return "Kind " + fact.Name.Text + " can be used for parts."
	case *lang.Part:
		return "On the parts list: " + count(len(s.book.Parts), "part") + " now."
	case *lang.Net:
		if n := s.book.NetNamed(fact.Name.Text); n != nil {
			return "Net " + n.Name + " has " + count(len(n.Members), "terminal") + " now."
		}
	case *lang.Wiring:
		if fact.Complete {
			return "From here on, what is missing is a fault" + onNets(fact.Nets) + "."
		}
		return "From here on, what is missing is only not done yet" + onNets(fact.Nets) + "."
	case *lang.Set:
		return "Now: " + settingText(s.pairsNow(fact)) + "."
	case *lang.Remark:
		return "Noted."
	case *lang.Reading:
		return s.readingKept(fact)
	case *lang.Strike:
		return "Struck out; the line stays in the notebook."
	case *lang.Colours:
		if text := s.inDispute(fact.Part.Text); text != "" {
			return text
		}
	case *lang.Trust:
		return fact.Origin.Text + " holds for the leads of " + fact.Part.Text + "."
	}
	if text := c.sentence(); text != "" {
		return text
	}
	if slices.ContainsFunc(c.brings, worthTelling) {
		return "Recorded."
	}
	return "Recorded. No net of the plan gains or loses by it."
}

// inDispute says that the sources of a part's leads differ now; "" where they
// do not, or where one is trusted.
func (s *Session) inDispute(ref string) string {
	for _, p := range legend.InDispute(s.book) {
		if strings.EqualFold(p.Ref, ref) {
			return "Recorded. Sources differ about the leads of " + p.Ref + " now, and none is trusted: sources " + p.Ref + " says how, and what would follow."
		}
	}
	return ""
}

func onNets(nets []lang.Word) string {
	if len(nets) == 0 {
		return ""
	}
	var names []string
	for _, n := range nets {
		names = append(names, n.Text)
	}
	return " on " + joinAnd(names)
}

// pairsNow are the present positions of the parts that a set fact names.
func (s *Session) pairsNow(fact *lang.Set) netlist.Setting {
	now := netlist.Setting{}
	for ref, at := range s.bench().Setting {
		for _, pair := range fact.Pairs {
			names, _, _ := lang.Expand(pair.Left)
			for _, name := range names {
				if r, _, _ := strings.Cut(name, "."); strings.EqualFold(r, ref.Part.Ref) {
					now[ref] = at
				}
			}
		}
	}
	return now
}
