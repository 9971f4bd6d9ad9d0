package netlist

// Called is the terminal of a part that goes by a name, whatever its capitals:
// its own or another name of it, or an electrode that it alone is. NoTerminal
// where there is none.
func (p *Part) Called(name string) TerminalID {
	if found, _ := p.Kind.Find(name); len(found) == 1 {
		return p.Terminals[found[0]]
	}
	return NoTerminal
}

// An Inlet is where mains comes in: a part with terminals called live and
// neutral. Earth is NoTerminal where it has none.
type Inlet struct {
	Part                 *Part
	Live, Neutral, Earth TerminalID
}

// Inlet gives the mains terminals of a part; false where it is no inlet.
func (p *Part) Inlet() (Inlet, bool) {
	in := Inlet{Part: p, Live: p.Called("live"), Neutral: p.Called("neutral"), Earth: p.Called("earth")}
	return in, in.Live != NoTerminal && in.Neutral != NoTerminal
}

// Inlets are the parts by which mains comes in, in the order of the parts.
func (b *Book) Inlets() []Inlet {
	var list []Inlet
	for _, p := range b.Parts {
		if in, ok := p.Inlet(); ok {
			list = append(list, in)
		}
	}
	return list
}
