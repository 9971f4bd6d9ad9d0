package lang

import (
	"slices"
	"strings"
)

// A Colour is what a lead looks like: a base, and a tracer where it has one.
// Both are printed names, as "green" and "yellow"; "" is none.
type Colour struct {
	Base, Tracer string
}

type colourRow struct {
	name, code string
	also       []string
}

// colours are the colours that have a code in IEC 60757, in the order of its
// table 1, with the code and the other words that are read. "bare" is a lead
// without a cover and has no code.
var colours = []colourRow{
	{"black", "bk", []string{"blk"}},
	{"brown", "bn", []string{"brn"}},
	{"red", "rd", nil},
	{"orange", "og", []string{"org"}},
	{"yellow", "ye", []string{"yel"}},
	{"green", "gn", []string{"grn"}},
	{"blue", "bu", []string{"blu", "light-blue"}}, // the code takes light blue in
	{"violet", "vt", []string{"purple", "vio"}},
	{"grey", "gy", []string{"gray", "gry", "slate"}},
	{"white", "wh", []string{"wht"}},
	{"pink", "pk", nil},
	{"gold", "gd", nil},
	{"turquoise", "tq", nil},
	{"silver", "sr", nil},
	{"bare", "", nil},
}

var colourByWord = func() map[string]string {
	words := map[string]string{}
	for _, c := range colours {
		words[c.name] = c.name
		if c.code != "" {
			words[c.code] = c.name
		}
		for _, w := range c.also {
			words[w] = c.name
		}
	}
	return words
}()

// ColourNames gives the colours by their printed names, in the order of the
// table of IEC 60757, bare last.
func ColourNames() []string {
	names := make([]string, len(colours))
	for i, c := range colours {
		names[i] = c.name
	}
	return names
}

// ReadColour reads a colour: an English name or its code in IEC 60757, or two
// of them with a stroke, base first (red/yellow, GN/YE). Capitals do not
// count. Of codes written together only GNYE is read, the protective
// conductor: in RDYE the standard's order says nothing of which is the base.
func ReadColour(text string) (Colour, bool) {
	text = Fold(text)
	if text == "gnye" {
		return Colour{"green", "yellow"}, true
	}
	base, tracer, two := strings.Cut(text, "/")
	c := Colour{Base: colourByWord[base], Tracer: colourByWord[tracer]}
	switch {
	case c.Base == "" || two && c.Tracer == "":
		return Colour{}, false
	case two && (c.Base == c.Tracer || c.Base == "bare" || c.Tracer == "bare"):
		return Colour{}, false
	}
	return c, true
}

// ReadTaped reads the name of a flying lead: a colour, and after a hyphen the
// number on the builder's tape where leads of one colour are told apart
// (black-2). Without a number tape is 0.
func ReadTaped(text string) (c Colour, tape int, ok bool) {
	if c, ok = ReadColour(text); ok {
		return c, 0, true
	}
	i := strings.LastIndexByte(text, '-')
	if i < 0 {
		return Colour{}, 0, false
	}
	digits := text[i+1:]
	if digits == "" || len(digits) > 3 {
		return Colour{}, 0, false
	}
	for _, d := range []byte(digits) {
		if !isDigit(d) {
			return Colour{}, 0, false
		}
		tape = tape*10 + int(d-'0')
	}
	c, ok = ReadColour(text[:i])
	if !ok || tape == 0 {
		return Colour{}, 0, false
	}
	return c, tape, true
}

// String gives the printed name: "red", "green/yellow". No colour is "".
func (c Colour) String() string {
	if c.Tracer == "" {
		return c.Base
	}
	return c.Base + "/" + c.Tracer
}

// IsZero reports whether c is no colour at all.
func (c Colour) IsZero() bool { return c == Colour{} }

// Code gives the letters of IEC 60757: "RD", "RD/YE" (base first), and GNYE
// for green and yellow. A bare lead has none.
func (c Colour) Code() string {
	letters := func(name string) string {
		i := slices.IndexFunc(colours, func(row colourRow) bool { return row.name == name })
		if i < 0 {
			return ""
		}
		return strings.ToUpper(colours[i].code)
	}
	switch {
	case c == Colour{"green", "yellow"}, c == Colour{"yellow", "green"}:
		return "GNYE"
	case c.Tracer == "":
		return letters(c.Base)
	}
	return letters(c.Base) + "/" + letters(c.Tracer)
}
