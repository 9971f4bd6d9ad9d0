package shell

import (
	"buzzout/verify/legend"
)

// A judgedRow is what the readings say of a source.
type judgedRow struct {
	Source  string              `json:"source"`
	Verdict string              `json:"verdict"`
	Against listOf[readingNote] `json:"against"`
	verdict legend.Verdict
}

// writeJudged tells what the readings make of some sources: in one sentence
// where they fit several, since such readings decide nothing between them.
func writeJudged(p *page, indent int, list []judgedRow) {
	var fit []string
	others := false
	for _, j := range list {
		switch j.verdict {
		case legend.Agrees:
			fit = append(fit, j.Source)
		case legend.LeansAgainst, legend.Contradicted:
			others = true
		}
	}
	switch {
	case len(fit) > 1 && !others:
		p.say(indent, indent+2, plain("The readings fit what "+joinAnd(fit)+" say, and decide nothing between them."))
	case len(fit) > 0:
		p.say(indent, indent+2, plain("The readings fit what "+joinAnd(fit)+says(len(fit))+"."))
	}
	for _, j := range list {
		switch j.verdict {
		case legend.LeansAgainst:
			writeReadings(p, indent, "Readings lean against what "+j.Source+" says; a poor contact could do that:", j.Against)
		case legend.Contradicted:
			writeReadings(p, indent, "Readings contradict what "+j.Source+" says:", j.Against)
		}
	}
}

func says(n int) string {
	if n == 1 {
		return " says"
	}
	return " say"
}
