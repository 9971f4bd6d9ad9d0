package shell

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/verify/legend"
)

// An askRow is a reading to take.
type askRow struct {
	Quantity string         `json:"quantity"` // ohms or volts
	Red      string         `json:"red"`
	Black    string         `json:"black"`
	Clipped  listOf[string] `json:"clipped"` // leads to clip together before
	Supply   listOf[string] `json:"supply"`  // the two leads that a small alternating voltage goes on
	Why      string         `json:"why"`
	Write    listOf[string] `json:"write"` // lines for the notebook
	Cautions listOf[string] `json:"cautions"`
}

func (s *Session) askRow(a *legend.Ask) askRow {
	r := askRow{Quantity: "ohms", Red: s.book.Name(a.Red), Black: s.book.Name(a.Black), Why: a.Why, Write: a.Write, Cautions: a.Cautions}
	if a.Quantity == lang.Volts {
		r.Quantity = "volts"
	}
	for _, t := range a.Clipped {
		r.Clipped = append(r.Clipped, s.book.Name(t))
	}
	for _, t := range a.Supply {
		if t != netlist.NoTerminal {
			r.Supply = append(r.Supply, s.book.Name(t))
		}
	}
	return r
}

// probes says where supply, clip and probes go.
func (r *askRow) probes() string {
	var before []string
	if len(r.Supply) == 2 {
		before = append(before, fmt.Sprintf("with a small alternating supply on %s and %s", r.Supply[0], r.Supply[1]))
	}
	if len(r.Clipped) > 0 {
		before = append(before, fmt.Sprintf("with %s clipped together", joinAnd(r.Clipped)))
	}
	text := fmt.Sprintf("%s, the red probe on %s and the black one on %s", r.Quantity, r.Red, r.Black)
	if len(before) > 0 {
		text += ", " + strings.Join(before, " and ")
	}
	return text
}

// writeLines are the lines that go into the notebook, to be typed as they are.
func (r *askRow) writeLines(p *page, indent int) {
	for _, line := range r.Write {
		p.line(indent, plain(line))
	}
}

// A stepDoc is readings of one method that tell sources apart.
type stepDoc struct {
	Method string          `json:"method"`
	Tests  listOf[testRow] `json:"tests"`
	Doubt  string          `json:"doubt"`
}

type testRow struct {
	Readings listOf[askRow]    `json:"readings"` // one, or two that are compared
	Expected listOf[expectDoc] `json:"expected"` // by source
	Close    bool              `json:"close"`
}

type expectDoc struct {
	Source string `json:"source"`
	Says   string `json:"says"`
}

// A leftRow is an exchange of leads that no reading tells by itself.
type leftRow struct {
	Sources [2]string      `json:"sources"`
	Leads   listOf[string] `json:"leads"`
}

type settleAnswer struct {
	Part          string            `json:"part"`
	Sources       listOf[string]    `json:"sources"`
	Steps         listOf[stepDoc]   `json:"steps"`
	Alike         listOf[[2]string] `json:"alike"`
	Apart         listOf[[2]string] `json:"not_told_apart"`
	Left          listOf[leftRow]   `json:"left"`
	WithoutSupply string            `json:"without_supply"`
	Wired         listOf[string]    `json:"wired"`    // leads that are to be taken off before volts are read
	Readings      listOf[judgedRow] `json:"readings"` // what those taken so far make of each source
	Cautions      listOf[string]    `json:"cautions"`
	decided       string
}

func askSettle(s *Session, a *asked) (answer, *diag.Diagnostic) {
	part, wrong := s.partAsked(a, 0)
	if wrong != nil {
		return nil, wrong
	}
	if wrong := unwound(part, a); wrong != nil {
		return nil, wrong
	}
	x := legend.Settle(s.book, part, legend.Cheap)
	found := settleAnswer{Part: part.Ref, Sources: x.Sources, Alike: x.Alike, Apart: x.Apart, WithoutSupply: x.WithoutSupply, Cautions: x.Cautions}
	if len(found.Sources) > 0 {
		found.decided = s.decides(part)
	}
	for _, lead := range x.Wired {
		found.Wired = append(found.Wired, s.book.Name(lead))
	}
	for _, source := range legend.Sources(s.book, part, legend.Cheap).Sources {
		if verdict := source.Judgement.Verdict; verdict != legend.Untested && slices.Contains(x.Sources, source.Name) {
			found.Readings = append(found.Readings, judgedRow{source.Name, verdict.String(), s.readingNotes(source.Judgement.Against), verdict})
		}
	}
	for _, l := range x.Left {
		found.Left = append(found.Left, leftRow{l.Sources, s.shortNames(l.Leads)})
	}
	for _, step := range x.Steps {
		doc := stepDoc{Method: step.Method.String(), Doubt: step.Doubt}
		for _, test := range step.Tests {
			row := testRow{Close: test.Close}
			for i := range test.Readings {
				row.Readings = append(row.Readings, s.askRow(&test.Readings[i]))
			}
			for _, e := range test.Expected {
				row.Expected = append(row.Expected, expectDoc{e.Source, e.Says})
			}
			doc.Tests = append(doc.Tests, row)
		}
		found.Steps = append(found.Steps, doc)
	}
	return found, nil
}

func (a settleAnswer) write(p *page) {
	if len(a.Readings) > 0 {
		writeJudged(p, 0, a.Readings)
		if a.decided != "" {
			p.say(0, 2, plain("That decides it, and no more readings are wanted: trust "+a.Part+" "+a.decided+" \"why\""))
			return
		}
		p.gap()
	}
	if len(a.Sources) == 0 {
		p.say(0, 2, plain("No two sources differ about the leads of "+a.Part+" in anything that a reading could tell."))
	} else {
		p.say(0, 2, plain("What tells apart what "+joinAnd(a.Sources)+" say of the leads of "+a.Part+", cold and without mains:"))
	}
	p.gap()
	for _, text := range a.Cautions { // before anything is done
		p.say(2, 4, span{cautionStyle, text})
	}
	for i := range a.Steps {
		a.Steps[i].write(p, i+1, a.Wired)
	}
	p.gap()
	if a.WithoutSupply != "" {
		p.say(0, 2, plain(sentence(capital(a.WithoutSupply))))
	}
	for _, pair := range a.Alike {
		p.say(0, 2, plain(fmt.Sprintf("%s and %s differ in what makes no difference: no reading is wanted for that.", pair[0], pair[1])))
	}
	for _, l := range a.Left {
		p.say(0, 2, plain(fmt.Sprintf("Nothing here tells by itself what %s and %s say of %s: any reading of it hangs on other leads in dispute. "+
			"Write what is decided of those as a source of its own, trust that, and ask again: colours %s meter { … }, trust %s meter \"read\".",
			l.Sources[0], l.Sources[1], joinAnd(l.Leads), a.Part, a.Part)))
	}
	for _, pair := range a.Apart {
		p.say(0, 2, plain(fmt.Sprintf("No reading here tells %s and %s apart.", pair[0], pair[1])))
	}
}

// decides is the one source that the readings fit in every disagreement about a
// part's leads, where they contradict all others in each; "" for none. What
// rests on the sense in which the notebook lists the windings decides nothing.
func (s *Session) decides(part *netlist.Part) string {
	holds := ""
	for _, d := range legend.Disputes(s.book, legend.Cheap) {
		if d.Part != part || d.Kind != legend.BetweenKeys || d.Weight == legend.NoMatter {
			continue
		}
		fits := ""
		for _, j := range d.Readings {
			switch {
			case j.Verdict == legend.Agrees && fits == "":
				fits = j.Source
			case j.Verdict != legend.Contradicted || j.PhaseOnly:
				return ""
			}
		}
		if fits == "" || holds != "" && holds != fits {
			return ""
		}
		holds = fits
	}
	return holds
}

// write tells a step; wired are leads that are to be taken off before volts are read.
func (d *stepDoc) write(p *page, number int, wired []string) {
	p.gap()
	p.say(0, 3, strong(fmt.Sprintf("%d. By %s", number, d.Method)))
	if d.Doubt != "" {
		p.say(3, 5, span{cautionStyle, tiedFigures(d.Doubt)})
	}
	if len(wired) > 0 && d.Method != legend.ByOhms.String() {
		p.say(3, 5, span{cautionStyle, "Volts count only while all leads hang free. Take these off first, and write it down:"})
		for _, lead := range wired {
			p.line(5, plain("unsolder "+lead))
		}
	}
	for i := range d.Tests {
		test := &d.Tests[i]
		for k := range test.Readings {
			r := &test.Readings[k]
			head := "Read "
			if k > 0 {
				head = "Then read "
			}
			p.say(3, 5, plain(head+r.probes()+"."))
			if r.Why != "" && k == len(test.Readings)-1 {
				p.say(5, 7, faint(r.Why))
			}
			r.writeLines(p, 5)
		}
		var rows []row
		for _, e := range test.Expected {
			rows = append(rows, row{cell("if " + e.Source + " is right"), cell(tiedFigures(e.Says))})
		}
		p.table(5, rows)
		if test.Close {
			p.say(5, 7, span{cautionStyle, "That lies closer together than a cheap meter may be able to tell."})
		}
	}
}
