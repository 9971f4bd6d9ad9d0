package lang

// A Quantity is what a figure measures.
type Quantity uint8

// The quantities; Number is a figure without a unit.
const (
	Number Quantity = iota
	Ohms
	Farads
	Henries
	Volts
	Amperes
	Watts
	Percent
	Hertz
	Metres
	SquareMetres // the section of a wire, as 0.5mm2
	AWG
	SWG
)

// A Figure is a value with its unit, in SI units (per cent as written), and
// the text as it was typed.
type Figure struct {
	Value    float64
	Quantity Quantity
	Text     string
}
