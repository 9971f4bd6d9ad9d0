package states

import (
	"slices"

	"buzzout/netlist"
)

// A change is one thing that could be otherwise: a contact taken the other
// way, or a switch turned to another position.
type change struct {
	contact *Contact // the one that changes; of a switch, one of those that do
	turn    bool     // the switch is turned, with all its contacts
	to      uint8    // where to
}

// with is a trial with something changed, at most two contacts in all.
func (t trial) with(c change) trial {
	switch {
	case c.turn:
		t.at = slices.Clone(t.at)
		t.at[c.contact.Control] = c.to
	case t.toggled[0] == nil:
		t.toggled[0] = c.contact
	default:
		t.toggled[1] = c.contact
	}
	return t
}

// maxPairs is how many pairs of changes are tried for an input that no single
// change brings back.
const maxPairs = 1024

// blame looks for the one contact, the one switch, or the one other source,
// without which the input would have the most; where none alone brings it
// back, for two that do.
func (m *mixer) blame(t trial, i int, f *Fate) {
	f.Better = f.Level
	improves := func(better, on float64) bool { return better > on*1.1+heard/10 }
	changes := m.changes(t)
	best := -1
	for k, c := range changes {
		better := m.net.level(t.with(c), i)
		if improves(better, f.Better) || best >= 0 && c.turn && !changes[best].turn && better > f.Better*0.99 {
			f.Better, best = better, k
		}
	}
	if best >= 0 {
		m.accuse(t, i, f, changes[best])
	}
	most := f.Better
	for k := range m.out.Inputs {
		if k == i || t.plugs>>k&1 == 0 {
			continue
		}
		t.silent = k
		if better := m.net.level(t, i); improves(better, most) {
			most, f.Cause, f.Opens, f.Turned, f.Other = better, nil, false, nil, &m.out.Inputs[k]
			f.Better = m.net.level(m.trial(t.plugs&^(1<<k)), i)
		}
	}
	t.silent = -1
	if f.Cause == nil && f.Other == nil && f.Reach != Reduced {
		m.blameTwo(t, i, f, changes)
	}
}

// changes are all single changes. A switch is turned; its contacts are taken
// one by one besides, for one whose other contact spoils what the first does.
func (m *mixer) changes(t trial) []change {
	var list []change
	turned := map[int]bool{}
	for _, c := range m.net.contacts {
		if c.Inside {
			continue
		}
		list = append(list, change{contact: c})
		if !m.net.web.isSwitch(c.Control) || turned[c.Control] {
			continue
		}
		turned[c.Control] = true
		for p := range m.net.web.positions(c.Control) {
			if uint8(p) != t.at[c.Control] {
				list = append(list, change{c, true, uint8(p)})
			}
		}
	}
	return list
}

// accuse names a change as what the input lacks. Of the contacts that a switch
// moves it is the one by which most comes back alone, else the first that has
// to close, for an input that is cut off, or to open.
func (m *mixer) accuse(t trial, i int, f *Fate, c change) {
	if c.turn {
		c.contact = m.moved(t, i, f.Reach, c)
		ref := m.net.web.Controls[c.contact.Control]
		if f.Turned == nil {
			f.Turned = netlist.Setting{}
		}
		f.Turned[ref] = netlist.Position{Index: int(c.to), Known: true}
	}
	opens := c.contact.At(int(t.at[c.contact.Control]))
	if f.Cause == nil {
		f.Cause, f.Opens = c.contact, opens
	} else {
		f.With, f.WithOpens = c.contact, opens
	}
}

func (m *mixer) moved(t trial, i int, reach Reach, turn change) *Contact {
	control := turn.contact.Control
	best, most := turn.contact, -1.0
	for _, c := range m.net.contacts {
		now, then := c.At(int(t.at[control])), c.At(int(turn.to))
		if c.Control != control || now == then {
			continue
		}
		level := m.net.level(t.with(change{contact: c}), i)
		if wanted := now == (reach != CutOff); !wanted {
			level -= heard / 100
		}
		if level > most {
			best, most = c, level
		}
	}
	return best
}

// blameTwo looks for two changes that bring an input back together.
func (m *mixer) blameTwo(t trial, i int, f *Fate, changes []change) {
	one, other, tries := -1, -1, 0
	for a, first := range changes {
		for b := range changes[:a] {
			second := changes[b]
			if first.contact.Control == second.contact.Control && (first.turn || second.turn) {
				continue
			}
			if tries++; tries > maxPairs {
				break
			}
			better := m.net.level(t.with(second).with(first), i)
			turns := one >= 0 && !(changes[one].turn && changes[other].turn) && first.turn && second.turn && better > f.Better*0.99
			if better > f.Better*1.1+heard/10 || turns {
				f.Better, one, other = better, b, a
			}
		}
	}
	if one >= 0 {
		m.accuse(t, i, f, changes[one])
		m.accuse(t.with(changes[one]), i, f, changes[other])
	}
}
