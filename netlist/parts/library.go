// Package parts holds the kinds of part, and the library of kinds that comes
// with the tool, written in the notebook language and embedded.
package parts

// A Library finds kinds by name. Kinds of the embedded library are read when
// first asked for; a notebook's own kinds are added with Define.
type Library struct{}

var elementRoles = [...][]string{
	Resistance:  {"", ""},
	Capacitance: {"", ""},
	Track:       {"ccw", "wiper", "cw"},
	Diode:       {"anode", "cathode"},
	Triode:      {"anode", "grid", "cathode"},
	Pentode:     {"anode", "screen", "grid", "cathode", "suppressor"},
	Heater:      {"", ""},
	Lamp:        {"", ""},
	Fuse:        {"", ""},
	Coil:        {"", ""},
}
