package legend

import "math"

// TurnsRatio is how many times more turns a winding made for one load has
// than one on the same core made for another: turns go as the square root of
// impedance.
func TurnsRatio(primary, secondary float64) float64 { return math.Sqrt(primary / secondary) }

// ReflectedLoad is the load that the primary sees, in ohms, if a loudspeaker
// of so many ohms hangs on a tap made for tap ohms. primary is the load that
// the primary is wound for.
func ReflectedLoad(primary, tap, loudspeaker float64) float64 { return primary * loudspeaker / tap }

// BetweenTaps is the load, in ohms, that the piece of winding between the taps
// for two loads is made for.
func BetweenTaps(a, b float64) float64 {
	turns := math.Sqrt(a) - math.Sqrt(b)
	return turns * turns
}
