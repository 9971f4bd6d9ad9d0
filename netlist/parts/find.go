package parts

import (
	"fmt"
	"slices"
	"strings"

	"buzzout/lang"
)

// electrodeWords are the ways to write an electrode in REF.ELECTRODE and
// REF.PIN-ELECTRODE, and the role that is meant.
var electrodeWords = map[string]string{
	"anode": "anode", "plate": "anode", "a": "anode",
	"grid": "grid", "control-grid": "grid", "g": "grid", "g1": "grid",
	"cathode": "cathode", "k": "cathode",
	"screen": "screen", "screen-grid": "screen", "g2": "screen",
	"suppressor": "suppressor", "suppressor-grid": "suppressor", "g3": "suppressor",
	"heater": "heater", "filament": "heater", "h": "heater", "f": "heater",
	"wiper": "wiper",
	"ccw":   "ccw", "anticlockwise": "ccw",
	"cw": "cw", "clockwise": "cw",
}

// plainRoles are the roles as a person reads them.
var plainRoles = map[string]string{
	"anode": "anode", "grid": "grid", "cathode": "cathode", "screen": "screen grid",
	"suppressor": "suppressor grid", "heater": "heater",
	"wiper": "wiper", "ccw": "anticlockwise end", "cw": "clockwise end",
}

// index makes what Find and Electrodes look up.
func (k *Kind) index() {
	names := len(k.Terminals)
	for i := range k.Terminals {
		names += len(k.Terminals[i].Aliases)
	}
	k.byName = make(map[string]int, names)
	for i := range k.Terminals {
		t := &k.Terminals[i]
		k.byName[lang.Fold(t.Name)] = i
		for _, a := range t.Aliases {
			k.byName[lang.Fold(a)] = i
		}
	}
	for i := range k.Elements {
		e := &k.Elements[i]
		for n, role := range e.Type.Roles() {
			if role != "" && n < len(e.Ends) {
				k.addRole(role, e.Ends[n])
			}
		}
	}
	for _, holders := range k.byRole {
		slices.Sort(holders) // by pin, not by system: systems are not numbered
	}
}

func (k *Kind) addRole(role string, t int) {
	if k.byRole == nil {
		k.byRole = make(map[string][]int)
		k.plain = make([][]string, len(k.Terminals))
	}
	if !slices.Contains(k.byRole[role], t) {
		k.byRole[role] = append(k.byRole[role], t)
		k.plain[t] = append(k.plain[t], plainRoles[role])
	}
}

// Electrodes says what a terminal is in plain words, "anode" or "grid"; none
// where no element gives it a name, several where more than one does.
func (k *Kind) Electrodes(terminal int) []string {
	if k.plain == nil {
		return nil
	}
	return k.plain[terminal]
}

// Find looks a terminal up as it is written after the dot of REF.NAME;
// capitals do not count. In this order: a terminal or another name of one; an
// electrode, with every terminal that has it, so that more than one is a
// question for the builder; PIN-ELECTRODE, which is the pin, if the electrode
// is there. The problem, where there is one, is a fact that says why the name
// cannot be right. Nothing and no problem means that the kind knows no such
// name: it may be a lead's colour.
func (k *Kind) Find(name string) (terminals []int, problem string) {
	key := lang.Fold(name)
	if t, ok := k.byName[key]; ok {
		return []int{t}, ""
	}
	if role, ok := electrodeWords[key]; ok {
		if list := k.byRole[role]; len(list) > 0 {
			return slices.Clone(list), ""
		}
	}
	for i := strings.IndexByte(key, '-'); i >= 0; {
		if role, ok := electrodeWords[key[i+1:]]; ok {
			return k.checked(name[:min(i, len(name))], key[:i], role)
		}
		next := strings.IndexByte(key[i+1:], '-')
		if next < 0 {
			break
		}
		i += 1 + next
	}
	return nil, ""
}

// checked finds PIN-ELECTRODE.
func (k *Kind) checked(typed, pin, role string) ([]int, string) {
	t, ok := k.byName[pin]
	holders := k.byRole[role]
	switch {
	case ok && slices.Contains(holders, t):
		return []int{t}, ""
	case len(holders) == 0:
		return nil, "" // no such electrode in this kind: not a checked pin
	case !ok:
		return nil, fmt.Sprintf("there is no terminal %s; %s", typed, k.whereIs(role))
	}
	is := k.Electrodes(t)
	if len(is) == 0 {
		return nil, fmt.Sprintf("terminal %s is not %s; %s", k.Terminals[t].Name, article(plainRoles[role]), k.whereIs(role))
	}
	return nil, fmt.Sprintf("terminal %s is %s and not %s; %s", k.Terminals[t].Name, article(is[0]), article(plainRoles[role]), k.whereIs(role))
}

// whereIs tells the terminals that have a role.
func (k *Kind) whereIs(role string) string {
	var list []string
	for _, t := range k.byRole[role] {
		list = append(list, k.Terminals[t].Name)
	}
	if len(list) == 1 {
		return fmt.Sprintf("the %s is %s", plainRoles[role], list[0])
	}
	return fmt.Sprintf("%ss are at %s", plainRoles[role], Listed(list))
}

func article(word string) string {
	if word != "" && strings.IndexByte("aeiou", word[0]|0x20) >= 0 {
		return "an " + word
	}
	return "a " + word
}

// Listed writes names as "2", "2 and 7" or "2, 3 and 7".
func Listed(names []string) string {
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

// Names gives every name that a terminal of the kind can be called by, in the
// order of the terminals: what a mistyped name is compared with.
func (k *Kind) Names() []string {
	var list []string
	for i := range k.Terminals {
		list = append(list, k.Terminals[i].Name)
		list = append(list, k.Terminals[i].Aliases...)
	}
	return list
}
