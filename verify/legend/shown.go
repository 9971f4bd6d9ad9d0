package legend

import (
	"math"
	"strconv"

	"buzzout/lang"
)

// shown prints ohms or volts that were worked out as a hand meter shows them:
// to three digits, and below one to two digits in the plain unit, 0.27 V and
// not 268.3 mV.
func shown(value float64, quantity lang.Quantity) string {
	digits, unit := 3, " Ω"
	if math.Abs(value) < 1 {
		digits = 2
	}
	if quantity == lang.Volts {
		unit = " V"
	}
	rounded := toDigits(value, digits)
	if rounded <= 0 || rounded >= 1 {
		return lang.FormatQuantity(rounded, quantity)
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64) + unit
}

// timesShown prints a ratio to two digits: 0.43, 1.8, 36, 370.
func timesShown(ratio float64) string { return strconv.FormatFloat(toDigits(ratio, 2), 'f', -1, 64) }

func toDigits(value float64, digits int) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(value, 'g', digits, 64), 64)
	if err != nil {
		return value
	}
	return rounded
}
