package legend

import (
	"math"
	"testing"

	"buzzout/lang"
)

func TestFiguresAsAMeterShowsThem(t *testing.T) {
	for _, c := range []struct {
		value    float64
		quantity lang.Quantity
		want     string
	}{
		{0.2683, lang.Volts, "0.27 V"},
		{0.0379, lang.Volts, "0.038 V"},
		{0.9996, lang.Volts, "1 V"},
		{12, lang.Volts, "12 V"},
		{325.27, lang.Volts, "325 V"},
		{0.2, lang.Ohms, "0.2 Ω"},
		{0.04, lang.Ohms, "0.04 Ω"},
		{0, lang.Ohms, "0 Ω"},
		{181, lang.Ohms, "181 Ω"},
		{34090, lang.Ohms, "34.1 kΩ"},
		{math.Inf(1), lang.Ohms, "∞ Ω"},
	} {
		if got := shown(c.value, c.quantity); got != c.want {
			t.Errorf("%g is shown as %q, want %q", c.value, got, c.want)
		}
	}
}
