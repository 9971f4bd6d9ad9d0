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

// writeJudged tells what the readings make of some sources, and quotes those
// that speak against one.
func writeJudged(p *page, indent int, list []judgedRow) {
	p.say(indent, indent+2, plain(judgedText(list)))
	for _, j := range list {
		writeReadings(p, indent, "Against "+j.Source+":", j.Against)
	}
}
