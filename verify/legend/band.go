package legend

import "math"

// A band is a range that holds the true value, in ohms or volts; hi is infinite
// where nothing bounds it.
type band struct{ lo, hi float64 }

// meets says that two bands have some value in common.
func (b band) meets(other band) bool { return b.lo <= other.hi && other.lo <= b.hi }

// meet is what two bands have in common; lo is above hi where that is nothing.
func (b band) meet(other band) band { return band{max(b.lo, other.lo), min(b.hi, other.hi)} }

func (b band) wider(by float64) band { return band{b.lo - by, b.hi + by} }

// middle stands for the whole band; of one without an end it is the beginning.
func (b band) middle() float64 {
	if math.IsInf(b.hi, 1) {
		return b.lo
	}
	return (b.lo + b.hi) / 2
}

// anything is the band of what has not been read.
var anything = band{0, math.Inf(1)}
