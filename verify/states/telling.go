package states

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// A side is the plan or the wiring of a case: what a rule looks at.
type side struct {
	*verify.Case
	built bool
}

func ofPlan(c *verify.Case) side  { return side{c, false} }
func ofBench(c *verify.Case) side { return side{c, true} }

func (s side) harness() *netlist.Harness {
	if s.built {
		return s.Built()
	}
	return s.Planned()
}

// draw gives the harness in another setting.
func (s side) draw(at netlist.Setting) *netlist.Harness {
	if s.built {
		return s.Bench.Built(s.Meaning, at)
	}
	return s.Book().Planned(s.Meaning, at)
}

// quote is the fact that puts a terminal where it is: its first joint on the
// bench, or its mention in the plan, else the line of its part.
func (s side) quote(t netlist.TerminalID) diag.Note {
	if s.built {
		for i := range s.Bench.Joints {
			if j := &s.Bench.Joints[i]; j.A == t || j.B == t {
				return verify.Quote(j.Fact, j.Place)
			}
		}
	} else if m := s.Book().Mention(t); m.Fact != nil {
		return verify.Quote(m.Fact, m.Place)
	}
	return verify.QuotePart(s.Book().Terminals[t].Part)
}

// complete says that what is missing at all these terminals is a fault by now.
func (s side) complete(ts ...netlist.TerminalID) bool {
	for _, t := range ts {
		net := s.Book().Net(t)
		if net == netlist.NoNet && !s.Bench.AllComplete() || net != netlist.NoNet && !s.Bench.Complete(net) {
			return false
		}
	}
	return true
}

// netNames are the nets of the plan that some terminals are on, each once.
func (s side) netNames(ts ...netlist.TerminalID) []string {
	var list []string
	for _, t := range ts {
		if id := s.Book().Net(t); id != netlist.NoNet && !slices.Contains(list, s.Book().Nets[id].Name) {
			list = append(list, s.Book().Nets[id].Name)
		}
	}
	return list
}

// quoteControls are the lines of the parts whose controls decide something.
func quoteControls(t *Table) []diag.Note {
	var list []diag.Note
	var seen []*netlist.Part
	for _, ref := range t.Controls {
		if !slices.Contains(seen, ref.Part) {
			seen = append(seen, ref.Part)
			list = append(list, verify.QuotePart(ref.Part))
		}
	}
	return list
}

// settings tells the settings in which it holds, none if in all.
func (t *Table) settings() []string {
	if t.Always() && len(t.Left) == 0 {
		return nil
	}
	var list []string
	for _, c := range t.Holds {
		list = append(list, t.Words(c))
	}
	if t.Cut {
		list = append(list, "and in more")
	}
	return list
}

// looked says how many settings were looked at, and of what: a sentence, ""
// where nothing can be set.
func (t *Table) looked() string {
	if len(t.Controls) == 0 {
		return ""
	}
	text := fmt.Sprintf("It is so in %d of the %d settings of %s.", t.Joined, t.Settings, verify.And(refNames(t.Controls)))
	if len(t.Left) > 0 {
		text += fmt.Sprintf(" Not moved, since there are too many settings to look at: %s.", verify.And(refNames(t.Left)))
	}
	return text
}

func refNames(refs []netlist.ControlRef) []string {
	list := make([]string, len(refs))
	for i, r := range refs {
		list[i] = r.Name()
	}
	return list
}

// when says in words when it holds: "with J1 in", "in 3 of 8 settings".
func (t *Table) when() string {
	if list := t.settings(); len(list) == 1 {
		return "with " + list[0]
	}
	return fmt.Sprintf("in %d of %d settings", t.Joined, t.Settings)
}

func join(sentences ...string) string {
	return strings.Join(slices.DeleteFunc(sentences, func(s string) bool { return s == "" }), " ")
}
