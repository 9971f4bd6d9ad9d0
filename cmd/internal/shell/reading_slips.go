package shell

import (
	"strconv"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/verify/meter"
)

// Slips of the pen and of the probes: units that were mistaken, and readings
// that cannot both be right.

// unitMend is what to type where a reading was written down with another unit
// than the meter had. The figure is replaced where it stands: a part or a remark
// may have the same digits.
func unitMend(r *netlist.Reading, factor float64) string {
	was, from := r.Fact.Text(), r.Fact.Place().Start
	figure := r.Fact.Statement.(*lang.Reading).Words[2:] // behind the two probes; its unit may be a word of its own
	begin, end := figure[0].Place.Start-from, figure[len(figure)-1].Place.End-from
	return "strike " + was + "; " + was[:begin] + typedOhms(r.Value.Value*factor) + was[end:]
}

// typedOhms is a resistance as one types it.
func typedOhms(v float64) string {
	for _, unit := range []struct {
		letter string
		ohms   float64
	}{{"M", 1e6}, {"k", 1e3}} {
		if v >= unit.ohms {
			return strconv.FormatFloat(roundTo(v/unit.ohms, 5), 'f', -1, 64) + unit.letter
		}
	}
	return strconv.FormatFloat(roundTo(v, 5), 'f', -1, 64) + "R"
}

// A contradictionRow are two readings at the same points, in the same setting,
// that cannot both be right.
type contradictionRow struct {
	Red    string   `json:"red"`
	Black  string   `json:"black"`
	First  string   `json:"first"`
	Second string   `json:"second"`
	Where  placeDoc `json:"where"`        // of the first
	Also   placeDoc `json:"where_second"` // of the second
	Strike string   `json:"strike"`       // what to type if it is the second that is wrong
	places [2]string
}

func (s *Session) contradictions(readings []*netlist.Reading) []contradictionRow {
	var rows []contradictionRow
	for _, c := range meter.Contradictions(s.book, s.wiring().meaning, readings) {
		rows = append(rows, contradictionRow{
			Red: s.book.Name(c.Second.Red), Black: s.book.Name(c.Second.Black), First: valueText(c.First), Second: valueText(c.Second),
			Where: placed(c.First.Fact.Place()), Also: placed(c.Second.Fact.Place()), Strike: "strike " + c.Second.Fact.Text(),
			places: [2]string{shortPlace(s.name, c.First.Fact.Place()), shortPlace(s.name, c.Second.Fact.Place())},
		})
	}
	return rows
}

func writeContradictions(p *page, list []contradictionRow) {
	for i := range list {
		c := &list[i]
		p.gap()
		p.say(0, 2, span{faultStyle, "Not both:"}, plain(" "+c.Red+" to "+c.Black+" said "+c.First+" ("+c.places[0]+") and "+c.Second+" ("+c.places[1]+
			"), and nothing was soldered or set between. Take it again, and strike the wrong one, as: "+c.Strike))
	}
}

// writeSlips names readings that would be as they should with another unit.
func writeSlips(p *page, list []slipRow) {
	for i := range list {
		r := &list[i]
		p.gap()
		p.say(0, 2, span{faultStyle, "Another unit?"}, plain(" "+r.Red+" to "+r.Black+" said "+r.Value+", and with another unit it would be as it should. Look at the meter again; if so, type: "+r.Mend))
	}
}
