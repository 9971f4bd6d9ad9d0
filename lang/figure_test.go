package lang

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"buzzout/lang/diag"
)

// The examples in the table are "R47 = 0.47 ohm; 4R7 = 4.7": a marking, and
// what it means.
func TestFiguresOfPublishedTable(t *testing.T) {
	checked := 0
	for _, row := range readTable(t, "value_letters.csv") {
		for example := range strings.SplitSeq(row["example"], "; ") {
			marking, meaning, found := strings.Cut(example, " = ")
			if !found {
				continue
			}
			number, unit, _ := strings.Cut(meaning, " ")
			want, err := strconv.ParseFloat(number, 64)
			if err != nil {
				t.Fatal(err)
			}
			power := map[string]int{"k": 3, "M": 6, "nF": -9}[unit]
			want, _ = strconv.ParseFloat(fmt.Sprintf("%ge%d", want, power), 64)
			quantity := map[string]Quantity{"resistor": Ohms, "capacitor": Farads}[row["applies_to"]]
			f, ok := ReadFigure(marking)
			if !ok || f.Value != want || f.Quantity != quantity {
				t.Errorf("%s: read %v of quantity %d, %t; the table says %s", marking, f.Value, f.Quantity, ok, meaning)
			}
			checked++
		}
	}
	if checked != 8 {
		t.Errorf("%d examples checked, of 8", checked)
	}
}

// Every preferred value is the same figure in all the ways to write it.
func TestPreferredValues(t *testing.T) {
	for _, row := range readTable(t, "e24.csv") {
		whole, fraction, _ := strings.Cut(row["value"], ".")
		for _, letter := range []struct {
			letter string
			power  int
			unit   string
		}{{"R", 0, "ohm"}, {"k", 3, "kohm"}, {"K", 3, "KΩ"}, {"M", 6, "MΩ"}, {"p", -12, "pF"}, {"n", -9, "nF"}, {"u", -6, "uF"}, {"µ", -6, "µF"}} {
			want, _ := strconv.ParseFloat(fmt.Sprintf("%s.%se%d", whole, fraction, letter.power), 64)
			for _, text := range []string{
				whole + letter.letter + fraction,
				whole + "." + fraction + letter.letter,
				whole + "," + fraction + letter.letter,
				whole + "." + fraction + letter.unit,
			} {
				if f, ok := ReadFigure(text); !ok || f.Value != want {
					t.Errorf("%s: read %v, %t, want %v", text, f.Value, ok, want)
				}
			}
		}
	}
}

// How the language writes figures; these are its own rules.
func TestReadFigure(t *testing.T) {
	for _, c := range []struct {
		text    string
		printed string
	}{
		{"0.022u", "22 nF"}, {".022u", "22 nF"}, {"22n", "22 nF"}, {"4u7", "4.7 µF"}, {"4µ7", "4.7 µF"}, {"4μ7", "4.7 µF"},
		{"1m0", "1000 µF"}, {"1F0", "1 F"}, {"100mF", "100000 µF"}, {"10mfd", "10 µF"}, {"250mmf", "250 pF"}, {"50MFD", "50 µF"}, {"100pf", "100 pF"},
		{"0,6", "0.6"}, {"115", "115"}, {"0", "0"}, {"-0.5", "−0.5"},
		{"470R", "470 Ω"}, {"1R", "1 Ω"}, {"4k7Ω", "4.7 kΩ"}, {"4k7\u2126", "4.7 kΩ"}, {"1.5meg", "1.5 MΩ"}, {"0.6ohm", "600 mΩ"}, {"34.1k", "34.1 kΩ"}, {"1.034M", "1.034 MΩ"}, {"2mΩ", "2 mΩ"},
		{"6V3", "6.3 V"}, {"6.3V", "6.3 V"}, {"400V", "400 V"}, {"2.5kV", "2.5 kV"}, {"-48V", "−48 V"}, {"−48V", "−48 V"}, {"+12V", "12 V"}, {"50mV", "50 mV"},
		{"150mA", "150 mA"}, {"0.15A", "150 mA"}, {"65uA", "65 µA"}, {"1A", "1 A"},
		{"0.5W", "500 mW"}, {"2W", "2 W"}, {"300VA", "300 VA"}, {"10H", "10 H"}, {"150mH", "150 mH"}, {"47uH", "47 µH"},
		{"5%", "5 %"}, {"±5%", "5 %"}, {"+-10%", "10 %"}, {"+/-1%", "1 %"}, {"50Hz", "50 Hz"}, {"1kHz", "1 kHz"},
		{"12cm", "12 cm"}, {"1.2m", "1.2 m"}, {"300mm", "30 cm"}, {"4mm", "4 mm"}, {"0.5mm2", "0.5 mm²"}, {"0.75mm²", "0.75 mm²"}, {"22awg", "22 AWG"}, {"22AWG", "22 AWG"}, {"awg22", "22 AWG"}, {"20swg", "20 SWG"},
	} {
		f, ok := ReadFigure(c.text)
		if !ok || f.String() != c.printed || f.Text != c.text {
			t.Errorf("%s: read %q as %q, %t; want %q", c.text, f.Text, f, ok, c.printed)
		}
	}
}

func TestNotAFigure(t *testing.T) {
	for _, text := range []string{
		"", "R", "k", "k1k", "V3", "F1", "T1", "C6.+", "+255", "+", "-", "±", "±5", "±5V", "ecc83", "12AX7", "6L6GC", "EL84", "6.3v", "5 %", "22k7k", "1..5", "1.", "1.2.3", "0x10", "1e3",
		"J1#2", "red", "100kk", "4k7F", "awg", "awgx", strings.Repeat("1", 100), "∞", "4٣", "R47Ωx",
	} {
		if f, ok := ReadFigure(text); ok {
			t.Errorf("%q: read as %s", text, f)
		}
	}
}

func TestDoubtfulFigures(t *testing.T) {
	for text, doubt := range map[string]string{"1m": "metres", "100mF": "microfarad", "50MF": "microfarad", "1M": "", "10uF": "", "1.5m": "metres"} {
		f, ok := ReadFigure(text)
		if !ok || (doubt == "") != (f.Doubt == "") || !strings.Contains(f.Doubt, doubt) {
			t.Errorf("%s: doubt %q, %t; want %q", text, f.Doubt, ok, doubt)
		}
	}
}

// The letters for how fast a fuse is, and the current after them, are read in a
// fuse dealer's sheet, "Fuse markings explained", 2023. The order of what
// follows the current is from memory and only shown here to be let through.
func TestReadFuse(t *testing.T) {
	for _, c := range []struct{ text, current, word string }{
		{"T1A", "1 A", "slow"}, {"F250mA", "250 mA", "fast"}, {"FF2A", "2 A", "very-fast"}, {"TT500mA", "500 mA", "very-slow"},
		{"M1A", "1 A", "medium"}, {"T3.15A", "3.15 A", "slow"}, {"T1AL250V", "1 A", "slow"}, {"T315mAH250V", "315 mA", "slow"},
	} {
		f, word, ok := ReadFuse(c.text)
		if !ok || f.String() != c.current || word != c.word || f.Text != c.text {
			t.Errorf("%s: %s, %s, %t; want %s, %s", c.text, f, word, ok, c.current, c.word)
		}
	}
	for _, text := range []string{"T1", "F1", "T1V", "TA", "T1ALL250V", "T1AX", "X1A", "1A", "T1AL5%", ""} {
		if f, word, ok := ReadFuse(text); ok {
			t.Errorf("%s: read as %s %s", text, f, word)
		}
	}
}

func TestReadFigures(t *testing.T) {
	src := diag.NewSource("t", "100k 0.6 ohm film 5 H T1A 22 awg 1 in 10")
	file := Parse(diag.NewSource("t", "part X y "+src.Text))
	words := file.Statements[0].(*Part).Words
	figures, rest := ReadFigures(words)
	var got []string
	for _, f := range figures {
		got = append(got, f.String()+"@"+f.Place.Text())
	}
	for _, w := range rest {
		got = append(got, w.Text)
	}
	want := "100 kΩ@100k|600 mΩ@0.6 ohm|5 H@5 H|1 A@T1A|22 AWG@22 awg|1@1|10@10|film|slow|in"
	if strings.Join(got, "|") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "|"), want)
	}
}

func TestFormatQuantity(t *testing.T) {
	for _, c := range []struct {
		value    float64
		quantity Quantity
		want     string
	}{
		{34093.4, Ohms, "34.09 kΩ"}, {999.96, Ohms, "1 kΩ"}, {999.94, Ohms, "999.9 Ω"}, {0, Ohms, "0 Ω"}, {0, Farads, "0 µF"}, {1e-15, Farads, "0.001 pF"},
		{-12.34567, Volts, "−12.35 V"}, {0.0353, Amperes, "35.3 mA"}, {12, Watts, "12 W"}, {1.0 / 3, Number, "0.3333"}, {2.2e6, Ohms, "2.2 MΩ"}, {4.7e-5, Farads, "47 µF"},
		{50, Percent, "50 %"}, {1 / zero, Ohms, "∞ Ω"}, {-1 / zero, Volts, "−∞ V"}, {0, Number, "0"},
	} {
		if got := FormatQuantity(c.value, c.quantity); got != c.want {
			t.Errorf("%g: %q, want %q", c.value, got, c.want)
		}
	}
}

var zero = 0.0

// What is printed of a figure is read as the same figure.
func TestPrintedFiguresAreReadAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		quantity := Quantity(rapid.IntRange(int(Number), int(VoltAmperes)).Draw(t, "quantity"))
		digits := rapid.IntRange(1, 999_999).Draw(t, "digits")
		power := rapid.IntRange(-9, 3).Draw(t, "power")
		value, _ := strconv.ParseFloat(fmt.Sprintf("%de%d", digits, power), 64)
		if quantity == SquareMetres {
			value *= 1e-6
		}
		printed := Figure{Value: value, Quantity: quantity}.String()
		f, ok := ReadFigure(strings.ReplaceAll(printed, " ", ""))
		if !ok || f.Quantity != quantity || (f.Value-value)/value > 1e-9 || (value-f.Value)/value > 1e-9 {
			t.Fatalf("%g of quantity %d is printed %q and read as %g of quantity %d, %t", value, quantity, printed, f.Value, f.Quantity, ok)
		}
	})
}
