package states

import (
	"slices"

	"buzzout/netlist"
)

// A pole is a common with one way for some positions of a control.
type pole struct {
	common netlist.TerminalID
	ways   []*Contact // by position; nil where there is none
}

// way is the end of a contact that is not the common.
func (p *pole) way(position int) netlist.TerminalID {
	c := p.ways[position]
	return c.A + c.B - p.common
}

// poles are the commons of a control: terminals from which two contacts or
// more lead on.
func (w *Web) poles(control int) []pole {
	count := map[netlist.TerminalID]int{}
	var contacts []*Contact
	for i := range w.Contacts {
		if c := &w.Contacts[i]; c.Control == control && !c.Inside {
			contacts = append(contacts, c)
			count[c.A]++
			count[c.B]++
		}
	}
	var list []pole
	for _, c := range contacts {
		common := c.A
		if count[c.B] > count[c.A] {
			common = c.B
		}
		if count[common] < 2 {
			continue
		}
		i := slices.IndexFunc(list, func(p pole) bool { return p.common == common })
		if i < 0 {
			i = len(list)
			list = append(list, pole{common, make([]*Contact, w.positions(control))})
		}
		for p := range list[i].ways {
			if c.At(p) {
				list[i].ways[p] = c
			}
		}
	}
	return list
}

// things says of each conductor whether something is on it that a contact can
// be for: an element's end, a post, a plug's contact. Ends of contacts and
// tags are none.
func (w *Web) things() []bool {
	list := make([]bool, w.conductors)
	for id := range w.Book.Terminals {
		t := &w.Book.Terminals[id]
		if t.Part != nil && !t.Tie && (w.Book.Net(netlist.TerminalID(id)) != netlist.NoNet || t.Lead) && w.isThing(t) {
			list[w.conductor[id]] = true
		}
	}
	return list
}

func (w *Web) isThing(t *netlist.Terminal) bool {
	k := w.Harness.Fitted(t.Part).Kind
	if t.Index < 0 {
		return true
	}
	for i := range k.Elements {
		if slices.Contains(k.Elements[i].Ends, t.Index) {
			return true
		}
	}
	for _, winding := range k.Windings {
		if slices.Contains(winding.Ends, t.Index) {
			return true
		}
	}
	for i := range k.Contacts {
		if c := &k.Contacts[i]; c.A == t.Index || c.B == t.Index {
			for _, plugs := range []string{"tip", "ring", "sleeve"} {
				if found, _ := k.Find(plugs); len(found) == 1 && found[0] == t.Index {
					return true
				}
			}
			return false
		}
	}
	return true
}

// leads says that a contact leads to something at one of its ends, with its
// control held in a position: there is something there without the contact,
// or other contacts lead on to it in some setting. What cannot be settled
// counts as something.
func (w *Web) leads(c *Contact, end netlist.TerminalID, position int, at []uint8, things []bool) bool {
	from := w.conductor[end]
	if things[from] {
		return true
	}
	rest := w.without(c)
	held := slices.Clone(at)
	held[c.Control] = uint8(position)
	seen := make([]bool, w.conductors)
	seen[from] = true
	queue := []int32{from}
	var open []int32 // things of which a quick look did not settle whether it leads there
	for i := 0; i < len(queue); i++ {
		x := queue[i]
		if things[x] {
			found, sure := rest.passable(from, x, held, c.Control)
			if found {
				return true
			}
			if !sure {
				open = append(open, x)
			}
		}
		for k := range rest.Contacts {
			other := &rest.Contacts[k]
			if other.Control == c.Control && !other.At(position) {
				continue
			}
			for _, ends := range [2][2]int32{{other.a, other.b}, {other.b, other.a}} {
				if ends[0] == x && !seen[ends[1]] {
					seen[ends[1]] = true
					queue = append(queue, ends[1])
				}
			}
		}
	}
	return slices.ContainsFunc(open, func(x int32) bool { return !rest.never(from, x, held, c.Control) })
}
