package legend

// Sure says how well the end of a lead is known.
type Sure uint8

// How well an end is known, least first.
const (
	Open      Sure = iota // it can be one or another
	EitherWay             // it can be one or another, and that makes no difference
	Certain               // it can be nothing else
)

func (s Sure) String() string { return [...]string{"open", "either way", "certain"}[s] }
