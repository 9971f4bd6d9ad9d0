package legend

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
	"buzzout/netlist"
	"buzzout/netlist/parts"
)

// The published codes.
const (
	TransformerCode = "transformer code"
	WireCode        = "chassis wire code"
	MainsCode       = "mains code"
)

// A CodeEntry is what one published code says of a colour.
type CodeEntry struct {
	Code string // TransformerCode, WireCode or MainsCode
	Says string // a phrase: "HT winding, centre tap"
	Note string // a phrase, or ""
	parts.Standing
	// Ends are the ends of the part that it would be, where the part has any.
	Ends []netlist.TerminalID
}

// coder reads the published codes for one part.
type coder struct {
	part *netlist.Part
	lay  *layout
	uses []purpose // by group of the layout
	at   []uint16  // as endsAt gives it
}

func newCoder(b *netlist.Book, p *netlist.Part, l *layout) *coder {
	c := &coder{part: p, lay: l, at: endsAt(b)}
	c.uses = usesOf(p, l, c.at)
	return c
}

// entries are what the codes say of a colour: of the transformer code first
// what fits a winding of the part.
func (c *coder) entries(colour lang.Colour) []CodeEntry {
	var list []CodeEntry
	for _, code := range parts.TransformerLeads() {
		if code.Colour != colour {
			continue
		}
		e := CodeEntry{Code: TransformerCode, Says: fmt.Sprintf("%s, %s: %s", code.Transformer, code.Winding, code.Lead), Note: code.Note, Standing: code.Standing}
		if code.Use != "" {
			e.Ends = c.endsCoded(code.Use)
		}
		list = append(list, e)
	}
	slices.SortStableFunc(list, func(a, b CodeEntry) int { return min(len(b.Ends), 1) - min(len(a.Ends), 1) })
	for _, code := range parts.ChassisWire() {
		if code.Colour == colour {
			list = append(list, CodeEntry{Code: WireCode, Says: code.Circuit, Standing: code.Standing})
		}
	}
	return append(list, c.mains(colour)...)
}

// endsCoded are the ends of the part that fall under an entry of the code.
func (c *coder) endsCoded(use string) []netlist.TerminalID {
	var list []netlist.TerminalID
	for t := range c.part.Kind.Terminals {
		if slices.Contains(c.codedAs(t), use) {
			list = append(list, c.part.Terminals[t])
		}
	}
	return list
}

// codedAs says under which entries of the published transformer code an end
// of a winding falls, by what the winding is for.
func (c *coder) codedAs(end int) []string {
	l := c.lay
	g := l.of[end]
	if g < 0 {
		return nil
	}
	ends := l.groups[g].ends
	place, last := l.at[end], len(ends)-1
	outer := place == 0 || place == last
	centre := l.isCentre(end)
	both := func(whole, middle string) []string {
		switch {
		case outer:
			return []string{whole}
		case centre:
			return []string{middle}
		}
		return nil
	}
	here := c.at[c.part.Terminals[end]]
	switch c.uses[g] {
	case forMains:
		if last == 1 {
			return []string{"mains"}
		}
		return []string{"mains-tapped"}
	case forHT:
		return both("hv", "hv-centre")
	case forHeaters:
		return both("heater", "heater-centre")
	case forRectifierHeater:
		return both("rectifier-heater", "rectifier-heater-centre")
	case forBias:
		return []string{"bias"}
	case forAnodes:
		switch {
		case last == 1 && here&atAnode == 0, centre:
			return []string{"ht-feed"}
		case last == 1:
			return []string{"anode"}
		case outer:
			return []string{"anode", "anode-second"}
		}
		return []string{"screen-tap"}
	case forGrids:
		switch {
		case last == 1 && here&atGrid == 0, centre:
			return []string{"grid-return"}
		case last == 1:
			return []string{"grid"}
		case outer:
			return []string{"grid", "grid-second"}
		}
	case forLoudspeaker:
		if place == 0 {
			return []string{"speaker-common"}
		}
		if place == last {
			return []string{"speaker-live"}
		}
	}
	return nil
}

// mains is what a colour is in mains leads: one entry for each of live,
// neutral and earth, with the regions.
func (c *coder) mains(colour lang.Colour) []CodeEntry {
	var list []CodeEntry
	for _, wire := range [...]struct {
		says, end string
		named     func(*parts.MainsCode) string
	}{
		{"live", "live", func(m *parts.MainsCode) string { return m.Line }},
		{"neutral", "neutral", func(m *parts.MainsCode) string { return m.Neutral }},
		{"protective earth", "earth", func(m *parts.MainsCode) string { return m.Earth }},
	} {
		var regions []string
		standing := parts.Standing{Status: "verified"}
		for _, m := range parts.MainsColours() {
			if !hasColour(wire.named(&m), colour) {
				continue
			}
			regions = append(regions, fmt.Sprintf("%s (%s)", m.Region, m.Use))
			for _, o := range m.Origins {
				if !slices.Contains(standing.Origins, o) {
					standing.Origins = append(standing.Origins, o)
				}
			}
		}
		if len(regions) > 0 {
			e := CodeEntry{Code: MainsCode, Says: wire.says + ": " + strings.Join(regions, "; "), Standing: standing}
			if end := c.part.Called(wire.end); end != netlist.NoTerminal {
				e.Ends = append(e.Ends, end)
			}
			list = append(list, e)
		}
	}
	return list
}

// hasColour says that a phrase of the mains table names a colour outright;
// "any but red" and what stands in brackets do not.
func hasColour(phrase string, colour lang.Colour) bool {
	phrase, _, _ = strings.Cut(phrase, " (")
	if strings.HasPrefix(phrase, "any") {
		return false
	}
	words := strings.FieldsFunc(phrase, func(r rune) bool { return r == ' ' || r == ',' })
	return slices.ContainsFunc(words, func(w string) bool {
		c, ok := lang.ReadColour(w)
		return ok && c == colour
	})
}

// collide gives the collisions of the colours of some leads.
func collide(colours []lang.Colour) []parts.Collision {
	var list []parts.Collision
	for _, c := range parts.Collisions() {
		if slices.Contains(colours, c.Colour) {
			list = append(list, c)
		}
	}
	return list
}

// varies gives the points on which makers differ that touch the part.
func (c *coder) varies() []parts.Variation {
	touches := func(use string) bool { return use == "any" || len(c.endsCoded(use)) > 0 }
	var list []parts.Variation
	for _, v := range parts.Variations() {
		if slices.ContainsFunc(v.Uses, touches) {
			list = append(list, v)
		}
	}
	return list
}
