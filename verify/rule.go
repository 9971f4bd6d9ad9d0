package verify

import (
	"buzzout/netlist"
)

// A Rule is one thing that is looked for. Its texts are the only
// documentation of it: explain, the README's table and completion read them.
type Rule struct {
	Name  string // stable, in lower case with hyphens; never renamed
	Title string // what it says in a few words: "a lead that ends nowhere"
	// Text explains it for the bench: why it matters, an example in the
	// notebook language, how to check it. Plain paragraphs parted by blank lines.
	Text string
	// Judges says what the rule looks at.
	Judges Subject
	// Look reports what it finds, in any order. Nil where the findings come
	// from elsewhere: from reading the notebook, or from comparison, which
	// finds all its rules at once.
	Look func(c *Case, report func(Finding))
}

// A Subject is what a rule judges.
type Subject uint8

// The subjects.
const (
	_        Subject = iota
	Notebook         // the text: names, figures
	Plan             // the drawing, before anything is soldered
	Built            // the wiring on the bench
)

func (s Subject) String() string {
	return [...]string{"", "notebook", "plan", "built"}[s]
}

// A Case is what rules are asked about: the bench at one moment, under one
// meaning of the leads' colours, in one setting. What is costly to make is
// made when a rule first asks for it, and shared.
type Case struct {
	Bench   *netlist.Bench
	Meaning netlist.Meaning
	Setting netlist.Setting

	planned, built *netlist.Harness
}

// Book is the notebook of the case.
func (c *Case) Book() *netlist.Book { return c.Bench.Book }

// Planned is the wiring as drawn, in the setting of the case.
func (c *Case) Planned() *netlist.Harness {
	if c.planned == nil {
		c.planned = c.Book().Planned(c.Meaning, c.Setting)
	}
	return c.planned
}

// Built is the wiring as built, in the setting of the case.
func (c *Case) Built() *netlist.Harness {
	if c.built == nil {
		c.built = c.Bench.Built(c.Meaning, c.Setting)
	}
	return c.built
}

// Run looks for every rule of the list and gives what was found, sorted.
func Run(rules []Rule, c *Case) []Finding {
	var found []Finding
	for _, r := range rules {
		if r.Look == nil {
			continue
		}
		r.Look(c, func(f Finding) {
			f.Rule = r.Name
			found = append(found, f)
		})
	}
	Sort(found)
	return found
}
