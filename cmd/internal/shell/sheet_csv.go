package shell

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
)

// table is the sheet for a table of figures: ohms as plain numbers, nothing
// for what has none, and a column to be filled in.
func (a *sheetAnswer) table() string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	write := func(cells ...string) {
		if err := w.Write(cells); err != nil {
			panic(err) // a builder does not fail
		}
	}
	write("red", "black", "net", "should_show", "ohms_shown", "ohms_shown_low", "ohms_shown_high", "mind", "read")
	for i := range a.Rows {
		r := &a.Rows[i]
		var mind []string
		if r.Charged {
			mind = append(mind, "discharge and verify first")
		}
		if r.Mains {
			mind = append(mind, "mains plug out")
		}
		write(r.Red, r.Black, strings.Join(r.Nets, " "), shownText(&r.e), number(r.e.Shown), number(float64(r.ShownLow)), number(float64(r.ShownHigh)), strings.Join(mind, "; "), "")
	}
	w.Flush()
	return b.String()
}

// number is a resistance as a table of figures has it.
func number(v float64) string {
	if math.IsInf(v, 1) {
		return ""
	}
	return strconv.FormatFloat(roundTo(settled(v), 5), 'f', -1, 64)
}
