package shell

import (
	"slices"
	"strings"

	"buzzout/netlist"
	"buzzout/netlist/parts"
)

func (s *Session) kindWords(kind string) []string {
	if k, _ := s.book.Library.Kind(kind); k != nil {
		return k.Words
	}
	return nil
}

func (s *Session) kindNames() []string { return s.book.Library.Names() }

func (s *Session) netNames() []string {
	var list []string
	for _, n := range s.book.Nets {
		list = append(list, n.Name)
	}
	return list
}

func (s *Session) drawingNames() []string {
	var list []string
	for _, d := range s.book.Drawings {
		if d.Name != "" && !slices.Contains(list, d.Name) {
			list = append(list, d.Name)
		}
	}
	return list
}

// partNames are the references of the parts that keep accepts; nil keeps all.
func (s *Session) partNames(keep func(*Session, *netlist.Part) bool) []string {
	var list []string
	for _, p := range s.book.Parts {
		if keep == nil || keep(s, p) {
			list = append(list, p.Ref)
		}
	}
	return list
}

// hasKey keeps the parts with flying leads: those of which a colour key
// speaks, and those with windings, of which one may speak yet.
func hasKey(s *Session, p *netlist.Part) bool {
	if len(p.Kind.Windings) > 0 {
		return true
	}
	return len(s.book.KeysOf(p)) > 0
}

// originNames are the sources that speak of a part's leads, then the drawings.
func (s *Session) originNames(ref string) []string {
	var list []string
	for _, k := range s.book.Keys {
		if strings.EqualFold(k.Part.Ref, ref) && !slices.Contains(list, k.Origin) {
			list = append(list, k.Origin)
		}
	}
	for _, d := range s.drawingNames() {
		if !slices.Contains(list, d) {
			list = append(list, d)
		}
	}
	return list
}

func (s *Session) endNames(ref string) []string {
	p := s.book.Part(ref)
	if p == nil {
		return nil
	}
	var list []string
	for _, t := range p.Kind.Terminals {
		list = append(list, t.Name)
	}
	return list
}

// terminalNames are all terminals as a person types them: with the electrode
// where there is one. A part of one terminal is its reference alone.
func (s *Session) terminalNames() []string {
	var list []string
	for _, p := range s.book.Parts {
		list = append(list, s.terminalsOf(p)...)
	}
	return list
}

func (s *Session) terminalsOf(p *netlist.Part) []string {
	if len(p.Terminals) == 1 && !p.Kind.Any {
		return []string{p.Ref}
	}
	var names []string
	for _, id := range p.Terminals {
		t := s.book.Terminals[id]
		if t.Index >= 0 {
			if role := electrodeName(p.Kind, t.Index); role != "" {
				names = append(names, p.Ref+"."+role)
				if strings.HasPrefix(role, t.Name+"-") {
					continue // the pin is in it
				}
			}
		}
		names = append(names, p.Ref+"."+t.Name)
	}
	return names
}

// electrodeName is the name of a terminal that says which electrode it is:
// "2-grid" at a valve holder, since pins are counted there, elsewhere "wiper"
// where the part has one wiper; "" where it is no electrode or its own name says
// so.
func electrodeName(k *parts.Kind, terminal int) string {
	own := k.Terminals[terminal].Name
	for _, plain := range k.Electrodes(terminal) {
		role, known := shortRoles[plain]
		if !known || role == own {
			continue
		}
		if found, _ := k.Find(role); len(found) == 1 && k.Seat < 0 {
			return role
		}
		if role != "heater" { // which end of a heater it is does not matter
			return own + "-" + role
		}
	}
	return ""
}

// shortRoles are the electrodes as one word of the language.
var shortRoles = map[string]string{
	"anode": "anode", "grid": "grid", "cathode": "cathode", "screen grid": "screen", "suppressor grid": "suppressor",
	"heater": "heater", "wiper": "wiper", "anticlockwise end": "ccw", "clockwise end": "cw",
}

// controlNames are the controls as set wants them: the reference, and the
// control's name after a dot where the part has several.
func (s *Session) controlNames() []string {
	var list []string
	for _, p := range s.book.Parts {
		for _, c := range p.Kind.Controls {
			if len(p.Kind.Controls) == 1 {
				list = append(list, p.Ref)
			} else {
				list = append(list, p.Ref+"."+c.Name)
			}
		}
	}
	return list
}

func (s *Session) controlNamed(name string) (*netlist.Part, int) {
	ref, control, dotted := strings.Cut(name, ".")
	p := s.book.Part(ref)
	if p == nil {
		return nil, 0
	}
	for i, c := range p.Kind.Controls {
		if !dotted && len(p.Kind.Controls) == 1 || dotted && strings.EqualFold(c.Name, control) {
			return p, i
		}
	}
	return nil, 0
}
