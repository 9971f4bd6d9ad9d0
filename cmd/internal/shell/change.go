package shell

import (
	"fmt"
	"strings"

	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify"
)

// A change is what a fact, or taking one back, does to the wiring and to the
// verdict.
type change struct {
	nets   []netChange
	brings []verify.Finding // found now and not before
	ends   []verify.Finding // found before and not now
	made   int              // joints made now, of all that the plan takes
	of     int
	before *netlist.Book
	// bridged are nets of the plan that have become one conductor; only where
	// the book was too big to judge, since the verdict tells it better.
	bridged [][2]string
	judged  *verdict // of the book after the change; nil where it was too big to judge at every fact
}

type netChange struct {
	name             string
	before, made, of int
}

// judgedAtOnce is the number of terminals up to which the verdict is found
// anew at each fact. A bigger book is judged when somebody asks.
const judgedAtOnce = 4000

func (s *Session) change(next built) change {
	c := change{before: s.book}
	before, after := s.wiring(), newWiring(next.book)
	if len(next.book.Terminals) <= judgedAtOnce {
		old, now := s.verdict(), judge(next.book)
		c.judged = now
		c.brings = missingFrom(old.findings, now.findings)
		c.ends = missingFrom(now.findings, old.findings)
		before.serve(old.served)
		after.serve(now.served)
	} else {
		c.bridged = newBridges(before, after)
	}
	for _, n := range next.book.Nets {
		made, of := after.progress(n)
		was, wasOf := 0, 0
		if old := s.book.NetNamed(n.Name); old != nil {
			was, wasOf = before.progress(old)
		}
		// A part that is left out takes a joint off what a whole net asks for.
		stayed := wasOf > 0 && was == wasOf && made == of
		if made != was && !stayed {
			c.nets = append(c.nets, netChange{n.Name, was, made, of})
		}
		c.made += made
		c.of += of
	}
	return c
}

// newBridges lists the pairs of nets that meet after a change and did not
// before.
func newBridges(before, after *wiring) [][2]string {
	old := map[[2]string]bool{}
	for _, pair := range bridges(before) {
		old[pair] = true
	}
	var fresh [][2]string
	for _, pair := range bridges(after) {
		if !old[pair] {
			fresh = append(fresh, pair)
		}
	}
	return fresh
}

// bridges lists pairs of nets that meet on the bench, each net with the one
// before it on the same conductor.
func bridges(w *wiring) [][2]string {
	last := map[netlist.TerminalID]*netlist.Net{}
	var pairs [][2]string
	for _, n := range w.book.Nets {
		for _, m := range n.Members {
			if !w.counts(m.Terminal) {
				continue
			}
			root := w.root(m.Terminal)
			if other := last[root]; other != nil && other != n {
				pairs = append(pairs, [2]string{other.Name, n.Name})
			}
			last[root] = n
		}
	}
	return pairs
}

// settle keeps the verdict of a change that has become the session's.
func (s *Session) settle(c change) { s.judged = c.judged }

// missingFrom gives the findings of the second list that the first lacks. What
// holds under one meaning of the leads' colours and held before, under whatever
// meaning, is not new.
func missingFrom(first, second []verify.Finding) []verify.Finding {
	known := map[string]int{} // under the meaning that has most of them
	under := map[string]int{}
	for _, f := range first {
		key := findingKey(f)
		under[key+f.Under]++
		known[key] = max(known[key], under[key+f.Under])
	}
	clear(under)
	var fresh []verify.Finding
	for _, f := range second {
		key := findingKey(f)
		if under[key+f.Under]++; under[key+f.Under] > known[key] {
			fresh = append(fresh, f)
		}
	}
	return fresh
}

func findingKey(f verify.Finding) string {
	return strings.Join([]string{f.Rule, f.Severity.String(), f.Message, ""}, "\x00")
}

func (c change) bad() bool {
	if len(c.bridged) > 0 {
		return true
	}
	for _, f := range c.brings {
		if f.Severity.Bad() && !f.ToDo {
			return true
		}
	}
	return false
}

// sentence says what became of the nets; "" is nothing.
func (c change) sentence() string {
	if len(c.bridged) > 0 {
		pair := c.bridged[0]
		return "The nets " + pair[0] + " and " + pair[1] + " are one conductor now, which the plan does not have."
	}
	if len(c.nets) == 0 {
		return ""
	}
	const most = 3
	var texts []string
	for i, n := range c.nets {
		if i == most {
			texts = append(texts, "and "+count(len(c.nets)-most, "more net"))
			break
		}
		texts = append(texts, n.text())
	}
	return strings.Join(texts, "; ") + "."
}

func (n netChange) text() string {
	switch {
	case n.made == n.of:
		return n.name + " is whole now"
	case n.made > n.before:
		return n.name + " has " + fmt.Sprintf("%d of %s", n.made, count(n.of, "joint")) + " now"
	case n.made == 0:
		return n.name + " is apart now"
	}
	return n.name + " has only " + fmt.Sprintf("%d of %s", n.made, count(n.of, "joint")) + " now"
}

// write tells what the change brings and ends, in a line each. That the plan
// is not finished yet is no news while somebody writes it: what is only likely
// to be wrong is told of the bench alone.
func (c change) write(p *page) {
	for _, f := range c.ends {
		if worthTelling(f) {
			p.say(2, 4, span{goodStyle, "Settled: "}, plain(findingSentence(f)))
		}
	}
	for _, f := range c.brings {
		if worthTelling(f) {
			p.say(2, 4, span{severityStyle(f.Severity), severityWord(f.Severity) + ": "}, plain(findingSentence(f)))
		}
	}
}

func worthTelling(f verify.Finding) bool {
	if f.ToDo || f.Severity == diag.Remark {
		return false
	}
	r := findRule(f.Rule)
	return f.Severity.Bad() || r != nil && r.Judges == verify.Built
}

type changeDoc struct {
	Nets   listOf[netChangeDoc] `json:"nets"`
	Brings listOf[findingDoc]   `json:"brings"`
	Ends   listOf[findingDoc]   `json:"ends"`
	Made   int                  `json:"joints_made"`
	Of     int                  `json:"joints"`
}

type netChangeDoc struct {
	Net    string `json:"net"`
	Before int    `json:"joints_before"`
	Made   int    `json:"joints_made"`
	Of     int    `json:"joints"`
}

// document is the change for a program; b is the book after it.
func (c change) document(b *netlist.Book) changeDoc {
	d := changeDoc{Made: c.made, Of: c.of}
	for _, n := range c.nets {
		d.Nets = append(d.Nets, netChangeDoc{n.name, n.before, n.made, n.of})
	}
	d.Brings = findingDocs(b, c.brings)
	d.Ends = findingDocs(c.before, c.ends)
	return d
}
