package parts

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// TestLaws holds the laws to pot-laws.csv: the share of the ohms below the
// wiper at half the travel, which the table gives as a figure or a range.
func TestLaws(t *testing.T) {
	words := map[string]string{"linear": "lin", "audio / logarithmic": "log", "reverse logarithmic": "antilog"}
	rows := table(t, "pot-laws.csv")
	for _, r := range rows {
		law := LawOf([]string{words[r["law"]]})
		first, last, ranged := strings.Cut(r["wiper_at_half_travel_pct"], " to ")
		if !ranged {
			last = first
		}
		low, err1 := strconv.ParseFloat(first, 64)
		high, err2 := strconv.ParseFloat(last, 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if got, want := 100*law.Below(0.5), (low+high)/2; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g %% below the wiper at half travel, want %g", r["law"], got, want)
		}
		if gotLow, gotHigh := law.Bounds(0.5); ranged && (100*gotLow != low || 100*gotHigh != high) {
			t.Errorf("%s: bounds %g to %g, want %g to %g", r["law"], gotLow, gotHigh, low/100, high/100)
		}
	}
	if len(rows) != len(words) {
		t.Errorf("%d laws in the table, %d held to it", len(rows), len(words))
	}
}

func TestLawIsMonotone(t *testing.T) {
	for _, law := range []Law{Linear, Log, Antilog} {
		for turn := 0.0; turn <= 1; turn += 0.125 {
			low, high := law.Bounds(turn)
			if at := law.Below(turn); at < low || at > high || turn > 0 && at <= law.Below(turn-0.125) {
				t.Errorf("%+v at %g: %g in %g to %g", law, turn, at, low, high)
			}
		}
		low, high := law.Bounds(1)
		if law.Below(0) != 0 || law.Below(1) != 1 || low != 1 || high != 1 {
			t.Errorf("%+v does not go from end to end", law)
		}
	}
}
