package parts

import "buzzout/lang"

// A Law says how the ohms of a track grow along its travel.
type Law struct {
	// Half is the share of the ohms below the wiper at half the travel, and
	// Low and High are its bounds in pots as they are made.
	Half, Low, High float64
}

// The laws. A log track has 10 to 15 % of its ohms below the wiper at half its
// travel, an antilog one 85 to 90 % (tables of pot makers and builders:
// testdata/pot-laws.csv). A linear track and a hand on the knob are taken as
// 5 % of the travel out (common practice, no source).
var (
	Linear  = Law{Half: 0.50, Low: 0.45, High: 0.55}
	Log     = Law{Half: 0.125, Low: 0.10, High: 0.15}
	Antilog = Law{Half: 0.875, Low: 0.85, High: 0.90}
)

// String is the law's plain word.
func (l Law) String() string {
	switch l {
	case Log:
		return "log"
	case Antilog:
		return "antilog"
	}
	return "linear"
}

// LawOf reads the law from the plain words of a part's line; linear where none
// says otherwise.
func LawOf(words []string) Law {
	for _, w := range words {
		switch lang.Fold(w) {
		case "log", "audio":
			return Log
		case "antilog", "reverse-log":
			return Antilog
		}
	}
	return Linear
}

// below is Below for a track with so much of its ohms under half its travel:
// two straight pieces, as log tracks are made (common practice, no source).
func below(turn, half float64) float64 {
	switch {
	case turn <= 0.5:
		return 2 * turn * half
	case turn >= 1:
		return 1 // exactly, whatever half is
	}
	return half + (2*turn-1)*(1-half)
}

// Below is the share of the ohms below the wiper, 0 to 1, at a turn of the
// shaft from 0 to 1.
func (l Law) Below(turn float64) float64 { return below(turn, l.Half) }

// Bounds are the least and the most that Below can be. At the stops there is
// nothing to be unsure of.
func (l Law) Bounds(turn float64) (low, high float64) {
	return below(turn, l.Low), below(turn, l.High)
}
