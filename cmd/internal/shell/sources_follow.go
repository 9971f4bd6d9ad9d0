package shell

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

var feedbackNames = [...]string{
	legend.NotAsked: "", legend.NoLoop: "none", legend.Negative: "negative", legend.Positive: "positive", legend.Untold: "untold",
}

// A followsRow is what follows if a source is right: for the wiring as built,
// or, where nothing in dispute is wired yet, for a wiring by another source.
// Sources of which the same follows share a row.
type followsRow struct {
	Sources   listOf[string]      `json:"sources"`
	WiredBy   listOf[string]      `json:"wired_by"` // beside each source; empty for the wiring as built
	Wired     int                 `json:"leads_wired"`
	Right     int                 `json:"leads_right"`
	Silent    listOf[string]      `json:"silent"` // leads in dispute of which the source says nothing
	Exchanges listOf[exchangeRow] `json:"exchanges"`
	Effects   listOf[effectRow]   `json:"effects"`
	Feedback  string              `json:"feedback"` // negative, positive, none, or untold; "" where it was not asked
}

type exchangeRow struct {
	Leads   listOf[string] `json:"leads"`
	Weight  string         `json:"weight"`
	Message string         `json:"message"`
}

// An effectRow is one thing that a wrong place does. Was and Is are ohms for
// load-changed and volts for others, 0 where neither can be told.
type effectRow struct {
	Kind     string         `json:"kind"`
	Severity string         `json:"severity"`
	Message  string         `json:"message"`
	Then     string         `json:"then"`
	Leads    listOf[string] `json:"leads"`
	Was      float64        `json:"was"`
	Is       float64        `json:"is"`
	Origin   string         `json:"origin"`
	severity diag.Severity
}

// follows works out what would follow under each source of a part.
func (s *Session) follows(p *netlist.Part) listOf[followsRow] {
	var rows listOf[followsRow]
	add := func(u *legend.Under, by string) {
		r := s.followsOf(u)
		if by != "" {
			r.WiredBy = listOf[string]{by}
		}
		if i := slices.IndexFunc(rows, func(other followsRow) bool { return r.alike(other) }); i >= 0 {
			rows[i].Sources = append(rows[i].Sources, r.Sources...)
			rows[i].WiredBy = append(rows[i].WiredBy, r.WiredBy...)
			return
		}
		rows = append(rows, r)
	}
	inDispute := false
	under := legend.Consequences(s.book, p, s.feedbackBuilt(p))
	for i := range under {
		inDispute = inDispute || slices.ContainsFunc(under[i].Exchanges, func(x legend.Exchange) bool { return x.Weight > legend.NoMatter })
	}
	if inDispute {
		for i := range under {
			add(&under[i], "")
		}
		return rows
	}
	prospects := legend.Prospects(s.book, p, s.feedbackDrawn(p))
	for i := range prospects {
		add(&prospects[i].Under, prospects[i].By)
	}
	return rows
}

func (s *Session) followsOf(u *legend.Under) followsRow {
	r := followsRow{Sources: listOf[string]{u.Source}, Wired: u.Wired, Right: u.Right, Feedback: feedbackNames[u.Loop]}
	for _, lead := range u.Part.Terminals {
		if _, named := u.Meaning.Ends[lead]; s.book.Terminals[lead].Lead && !named {
			if _, open := s.endOfLead(lead); open {
				r.Silent = append(r.Silent, s.shortName(lead))
			}
		}
	}
	for _, x := range u.Exchanges {
		r.Exchanges = append(r.Exchanges, exchangeRow{s.shortNames(x.Leads), disputeWeights[x.Weight], x.Message})
	}
	for i := range u.Effects {
		r.Effects = append(r.Effects, s.effectRow(&u.Effects[i]))
	}
	return r
}

func (s *Session) effectRow(e *legend.Effect) effectRow {
	return effectRow{e.Kind.String(), e.Severity.String(), e.Message, e.Then, s.shortNames(e.Leads), e.Was, e.Is, e.Origin, e.Severity}
}

func (e *effectRow) write(p *page, indent int) {
	text := sentence(e.Message)
	if e.Then != "" {
		text += " " + sentence(capital(e.Then))
	}
	p.say(indent, indent+2, span{severityStyle(e.severity), severityWord(e.severity) + ": "}, plain(tiedFigures(text)))
}

// alike says that the same follows.
func (r *followsRow) alike(other followsRow) bool {
	exchange := func(a, b exchangeRow) bool { return a.Message == b.Message }
	effect := func(a, b effectRow) bool { return a.Message == b.Message && a.Then == b.Then }
	return slices.Equal(r.Silent, other.Silent) && r.Right == other.Right && r.Wired == other.Wired && slices.EqualFunc(r.Exchanges, other.Exchanges, exchange) &&
		slices.EqualFunc(r.Effects, other.Effects, effect)
}

func (r *followsRow) write(p *page) {
	text := r.head()
	if len(r.Silent) > 0 {
		text += " Of " + joinAnd(r.Silent) + " it says nothing."
	}
	p.say(2, 4, plain(text))
	for i := range r.Effects {
		r.Effects[i].write(p, 4)
	}
}

// head says who is right for once, and what that makes of the wiring.
func (r *followsRow) head() string {
	if len(r.WiredBy) > 0 {
		return "Wired " + r.cases() + ", " + r.exchanges() + "."
	}
	text := "If " + joinOr(r.Sources) + " is right, "
	switch {
	case len(r.Exchanges) == 0 && r.Right == r.Wired:
		return text + "all is well: " + count(r.Wired, "lead") + " wired, each on its place."
	case len(r.Exchanges) == 0:
		return text + fmt.Sprintf("%d of %s are on their places.", r.Right, count(r.Wired, "wired lead"))
	}
	return text + r.exchanges() + "."
}

func (r *followsRow) cases() string {
	one := fmt.Sprintf("by %s while %s is right", r.WiredBy[0], r.Sources[0])
	if len(r.WiredBy) == 2 && r.WiredBy[0] == r.Sources[1] && r.WiredBy[1] == r.Sources[0] {
		return one + ", or the other way about"
	}
	for i, by := range r.WiredBy[1:] {
		one += fmt.Sprintf(", or by %s while %s is", by, r.Sources[i+1])
	}
	return one
}

func (r *followsRow) exchanges() string {
	var texts []string
	for _, x := range r.Exchanges {
		texts = append(texts, x.Message)
	}
	if len(texts) == 0 {
		return "every lead is on its place"
	}
	return strings.Join(texts, "; ")
}
