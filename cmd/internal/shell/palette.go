package shell

import (
	"strconv"
	"strings"

	"buzzout/lang"
)

// A Palette says how much colour a screen can show. The zero value is none:
// nothing that is written needs colour to be understood.
type Palette uint8

// The palettes.
const (
	NoColour    Palette = iota
	EightColour         // the first eight, and bold
	ManyColour          // 256
	FullColour          // 24 bits
)

// PaletteFor chooses a palette from the variables TERM and COLORTERM.
func PaletteFor(term, colorterm string) Palette {
	switch {
	case term == "dumb":
		return NoColour
	case colorterm == "truecolor" || colorterm == "24bit":
		return FullColour
	case strings.Contains(term, "256color"):
		return ManyColour
	}
	return EightColour
}

// A style is how a piece of text stands out, where the screen can show it.
type style struct {
	weight weight
	paint  string // a lead's colour, by its printed name; "" is none
}

type weight uint8

const (
	normalWeight weight = iota
	strongWeight
	faintWeight
	dangerWeight
	faultWeight
	cautionWeight
	goodWeight
)

var (
	plainStyle   = style{}
	strongStyle  = style{weight: strongWeight}
	faintStyle   = style{weight: faintWeight}
	dangerStyle  = style{weight: dangerWeight}
	faultStyle   = style{weight: faultWeight}
	cautionStyle = style{weight: cautionWeight}
	goodStyle    = style{weight: goodWeight}
)

var weightCodes = [...]string{
	normalWeight:  "",
	strongWeight:  "1",
	faintWeight:   "2",
	dangerWeight:  "1;7;31",
	faultWeight:   "1;31",
	cautionWeight: "33",
	goodWeight:    "32",
}

func (p Palette) paint(s style, text string) string {
	if p == NoColour || text == "" {
		return text
	}
	code := weightCodes[s.weight]
	if s.paint != "" {
		code = p.swatch(s.paint)
	}
	if code == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// A paint is a lead's colour on the three palettes, and whether what is
// written on it must be dark to be read.
type leadPaint struct {
	eight   string // background of the eight-colour palette
	many    int    // number in the 256-colour palette
	r, g, b uint8
	dark    bool // dark letters on it
}

// The shades are chosen to be told apart on a screen; no standard gives them.
var leadPaints = map[string]leadPaint{
	"black":       {"40", 16, 0, 0, 0, false},
	"brown":       {"43", 94, 122, 72, 26, false},
	"red":         {"41", 160, 208, 24, 24, false},
	"orange":      {"43", 208, 255, 135, 0, true},
	"yellow":      {"103", 226, 255, 232, 0, true},
	"green":       {"42", 28, 16, 130, 40, false},
	"blue":        {"44", 26, 24, 88, 208, false},
	"violet":      {"45", 91, 125, 38, 175, false},
	"grey":        {"100", 244, 128, 128, 128, true},
	"white":       {"107", 231, 255, 255, 255, true},
	"pink":        {"105", 218, 255, 160, 200, true},
	"turquoise":   {"46", 44, 0, 200, 200, true},
	"gold":        {"43", 178, 212, 168, 0, true},
	"silver":      {"47", 250, 192, 192, 192, true},
	"bare":        {"47", 250, 200, 190, 170, true},
	"transparent": {"47", 255, 238, 238, 238, true},
}

func (p Palette) swatch(name string) string {
	c, known := leadPaints[name]
	if !known {
		return ""
	}
	letters := "97"
	if c.dark {
		letters = "30"
	}
	switch p {
	case FullColour:
		return letters + ";48;2;" + strconv.Itoa(int(c.r)) + ";" + strconv.Itoa(int(c.g)) + ";" + strconv.Itoa(int(c.b))
	case ManyColour:
		return letters + ";48;5;" + strconv.Itoa(c.many)
	}
	return letters + ";" + c.eight
}

// swatch writes a lead's colour on its own paint: the base, and the tracer
// after the stroke.
func swatch(c lang.Colour) []span {
	if c.Base == "" {
		return nil
	}
	list := []span{{style{paint: c.Base}, c.Base}}
	if c.Tracer != "" {
		list = append(list, plain("/"), span{style{paint: c.Tracer}, c.Tracer})
	}
	return list
}
