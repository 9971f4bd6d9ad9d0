package parts

import (
	"slices"
	"strings"

	"buzzout/lang"
)

// A LimitName is one of the ratings that a kind may state. The list is closed:
// a rule that reads a limit can rely on its name, its unit and its sense.
type LimitName struct {
	Name     string
	Quantity lang.Quantity
	Says     string // what must not be exceeded, for help
}

// The names are those of the quantities in the valve makers' sheets, written
// out. All are the greatest permitted value unless Says tells otherwise.
var limitNames = []LimitName{
	{"anode-volts", lang.Volts, "anode to cathode, in use"},
	{"anode-volts-cold", lang.Volts, "anode to cathode, before the cathode emits"},
	{"anode-watts", lang.Watts, "anode dissipation"},
	{"anode-screen-watts", lang.Watts, "anode and screen grid together"},
	{"screen-volts", lang.Volts, "screen grid to cathode, in use"},
	{"screen-volts-cold", lang.Volts, "screen grid to cathode, before the cathode emits"},
	{"screen-watts", lang.Watts, "screen grid dissipation without signal"},
	{"screen-watts-peak", lang.Watts, "screen grid dissipation at full drive"},
	{"cathode-current", lang.Amperes, "mean cathode current"},
	{"grid-negative", lang.Volts, "grid below cathode, as a positive figure"},
	{"grid-negative-peak", lang.Volts, "grid below cathode at a peak, as a positive figure"},
	{"grid-positive", lang.Volts, "grid above cathode"},
	{"grid-resistor", lang.Ohms, "resistance from grid to its bias, where the sheet makes no difference"},
	{"grid-resistor-cathode-bias", lang.Ohms, "resistance from grid to ground with a cathode resistor"},
	{"grid-resistor-fixed-bias", lang.Ohms, "resistance from grid to a bias supply"},
	{"heater-cathode", lang.Volts, "between heater and cathode, either way unless another limit says which"},
	{"heater-cathode-heater-positive", lang.Volts, "heater above cathode"},
	{"heater-cathode-heater-negative", lang.Volts, "heater below cathode"},
	{"heater-cathode-resistor", lang.Ohms, "resistance between heater and cathode"},
	{"heater-volts", lang.Volts, "across the heater, never to be exceeded"},
	{"inverse-volts", lang.Volts, "a rectifier's peak inverse voltage"},
	{"peak-current", lang.Amperes, "a rectifier's repeated peak, each anode"},
	{"switch-on-current", lang.Amperes, "a rectifier's single peak at switch-on, each anode"},
	{"supply-volts", lang.Volts, "a rectifier's supply, rms, each anode"},
	{"output-current", lang.Amperes, "a rectifier's direct current, all anodes"},
	{"reservoir", lang.Farads, "first capacitor after a rectifier"},
	{"anode-resistance", lang.Ohms, "least resistance in each anode lead of a rectifier: a lower bound"},
}

// LimitNames gives the names in the order in which they are explained.
func LimitNames() []string {
	list := make([]string, len(limitNames))
	for i := range limitNames {
		list[i] = limitNames[i].Name
	}
	return list
}

// ExplainLimit gives what a limit bounds.
func ExplainLimit(name string) (LimitName, bool) {
	if l := findLimit(lang.Fold(name)); l != nil {
		return *l, true
	}
	return LimitName{}, false
}

// FromMemory reports whether the figure is remembered and from no sheet: such
// a limit may be told, with that said, and must not decide anything.
func (l Limit) FromMemory() bool { return strings.HasPrefix(l.Remark, "from memory") }

func findLimit(name string) *LimitName {
	i := slices.IndexFunc(limitNames, func(l LimitName) bool { return l.Name == name })
	if i < 0 {
		return nil
	}
	return &limitNames[i]
}

// unitName is a quantity's unit in words.
func unitName(q lang.Quantity) string {
	names := [...]string{
		lang.Number: "no unit", lang.Ohms: "ohms", lang.Farads: "farads", lang.Henries: "henries",
		lang.Volts: "volts", lang.Amperes: "amperes", lang.Watts: "watts", lang.Percent: "per cent",
		lang.Hertz: "hertz", lang.Metres: "metres", lang.SquareMetres: "square millimetres",
		lang.AWG: "AWG", lang.SWG: "SWG", lang.VoltAmperes: "volt-amperes",
	}
	if int(q) < len(names) {
		return names[q]
	}
	return "another unit"
}
