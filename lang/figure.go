package lang

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"buzzout/lang/diag"
)

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
	VoltAmperes // the apparent power of a transformer
)

// A Figure is a value with its unit, in SI units (per cent as written), and
// the text as it was typed.
type Figure struct {
	Value    float64
	Quantity Quantity
	Text     string
	// Doubt is a sentence without a full stop about what else the text could
	// have meant, as of "100mF"; "" where it can be read in one way only.
	Doubt string
}

// A PlacedFigure is a figure and where it stands.
type PlacedFigure struct {
	Figure
	Place diag.Place
}

// multipliers are the letters before a unit. K is read for k, since IEC 60062
// marks resistors with a capital; m is never M.
// Each stands for a power of ten.
var multipliers = map[string]int{
	"p": -12, "n": -9, "u": -6, "µ": -6, "μ": -6, "m": -3, "k": 3, "K": 3, "M": 6, "G": 9, "T": 12,
}

// units are the symbols that follow a multiplier, with the multipliers that
// are met with them.
var units = []struct {
	symbol   string
	quantity Quantity
	with     string
}{
	{"Ω", Ohms, "m k K M G T"}, {"\u2126", Ohms, "m k K M G T"}, // a Greek letter or the sign for ohm
	{"ohms", Ohms, "m k K M G T"}, {"ohm", Ohms, "m k K M G T"},
	{"F", Farads, "p n u µ μ m"},
	{"f", Farads, "p n u µ μ"}, // 250pf cannot be misread
	{"H", Henries, "n u µ μ m"},
	{"VA", VoltAmperes, "k"},
	{"V", Volts, "u µ μ m k"},
	{"A", Amperes, "n u µ μ m"},
	{"W", Watts, "u µ μ m k"},
	{"Hz", Hertz, "m k M"},
}

// A suffix is everything that may follow a number, and what it makes of it: a
// quantity, and a power of ten.
type suffix struct {
	quantity Quantity
	power    int
	doubt    string
}

const (
	metreDoubt      = "m alone is metres: megohm is M, and milliohm, millifarad or millivolt want their unit"
	millifaradDoubt = "mF is millifarad, a thousand microfarad: on older papers it means microfarad, which is uF here"
	megafaradDoubt  = "MF is read as microfarad, as on older papers"
)

// suffixes are all that can follow a number in one word.
var suffixes = func() map[string]suffix {
	all := map[string]suffix{
		"": {Number, 0, ""},
		// IEC 60062: a multiplier alone is ohms if it is a large one, farads if
		// it is a small one. "m" alone is a length.
		"R": {Ohms, 0, ""}, "k": {Ohms, 3, ""}, "K": {Ohms, 3, ""}, "M": {Ohms, 6, ""},
		"G": {Ohms, 9, ""}, "T": {Ohms, 12, ""}, "meg": {Ohms, 6, ""}, "Meg": {Ohms, 6, ""},
		"megohm": {Ohms, 6, ""}, "megohms": {Ohms, 6, ""},
		"p": {Farads, -12, ""}, "n": {Farads, -9, ""},
		"u": {Farads, -6, ""}, "µ": {Farads, -6, ""}, "μ": {Farads, -6, ""},
		// Older papers: microfarad and micromicrofarad.
		"mfd": {Farads, -6, ""}, "MFD": {Farads, -6, ""}, "MF": {Farads, -6, megafaradDoubt},
		"mmf": {Farads, -12, ""}, "mmfd": {Farads, -12, ""}, "MMF": {Farads, -12, ""}, "MMFD": {Farads, -12, ""},
		"uuF": {Farads, -12, ""}, "µµF": {Farads, -12, ""}, "μμF": {Farads, -12, ""},
		"%":  {Percent, 0, ""},
		"mm": {Metres, -3, ""}, "cm": {Metres, -2, ""}, "m": {Metres, 0, metreDoubt},
		"mm2": {SquareMetres, -6, ""}, "mm²": {SquareMetres, -6, ""}, "mm^2": {SquareMetres, -6, ""},
		"awg": {AWG, 0, ""}, "AWG": {AWG, 0, ""}, "swg": {SWG, 0, ""}, "SWG": {SWG, 0, ""},
	}
	for _, u := range units {
		all[u.symbol] = suffix{u.quantity, 0, ""}
		for _, m := range strings.Fields(u.with) {
			all[m+u.symbol] = suffix{u.quantity, multipliers[m], ""}
		}
	}
	all["mF"] = suffix{Farads, -3, millifaradDoubt}
	delete(all, "f")
	return all
}()

// pointLetters stand in the place of the decimal point (4k7, 2R2, 4u7, 6V3,
// R47). The letters of IEC 60062, and in the trade's way the unit itself.
var pointLetters = map[string]suffix{
	"R": {Ohms, 0, ""}, "k": {Ohms, 3, ""}, "K": {Ohms, 3, ""}, "M": {Ohms, 6, ""},
	"G": {Ohms, 9, ""}, "T": {Ohms, 12, ""},
	"p": {Farads, -12, ""}, "n": {Farads, -9, ""}, "m": {Farads, -3, ""}, "F": {Farads, 0, ""},
	"u": {Farads, -6, ""}, "µ": {Farads, -6, ""}, "μ": {Farads, -6, ""},
	"V": {Volts, 0, ""}, "A": {Amperes, 0, ""}, "H": {Henries, 0, ""}, "W": {Watts, 0, ""},
}

// leadingLetters may stand in front, for "nought point". The others are what
// references begin with far more often: V3, F1, T2.
const leadingLetters = "R k K M p n u µ μ"

// longestFigure is how many bytes a figure may have; more is no figure.
const longestFigure = 40

// ReadFigure reads one word as a figure: 100k, 4k7, R47, 0.022u, 0,6, 6.3V,
// 5%, 22awg, 115. A letter may stand for the decimal point as in IEC 60062.
// Capitals count: m is not M. A bare number is a Number; what it measures is
// for the reader to know.
//
// Some names of valves are well-formed figures (6V6 is 6.6 V), and so are
// references (R47 is 0.47 ohm): ask only about a word that stands where a
// figure may stand and that is no known name.
func ReadFigure(text string) (Figure, bool) {
	if len(text) == 0 || len(text) > longestFigure {
		return Figure{}, false
	}
	sign, rest := readSign(text)
	digits, s, ok := readDigits(rest)
	switch {
	case !ok:
		return Figure{}, false
	case sign == "+" && s.quantity == Number:
		return Figure{}, false // +255 is a name
	case sign == "±" && s.quantity != Percent:
		return Figure{}, false
	}
	value := digits.times(s.power)
	if sign == "-" {
		value = -value
	}
	return Figure{Value: value, Quantity: s.quantity, Text: text, Doubt: s.doubt}, true
}

func readSign(text string) (sign, rest string) {
	for _, s := range [...]struct{ typed, means string }{
		{"+-", "±"}, {"+/-", "±"}, {"±", "±"}, {"+", "+"}, {"-", "-"}, {"−", "-"},
	} {
		if rest, found := strings.CutPrefix(text, s.typed); found {
			return s.means, rest
		}
	}
	return "", text
}

// digits are those before and after a decimal point.
type digits struct{ whole, fraction string }

// times multiplies by a power of ten, exactly, so that 0.022u equals 22n. It
// cannot fail: there are digits alone, and not many of them.
func (d digits) times(power int) float64 {
	value, _ := strconv.ParseFloat("0"+d.whole+"."+d.fraction+"0e"+strconv.Itoa(power), 64)
	return value
}

// readDigits reads a number and its suffix, or a number with a letter in the
// place of the point.
func readDigits(text string) (digits, suffix, bool) {
	whole := leadingDigits(text)
	rest := text[len(whole):]
	if fraction, found := cutPoint(rest); found {
		decimals := leadingDigits(fraction)
		if decimals == "" {
			return digits{}, suffix{}, false
		}
		s, ok := suffixes[fraction[len(decimals):]]
		return digits{whole, decimals}, s, ok
	}
	if whole != "" {
		if s, ok := suffixes[rest]; ok {
			return digits{whole, ""}, s, true
		}
	}
	if strings.HasPrefix(Fold(text), "awg") || strings.HasPrefix(Fold(text), "swg") {
		gauge := leadingDigits(text[3:])
		return digits{gauge, ""}, suffixes[Fold(text[:3])], gauge != "" && len(gauge) == len(text)-3
	}
	return readPointLetter(whole, rest)
}

// readPointLetter reads 4k7 after its 4: the letter, the decimals, and the
// unit where it is said again (4k7Ω).
func readPointLetter(whole, rest string) (digits, suffix, bool) {
	letter := rest
	for i, r := range rest {
		if '0' <= r && r <= '9' {
			letter = rest[:i]
			break
		}
	}
	s, ok := pointLetters[letter]
	decimals := leadingDigits(rest[len(letter):])
	if !ok || decimals == "" {
		return digits{}, suffix{}, false
	}
	if whole == "" && !strings.Contains(leadingLetters, letter) {
		return digits{}, suffix{}, false // V3 is a valve
	}
	if unit := rest[len(letter)+len(decimals):]; unit != "" {
		again, known := suffixes[unit]
		if !known || again.power != 0 || again.quantity != s.quantity {
			return digits{}, suffix{}, false
		}
	}
	return digits{whole, decimals}, s, true
}

func leadingDigits(text string) string {
	i := 0
	for i < len(text) && isDigit(text[i]) {
		i++
	}
	return text[:i]
}

// cutPoint takes a decimal point or comma off the front.
func cutPoint(text string) (after string, found bool) {
	if text != "" && (text[0] == '.' || text[0] == ',') {
		return text[1:], true
	}
	return text, false
}

// fuseLetters are how fast a fuse is in IEC 60127, and the plain word for it.
var fuseLetters = []struct{ letters, word string }{
	{"FF", "very-fast"}, {"TT", "very-slow"}, {"F", "fast"}, {"T", "slow"}, {"M", "medium"},
}

// ReadFuse reads the marking of a fuse in the order of IEC 60127: how fast it
// is, its current, how much it can break (L, E, H) and its voltage. T1A and
// T1AL250V are 1 A and slow (time-lag), F250mA is 0.25 A and fast
// (quick-acting). Breaking and voltage may be absent and are not handed on.
func ReadFuse(text string) (current Figure, word string, ok bool) {
	for _, f := range fuseLetters {
		rest, found := strings.CutPrefix(text, f.letters)
		if !found || rest == "" || !isDigit(rest[0]) {
			continue
		}
		end := strings.IndexByte(rest, 'A') + 1
		current, ok = ReadFigure(rest[:end])
		if !ok || current.Quantity != Amperes {
			continue
		}
		tail := strings.TrimLeft(rest[end:], "LEH")
		if len(rest[end:])-len(tail) > 1 {
			continue
		}
		if volts, ok := ReadFigure(tail); tail != "" && (!ok || volts.Quantity != Volts) {
			continue
		}
		current.Text = text
		return current, f.word, true
	}
	return Figure{}, "", false
}

// ReadFigures takes the figures out of a list of words. A bare number and the
// unit that follows it are one figure (0.6 ohm, 5 H, 22 awg). A fuse's marking
// gives its current, and among the rest the plain word for how fast it is.
func ReadFigures(words []Word) (figures []PlacedFigure, rest []Word) {
	for i := 0; i < len(words); i++ {
		w := words[i]
		if i+1 < len(words) {
			if f, ok := joinUnit(w, words[i+1]); ok {
				figures = append(figures, f)
				i++
				continue
			}
		}
		if f, ok := ReadFigure(w.Text); ok {
			figures = append(figures, PlacedFigure{f, w.Place})
		} else if f, word, ok := ReadFuse(w.Text); ok {
			figures = append(figures, PlacedFigure{f, w.Place})
			rest = append(rest, Word{Text: word, Place: w.Place})
		} else {
			rest = append(rest, w)
		}
	}
	return figures, rest
}

// joinUnit reads a bare number and a unit as one figure.
func joinUnit(number, unit Word) (PlacedFigure, bool) {
	if f, ok := ReadFigure(number.Text); !ok || f.Quantity != Number {
		return PlacedFigure{}, false
	}
	if _, ok := suffixes[unit.Text]; !ok {
		return PlacedFigure{}, false
	}
	f, ok := ReadFigure(number.Text + unit.Text)
	f.Text = number.Text + " " + unit.Text
	return PlacedFigure{f, number.Place.To(unit.Place)}, ok
}

// typedDigits and workedDigits are how many digits are shown of a figure that
// somebody typed, and of one that was worked out.
const (
	typedDigits  = 7
	workedDigits = 4
)

// String gives the figure as it is printed: 220 kΩ, 22 nF, 6.3 V, 0.5 mm²,
// 22 AWG, 5 %, 115.
func (f Figure) String() string { return format(f.Value, f.Quantity, typedDigits) }

// FormatQuantity prints a value that was worked out, in SI units, to four
// digits: 34.09 kΩ.
func FormatQuantity(value float64, quantity Quantity) string {
	return format(value, quantity, workedDigits)
}

// printed are the units as they are printed, and the steps in which each is
// counted, largest first. There is no millifarad among them: it is misread.
var printed = map[Quantity][]struct {
	unit   string
	factor float64
}{
	Number:       {{"", 1}},
	Ohms:         {{"GΩ", 1e9}, {"MΩ", 1e6}, {"kΩ", 1e3}, {"Ω", 1}, {"mΩ", 1e-3}},
	Farads:       {{"F", 1}, {"µF", 1e-6}, {"nF", 1e-9}, {"pF", 1e-12}},
	Henries:      {{"H", 1}, {"mH", 1e-3}, {"µH", 1e-6}, {"nH", 1e-9}},
	Volts:        {{"kV", 1e3}, {"V", 1}, {"mV", 1e-3}, {"µV", 1e-6}},
	Amperes:      {{"A", 1}, {"mA", 1e-3}, {"µA", 1e-6}, {"nA", 1e-9}},
	Watts:        {{"kW", 1e3}, {"W", 1}, {"mW", 1e-3}, {"µW", 1e-6}},
	Percent:      {{"%", 1}},
	Hertz:        {{"MHz", 1e6}, {"kHz", 1e3}, {"Hz", 1}, {"mHz", 1e-3}},
	Metres:       {{"m", 1}, {"cm", 1e-2}, {"mm", 1e-3}},
	SquareMetres: {{"mm²", 1e-6}},
	AWG:          {{"AWG", 1}},
	SWG:          {{"SWG", 1}},
	VoltAmperes:  {{"kVA", 1e3}, {"VA", 1}},
}

// ordinary is the unit of nought.
var ordinary = map[Quantity]string{
	Ohms: "Ω", Farads: "µF", Henries: "H", Volts: "V", Amperes: "A", Watts: "W", Hertz: "Hz",
	Metres: "m", SquareMetres: "mm²", AWG: "AWG", SWG: "SWG", VoltAmperes: "VA", Percent: "%",
}

func format(value float64, quantity Quantity, digits int) string {
	steps := printed[quantity]
	switch {
	case len(steps) == 0:
		return fmt.Sprintf("%g", value)
	case math.IsNaN(value) || math.IsInf(value, 0):
		return strings.TrimSpace(strings.NewReplacer("+Inf", "∞", "-Inf", "−∞", "NaN", "?").
			Replace(fmt.Sprintf("%v", value)) + " " + ordinary[quantity])
	case value == 0:
		return strings.TrimSpace("0 " + ordinary[quantity])
	}
	step := steps[len(steps)-1]
	for _, s := range steps {
		// Rounded first: 999.96 Ω to four digits is 1 kΩ.
		if roundTo(math.Abs(value)/s.factor, digits) >= 1 {
			step = s
			break
		}
	}
	return strings.TrimSpace(digitsOf(value/step.factor, digits) + " " + step.unit)
}

// roundTo keeps so many significant digits.
func roundTo(value float64, digits int) float64 {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(value, 'g', digits, 64), 64)
	return rounded
}

// digitsOf writes a number without an exponent and without noughts at its end.
func digitsOf(value float64, digits int) string {
	text := strconv.FormatFloat(roundTo(value, digits), 'f', -1, 64)
	return strings.Replace(text, "-", "−", 1)
}
