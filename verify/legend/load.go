package legend

// reflectedLoad is the load that the primary sees, in ohms, if a loudspeaker
// of so many ohms hangs on a tap made for tap ohms. primary is the load that
// the primary is wound for.
func reflectedLoad(primary, tap, loudspeaker float64) float64 { return primary * loudspeaker / tap }
