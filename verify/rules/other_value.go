package rules

import (
	"fmt"
	"math"
	"slices"

	"buzzout/lang"
	"buzzout/lang/diag"
	"buzzout/netlist"
	"buzzout/netlist/parts"
	"buzzout/verify"
)

var otherValue = verify.Rule{
	Name:   "other-value",
	Title:  "a part is fitted with another value than the plan has",
	Judges: verify.Built,
	Look:   lookOtherValue,
	Text: `
A fit line gives a part a value that is outside what the plan allows, a lower
rating in volts or watts, or a track of another law. A value within the
tolerance of the part's line is a measured one and nothing is said. A higher
rating is no loss.

    part R1  resistor 100k 5%
    part IN, OUT post
    net in   IN R1.1
    net out  OUT R1.2
    fit R1 131k

With a reason in quotes it is a remark, since you know and wrote it down:
fit R9 91k "from the drawer". Predictions of readings go by what is fitted.

To check, read the part with one leg lifted; a decade wrong (10k for 100k) is
one colour band read wrongly.
`,
}

func lookOtherValue(c *verify.Case, report func(verify.Finding)) {
	for _, p := range c.Book().Parts {
		fit := c.Bench.Fittings[p]
		if fit == nil || fit.Absent || fit.Kind != nil {
			continue
		}
		tell := func(f verify.Finding) {
			f.Evidence = []diag.Note{verify.Quote(fit.Told, noPlace), verify.QuotePart(p)}
			if fit.Reason != "" {
				f.Severity = diag.Remark
				f.Cause = fmt.Sprintf("The notebook says why: %q.", fit.Reason)
				f.Action = ""
			}
			report(f)
		}
		if f, ok := compareLaws(p, fit.Words); ok {
			tell(f)
		}
		planned := plannedFigures(p)
		taken := map[lang.Quantity]int{}
		for _, fitted := range fit.Figures {
			of := planned[fitted.Quantity]
			n := taken[fitted.Quantity]
			taken[fitted.Quantity]++
			if n >= len(of) && len(of) > 0 {
				n = len(of) - 1
			}
			if n >= len(of) {
				continue // the plan asks for nothing of the sort
			}
			if f, ok := compareFigures(p, of[n], fitted); ok {
				tell(f)
			}
		}
	}
}

// compareLaws tells a track of another law than planned. Other words, as film,
// say how a part is made, and change nothing that is looked for.
func compareLaws(p *netlist.Part, fitted []string) (verify.Finding, bool) {
	hasTrack := slices.ContainsFunc(p.Kind.Elements, func(e parts.Element) bool { return e.Type == parts.Track })
	is, planned := parts.LawOf(fitted), parts.LawOf(p.Words)
	if len(fitted) == 0 || !hasTrack || is == planned {
		return verify.Finding{}, false
	}
	return verify.Finding{
		Severity: diag.Caution, Terminals: p.Terminals,
		Message: fmt.Sprintf("%s is fitted with a track that is %s, and the plan has %s", p.Ref, is, planned),
		Cause:   "The knob does the same at its two ends, and something else between them.",
		Action:  fmt.Sprintf("fit a track that is %s, or give the reason in quotes on the fit line", planned),
		Check:   fmt.Sprintf("set %s to half its travel and read from the wiper to the anticlockwise end, with one of the two lifted: %.4g %% of the track if it is %s", p.Ref, 100*planned.Half, planned),
	}, true
}

// plannedFigures are the figures of a part by quantity: those of its elements
// in order, else those of its line.
func plannedFigures(p *netlist.Part) map[lang.Quantity][]lang.Figure {
	planned := map[lang.Quantity][]lang.Figure{}
	valued := map[lang.Quantity]bool{}
	for _, f := range p.Values {
		if f.Text != "" {
			planned[f.Quantity] = append(planned[f.Quantity], f)
			valued[f.Quantity] = true
		}
	}
	for _, f := range p.Figures {
		if !valued[f.Quantity] {
			planned[f.Quantity] = append(planned[f.Quantity], f)
		}
	}
	return planned
}

// compareFigures tells a value outside the planned tolerance, and a rating
// that is lower than planned.
func compareFigures(p *netlist.Part, planned, fitted lang.Figure) (verify.Finding, bool) {
	f := verify.Finding{Severity: diag.Caution, Terminals: p.Terminals}
	switch fitted.Quantity {
	case lang.Ohms, lang.Farads, lang.Henries:
		// Without a tolerance on the part's line, what is printed counts.
		allowed := 0.0005
		for _, t := range p.Figures {
			if t.Quantity == lang.Percent {
				allowed = t.Value / 100
			}
		}
		if math.Abs(fitted.Value-planned.Value) <= allowed*planned.Value*(1+1e-9) {
			return f, false
		}
		f.Message = fmt.Sprintf("%s is fitted as %s, and the plan has %s", p.Ref, fitted.Text, planned.Text)
		f.Action = fmt.Sprintf("fit %s, or give the reason in quotes on the fit line", planned.Text)
		f.Check = fmt.Sprintf("read %s with one leg lifted", p.Ref)
	case lang.Volts, lang.Watts, lang.Amperes:
		if fitted.Value >= planned.Value*(1-1e-9) {
			return f, false
		}
		f.Message = fmt.Sprintf("%s is fitted with %s, and the plan asks for %s", p.Ref, fitted.Text, planned.Text)
		f.Action = fmt.Sprintf("fit a part for %s, or give the reason in quotes on the fit line", planned.Text)
		f.Check = "read the rating off the part"
	case lang.Percent:
		if fitted.Value <= planned.Value {
			return f, false
		}
		f.Severity = diag.Remark
		f.Message = fmt.Sprintf("%s is fitted with a tolerance of %s, and the plan asks for %s", p.Ref, fitted.Text, planned.Text)
		f.Action = fmt.Sprintf("measure %s; if it is near enough, nothing needs doing", p.Ref)
	default:
		return f, false
	}
	return f, true
}
